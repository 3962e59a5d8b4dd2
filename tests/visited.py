"""Random visits to random houses: takes a random generator and a house with its tests; gives the house as it stands then, its
visits, and every wiring that it had, so that a test can walk the wires of each day by itself."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from random import Random

import networkx
from houses import DAY, walk_through, wiring

from sitegen.errors import Where
from sitegen.job.kinds import POINTS
from sitegen.job.records import Feed, Job, Point, Removed
from sitegen.job.records.visits import Done, Visit

Entry = tuple[str, str, Feed | None]     # what was done, to what, what it hung on before


@dataclass(frozen=True)
class Visited:
    job: Job                                   # as it stands, with all tests and visits
    wirings: tuple[Job, ...]                   # before the first visit, after it, after the next ...
    days: tuple[date, ...]                     # of the visits


def random_visits(rng: Random, walked: Job, walk_between: bool = True) -> Visited:
    """One or two visits of one to three changes; between two of them the house may have been walked again."""
    wirings, visits, tests, job = [walked], [], list(walked.tests), walked
    for number in range(rng.choice((1, 1, 2))):
        day = DAY + timedelta(days=60 * (number + 1))
        done: list[Entry] = []
        for _ in range(rng.randint(1, 3)):
            job, entries = rng.choice((_replaced, _opened, _refed, _refed, _added, _removed, _corrected))(rng, job)
            done += entries
        entries = tuple(Done(what, id, was, {}, None, _where(10 * number + n)) for n, (what, id, was) in enumerate(done))
        visits.append(Visit(day, None, "A. Walker", None, None, entries, (), None, None, (), (), (), _where(10 * number)))
        wirings.append(job)
        if walk_between and rng.random() < 0.3:
            again = walk_through(replace(job, tests=()), rng).tests
            tests += [replace(row, row=len(tests) + n, date=day + timedelta(days=rng.choice((0, 1)))) for n, row in enumerate(again)]
    return Visited(replace(job, tests=tuple(tests), visits=tuple(visits)), tuple(wirings), tuple(visit.date for visit in visits))


def touched(before: Job, after: Job, visit: Visit) -> tuple[set[str], set[str]]:
    """(boxes, all at or behind one of them), walked along the copper of both days: from every box by all of its cables."""
    boxes: set[str] = set()
    now = {p.id: p.feed.source for p in after.points}
    for done in visit.done:
        if done.what == "corrected":
            continue
        boxes.add(done.id)
        if done.what in ("refed", "removed"):
            boxes.add(done.was.source)
        if done.what in ("refed", "added"):
            later = [one for one in visit.done[visit.done.index(done) + 1:] if one.id == done.id and one.what in ("refed", "removed")]
            boxes.add(later[0].was.source if later else now[done.id])
    found = set(boxes)
    for job in (before, after):
        graph = wiring(job)
        for box in boxes:
            for node in ((box, "in"), (box, "out")):
                if node in graph:
                    found |= {id for id, _ in networkx.descendants(graph, node)}
    return boxes, found


def _where(line: int) -> Where:
    return Where("visits.yaml", line + 1)


def _replaced(rng: Random, job: Job) -> tuple[Job, list[Entry]]:
    return job, [("replaced", rng.choice([*job.points, *job.breakers]).id, None)]


def _opened(rng: Random, job: Job) -> tuple[Job, list[Entry]]:
    return job, [("opened", rng.choice(job.points).id, None)]


def _corrected(rng: Random, job: Job) -> tuple[Job, list[Entry]]:
    """The record had said another feed; the wires are as they were."""
    point, other = rng.choice(job.points), rng.choice([*job.points, *job.breakers])
    return job, [("corrected", point.id, Feed(other.id, "line" if other.kind.has_sides else None))] if other.id != point.id else []


def _refed(rng: Random, job: Job) -> tuple[Job, list[Entry]]:
    """To anywhere in the house, with all that hangs on it."""
    point = rng.choice(job.points)
    below = _below(job, point.id)
    source = rng.choice([thing for thing in (*job.points, *job.breakers) if thing.id not in below and thing.id != "B9"] or [None])
    if source is None:
        return job, []
    feed = Feed(source.id, rng.choice(("line", "load")) if source.kind.has_sides else None)
    circuit = source.circuit if isinstance(source, Point) else next(c.key for c in job.circuits if c.breaker == source.id)
    moved = replace(job, points=tuple(
        replace(p, circuit=circuit if p.id in below else p.circuit, feed=feed if p is point else p.feed) for p in job.points))
    return (moved, [("refed", point.id, point.feed)]) if feed != point.feed and _shows(moved) else (job, [])


def _added(rng: Random, job: Job) -> tuple[Job, list[Entry]]:
    source = rng.choice(job.points)
    id = f"N{len(job.points) + len(job.removed)}"
    feed = Feed(source.id, rng.choice(("line", "load")) if source.kind.has_sides else None)
    new = Point(id, POINTS["receptacle"], source.circuit, "Hall", f"new {id}", feed, Where("protection_map.yaml", 900))
    return replace(job, points=(*job.points, new)), [("added", id, None)]


def _removed(rng: Random, job: Job) -> tuple[Job, list[Entry]]:
    """What hung on it is spliced through to what fed it."""
    gone = rng.choice(job.points)
    behind = [p for p in job.points if p.feed.source == gone.id]
    points = tuple(replace(p, feed=gone.feed) if p in behind else p for p in job.points if p is not gone)
    points = tuple(replace(p, switched_by=tuple(id for id in p.switched_by if id != gone.id)) for p in points)
    left = replace(job, points=points, removed=(*job.removed, Removed(gone.id, None, None, Where("protection_map.yaml", 950))))
    if not points or not _shows(left):
        return job, []
    return left, [*(("refed", p.id, p.feed) for p in behind), ("removed", gone.id, gone.feed)]


def _below(job: Job, id: str) -> set[str]:
    found = {id}
    while more := {p.id for p in job.points if p.feed.source in found} - found:
        found |= more
    return found


def _shows(job: Job) -> bool:
    """True where every device still has an outlet to show that it opens."""
    graph = wiring(job)
    outlets = {p.id for p in job.points if p.kind.is_outlet}
    return all({id for id, end in networkx.descendants(graph, (thing.id, "out")) if end == "use"} & outlets
               for thing in (*job.points, *job.breakers) if thing.kind.opens)
