"""Takes the desk; gives what the drawings of a page show, in feet and in words: a room from above, the panel with one breaker
marked, walls as you face them. They are laid out in publish/drawing/, once the widths of the words are known.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..job.kinds import Kind
from ..job.records import Point
from ..job.records.plans import Position, RoomPlan, Thing, WallRun
from .answer.places import spot
from .desk import Desk
from .desk.words import Words
from .panel import PanelFace, Place, panel_face, place_in_words, place_of

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
class PanelScene:
    """The panel with the breaker that is to be pushed."""

    heading: str
    says: str
    face: PanelFace
    breaker: str                  # its id
    here: Place                   # where it stands


@dataclass(frozen=True, slots=True)
class WallMark:
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
    run: WallRun
    marks: tuple[WallMark, ...]       # from left to right
    things: tuple[Thing, ...]     # at this stretch of the wall
    target: str                   # id of the device that the page is about
    whole: Bracket                # what it turns off
    parts: tuple[Bracket, ...]    # what devices behind it turn off


Scene = RoomScene | PanelScene | StripScene


@dataclass(frozen=True, slots=True)
class Drawings:
    heading: str
    room: RoomScene | None
    panel: PanelScene | None
    strips: tuple[StripScene, ...]

    @property
    def scenes(self) -> tuple[Scene, ...]:
        return tuple(scene for scene in (self.panel, self.room, *self.strips) if scene)


def drawings(desk: Desk, id: str, target: str | None) -> Drawings:
    """Those of the page `id`, which sends its reader to `target`; the strips are on the device's own page."""
    breaker = target in desk.job.breaker
    room = room_scene(desk, id, target) if target and not breaker else None     # that of a panel is on its own page
    return Drawings(desk.words.text("drawing.heading", id=_called(desk, target)) if target else "", room,
                    panel_scene(desk, id) if id == target and breaker else None,
                    strip_scenes(desk, id) if id == target else ())


def panel_scene(desk: Desk, breaker: str) -> PanelScene | None:
    """None where nobody wrote how the spaces of its panel are numbered."""
    here = place_of(desk, breaker)
    if here is None:
        return None
    heading = desk.words.text("drawing.panel_heading", where=place_in_words(desk, breaker))
    says = desk.words.parts((_called(desk, breaker), heading))
    return PanelScene(heading, says, panel_face(desk, desk.tree.panel_of[breaker]), breaker, here)


def _entered_from(plan: RoomPlan, room: str) -> RoomPlan:
    """With the door that leads to the room the reader stands in as the way in, where there is one."""
    if room == plan.room or all(door.leads_to != room for door in plan.doors):
        return plan
    return replace(plan, doors=tuple(replace(door, way_in=door.leads_to == room) for door in plan.doors))


def _called(desk: Desk, device: str) -> str:
    """How its reader finds it: a breaker by the number at its space, a panel as what it is."""
    if device in desk.job.panel:
        return desk.words.text("drawing.panel")
    breaker = desk.job.breaker.get(device)
    return desk.words.text("drawing.breaker", space=breaker.space) if breaker else device


def _position(desk: Desk, id: str) -> Position | None:
    if id in desk.job.breaker:
        return desk.panel_of(id).drawn_at
    return (desk.job.panel.get(id) or desk.point(id)).drawn_at


def room_scene(desk: Desk, id: str, target: str) -> RoomScene | None:
    """The room that `target`, a device or panel, is in; None where the map does not draw it."""
    job, at = desk.job, _position(desk, target)
    plan = next((plan for plan in job.rooms if at and plan.room == at.room), None)
    if at is None or plan is None:
        return None
    here = _position(desk, id) if id != target else None
    here = here if here and here.room == plan.room else None
    plan = _entered_from(plan, desk.point(id).room) if id in job.point else plan
    doors = tuple(_door(desk.words, door.leads_to, door.way_in and not here) for door in plan.doors)
    panels = tuple(panel.drawn_at for panel in job.panels
                   if panel.drawn_at and panel.drawn_at.room == plan.room and panel.id != target)
    room, spot_at = job.panel[target].room_and_spot if target in job.panel else (spot(desk, target).room, spot(desk, target).at)
    called = _called(desk, target)
    heading = desk.words.text("drawing.room_heading", room=room)
    names = [doors[i] for i in sorted(range(len(doors)), key=lambda i: not plan.doors[i].way_in) if doors[i]]
    names += [desk.words.text("drawing.here")] if here else []
    names += [desk.words.text("drawing.panel")] if panels else []
    names += [thing.name for thing in plan.things]
    says = desk.words.parts((f"{heading}: {called}, {spot_at}", *names))
    return RoomScene(heading, says, plan, called, at, doors, panels, desk.words.text("drawing.panel"), here,
                     desk.words.text("drawing.here"))


