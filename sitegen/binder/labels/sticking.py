"""Takes the desk and the labels; gives the list for the person who sticks them, room by room as one walks."""

from __future__ import annotations

from ...job.labels.purposes import PURPOSES
from ...job.records import Breaker
from ..answer.places import Spot, spot
from ..desk import Desk, room_and_spot
from ..months import testing_order
from ..walking import doorways, shortest_walk
from .records import SheetLabel, Stick, Strip


def sticking(desk: Desk, rooms: list[str], sheet: list[SheetLabel],
              strips: list[Strip]) -> tuple[tuple[str, tuple[Stick, ...]], ...]:
    found: dict[str, list[Stick]] = {room: [] for room in rooms}
    job, breakers = desk.job, [breaker.id for breaker in in_panels(desk)]
    for number, label in enumerate(sheet):
        _stick(desk, found, label, number)
    for number, strip in enumerate(strips):
        _stick(desk, found, strip, number)
    # Thing by thing: devices and outlets as they come, then a panel's door, then its breakers from the first space on.
    order = {id: at for at, id in enumerate(dict.fromkeys(stick.id for sticks in found.values() for stick in sticks))}
    order |= {panel.id: len(order) for panel in job.panels}
    order |= {id: len(order) + at for at, id in enumerate(breakers, 1)}
    return tuple((room, tuple(sorted(sticks, key=lambda stick: order[stick.id])))
                 for room, sticks in found.items() if sticks)


def _stick(desk: Desk, found: dict[str, list[Stick]], label: SheetLabel | Strip, number: int) -> None:
    id, purpose = label.id, label.purpose
    job = desk.job
    name = desk.words.text(f"label.stick.name.{purpose}")
    where = desk.words.text(f"label.stick.where.{purpose}")
    if purpose == "door":
        room, at = room_and_spot(job.panel[id])
    else:
        here: Spot = spot(desk, id)
        room, at = here.room, here.at
    if id in job.breaker:
        where = desk.words.text(f"label.stick.where.{'panel' if purpose == 'device' else purpose}")
    elif purpose in ("device", "outlet") and id in job.point:
        where = desk.point(id).label_at or where
    if label.language:
        name = f"{name} ({label.language})"
    found[room].append(Stick(PURPOSES[purpose].strip, number, id, at, name, where))


def rooms_in_order(desk: Desk) -> list[str]:
    """Every room as one walks through the doors that are drawn; else as the devices are tested, then the others, the
    panels last."""
    job, tree = desk.job, desk.tree
    devices = [id for id in testing_order(desk) if id not in job.breaker]
    named = [desk.point(id).room for id in (*devices, *tree.outlets)]
    rooms = list(dict.fromkeys((*named, *(room_and_spot(panel)[0] for panel in job.panels))))
    return [rooms[at] for at in shortest_walk([(room, room) for room in rooms], doorways(job), rooms[0])] if rooms else []


def in_panels(desk: Desk) -> list[Breaker]:
    """The breakers of circuits, panel by panel, in the order of their spaces; one that two circuits share once."""
    job = desk.job
    return [job.breaker[id] for id in dict.fromkeys(circuit.breaker for circuit in desk.by_space())]
