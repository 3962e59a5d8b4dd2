"""By hand: how long a correction, a recovery and a list of missing tests take on a circuit of 40 points and on a whole house
(processor time), and a plan of devices on a circuit of 25.

    python tests/bench_protection.py [number of maps, default 40]
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import median
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parent))

from houses import FILE, walk_through  # noqa: E402

from sitegen.errors import Where  # noqa: E402
from sitegen.job.kinds import BREAKERS, POINTS  # noqa: E402
from sitegen.job.records import Breaker, Circuit, Feed, Job, Panel, Point, Prices, Wishes  # noqa: E402
from sitegen.protection.changes import Refeed, apply  # noqa: E402
from sitegen.protection.evidence import Evidence  # noqa: E402
from sitegen.protection.examine import examine  # noqa: E402
from sitegen.protection.maps.correct import correct  # noqa: E402
from sitegen.protection.maps.missing import missing_tests  # noqa: E402
from sitegen.protection.maps.recover import recover  # noqa: E402
from sitegen.protection.plan.feeds import other_feeds  # noqa: E402
from sitegen.protection.plan.front import front  # noqa: E402
from sitegen.protection.plan.least import least  # noqa: E402
from sitegen.protection.plan.run import Box, Run  # noqa: E402
from sitegen.protection.tree import Tree  # noqa: E402


def house(rng: Random, circuits: int, points: int) -> Job:
    """Circuits of so many points, every fifth a device, each fed from one of the four before it."""
    where, made = Where("protection_map.yaml", 1), []
    breakers = [Breaker(f"B{c}", BREAKERS["standard"], str(c), 20.0, 1, where) for c in range(circuits)]
    for c, breaker in enumerate(breakers):
        run: list[Point] = []
        for n in range(points):
            kind = POINTS["gfci receptacle" if n % 5 == 0 else rng.choice(["receptacle", "receptacle", "light", "junction"])]
            source = rng.choice(run[-4:]) if run else breaker
            feed = Feed(source.id, rng.choice(["line", "load", "load"]) if source.kind.has_sides else None)
            run.append(Point(f"K{c}X{n}", kind, f"P1-{c}", "Hall", f"spot {n}", feed, where))
        made += run
    lines = tuple(Circuit(f"P1-{c}", str(c), "P1", "Part", b.id, None, None, None, where) for c, b in enumerate(breakers))
    return walk_through(Job(FILE, (Panel("P1", "Garage", where),), tuple(breakers), lines, tuple(made), ()), rng, True)


def spoilt(job: Job, rng: Random, faults: int) -> Job:
    """The map with so many wrong feeds."""
    for _ in range(faults):
        tree, point = Tree(job), rng.choice(job.points)
        below = {point.id, *tree.below(point.id)}
        source = rng.choice([p for p in job.points if p.circuit == point.circuit and p.id not in below]
                            or [job.breaker[job.circuit[point.circuit].breaker]])
        feed = Feed(source.id, rng.choice(["line", "load"]) if source.kind.has_sides else None)
        job = apply(job, (Refeed(point.id, point.feed, feed),))
    return job


def timed(job: Job | Evidence | Run, work) -> tuple[float, object]:
    start = process_time()
    result = work(job)
    return 1000 * (process_time() - start), result


def before_trim_out(rng: Random) -> Run:
    """A circuit of 25 boxes, three cables at most in one, each fed from one of the four before it."""
    boxes: list[Box] = []
    for n in range(25):
        room = [box for box in boxes[-4:] if sum(other.fed_from == box.id for other in boxes) < 3]
        boxes.append(Box(f"K{n}", rng.choice(room).id if room else "B1", light=rng.random() < 0.2, needs=rng.random() < 0.5,
                         room=rng.choice(["Kitchen", "Hall", "Garage"]), holds=rng.choice(["receptacle", "receptacle", "none"]),
                         share="alone" if rng.random() < 0.04 else None))
    return Run.of(boxes, breaker="B1", breaker_room="Garage", prices=Prices(1800, 2400, 6000, 5500, 200),
                  wishes=Wishes(4, 500, 300, 800))


def plans(count: int) -> None:
    runs = [run for run in map(before_trim_out, map(Random, range(10 * count))) if least(run)][:count]
    print(f"a plan of 25 points, {len(runs)} that can be done, ms: median, longest")
    for name, work in (("the cheapest", least), ("fewer dark at once", front), ("other feeds", other_feeds)):
        times = [timed(run.with_boxes(run.boxes), work)[0] for run in runs]
        print(f"  {name}: {median(times):.1f}, {max(times):.1f}")


def main(count: int) -> None:
    plans(count)
    for circuits, points in ((1, 40), (5, 40)):
        jobs = [house(Random(seed), circuits, points) for seed in range(count)]
        print(f"{circuits} circuit{'s' if circuits > 1 else ''} of {points} points, {count} maps, ms: median, longest")
        for faults in (1, 2):
            runs = []
            for seed, job in enumerate(jobs):
                wrong = Evidence(Tree(spoilt(job, Random(seed), faults)))
                if wrong.clashes:
                    runs.append(timed(wrong, correct))
            steps = [len(found.proposals[0].changes) if found.proposals else 0 for _, found in runs]
            for size in sorted(set(steps)):
                times = [ms for (ms, _), step in zip(runs, steps) if step == size]
                print(f"  {faults} planted, {size} change(s) found: {median(times):.0f}, {max(times):.0f} ({len(times)} maps)")
            print(f"    cut off: {sum(not found.whole for _, found in runs)}; most proposals: "
                  f"{max(found.count for _, found in runs)}")
        struck = [replace(j, points=tuple(replace(p, feed=Feed('unknown')) for p in j.points)) for j in jobs]
        halves = [examine(replace(job, tests=job.tests[::2])).proof for job in jobs]
        for name, given, work in (("recover", struck, recover), ("missing", halves, missing_tests)):
            times = [timed(job, work)[0] for job in given]
            print(f"  {name}: {median(times):.0f}, {max(times):.0f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
