"""The rules that the drawing answers: countertops and islands (210.52(C))."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from ....job.map.walls import walls_of
from ....job.records import Point
from ....job.records.plans import RoomPlan, Thing
from ...say import both
from .house import COUNTER, House, means
from .rule import Broken, Lacks

REACH = 2.0         # ft: no point of the wall line farther from an outlet, 210.52(C)(1), as reported
NARROW = 1.0        # ft: a shorter counter needs none
_SLACK = 0.02       # ft: what a sketch in feet cannot tell
_BREAKS = ("sink", "range", "refrigerator")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of counter along the wall line, ft from where the line begins."""

    start: float
    end: float


def counter_spacing(house: House) -> Iterator[Broken | Lacks]:
    """No point of a countertop's wall line over 24 in from an outlet, piece by piece between sink, range and refrigerator."""
    drawn = {plan.room: plan for plan in house.job.rooms if any(run.counter for run in plan.runs)}
    counters = [point for point in house.receptacles if point.place == COUNTER]
    unsaid = tuple(point.id for point in counters if point.room not in drawn or point.drawn_at is None)
    if unsaid:
        yield Lacks("position", unsaid)
    for plan in drawn.values():
        here = [point for point in counters if point.drawn_at and point.drawn_at.room == plan.room and point.drawn_at.wall]
        if not any(point.room == plan.room and (point.drawn_at is None or not point.drawn_at) for point in counters):
            yield from _room(plan, here)


def _room(plan: RoomPlan, points: list[Point]) -> Iterator[Broken]:
    offset, total = {}, 0.0
    for wall in walls_of(plan.corners):
        offset[wall.name], total = total, total + wall.length
    at = {point.id: offset[point.drawn_at.wall] + (point.drawn_at.at or 0.0) for point in points
          if point.drawn_at and point.drawn_at.wall in offset}
    pieces = _pieces(plan, offset, total)
    for piece in pieces:
        on = sorted(((spot + turn, id) for id, spot in at.items() for turn in (0.0, total)
                     if piece.start - _SLACK <= spot + turn <= piece.end + _SLACK))
        where = next((run.where for run in plan.runs if run.counter), plan.where)
        if not on:
            if piece.end - piece.start >= NARROW - _SLACK:
                near = min(at, key=lambda id: min(abs(at[id] + turn - (piece.start + piece.end) / 2) for turn in (0.0, total)), default=None)
                yield Broken((near,) if near else (), f"the counter {_beside(plan, offset, total, piece)}, {_inches(piece.end - piece.start)} long, has no receptacle",
                             "One has to be there from 12 in on.", where=where)
            continue
        gaps = [((on[0][0] - piece.start), REACH, (on[0][1],)), *(((b[0] - a[0]), 2 * REACH, (a[1], b[1])) for a, b in zip(on, on[1:])),
                ((piece.end - on[-1][0]), REACH, (on[-1][1],))]
        for gap, most, ids in gaps:
            if gap > most + _SLACK:
                what = f"{_inches(gap)} of counter between them, and 48 in is the most" if len(ids) == 2 \
                    else f"{_inches(gap)} of counter beyond it, and 24 in is the most"
                yield Broken(ids, what, "Move a receptacle, or put one in between." if len(ids) == 2 else "Move it, or put one in.", where=where)


def _inches(feet: float) -> str:
    return f"{round(feet * 12):d} in"


def _pieces(plan: RoomPlan, offset: dict[str, float], total: float) -> list[Stretch]:
    """The counters of a room around its corners, parted where sink, range or refrigerator stands. A piece may end beyond the last corner."""
    runs = sorted((offset[run.wall] + run.start, offset[run.wall] + run.end) for run in plan.runs if run.counter and run.wall in offset)
    joined: list[list[float]] = []
    for start, end in runs:
        if joined and start <= joined[-1][1] + _SLACK:
            joined[-1][1] = max(joined[-1][1], end)
        else:
            joined.append([start, end])
    if len(joined) > 1 and joined[0][0] <= _SLACK and joined[-1][1] >= total - _SLACK:
        first = joined.pop(0)
        joined[-1][1] = total + first[1]
    cuts = sorted((offset[thing.wall] + thing.start + turn, offset[thing.wall] + thing.end + turn) for thing in plan.things
                  if thing.wall in offset and any(means(thing.name, word) for word in _BREAKS)
                  and not means(thing.name, "hood") for turn in (0.0, total))
    pieces = []
    for start, end in joined:
        for cut_start, cut_end in cuts:
            if start < cut_end and cut_start < end:
                pieces += [Stretch(start, cut_start)] if cut_start > start + _SLACK else []
                start = max(start, cut_end)
        pieces += [Stretch(start, end)] if end > start + _SLACK else []
    return pieces


def _beside(plan: RoomPlan, offset: dict[str, float], total: float, piece: Stretch) -> str:
    near = [thing.name for thing in plan.things if thing.wall in offset and any(
        abs(edge + turn - side) <= 0.1 for edge in (offset[thing.wall] + thing.start, offset[thing.wall] + thing.end)
        for side in (piece.start, piece.end) for turn in (0.0, total))]
    return f"{'between' if len(near) > 1 else 'beside'} {both(near)}" if near else "of this room"


def islands(house: House) -> Iterator[Broken | Lacks]:
    """To 2017 one from 24 x 12 in on; 2020 one for the first 9 sq ft and one for each further 18; 2023 none asked, and none below the top."""
    for plan in house.job.rooms:
        for thing in plan.things:
            if thing.wall is None and means(thing.name, "island"):
                yield from _island(house, plan, thing)


def _island(house: House, plan: RoomPlan, thing: Thing) -> Iterator[Broken]:
    at = [point for point in house.receptacles if point.place == COUNTER and point.drawn_at and point.drawn_at.room == plan.room and point.drawn_at.wall is None
          and thing.left - 1 <= point.drawn_at.x <= thing.left + thing.wide + 1 and thing.top - 1 <= point.drawn_at.y <= thing.top + thing.deep + 1]
    area, ids = thing.wide * thing.deep, tuple(point.id for point in at)
    long_enough = max(thing.wide, thing.deep) >= 2 and min(thing.wide, thing.deep) >= 1
    if house.edition >= 2023:
        low = tuple(point.id for point in at if point.drawn_at and point.drawn_at.height is not None and point.drawn_at.height < 3)
        if low:
            yield Broken(low, f"below the top of the {thing.name}", "None may be below it from 2023 on: put it on or above the top, or take it out.", where=thing.where)
        return
    asks = (1 + max(0, ceil((area - 9) / 18 - 1e-9)) if house.edition >= 2020 else 1) if long_enough else 0
    if len(at) < asks:
        yield Broken(ids, f"the {thing.name} is {area:g} sq ft and has {len(at)} of {asks} receptacle{'s' if asks != 1 else ''}", "Put in what is missing.", where=thing.where)