def _door(words: Words, leads_to: str | None, comes_in: bool) -> str:
    if comes_in:
        return words.text("drawing.way_in", place=leads_to) if leads_to else words.text("drawing.way_in_only")
    return words.text("drawing.door", place=leads_to) if leads_to else ""


def strip_scenes(desk: Desk, device: str) -> tuple[StripScene, ...]:
    """Every counter and wall with an outlet that was seen to go off with the device."""
    drawn = (desk.point(id).drawn_at for id in desk.claims.turns_off(device))
    walls = {(at.room, at.wall) for at in drawn if at}
    scenes = (_strip(desk, device, plan, run) for plan in desk.job.rooms for run in plan.runs if (plan.room, run.wall) in walls)
    return tuple(scene for scene in scenes if scene)


def _strip(desk: Desk, device: str, plan: RoomPlan, run: WallRun) -> StripScene | None:
    points = _points_of(desk, plan, run)
    marks = tuple(WallMark(point.id, _sort(point.kind), along - run.start, run.counter and (height or _LOW) < _LOW, point.kind.is_outlet)
                  for along, height, point in points)
    outlets = {mark.id for mark in marks if mark.is_outlet}
    off = outlets & set(desk.claims.turns_off(device))
    if not off:
        return None
    room = points[0][2].room
    parts = []
    for inner in _all_inner(desk, device):
        part = off & set(desk.claims.turns_off(inner))
        if part:
            says = [_off_with(desk, inner, False), desk.point(inner).room]  # its room where it is another one
            parts.append(Bracket(desk.words.parts(says[:1 + (says[1] != room)]), frozenset(part)))
    whole = Bracket(_off_with(desk, device, off == outlets), frozenset(off))
    things = tuple(thing for thing in plan.things
                   if thing.wall == run.wall and thing.start < run.end and run.start < thing.end)
    heading = desk.words.text("drawing.strip_heading", room=room, run=run.name)
    return StripScene(heading, _strip_says(desk, heading, marks, things, run, (whole, *parts)), run, marks, things,
                      device, whole, tuple(parts))


def _points_of(desk: Desk, plan: RoomPlan, run: WallRun) -> list[tuple[float, float | None, Point]]:
    """How far along the wall, how high, and what, from left to right."""
    points = [(at.at, at.height, point) for point in desk.job.points
              if (at := point.drawn_at) and at.at is not None and at.room == plan.room and at.wall == run.wall
              and run.start <= at.at <= run.end
              and (point.kind.is_outlet and not point.kind.by_name or point.kind.opens)]
    return sorted(points, key=lambda one: one[0])


def _all_inner(desk: Desk, device: str) -> list[str]:
    """Every device behind this one, the nearest first."""
    found = []
    for inner in desk.claims.inner(device):
        found += [inner, *_all_inner(desk, inner)]
    return found


def _sort(kind: Kind) -> str:
    if kind.opens:
        return "buttons" if kind.has_face else "plate"
    return "outlet" if kind.has_face else "fixed"


def _off_with(desk: Desk, device: str, every: bool) -> str:
    name = "drawing.all_off" if every else "drawing.off"
    return desk.words.text(name, id=_called(desk, device))


def _strip_says(desk: Desk, heading: str, marks: tuple[WallMark, ...], things: tuple[Thing, ...], run: WallRun,
                brackets: tuple[Bracket, ...]) -> str:
    """From left to right, then what goes off together."""
    row = [(mark.at, " ".join(filter(None, (mark.id, desk.point(mark.id).use)))) for mark in marks]
    row += [((thing.start + thing.end) / 2 - run.start, thing.name) for thing in things]
    ids = [mark.id for mark in marks]
    off = [f"{bracket.says}: {desk.words.join([id for id in ids if id in bracket.outlets])}" for bracket in brackets]
    return desk.words.parts((f"{heading}: {desk.words.join([name for _, name in sorted(row)])}", *off))
