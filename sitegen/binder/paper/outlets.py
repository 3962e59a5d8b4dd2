"""Takes the desk and the pages of the outlets; gives the sheets that list them: what to press first, and what guards each."""

from __future__ import annotations

from collections.abc import Sequence

from ..answer.lists import in_a_row
from ..answer.places import at_of
from ..desk import Desk
from ..desk.words import Rich, Tag
from ..site.records import PlacePage
from .records import OutletRoom, OutletRow, Target
from .where import beside_headline, only_panel


def targets(desk: Desk, outlets: Sequence[PlacePage]) -> tuple[Target, ...]:
    """Room by room, what to press first; the outlets of one room with one answer stand together."""
    rooms: dict[str, dict[tuple[str, str], list[str]]] = {}
    says: dict[tuple[str, str, str], tuple[Rich, Rich, str]] = {}
    for page in outlets:
        point, spot = desk.point(page.id), page.answer.spot
        key = (page.answer.headline.plain, spot.id)
        at = beside_headline(desk, page.answer)
        where = "" if at == only_panel(desk) else spot.at if spot.room == point.room else at
        says[point.room, *key] = (page.answer.headline, _short(desk, page), where)
        rooms.setdefault(point.room, {}).setdefault(key, []).append(point.use or at_of(desk, page.id))
    return tuple(Target(room, *says[room, *key], in_a_row(desk.words, things))
                 for room, groups in rooms.items() for key, things in groups.items())


def _short(desk: Desk, page: PlacePage) -> Rich:
    """What to press in a word and an id; "try" where it was not shown."""
    id = page.answer.spot.id
    breaker = desk.job.breaker.get(id)
    name = "reset" if not breaker else "breaker" if page.answer.doubt or desk.claims.breaker_tried(page.id) or desk.tree.kind(id).opens else "marked"
    short = desk.words.rich(f"fold.press.{name}", id=Tag(breaker.space if breaker else id))
    return desk.words.rich("fold.press.try", what=short) if page.answer.doubt else short


def outlet_rooms(desk: Desk, outlets: Sequence[PlacePage]) -> tuple[OutletRoom, ...]:
    """Every outlet, with what to press first and what was shown to guard it."""
    rooms: dict[str, list[OutletRow]] = {}
    for page in outlets:
        point = desk.point(page.id)
        there = "" if page.answer.spot.id == page.id else beside_headline(desk, page.answer)
        rooms.setdefault(point.room, []).append(OutletRow(page.id, at_of(desk, page.id), point.use or "",
                                                          page.answer.headline, there, _guard(desk, page.id)))
    return tuple(OutletRoom(name, tuple(rows)) for name, rows in rooms.items())


def _guard(desk: Desk, outlet: str) -> tuple[str, ...]:
    point = desk.point(outlet)
    shown = [desk.words.text("print.guard.shown", id=device, day=desk.words.day(day))
             for device in desk.proof.proved_by(outlet) if (day := desk.claims.day_shown(outlet, device))]
    if point.not_proved:
        shown.append(desk.words.text("print.guard.not_proved", reason=point.not_proved))
    return tuple(shown) or (desk.words.text("print.guard.none"),)
