"""Takes the desk; gives the start page, every outlet by room, and the page for several things that stopped at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ..answer.lists import by_room
from ..answer.places import at_of, page_folder, spot
from ..desk import Desk
from ..months import testing_order
from ..search import called, folded, listed, stands
from .records import ButtonRow, Find, Places, Room, StartPage, TogetherPage, note_path


def start_page(desk: Desk, places: Places) -> StartPage:
    """Rooms, then outlets by use and place."""
    rooms: dict[str, list[Find]] = {}
    for id in desk.tree.outlets:
        point, at = desk.point(id), at_of(desk, id)
        rooms.setdefault(point.room, []).append(Find(id, point.use or at, at if point.use else "", " ".join(called(desk, id)),
                                                     " ".join(stands(desk, id))))
    return StartPage(tuple(Room(name, tuple(rooms[name])) for name in _kitchen_first(desk, list(rooms))), _panels(desk),
                     tuple(_others(desk)), tuple((note_path(note), note.title) for note in desk.job.notes),
                     {name: listed(desk.words, name) for name in ("skip", "stop", "calm", "dark", "bright")})


def together_page(desk: Desk) -> TogetherPage:
    return TogetherPage(_button_rows(desk), _panels(desk))


def _kitchen_first(desk: Desk, rooms: list[str]) -> list[str]:
    """The room with the most counter outlets, then the others as the map has them."""
    counters = Counter(point.room for point in desk.job.points if point.place == "countertop")
    return sorted(rooms, key=lambda room: -counters[room] if counters[room] == max(counters.values(), default=0) else 0)


def _panels(desk: Desk) -> tuple[tuple[str, str], ...]:
    return tuple((page_folder(desk, panel.id), panel.at) for panel in desk.job.panels)


def _others(desk: Desk) -> Iterator[Find]:
    """What is no outlet and has a page: panels, breakers, plates with buttons; and the heater that is plugged in anywhere, which turns a
    breaker off."""
    panels = desk.job.panels
    yield Find(page_folder(desk, panels[0].id) if len(panels) == 1 else "stopped-together", desk.words.text("start.heater"),
               desk.words.text("start.heater_says"), listed(desk.words, "heater"), "")
    for panel in desk.job.panels:
        yield Find(page_folder(desk, panel.id), desk.words.text("drawing.panel"), panel.at, f"{listed(desk.words, 'panel')} {panel.id.lower()}",
                   " ".join(folded(panel.at)))
    for id in (*desk.tree.breakers, *(id for id in desk.tree.devices if id in desk.job.point and not desk.tree.is_outlet(id))):
        where = spot(desk, id)
        breaker = desk.job.breaker.get(id)
        name = desk.words.text("drawing.breaker", space=breaker.space) if breaker else where.looks
        words = folded(f"{breaker.space} {id}") + listed(desk.words, "breaker").split() if breaker else folded(id)
        yield Find(where.folder, name, f"{where.room} · {where.at}", " ".join(words), " ".join(folded(f"{where.room} {where.at}")))


def _button_rows(desk: Desk) -> tuple[ButtonRow, ...]:
    """The first row that names all that stopped is the nearest device they share: what stands behind a device stands
    before it here. Only what was seen to go off is named."""
    devices = sorted(testing_order(desk), key=lambda id: (not desk.claims.turns_off(id), len(desk.claims.turns_off(id))))
    return tuple(ButtonRow(spot(desk, id), by_room(desk, desk.claims.turns_off(id))) for id in devices)
