"""Takes a job; gives what each visit touched, and which sightings and TESTs of before it no longer count.

The one place that knows it. A visit touches boxes: what was seen earlier at an outlet that stands at or behind one of them, by
the old or the new wiring, on either terminals, shows nothing of the house as it is now. A correction of the record touches
nothing, so the map as corrected holds for the days before it too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, time
from functools import cached_property

from ..job.read.values import day
from ..job.records import Job, TripTest
from ..job.records.visits import Done, Visit

Hangs = Mapping[str, str]     # point, breaker or panel -> what it hangs on; terminals do not matter here


@dataclass(frozen=True, slots=True)
class Touch:
    """What one visit touched; or one device that is newer than rows about it, without a visit."""

    date: date
    time: time | None
    visit: Visit | None           # None: the map's `installed` says it
    boxes: frozenset[str]
    behind: frozenset[str]        # every id at or behind one of them, before the visit or after it
    above: frozenset[str] = frozenset()                  # every id that feeds one of them, before or after
    did: tuple[tuple[Done, frozenset[str]], ...] = ()    # each thing that was done, with all at or behind what it touched

    def after(self, row: TripTest) -> bool:
        """True for a row of before. On one day only times can tell; without them the row is of after."""
        if row.date == self.date:
            return row.time is not None and self.time is not None and row.time < self.time
        return row.date < self.date


@dataclass(frozen=True)
class Standing:
    job: Job

    @cached_property
    def touches(self) -> tuple[Touch, ...]:
        """The newest first."""
        hangs: dict[str, str] = {point.id: point.feed.source for point in self.job.points}
        hangs |= {panel.id: panel.fed_from for panel in self.job.panels if panel.fed_from}
        hangs |= {circuit.breaker: circuit.panel for circuit in self.job.circuits}
        installed = tuple(self._installed(hangs))
        found = []
        for visit in reversed(self.job.visits):
            before = dict(hangs)
            touched: list[tuple[Done, set[str]]] = []
            for done in reversed(visit.done):
                touched.insert(0, (done, self._boxes(done, before)))
                if done.was and done.what != "corrected":
                    before[done.id] = done.was.source
            did = tuple((done, behind(boxes, hangs) | behind(boxes, before)) for done, boxes in touched)
            found.append(Touch(visit.date, visit.time, visit, frozenset().union(*(boxes for _, boxes in touched)),
                               frozenset().union(*(ids for _, ids in did)),
                               frozenset(id for now in (hangs, before) for _, boxes in touched for id in ways_up(boxes, now)), did))
            hangs = before
        return (*found, *installed)

    def _boxes(self, done: Done, hangs: Hangs) -> set[str]:
        """What this touched. Where nothing says what a thing that is gone hung on, it may have been any box."""
        if done.what == "corrected":
            return set()
        boxes = {done.id}
        if done.what in ("refed", "added"):
            boxes.add(hangs.get(done.id, ""))
        if done.was:
            boxes.add(done.was.source)
        elif done.what == "removed":
            boxes |= {panel.id for panel in self.job.panels}
        return boxes - {"", "unknown"}

    def _installed(self, hangs: Hangs) -> Iterator[Touch]:
        for point in self.job.points:
            when = day(point.device.get("installed", "")) if point.kind.opens else None
            if when:
                yield Touch(when, None, None, frozenset((point.id,)), behind({point.id}, hangs))

    def voided(self, id: str, row: TripTest) -> Touch | None:
        """What came after this row and leaves its sighting of this outlet worth nothing: the latest such."""
        return next((touch for touch in self.touches if id in touch.behind and touch.after(row)), None)

    def voided_press(self, row: TripTest) -> Touch | None:
        """What came after this row and leaves the press itself worth nothing: a TEST or handle whose own box was touched."""
        own = row.pressed in ("device", "breaker")
        return next((touch for touch in self.touches if row.outlet in (touch.boxes if own else touch.behind)
                     and touch.after(row)), None)

    def of_today(self, row: TripTest) -> TripTest | None:
        """The row without what the map says is gone: a row at such an outlet is none; what died while such a device was open
        may have died by it alone, what stayed live stayed live."""
        gone = {one.id for one in self.job.removed}
        if row.outlet in gone:
            return None
        if gone & {*row.together, *row.tripped} and row.together:
            kept = tuple(id for id in row.together if id not in gone)
            row = replace(row, outlet=" ".join(sorted(kept)), together=kept, tripped=tuple(id for id in row.tripped if id not in gone),
                          went_dead=(), reset=None)
            if not kept:
                return None
        elif gone & set(row.tripped):
            row = replace(row, pressed="none", tripped=tuple(id for id in row.tripped if id not in gone), went_dead=(),
                          volts_after=None, reset=None)
        if gone & {*row.went_dead, *row.stayed_live}:
            return replace(row, went_dead=tuple(id for id in row.went_dead if id not in gone),
                           stayed_live=tuple(id for id in row.stayed_live if id not in gone))
        return row

    def listed_elsewhere(self, row: TripTest) -> frozenset[str]:
        """What the record gave another circuit when this row was written: `rest of circuit` meant other outlets then."""
        if not self.job.visits:
            return frozenset()
        hangs = {point.id: point.feed.source for point in self.job.points}
        moved = {done.id for visit in self.job.visits if Touch(visit.date, visit.time, visit, frozenset(), frozenset()).after(row)
                 for done in visit.done if done.what == "corrected" and done.was and self._circuit_differs(done)}
        return behind(moved, hangs) if moved else frozenset()

    def _circuit_differs(self, done: Done) -> bool:
        job, source = self.job, done.was.source if done.was else ""
        if done.id not in job.point:
            return False
        own = job.circuit[job.point[done.id].circuit]
        if source in job.point:
            return job.point[source].circuit != own.key
        return source != own.breaker


def behind(boxes: set[str] | frozenset[str], hangs: Hangs) -> frozenset[str]:
    """Every id at or behind one of these."""
    known: dict[str, bool] = {id: True for id in boxes}
    for start in hangs:
        path, here = [], start
        while here in hangs and here not in known and here not in path:
            path.append(here)
            here = hangs[here]
        for id in path:
            known[id] = known.get(here, False)
    return frozenset(id for id, touched in known.items() if touched)


def ways_up(boxes: Iterable[str], hangs: Hangs) -> set[str]:
    """Every id that feeds one of these."""
    found: set[str] = set()
    for here in boxes:
        while (here := hangs.get(here, "")) and here not in found:
            found.add(here)
    return found
