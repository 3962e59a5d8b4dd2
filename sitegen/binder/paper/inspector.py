"""Takes the desk; gives the sheet for the inspector: circuits, devices, tests, what the book has against it, outlets without GFCI, what is not proved.

Rules speak English, as everything that contractor and inspector say to each other; the headings are in the language of the binder.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...job.records import Amendment
from ...protection.rules.code.book import VERIFIED, Book, book_of, covering
from ...protection.rules.code.house import House
from ...protection.rules.code.judge import Judged, ids_in_words, judged, source, wanted
from ...protection.rules.code.shock import first_asking
from ...protection.rules.code.table import BY_NAME
from ...protection.say import both, place
from ..desk import Desk
from ..site.service import device_record, kind_name
from ..site.visits import visit_records
from .records import InspectorSheet


def inspector_sheet(desk: Desk) -> InspectorSheet:
    book = book_of(desk.job.file.code)
    rules = judged(desk.proof)
    return InspectorSheet(
        tuple(_facts(desk, book)), tuple(_circuit(desk, circuit.key) for circuit in desk.by_space()),
        tuple(_device(desk, id) for id in desk.tree.devices), _outlets(desk),
        tuple((told.level, f"{ids_in_words(told.points)}: {told.what}", source(one.rule, told.section, book), told.because)
              for one in rules for told in one.against),
        tuple(_unguarded(desk)), tuple(_not_proved(desk, rules, book)), _counts(rules))


def _counts(rules: tuple[Judged, ...]) -> dict[str, int]:
    """Of the rules on the list: judged, of these only in part; nowhere; without a subject; not of this edition, dropped or without a book."""
    apply = [one for one in rules if one.applies]
    judged_ones = [one for one in apply if one.concerns and not one.nowhere]
    return {"rules": len(rules), "judged": len(judged_ones), "partly": sum(bool(one.lacks or one.beyond) for one in judged_ones),
            "nowhere": sum(one.nowhere for one in apply), "without": sum(not one.concerns for one in apply), "apart": len(rules) - len(apply)}


def _facts(desk: Desk, book: Book) -> Iterator[tuple[str, str]]:
    file, text = desk.job.file, desk.words.text
    yield text("inspector.job"), " · ".join(filter(None, (file.title, file.home.get("address"), file.id)))
    labels = desk.words.get("inspector.contractor")     # a key of the contractor's own stands as written
    yield text("service.contractor"), "; ".join(f"{labels.get(key, key)}: {value}" for key, value in file.contractor.items() if key != "inspected")
    if inspected := file.contractor.get("inspected"):
        yield text("inspector.inspected"), inspected
    yield text("service.code"), book.named or text("inspector.no_book")
    if amendments := list(filter(None, (file.code.amendments, *map(_amendment, book.changes)))):
        yield text("inspector.amendments"), " ".join(amendments)
    for panel in desk.job.panels:
        power = [text("print.supplied_by", space=desk.job.breaker[panel.fed_from].space, at=desk.panel_of(panel.fed_from).at)] if panel.fed_from else []
        power += [text("print.also_supplied_by", source=desk.words.get(f"answer.sources.{one}")) for one in panel.also_supplied_by]
        yield text("inspector.panel", id=panel.id), " ".join([panel.at + ".", *power])
    handover = desk.words.day(file.handover) if file.handover else ""
    if handover:
        yield text("inspector.handover"), handover
    for visit in reversed(visit_records(desk)):
        yield text("inspector.visit", day=desk.words.day(visit.visit.date)), " · ".join(visit.done)


def _amendment(change: Amendment) -> str:
    does = {"drop": "not asked", "add": "asked too", "level": f"told as {change.to}"}[change.does]
    names = [name for name in BY_NAME if change.does == "drop" and change.rule in covering(name)] or [change.rule]
    return f"{both(names)}{f' ({both(change.places)})' if change.places else ''}: {does}. {change.reason}"


def _circuit(desk: Desk, key: str) -> tuple[str, ...]:
    """Panel and space, what it serves, breaker, wire, work, outlets in feed order."""
    circuit = desk.job.circuit[key]
    breaker, wire = desk.job.breaker[circuit.breaker], circuit.wire
    several = f"{circuit.panel} " if len(desk.job.panels) > 1 else ""
    poles = desk.words.text("print.poles", poles=breaker.poles) if breaker.poles > 1 else ""
    amps = f"{breaker.amps:g} A" if breaker.amps else desk.words.text("inspector.unsaid")
    partners = [desk.job.circuit[other].number for other in circuit.shares_neutral_with]
    shared = desk.words.text("inspector.shares", numbers=", ".join(partners)) if partners else ""
    return (several + breaker.space, circuit.serves + (f" ({shared})" if shared else ""),
            ", ".join(filter(None, (amps, kind_name(desk.words, breaker.kind), poles))),
            f"{wire.awg} AWG {wire.metal}" if wire else desk.words.text("inspector.unsaid"),
            circuit.work or desk.words.text("inspector.unsaid"), " ".join(id for id, _ in desk.tree.walk(circuit) if desk.tree.is_outlet(id)))


def _device(desk: Desk, id: str) -> tuple[str, ...]:
    record = device_record(desk, id)
    return id, f"{record.kind}; {record.place}", record.details, record.state, " ".join(desk.claims.turns_off(id))


def _outlets(desk: Desk) -> tuple[tuple[str, tuple[tuple[str, ...], ...]], ...]:
    """Room by room: id, spot and use, what the map puts before it, what was shown, the latest reading."""
    rooms: dict[str, list[tuple[str, ...]]] = {}
    for id in desk.tree.outlets:
        point, row = desk.point(id), desk.evidence.readings.get(id)
        shown = [f"{device} {desk.words.day(day)}" for device in desk.proof.proved_by(id) if (day := desk.claims.day_shown(id, device))]
        touch = desk.evidence.standing.voided(id, row) if row else None
        before = desk.words.text("service.read_before", day=desk.words.day(touch.date)) if touch else ""
        reading = ", ".join(filter(None, (row.wiring, f"{row.volts:g} V" if row.volts is not None else "", desk.words.day(row.date), before))) if row else ""
        rooms.setdefault(point.room, []).append((
            id, " · ".join(filter(None, (point.at, point.use))),
            " ".join(desk.tree.protected_by(id)) or desk.words.text("inspector.unknown" if id in desk.tree.unknown else "inspector.none"),
            ", ".join(shown) or "\u2013", reading or ("\u2013" if not point.kind.has_face else desk.words.text("inspector.not_read"))))
    return tuple((room, tuple(rows)) for room, rows in rooms.items())


def _unguarded(desk: Desk) -> Iterator[str]:
    """Receptacles that no device guards though they hang on the line terminals of one, or the book asks it by now, with the record's reason."""
    latest = House(desk.proof, Book(VERIFIED, ""))
    for id in desk.tree.outlets:
        point = desk.point(id)
        asked = point.feed.side == "line" or first_asking(latest, point)[1] is True
        if asked and point.kind.has_face and point.needs is None and desk.proof.outlet(id) == "unprotected":
            existing = desk.words.text("inspector.existing") if latest.work(id) == "existing" else ""
            yield desk.words.text("inspector.unguarded", place=place(desk.job, id),
                                  note=point.note or existing or desk.words.text("inspector.no_reason"))


def _not_proved(desk: Desk, rules: tuple[Judged, ...], book: Book) -> Iterator[str]:
    """What stops the handover, outlets that could not be shown, rules without what they need."""
    text = desk.words.text
    yield from (finding.says for finding in desk.report.findings if finding.level == "stop" and finding.kind not in BY_NAME)
    for id in desk.tree.outlets:
        point, missing = desk.point(id), [cut.device for cut in desk.claims.cuts(id) if not cut.shown]
        if point.not_proved:
            yield text("inspector.reason", place=place(desk.job, id), reason=point.not_proved)
        elif missing and point.kind.by_name:
            yield text("inspector.not_shown", place=place(desk.job, id), ids=" ".join(missing))
        elif id in desk.tree.unknown and point.kind.by_name:
            yield text("inspector.feed", place=place(desk.job, id))
    for one in rules:
        for lacks in wanted(one, book):
            yield text("inspector.lacks", rule=one.rule.says, section=source(one.rule, one.section or "", book), key=lacks.key,
                       ids=ids_in_words(lacks.points))
        for beyond in one.beyond:
            yield text("inspector.beyond", rule=one.rule.says, ids=ids_in_words(beyond.points), why=beyond.why)
