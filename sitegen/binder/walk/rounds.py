"""Takes the rounds of a plan; gives a page for each: what to press and switch off, where to look, what to put on again. What
will be dead is not on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ...protection.rounds import Plan, Round
from ..answer.places import at_of, place
from ..desk import Desk, room_and_spot
from ..walking import Steps, shortest_walk

SPOTS = 80  # outlets; with more of them a sheet has their ids alone, so that a round stays on a page

Rooms = tuple[tuple[str, tuple[tuple[str, str], ...]], ...]  # room -> id and exact spot


@dataclass(frozen=True, slots=True)
class Switches:
    """One panel in a round."""

    where: str
    tests: tuple[str, ...]      # breakers opened by their own TEST, as they are marked
    off: tuple[str, ...]        # breakers switched off


@dataclass(frozen=True, slots=True)
class RoundPage:
    number: int
    of: int
    open: tuple[str, ...]                       # as the row lists them
    pressed: str                                # as the row says it
    devices: tuple[tuple[str, str, bool], ...]  # id, place, has slots to look at; the farthest from the panel first
    panels: tuple[Switches, ...]
    rooms: Rooms                                # what to look at, in walking order


def round_pages(desk: Desk, made: Plan, looks: Sequence[str], steps: Steps) -> tuple[RoundPage, ...]:
    """One page a round; `looks` in walking order."""
    rooms = by_room(desk, looks)
    return tuple(RoundPage(number, len(made.rounds), one.open, pressed(one), _devices(desk, one, steps), _panels(desk, one), rooms)
                 for number, one in enumerate(made.rounds, 1))


def pressed(one: Round) -> str:
    """What the row of a round says under `pressed`; one thing alone is a row as ever."""
    return "round" if len(one.open) > 1 else "device" if one.own_test else "breaker"


def by_room(desk: Desk, ids: Sequence[str]) -> Rooms:
    rooms: dict[str, list[tuple[str, str]]] = {}
    for id in ids:
        rooms.setdefault(str(desk.point(id).room), []).append((id, at_of(desk, id) if len(ids) <= SPOTS else ""))
    return tuple((room, tuple(found)) for room, found in rooms.items())


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
    return tuple(Switches(f"{desk.job.panel[panel].at} ({panel})", _marked(desk, [id for id in ids if id in one.own_test]),
                          _marked(desk, [id for id in ids if id not in one.own_test])) for panel, ids in panels.items())


def _marked(desk: Desk, ids: Sequence[str]) -> tuple[str, ...]:
    """Breakers as they are marked in the panel, with their ids: 13 (B13)."""
    return tuple(desk.words.text("walk.rounds.breaker", space=desk.job.breaker[id].space, id=id) for id in ids)


def rounds_json(made: Plan, looks: Sequence[str]) -> dict[str, Any]:
    """What `walk --rounds --json` prints."""
    return {"walks": made.walks, "bound": made.bound,
            "rounds": [{"open": list(one.open), "own_test": list(one.own_test), "look": list(looks)} for one in made.rounds],
            "alone": list(made.alone)}
