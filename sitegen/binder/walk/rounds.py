"""Takes the rounds of a plan; gives a page for each: what to press and switch off, where to look, what to put on again. What
will be dead is not on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ...protection.rounds import LookAgain, Plan, Round
from ..answer.places import at_of, place
from ..desk import Desk, room_and_spot
from ..desk.words import Rich
from ..walking import Steps, shortest_walk

SPOTS = 80  # outlets; with more of them a sheet has their ids alone, so that a round stays on a page

BLOCK = 5   # outlets under one heading, so that none stands in a column without its room

Rooms = tuple[tuple[str, tuple[tuple[str, str], ...]], ...]  # room -> id and exact spot


@dataclass(frozen=True, slots=True)
class Switches:
    """One panel in a round."""

    where: str
    tests: tuple[str, ...]      # breakers opened by their own TEST, as they are marked
    off: tuple[str, ...]        # breakers switched off
    own_test: tuple[str, ...]   # their ids
    handles: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RoundPage:
    heading: Rich
    open: tuple[str, ...]                       # in the order they are opened, and so in the row
    tests: tuple[str, ...]                      # those opened by their own TEST
    handles: tuple[str, ...]                    # breakers switched off
    pressed: str                                # as the row says it
    devices: tuple[tuple[str, str, bool], ...]  # id, place, has slots to look at; the farthest from the panel first
    panels: tuple[Switches, ...]
    rooms: Rooms                                # what to look at, in walking order
    lights: tuple[str, ...]                     # the lights among them: a row names each
    whole: bool                                 # the whole house is walked


def round_pages(desk: Desk, made: Plan, looks: Sequence[str], steps: Steps) -> tuple[RoundPage, ...]:
    """One page a round; `looks` in walking order."""
    def heading(number: int, one: Round) -> Rich:
        name = "heading" if len(one.open) > 1 else "alone"
        return desk.words.rich(f"walk.rounds.{name}", number=number, of=len(made.rounds), id=one.open[0])
    return tuple(_page(desk, heading(number, one), one, looks, steps, True) for number, one in enumerate(made.rounds, 1))


def again_pages(desk: Desk, again: Sequence[LookAgain], steps: Steps) -> tuple[RoundPage, ...]:
    """A page for each round to look at again, with the looks that disagree alone."""
    return tuple(_page(desk, desk.words.rich("walk.rounds.again", where=one.row.where),
                       Round(one.row.together, tuple(id for id in one.row.together if id in one.row.tripped)), one.outlets, steps, False)
                 for one in again)


def _page(desk: Desk, heading: Rich, one: Round, looks: Sequence[str], steps: Steps, whole: bool) -> RoundPage:
    devices, panels = _devices(desk, one, steps), _panels(desk, one)
    ordered = (*(id for id, _, _ in devices), *(id for panel in panels for id in (*panel.own_test, *panel.handles)))
    return RoundPage(heading, ordered, tuple(id for id in ordered if id in one.own_test),
                     tuple(id for id in ordered if id not in one.own_test), pressed(one), devices, panels, by_room(desk, looks),
                     tuple(id for id in looks if desk.tree.kind(id).by_name), whole)


def pressed(one: Round) -> str:
    """What the row of a round says under `pressed`; one thing alone is a row as ever."""
    return "round" if len(one.open) > 1 else "device" if one.own_test else "breaker"


def by_room(desk: Desk, ids: Sequence[str]) -> Rooms:
    rooms: dict[str, list[tuple[str, str]]] = {}
    for id in ids:
        rooms.setdefault(str(desk.point(id).room), []).append((id, _spot(desk, id) if len(ids) <= SPOTS else ""))
    return tuple((room, tuple(found[at:at + BLOCK])) for room, found in rooms.items() for at in range(0, len(found), BLOCK))


def _spot(desk: Desk, id: str) -> str:
    """Where it is, and what it needs to be lit: its switch, or what page 1 tells of it."""
    return at_of(desk, id) + (switch_on(desk, id) or (desk.words.text("walk.on_page_1") if lit_by(desk, id) else ""))


def switch_on(desk: Desk, id: str) -> str:
    """The wall switches that light it, "" where it has none."""
    name, ids = "either" if desk.tree.either_way(id) else "on", " ".join(desk.point(id).switched_by)
    return desk.words.text(f"walk.switch_{name}", ids=ids) if ids else ""


def lit_by(desk: Desk, id: str) -> str:
    """What the map notes of a light without a switch: a sensor or a timer makes it dead with the power on."""
    point = desk.point(id)
    return str(point.note) if point.note and point.kind.by_name and not point.switched_by else ""


def _devices(desk: Desk, one: Round, steps: Steps) -> tuple[tuple[str, str, bool], ...]:
    ids = [id for id in one.open if id in desk.job.point]
    panels = [room_and_spot(desk.panel_of(id))[0] for id in one.open if id in desk.job.breaker]
    rooms = [(str(desk.point(id).room),) * 2 for id in ids]
    order = shortest_walk(rooms, steps, end=panels[0] if panels else None) if ids else ()
    return tuple((ids[at], place(desk, ids[at]), desk.tree.kind(ids[at]).has_face) for at in order)


def _panels(desk: Desk, one: Round) -> tuple[Switches, ...]:
    panels: dict[str, list[str]] = {}
    for id in one.open:
        if id in desk.job.breaker:
            panels.setdefault(desk.panel_of(id).id, []).append(id)
    def switches(panel: str, ids: list[str]) -> Switches:
        tests, off = [id for id in ids if id in one.own_test], [id for id in ids if id not in one.own_test]
        return Switches(f"{desk.job.panel[panel].at} ({panel})", _marked(desk, tests), _marked(desk, off), tuple(tests), tuple(off))
    return tuple(switches(panel, ids) for panel, ids in panels.items())


def _marked(desk: Desk, ids: Sequence[str]) -> tuple[str, ...]:
    """Breakers as they are marked in the panel, with their ids: 13 (B13)."""
    return tuple(desk.words.text("walk.rounds.breaker", space=desk.job.breaker[id].space, id=id) for id in ids)


def rounds_json(made: Plan, looks: Sequence[str]) -> dict[str, Any]:
    """What `walk --rounds --json` prints."""
    return {"walks": made.walks, "bound": made.bound,
            "rounds": [{"open": list(one.open), "own_test": list(one.own_test), "look": list(looks)} for one in made.rounds],
            "alone": list(made.alone)}
