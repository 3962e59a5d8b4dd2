"""Takes the desk and the book; gives the table at the head of the inspector's sheet: who, by what, panels, tests, what was done since, what is open."""

from __future__ import annotations

from collections.abc import Iterator

from ...job.records import Amendment, Panel, TripTest
from ...protection.rules.code.book import VERIFIED, Book, covering
from ...protection.rules.code.table import BY_NAME
from ...protection.say import both, place
from ..desk import Desk
from ..site.panel import panel_power
from ..site.records import VisitRecord
from ..site.visits import visit_records


def facts(desk: Desk, book: Book) -> Iterator[tuple[str, str]]:
    """Name and value; the parts of a value stand on lines of their own."""
    file, text = desk.job.file, desk.words.text
    yield text("inspector.job"), " · ".join(filter(None, (file.title, file.home.get("address"), file.id)))
    yield text("service.contractor"), _contractor(desk)
    if inspected := file.contractor.get("inspected"):
        yield text("inspector.inspected"), inspected
    yield text("service.code"), book.named or text("inspector.no_book")
    in_words = [file.code.amendments, text("inspector.in_words")] if file.code.amendments else []
    if amendments := [*in_words, *(_amendment(change, book) for change in book.changes)]:
        yield text("inspector.amendments"), "\n".join(amendments)
    for panel in desk.job.panels:
        yield text("inspector.panel", id=panel.id), " ".join([". ".join(filter(None, (panel.at, panel.make))) + ".", *_panel(desk, panel)])
    if file.handover:
        yield text("inspector.handover"), desk.words.day(file.handover)
    if desk.evidence.record:
        yield text("inspector.tested"), _tested(desk)
    if mended := list(_read_wrong_before(desk)):
        yield text("inspector.read_wrong"), "\n".join(mended)
    visits = list(reversed(visit_records(desk)))
    for visit in visits:
        yield text("inspector.visit", day=desk.words.day(visit.visit.date)), "\n".join(_visit(desk, visit))
    if still_open := [*file.punch_list, *(one for visit in visits for one in visit.left)]:
        yield text("inspector.open"), "\n".join(still_open)


_ASKED = (("licence", "license"), ("permit",), ("tester",))


def _contractor(desk: Desk) -> str:
    """What is written; of what an inspector asks for, that it is not. A key of the contractor's own stands as written."""
    says, known = desk.words.get("inspector.contractor"), desk.job.file.contractor
    missing = {names[0]: desk.words.text("inspector.unsaid") for names in _ASKED if not set(names) & set(known)}
    return "; ".join(f"{says.get(key, key)}: {value}" for key, value in {**known, **missing}.items() if key != "inspected")


def _panel(desk: Desk, panel: Panel) -> Iterator[str]:
    text = desk.words.text
    yield from panel_power(desk, panel)
    if panel.main:
        size = f"{panel.main.amps:g} A" if panel.main.amps else text("inspector.unsaid")
        yield text("inspector.main", size=size, at=panel.main.at or text("inspector.in_it"))
    if panel.spaces:
        yield text("inspector.spaces", spaces=panel.spaces, spare=", ".join(map(str, panel.spare)) or text("inspector.unsaid"))
    yield text("inspector.bond", bonded=desk.words.get("inspector.bonded")[{True: "yes", False: "no", None: "unsaid"}[panel.bonded]])
    if "generator" in panel.also_supplied_by:
        yield text("inspector.no_transfer") if panel.transfer == "none" else text("inspector.transfer", what=panel.transfer or text("inspector.unsaid"))


def _amendment(change: Amendment, book: Book) -> str:
    does = {"drop": "not asked", "add": "asked too", "level": f"told as {change.to}"}[change.does]
    names = [name for name in BY_NAME if change.does == "drop" and change.rule in covering(name)] or [change.rule]
    asks = [section for name in names if (section := name in BY_NAME and BY_NAME[name].section(book.edition or VERIFIED))] or names
    return f"{both(asks)}{f' ({both(change.places)})' if change.places else ''}: {does}. {change.reason}"


def _tested(desk: Desk) -> str:
    """Every day of a row, and who signed on it."""
    days: dict[str, dict[str, None]] = {}
    for row in desk.evidence.record:
        days.setdefault(desk.words.day(row.date), {}).update(dict.fromkeys(filter(None, [row.by])))
    return "; ".join(f"{day} ({', '.join(by) or desk.words.text('inspector.unsigned')})" for day, by in days.items())


def _read_wrong_before(desk: Desk) -> Iterator[str]:
    """Outlets that read correct now and did not once, with what was written of it."""
    for id, now in desk.evidence.readings.items():
        before = [row for row in desk.evidence.rows if row.outlet == id and row.wiring and row.wiring != "correct"]
        if before and now.wiring == "correct":
            yield f"{place(desk.job, id)}: " + "; ".join(_read(desk, row) for row in (before[-1], now))


def _read(desk: Desk, row: TripTest) -> str:
    return f"{row.wiring}, {desk.words.day(row.date)}" + (f" ({row.note.rstrip('.')})" if row.note else "")


def _visit(desk: Desk, visit: VisitRecord) -> Iterator[str]:
    yield from visit.done
    yield from visit.readings
    yield desk.words.text("inspector.no_permit")
