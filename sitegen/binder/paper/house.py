"""Takes the desk; gives the page "This house": who did the work and under which license, what a new owner gets, what guards nobody."""

from __future__ import annotations

from collections.abc import Iterator

from ..answer.lists import in_a_row
from ..desk import Desk
from ..site.service import dated
from .records import House

COMPANIES = ("power company", "heating company")   # whom the pages say to call; a key of the contractor's or the home's own gives the number
BLANK = "_" * 24

NOT_HANDED_ON = ("tester",)     # of the contractor's entries: what the owner has no use for


def this_house(desk: Desk) -> House:
    return House(tuple(_facts(desk)), tuple(_unguarded(desk)))


def _facts(desk: Desk) -> Iterator[tuple[str, str]]:
    file, words = desk.job.file, desk.words
    names = words.get("inspector.contractor")     # a key of the contractor's own stands as written
    yield from ((names.get(key, key), dated(desk, value)) for key, value in file.contractor.items() if key not in (*NOT_HANDED_ON, *COMPANIES))
    yield from ((names[key], file.contractor.get(key) or file.home.get(key) or BLANK) for key in COMPANIES)
    if file.handover:
        yield words.text("print.handover"), words.day(file.handover)
    for visit in desk.job.visits:
        yield words.text("visits.title", day=words.day(visit.date)), visit.by or desk.firm


def _unguarded(desk: Desk) -> Iterator[tuple[str, str]]:
    """Room by room what has slots and no shock protection that was shown."""
    rooms: dict[str, list[str]] = {}
    for id in desk.tree.outlets:
        point = desk.point(id)
        if point.kind.has_face and (point.not_proved or not desk.proof.proved_by(id)):
            reason = f" ({desk.words.text('print.guard.not_proved', reason=point.not_proved)})" if point.not_proved else ""
            rooms.setdefault(point.room, []).append((point.use or point.at) + reason)
    yield from ((room, in_a_row(desk.words, things)) for room, things in rooms.items())
