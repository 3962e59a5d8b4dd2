"""Takes the desk; gives the start page: every outlet by room, every button with what stops with it."""

from __future__ import annotations

from ..answer.places import at_of, spot
from ..desk import Desk
from ..months import testing_order
from ..search import known_as, skipped
from .records import ButtonRow, Places, Room, RoomLink, StartPage, note_path


def start_page(desk: Desk, places: Places) -> StartPage:
    """Rooms, then outlets by place and use."""
    rooms: dict[str, list[RoomLink]] = {}
    for id in desk.tree.outlets:
        point = desk.point(id)
        rooms.setdefault(point.room, []).append(RoomLink(
            id, at_of(desk, id), point.use or "", places[id].answer.headline, point.kind.opens, " ".join(known_as(desk, id))))
    return StartPage(tuple(Room(name, tuple(links)) for name, links in rooms.items()), button_rows(desk),
                     tuple((note_path(note), note.title) for note in desk.job.notes), " ".join(skipped(desk.words)))


def button_rows(desk: Desk) -> tuple[ButtonRow, ...]:
    """The first row that names all that stopped is the nearest device they share: what stands behind a device stands
    before it here. Only what was seen to go off is named."""
    devices = sorted(testing_order(desk), key=lambda id: (not desk.claims.turns_off(id), len(desk.claims.turns_off(id))))
    return tuple(ButtonRow(spot(desk, id), _things(desk, id)) for id in devices)


def _things(desk: Desk, device: str) -> tuple[tuple[str, str], ...]:
    rooms: dict[str, list[str]] = {}
    for id in desk.claims.turns_off(device):
        point = desk.point(id)
        rooms.setdefault(point.room, []).append(point.use or at_of(desk, id))
    return tuple((room, "; ".join(dict.fromkeys(things))) for room, things in rooms.items())
