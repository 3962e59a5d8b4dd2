"""Takes the desk; gives the sheet for the inspector: what the book and the tests have against it, receptacles without GFCI, what is not
proved, circuits, devices, readings.

Rules speak English, as everything that contractor and inspector say to each other; the headings are in the language of the binder.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from ...job.records import Amendment, Point
from ...protection.rules import FINDINGS
from ...protection.rules.code.book import VERIFIED, Book, book_of, covering
from ...protection.rules.code.house import House
from ...protection.rules.code.judge import LEVELS, Judged, headed, ids_in_words, judged, source, wanted
from ...protection.rules.code.shock import first_asking
from ...protection.rules.code.table import BY_NAME
from ...protection.say import both, place
from ..desk import Desk
from ..site.panel import panel_power
from ..site.service import device_record, kind_name
from ..site.visits import visit_records
from .records import InspectorSheet


# Findings of the office: labels, privacy, languages, advice; what the book has is told by rule.
_OFFICE = {"printed", "privacy", "house", "advice", "judge"}
_OF_THE_HOUSE = {kind for rule, kinds in FINDINGS.items() if rule.__module__.rpartition(".")[2] not in _OFFICE for kind in kinds.split()} | {"work-unsaid"}


def inspector_sheet(desk: Desk) -> InspectorSheet:
    book = book_of(desk.job.file.code)
    rules = judged(desk.proof)
    return InspectorSheet(
        tuple(_facts(desk, book)), tuple(_circuit(desk, circuit.key) for circuit in desk.by_space()),
        tuple(_device(desk, id) for id in desk.tree.devices), _outlets(desk),
        tuple(sorted(((told.level, without_keys(headed(ids_in_words(told.points) if told.points else "", told.what)), source(one.rule, told.section, book), told.because)
                      for one in rules for told in one.against), key=lambda told: LEVELS.index(told[0]))),
        tuple(sorted(((finding.level, without_keys(finding.says)) for finding in desk.report.findings
                      if finding.kind in _OF_THE_HOUSE and finding.level != "know"), key=lambda told: LEVELS.index(told[0]))),
        tuple(_unguarded(desk)), tuple(_not_proved(desk, rules, book)), str(VERIFIED), _counts(rules))


def without_keys(says: str) -> str:
    """Without the sentences that say what to write into the record, and without its lines: whoever reads this has no record."""
    kept = (sentence for sentence in re.split(r"(?<=\.) (?=[A-Z])", says) if "`" not in sentence or not sentence.startswith("Write "))
    return re.sub(r" \([\w.]+:[0-9]+\)", "", " ".join(kept).replace("`", ""))


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
    if amendments := [*filter(None, [file.code.amendments]), *(_amendment(change, book) for change in book.changes)]:
        yield text("inspector.amendments"), " ".join(amendments)
    for panel in desk.job.panels:
        power = list(panel_power(desk, panel))
        if panel.main:
            size = f"{panel.main.amps:g} A" if panel.main.amps else text("inspector.unsaid")
            power.append(text("inspector.main", size=size, at=panel.main.at or text("inspector.in_it")))
        power.append(text("inspector.bond", bonded=desk.words.get("inspector.bonded")[{True: "yes", False: "no"}.get(panel.bonded, "unsaid")]))
        if "generator" in panel.also_supplied_by:
            power.append(text("inspector.transfer", what=panel.transfer or text("inspector.unsaid")))
        yield text("inspector.panel", id=panel.id), " ".join([". ".join(filter(None, (panel.at, panel.make))) + ".", *power])
    handover = desk.words.day(file.handover) if file.handover else ""
    if handover:
        yield text("inspector.handover"), handover
    for visit in reversed(visit_records(desk)):
        yield text("inspector.visit", day=desk.words.day(visit.visit.date)), " · ".join(visit.done)


def _amendment(change: Amendment, book: Book) -> str:
    does = {"drop": "not asked", "add": "asked too", "level": f"told as {change.to}"}[change.does]
    names = [name for name in BY_NAME if change.does == "drop" and change.rule in covering(name)] or [change.rule]
    asks = [section for name in names if (section := name in BY_NAME and BY_NAME[name].section(book.edition or VERIFIED))] or names
    return f"{both(asks)}{f' ({both(change.places)})' if change.places else ''}: {does}. {change.reason}"


def _circuit(desk: Desk, key: str) -> tuple[str, ...]:
    """Panel and space, what it serves, breaker, wire, work, outlets in feed order, what its handle was seen to turn off."""
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
            circuit.work or desk.words.text("inspector.unsaid"), " ".join(ids := [id for id, _ in desk.tree.walk(circuit) if desk.tree.is_outlet(id)])
            or ", ".join(desk.words.text("inspector.panel", id=panel.id) for panel in desk.job.panels if panel.fed_from == breaker.id),
            _handle(desk, circuit.breaker, ids))


def _handle(desk: Desk, breaker: str, ids: list[str]) -> str:
    """Day by day the outlets that went off with the handle; "all" for all of the circuit."""
    tried = {id: row.date for id in ids if (row := desk.evidence.handle_tried(id, breaker))}
    if len(tried) == len(ids):
        tried = dict.fromkeys([desk.words.text("inspector.all")], max(tried.values())) if tried else {}
    return _by_day(desk, tried) or "\u2013"


def _by_day(desk: Desk, days: dict[str, date]) -> str:
    """`K4 K1 18 May 2027`; one day after another."""
    ids: dict[date, list[str]] = {}
    for id, when in days.items():
        ids.setdefault(when, []).append(id)
    return ", ".join(f"{' '.join(found)} {desk.words.day(when)}" for when, found in ids.items())


def _device(desk: Desk, id: str) -> tuple[str, ...]:
    record = device_record(desk, id)
    return (id, f"{record.kind}; {record.place}", record.details or desk.words.text("inspector.unsaid"), record.state,
            " ".join(desk.claims.turns_off(id)))


def _outlets(desk: Desk) -> tuple[tuple[str, tuple[tuple[str, ...], ...]], ...]:
    """Room by room: id, what and where, the GFCI and the AFCI that the map puts before it, what was shown, the latest reading."""
    rooms: dict[str, list[tuple[str, ...]]] = {}
    for id in desk.tree.outlets:
        point, row = desk.point(id), desk.evidence.readings.get(id)
        shown = {cut.device: cut.shown for cut in desk.claims.cuts(id) if cut.shown and desk.proof.devices[cut.device] == "proved"}
        arcs = [device for device in reversed(desk.tree.reset_order(id)) if desk.tree.kind(device).stops_arcs]
        none = desk.words.text("inspector.unknown" if id in desk.tree.unknown else "inspector.none")
        touch = desk.evidence.standing.voided(id, row) if row else None
        before = desk.words.text("service.read_before", day=desk.words.day(touch.date)) if touch else ""
        reading = ", ".join(filter(None, (row.wiring, f"{row.volts:g} V" if row.volts is not None else "", desk.words.day(row.date), before))) if row else ""
        rooms.setdefault(point.room, []).append((
            id, " · ".join(filter(None, (_what(desk, point), point.at, point.use))),
            " ".join(desk.tree.protected_by(id)) or none, " ".join(arcs) or none, _by_day(desk, shown) or "\u2013", reading or ("\u2013" if not point.kind.has_face else desk.words.text("inspector.not_read"))))
    return tuple((room, tuple(rows)) for room, rows in rooms.items())


def _what(desk: Desk, point: Point) -> str:
    """Its kind; what is not usual of it behind."""
    ground = "" if point.grounded else desk.words.text("inspector.no_ground")
    return ", ".join(filter(None, (kind_name(desk.words, point.kind), ground, f"{point.voltage:g} V" if point.voltage != 120 else "")))


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
    """Outlets that could not be shown, rules without what they need."""
    text = desk.words.text
    for id in desk.tree.outlets:
        point, missing = desk.point(id), [cut.device for cut in desk.claims.cuts(id) if not cut.shown]
        if point.not_proved:
            yield text("inspector.reason", place=place(desk.job, id), reason=point.not_proved)
        elif missing and point.kind.by_name:
            yield text("inspector.not_shown", place=place(desk.job, id), ids=" ".join(missing))
        if id in desk.tree.unknown:
            yield text("inspector.feed", place=place(desk.job, id))
    keys = desk.words.get("inspector.keys")
    for one in rules:
        for lacks in wanted(one, book):
            yield text("inspector.lacks", rule=one.rule.says, section=source(one.rule, one.section or "", book), key=keys.get(lacks.key, lacks.key),
                       ids=ids_in_words(lacks.points))
        for beyond in one.beyond:
            yield text("inspector.beyond", rule=one.rule.says, ids=ids_in_words(beyond.points), why=beyond.why)
