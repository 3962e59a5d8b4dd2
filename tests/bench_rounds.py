"""By hand: how many walks a plan of rounds takes, beside the bound below which there is none, in the example and in random houses.

    python tests/bench_rounds.py [number of houses, default 400]
"""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parent))

from houses import whole_house  # noqa: E402

from sitegen.binder.walking import doorways, passed, shortest_walk  # noqa: E402
from sitegen.job import read_job  # noqa: E402
from sitegen.protection.rounds import Plan, plan  # noqa: E402
from sitegen.protection.tree import Tree  # noqa: E402


def walking(tree: Tree, made: Plan) -> int:
    """Doorways of all walks: every walk passes every room with something to look at, and the devices of the round before it."""
    steps = doorways(tree.job)
    rooms = [str(tree.job.point[id].room) for id in made.look]
    tour = [rooms[at] for at in shortest_walk([(room, room) for room in rooms], steps)]
    buttons = ([str(tree.job.point[id].room) for id in one.open if id in tree.job.point] for one in made.rounds)
    return sum(passed([*pressed, *tour, *pressed], steps) for pressed in buttons)


def line(name: str, tree: Tree, support: int) -> tuple[int, int, float]:
    begun = process_time()
    made = plan(tree, support)
    took = process_time() - begun
    print(f"{name}: {made.walks} walks, bound {made.bound}, {len(tree.breakers) + len(tree.devices)} one by one, "
          f"{sum(len(one.open) for one in made.rounds)} openings, {walking(tree, made)} doorways, {took:.2f} s", flush=True)
    return made.walks, made.bound, took


def main(count: int) -> None:
    example = Tree(read_job(Path(__file__).resolve().parents[1] / "example_job"))
    line("the example", example, 1)
    line("the example, double", example, 2)
    line("30 circuits", Tree(whole_house(Random(1), 30)), 1)
    line("60 circuits", Tree(whole_house(Random(3), 60)), 1)
    found = []
    for seed in range(count):
        rng = Random(seed)
        found.append(line(f"house {seed}", Tree(whole_house(rng, rng.randint(6, 20))), 1))
    walks, bounds, times = map(list, zip(*found))
    assert all(walk >= bound for walk, bound in zip(walks, bounds)), "a plan below the bound"
    print(f"{count} houses: {sum(walks) / count:.2f} walks, bound {sum(bounds) / count:.2f}, "
          f"{sum(walks) / sum(bounds):.3f} times the bound (mean of ratios {sum(w / b for w, b in zip(walks, bounds)) / count:.3f}), "
          f"{sum(times) / count:.2f} s a plan, {max(times):.2f} s at worst")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400)
