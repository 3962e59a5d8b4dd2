"""Takes the desk and a breaker or device; gives its page for the technician: what it is, its conductors, its tests, what it cuts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ....job.read.values import day as read_day
from ....protection.rules.code.book import book_of
from ....protection.rules.code.outlets import box_fill
from ....protection.sighting import is_own_test
from ...answer.places import place
from ...desk import Desk
from ..circuit import box_says, test_row, void_says
from ..isolate import symptoms_of
from ..live import opens, since_2015
from ..records import VisitRecord
from ..service import circuit_name, device_state, handle_state, kind_name, notices, wire_name
from ..visits import measured_at, metered, visit_records

_TOLD = ("make", "model", "class", "rating", "date code", "torque")     # of `device`, in this order


Row = tuple[str, ...]    # the cells of one row of a table


@dataclass(frozen=True, slots=True)
class TradeDevice:
    id: str
    title: str
    circuits: tuple[tuple[str, str], ...]    # key and name
    notices: tuple[str, ...]                 # what keeps it live, what must be off with it
    facts: tuple[tuple[str, str], ...]
    conductors: tuple[Row, ...]              # terminal, what hangs on it, cable
    tests: tuple[Row, ...]                   # the newest first: day, age of the device then, how, opened, went dead, reset, note
    cuts: tuple[Row, ...]                    # outlet, its place, how and when it was shown
    void: tuple[tuple[str, str], ...]        # day of a visit, and the ids of which nothing seen before it counts
    visits: tuple[VisitRecord, ...]
    tests_of: str                            # own | handle | both
    symptoms: tuple[str, ...]                # each has a page of its own


def trade_device(desk: Desk, id: str) -> TradeDevice:
    circuits = [c for c in desk.by_space() if (c.breaker == id if id in desk.job.breaker else c.key == desk.point(id).circuit)]
    return TradeDevice(id, f"{id} · {kind_name(desk.words, desk.tree.kind(id))}",
                       tuple((circuit.key, circuit_name(desk, circuit)) for circuit in circuits),
                       notices(desk, id), _facts(desk, id), _conductors(desk, id),
                       _tests(desk, id), _cuts(desk, id), _void(desk, id), visit_records(desk, (id,)),
                       "handle" if not desk.tree.kind(id).opens else "both" if id in desk.job.breaker else "own",
                       symptoms_of(desk, id))


def _facts(desk: Desk, id: str) -> tuple[tuple[str, str], ...]:
    words, breaker, point = desk.words, desk.job.breaker.get(id), desk.job.point.get(id)
    known = dict((breaker or desk.point(id)).device)
    put_in = read_day(known.pop("installed", ""))
    where = place(desk, id) if point else f"{desk.panel_of(id).at}, {words.text('service.space', space=breaker.space if breaker else '')}"
    facts = [("place", where.removesuffix("."))]
    if breaker:
        facts.append(("poles", words.text("service.trade.poles", count=breaker.poles) + (f", {breaker.amps:g} A" if breaker.amps else "")))
    facts += [(name.replace(" ", "_"), known[name]) for name in _TOLD if known.get(name)]
    if put_in:
        last = max((*(row.date for row in desk.job.tests), *(visit.date for visit in desk.job.visits)), default=put_in)
        facts.append(("installed", words.text("service.trade.age_on", day=words.day(put_in), age=_age(desk, put_in, last), last=words.day(last))))
    if desk.tree.kind(id).opens:
        facts += [("self_test", _self_test(desk, id)), ("state", device_state(desk, id))]
    if breaker:
        facts.append(("handle", handle_state(desk, id)))
    facts.append(("opens", opens(desk, id)))
    if point:
        facts += [("box", box_says(desk, id)), ("fill", _fill(desk, id))]
    if measured := measured_at(desk, id):
        facts.append(("measured", "; ".join(measured)))
    if missing := metered(desk, [id]):
        facts.append(("metered", "; ".join(missing)))
    note = point.note if point else "; ".join(str(c.note) for c in desk.job.circuits if c.breaker == id and c.note)
    return tuple((words.text(f"service.trade.facts.{name}"), value) for name, value in (*facts, *([("note", str(note))] if note else [])))


def _fill(desk: Desk, id: str) -> str:
    """What is in its box against the volume, by the edition of the job."""
    book, fill = book_of(desk.job.file.code), desk.point(id).fill
    if fill is None or not book.edition:
        return desk.words.text("service.trade.not_written")
    return desk.words.text("service.trade.fill", needs=f"{box_fill(fill, book.edition):g}", size=f"{fill.cu_in:g}", edition=book.edition)


def _self_test(desk: Desk, id: str) -> str:
    if id in desk.job.breaker:
        return desk.words.text("service.trade.self_test.breaker")
    return desk.words.text("service.trade.self_test.yes" if since_2015(desk, id) else "service.trade.self_test.unknown")


def _age(desk: Desk, since: date, until: date) -> str:
    """In whole months."""
    months = (until.year - since.year) * 12 + until.month - since.month - (until.day < since.day)
    name = "age_years" if months >= 12 else "age_months"
    return desk.words.text(f"service.trade.{name}", years=months // 12, months=months % 12) if months >= 12 else \
        desk.words.text(f"service.trade.{name}", months=max(months, 0))


def _conductors(desk: Desk, id: str) -> tuple[Row, ...]:
    """What hangs on each terminal; the neutrals of a device follow its hots, those of a breaker are not written in a map."""
    words, job, point = desk.words, desk.job, desk.job.point.get(id)
    rows: list[Row] = []
    if point:
        feed = words.text("service.unknown") if point.feed.unknown else f"{point.feed.source} {(point.feed.side or '').upper()}".rstrip()
        rows.append((words.text("service.line.line"), words.text("service.trade.from", feed=feed), _cable(desk, id)))
    fed = [other for other in job.points if other.feed.source == id]
    for side in ("line", "load") if point else (None,):
        terminal = words.text(f"service.line.{side}") if side else words.text("service.trade.breaker_load")
        on = [other for other in fed if other.feed.side == side]
        rows += [(terminal, words.text("service.trade.to", id=other.id), _cable(desk, other.id)) for other in on]
        if side == "load" and point and not on:
            rows.append((terminal, words.text("service.trade.load_empty" if point.load_empty else "service.trade.load_not_drawn"), ""))
    panels = (panel.id for panel in job.panels if panel.fed_from == id)
    return (*rows, *((words.text("service.trade.breaker_load"), words.text("service.trade.to", id=panel), "") for panel in panels))


def _cable(desk: Desk, id: str) -> str:
    point = desk.point(id)
    feet = desk.words.text("service.line.feet", ft=f"{point.length_ft:g}") if point.length_ft else \
        desk.words.text("service.line.box") if point.length_ft == 0 else ""
    return desk.words.join([part for part in (feet, wire_name(desk.words, desk.job.circuit[point.circuit])) if part])


def _tests(desk: Desk, id: str) -> tuple[Row, ...]:
    """Of a breaker without a TEST every use of its handle."""
    evidence, words = desk.evidence, desk.words
    put_in = read_day((desk.job.breaker.get(id) or desk.job.point[id]).device.get("installed", ""))
    rows = [row for row in evidence.record_of(id) if is_own_test(row, id) or id in desk.job.breaker and row.pressed == "breaker" and row.outlet == id
            or id in row.together and id in desk.job.breaker]
    found = []
    for row in reversed(rows):
        said = test_row(words, row)
        own = is_own_test(row, id)
        touch = evidence.voided_test(row, id) if own else evidence.standing.voided_press(row)
        old = words.text("service.void_all", day=words.day(touch.date)) if touch else void_says(desk, row, desk.tree.goes_dead(id))
        age = _age(desk, put_in, row.date) if put_in and put_in <= row.date else words.text("service.trade.before_it") if put_in else ""
        company = "together_handle" if id in desk.job.breaker and id not in row.tripped else "together"
        how = words.text(f"service.trade.{company}", ids=" ".join(row.together)) if row.together else said.pressed
        dead = " ".join(outlet for outlet in row.went_dead if outlet in desk.tree.goes_dead(id)) if row.together else said.dead
        found.append((words.day(row.date), age, how, said.tripped, dead, said.reset, " ".join(filter(None, (old, row.note)))))
    return tuple(found)


def _cuts(desk: Desk, id: str) -> tuple[Row, ...]:
    evidence, words = desk.evidence, desk.words
    found = []
    for outlet in desk.tree.outlets_of(desk.tree.goes_dead(id)):
        row = evidence.shown(outlet, id) or (evidence.handle_tried(outlet, id) if id in desk.job.breaker else None)
        shown = words.text("service.trade.cut", how=words.text(f"service.shown_by.{row.pressed}") if row.pressed in ("tester", "device", "round") else
                           words.text("service.pressed.breaker"), day=words.day(row.date)) if row else words.text("service.trade.not_cut")
        found.append((outlet, place(desk, outlet).removesuffix("."), words.text("service.proof.contradicted") if
                         outlet in evidence.contradicted else shown))
    return tuple(found)


def _void(desk: Desk, id: str) -> tuple[tuple[str, str], ...]:
    """Day by day, the outlets behind it of which a visit made all that was seen before it old."""
    days: dict[date, list[str]] = {}
    for outlet in desk.tree.outlets_of(desk.tree.goes_dead(id)):
        touch = desk.evidence.voided.get(outlet)
        if touch and touch.visit:
            days.setdefault(touch.date, []).append(outlet)
    return tuple((desk.words.day(day), " ".join(ids)) for day, ids in sorted(days.items(), reverse=True))
