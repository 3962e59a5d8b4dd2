"""Takes the desk and the pages of places; gives the one sheet of each visit that goes into the binder on paper."""

from __future__ import annotations

from collections.abc import Iterator

from ..answer.places import space
from ..desk import Desk
from ..site.records import Places
from ..site.visits import concerned, visit_records
from .outlets import outlet_rooms
from .records import VisitSheet


def visit_sheets(desk: Desk, places: Places) -> Iterator[tuple[str, VisitSheet]]:
    """(name of its file, sheet) of every visit: `visit-2026-07-14`; the second of a day ends in `-2`."""
    days: dict[str, int] = {}
    sheets = {}
    for record in reversed(visit_records(desk)):
        day = record.visit.date.isoformat()
        days[day] = days.get(day, 0) + 1
        changed, leaves = concerned(desk, record.visit)
        pages = [places[id] for id in changed]
        sheets[f"visit-{day}" + (f"-{days[day]}" if days[day] > 1 else "")] = VisitSheet(
            record, outlet_rooms(desk, pages), " ".join(id for id in leaves if id not in desk.job.breaker),
            desk.words.join([space(desk, id) for id in leaves if id in desk.job.breaker]))
    yield from sheets.items()
