"""Takes the claims; gives what the drawings of a page show, in feet and in words: a room from above, walls as you face them.

room_picture.py and strip.py lay them out once the widths of the words are known.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..job.kinds import Kind
from ..job.records import Point, Position, RoomPlan, Run, Thing
from .answer import spot
from .claims import Claims
from .words import Words

_LOW = 2.5   # ft: an outlet below this height is under the counter (a counter stands 3 ft high; common practice)


@dataclass(frozen=True, slots=True)
class RoomScene:
    """The room of a device from above."""

    heading: str
    says: str                     # all of it in words
    plan: RoomPlan
    target: str                   # what to go to, as it is called there: "K1", "breaker 5"
    at: Position                  # where it is
    doors: tuple[str, ...]        # what is written at each door of the plan; "" nothing
    panels: tuple[Position, ...]  # breaker panels of this room
    panel_word: str
    here: Position | None         # the outlet that the reader stands at, if it is in this room
    here_word: str


@dataclass(frozen=True, slots=True)
class Mark:
    """One outlet or device on a wall."""

    id: str
    sort: str                     # outlet | buttons | plate | fixed
    at: float                     # ft from the left end of the strip
    low: bool                     # under the counter
    is_outlet: bool


@dataclass(frozen=True, slots=True)
class Bracket:
    says: str
    outlets: frozenset[str]       # what was seen to go off with one device, of this strip


@dataclass(frozen=True, slots=True)
class StripScene:
    """A counter or wall as you face it."""

    heading: str
    says: str
    run: Run
    marks: tuple[Mark, ...]       # from left to right
    things: tuple[Thing, ...]     # at this stretch of the wall
    target: str                   # id of the device that the page is about
    whole: Bracket                # what it turns off
    parts: tuple[Bracket, ...]    # what devices behind it turn off


@dataclass(frozen=True, slots=True)
class Drawings:
    heading: str
    room: RoomScene | None
    strips: tuple[StripScene, ...]

    @property
    def scenes(self) -> tuple[RoomScene | StripScene, ...]:
        return (*((self.room,) if self.room else ()), *self.strips)


def drawings(claims: Claims, words: Words, id: str, target: str | None) -> Drawings:
    """Those of the page `id`, which sends its reader to `target`; the strips are on the device's own page."""
    room = room_scene(claims, words, id, target) if target else None
    return Drawings(words.text("drawing.heading", id=_called(claims, words, target)) if target else "", room,
                    strip_scenes(claims, words, id) if id == target else ())


def _entered_from(plan: RoomPlan, room: str) -> RoomPlan:
    """With the door that leads to the room the reader stands in as the way in, where there is one."""
    if room == plan.room or all(door.leads_to != room for door in plan.doors):
        return plan
    return replace(plan, doors=tuple(replace(door, way_in=door.leads_to == room) for door in plan.doors))


def _called(claims: Claims, words: Words, device: str) -> str:
    """How its reader finds it: a breaker by the number at its space."""
    breaker = claims.report.job.breaker.get(device)
    return words.text("drawing.breaker", space=breaker.space) if breaker else device


def _position(claims: Claims, id: str) -> Position | None:
    if id in claims.report.job.breaker:
        return claims.panel_of(id).drawn_at
    return claims.point(id).drawn_at


def room_scene(claims: Claims, words: Words, id: str, target: str) -> RoomScene | None:
    """The room that `target` is in; None where the map does not draw it."""
    job, at = claims.report.job, _position(claims, target)
    plan = next((plan for plan in job.rooms if at and plan.room == at.room), None)
    if at is None or plan is None:
        return None
    here = _position(claims, id) if id != target else None
    here = here if here and here.room == plan.room else None
    plan = _entered_from(plan, claims.point(id).room) if id in job.point else plan
    doors = tuple(_door(words, door.leads_to, door.way_in and not here) for door in plan.doors)
    panels = tuple(panel.drawn_at for panel in job.panels if panel.drawn_at and panel.drawn_at.room == plan.room)
    where, called = spot(claims, words, target), _called(claims, words, target)
    heading = words.text("drawing.room_heading", room=where.room)
    names = [doors[i] for i in sorted(range(len(doors)), key=lambda i: not plan.doors[i].way_in) if doors[i]]
    names += [words.text("drawing.here")] if here else []
    names += [words.text("drawing.panel")] if panels else []
    names += [thing.name for thing in plan.things]
    says = words.get("part_mark").join((f"{heading}: {called}, {where.at}", *names))
    return RoomScene(heading, says, plan, called, at, doors, panels, words.text("drawing.panel"), here,
                     words.text("drawing.here"))


def _door(words: Words, leads_to: str | None, comes_in: bool) -> str:
    if comes_in:
        return words.text("drawing.way_in", place=leads_to) if leads_to else words.text("drawing.way_in_only")
    return words.text("drawing.door", place=leads_to) if leads_to else ""


def strip_scenes(claims: Claims, words: Words, device: str) -> tuple[StripScene, ...]:
    """Every counter and wall with an outlet that was seen to go off with the device."""
    found = []
    for plan in claims.report.job.rooms:
        for run in plan.runs:
            scene = _strip(claims, words, device, plan, run)
            if scene:
                found.append(scene)
    return tuple(found)


def _strip(claims: Claims, words: Words, device: str, plan: RoomPlan, run: Run) -> StripScene | None:
    points = _points_of(claims, plan, run)
    marks = tuple(Mark(point.id, _sort(point.kind), point.drawn_at.at - run.start,
                       run.counter and (point.drawn_at.height or _LOW) < _LOW, point.kind.is_outlet) for point in points)
    outlets = {mark.id for mark in marks if mark.is_outlet}
    off = outlets & set(claims.turns_off(device))
    if not off:
        return None
    room = points[0].room
    parts = []
    for inner in _all_inner(claims, device):
        part = off & set(claims.turns_off(inner))
        if part:
            says = [_off_with(claims, words, inner, False), claims.point(inner).room]  # its room where it is another one
            parts.append(Bracket(words.get("part_mark").join(says[:1 + (says[1] != room)]), frozenset(part)))
    whole = Bracket(_off_with(claims, words, device, off == outlets), frozenset(off))
    things = tuple(thing for thing in plan.things
                   if thing.wall == run.wall and thing.start < run.end and run.start < thing.end)
    heading = words.text("drawing.strip_heading", room=room, run=run.name)
    return StripScene(heading, _strip_says(words, heading, claims, marks, things, run, (whole, *parts)), run, marks, things,
                      device, whole, tuple(parts))


def _points_of(claims: Claims, plan: RoomPlan, run: Run) -> list[Point]:
    points = [point for point in claims.report.job.points
              if (at := point.drawn_at) and at.room == plan.room and at.wall == run.wall
              and run.start <= (at.at or 0) <= run.end
              and (point.kind.is_outlet and not point.kind.by_name or point.kind.opens)]
    return sorted(points, key=lambda point: point.drawn_at.at)


def _all_inner(claims: Claims, device: str) -> list[str]:
    """Every device behind this one, the nearest first."""
    found = []
    for inner in claims.inner(device):
        found += [inner, *_all_inner(claims, inner)]
    return found


def _sort(kind: Kind) -> str:
    if kind.opens:
        return "buttons" if kind.has_face else "plate"
    return "outlet" if kind.has_face else "fixed"


def _off_with(claims: Claims, words: Words, device: str, every: bool) -> str:
    name = "drawing.all_off" if every else "drawing.off"
    return words.text(name, id=_called(claims, words, device))


def _strip_says(words: Words, heading: str, claims: Claims, marks: tuple[Mark, ...], things: tuple[Thing, ...], run: Run,
                brackets: tuple[Bracket, ...]) -> str:
    """From left to right, then what goes off together."""
    row = [(mark.at, " ".join(filter(None, (mark.id, claims.point(mark.id).use)))) for mark in marks]
    row += [((thing.start + thing.end) / 2 - run.start, thing.name) for thing in things]
    ids = [mark.id for mark in marks]
    off = [f"{bracket.says}: {words.join([id for id in ids if id in bracket.outlets])}" for bracket in brackets]
    return words.get("part_mark").join((f"{heading}: {words.join([name for _, name in sorted(row)])}", *off))
