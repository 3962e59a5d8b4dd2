"""Takes the desk; gives the sheet for the inspector: what the book and the tests have against it, receptacles without GFCI, what is not
proved, circuits, devices, readings.

Rules speak English, as everything that contractor and inspector say to each other; the headings are in the language of the binder.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from ...job.records import Circuit, Point
from ...protection.rules import FINDINGS
from ...protection.rules.code.book import VERIFIED, Book, book_of
from ...protection.rules.code.house import House
from ...protection.rules.code.judge import LEVELS, Judged, all_ids, headed, judged, source, wanted
from ...protection.rules.code.shock import first_asking, in_crawl_space, outdoors
from ...protection.say import place
from ..desk import Desk
from ..site.service import also_in_neutral, device_record, kind_name
from .inspector_facts import facts
from .records import InspectorSheet

# Findings of the office: labels, privacy, languages, advice; what the book has is told by rule.
_OFFICE = {"printed", "privacy", "house", "advice", "judge"}
_OF_THE_HOUSE = {kind for rule, kinds in FINDINGS.items() if rule.__module__.rpartition(".")[2] not in _OFFICE for kind in kinds.split()} | {"work-unsaid"}


def inspector_sheet(desk: Desk) -> InspectorSheet:
    book = book_of(desk.job.file.code)
    rules = judged(desk.proof)
    apart = {id for one in rules if one.rule.name == "multiwire-handles" for told in one.against if told.level != "know" for id in told.points}
    return InspectorSheet(
        tuple(facts(desk, book)), tuple(_circuit(desk, circuit.key, apart) for circuit in desk.by_space()),
        tuple(_device(desk, id) for id in desk.tree.devices), _outlets(desk),
        tuple(sorted(((told.level, without_keys(headed(all_ids(told.points) if told.points else "", told.what)), source(one.rule, told.section, book), told.because)
                      for one in rules for told in one.against), key=lambda told: LEVELS.index(told[0]))),
        tuple(sorted(((finding.level, without_keys(finding.says)) for finding in desk.report.findings
                      if finding.kind in _OF_THE_HOUSE and finding.level != "know"), key=lambda told: LEVELS.index(told[0]))),
        tuple(_unguarded(desk, rules)), tuple(_not_proved(desk, rules, book)), str(VERIFIED), _counts(rules))


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


def _circuit(desk: Desk, key: str, apart: set[str]) -> tuple[str, ...]:
    """Panel and space, what it serves, breaker, wire, work, outlets in feed order, what was dead with it open."""
    circuit = desk.job.circuit[key]
    breaker, wire = desk.job.breaker[circuit.breaker], circuit.wire
    several = f"{circuit.panel} " if len(desk.job.panels) > 1 else ""
    poles = desk.words.text("print.poles", poles=breaker.poles) if breaker.poles > 1 else ""
    amps = f"{breaker.amps:g} A" if breaker.amps else desk.words.text("inspector.unsaid")
    serves = circuit.serves + (f" ({shared})" if (shared := _shares(desk, circuit, apart)) else "")
    return (several + breaker.space, f"{serves}. {circuit.note}" if circuit.note else serves,
            ", ".join(filter(None, (amps, kind_name(desk.words, breaker.kind), poles))),
            f"{wire.awg} AWG {wire.metal}" if wire else desk.words.text("inspector.unsaid"),
            circuit.work or desk.words.text("inspector.unsaid"), " ".join(ids := [id for id, _ in desk.tree.walk(circuit) if desk.tree.is_outlet(id)])
            or ", ".join(desk.words.text("inspector.panel", id=panel.id) for panel in desk.job.panels if panel.fed_from == breaker.id),
            _handle(desk, circuit.breaker, ids))


def _shares(desk: Desk, circuit: Circuit, apart: set[str]) -> str:
    """With which circuits it shares its neutral, and whether their handles move together: `apart` are those known not to; "" where it shares none."""
    partners = [desk.job.circuit[other] for other in circuit.shares_neutral_with]
    breakers = {desk.job.breaker[one.breaker].id: desk.job.breaker[one.breaker].tied for one in (circuit, *partners)}
    tied = False if circuit.breaker in apart else True if len(breakers) == 1 or all(breakers.values()) else None
    return desk.words.text("inspector.shares", numbers=", ".join(one.number for one in partners),
                           tied=desk.words.get("inspector.tied")[{True: "yes", False: "no", None: "unsaid"}[tied]]) if partners else ""


def _handle(desk: Desk, breaker: str, ids: list[str]) -> str:
    """Day by day the outlets that were dead with the breaker open; "all" for all of the circuit."""
    opens = desk.tree.kind(breaker).opens and desk.proof.devices[breaker] == "proved"      # its own TEST and a tester open it too
    days = {id: [row.date for row in (desk.evidence.handle_tried(id, breaker), desk.evidence.shown(id, breaker) if opens else None) if row] for id in ids}
    tried = {id: max(found) for id, found in days.items() if found}
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
    plate = record.details.removesuffix(also_in_neutral(desk, id)).removesuffix(". ")      # which neutrals are shared stands with the circuits
    return (id, f"{record.kind}; {record.place}", plate or desk.words.text("inspector.unsaid"), record.state,
            (" ".join(desk.claims.turns_off(id)) if desk.proof.devices[id] == "proved" else "") or "\u2013")


def _outlets(desk: Desk) -> tuple[tuple[str, tuple[tuple[str, ...], ...]], ...]:
    """Room by room: id, what and where, the GFCI and the AFCI that the map puts before it, what was shown, the latest reading."""
    rooms: dict[str, list[tuple[str, ...]]] = {}
    for id in desk.tree.outlets:
        point = desk.point(id)
        shown = {cut.device: cut.shown for cut in desk.claims.cuts(id) if cut.shown and desk.proof.devices[cut.device] == "proved"}
        arcs = [device for device in reversed(desk.tree.reset_order(id)) if desk.tree.kind(device).stops_arcs]
        none = desk.words.text("inspector.unknown" if id in desk.tree.unknown else "inspector.none")
        doubt = desk.words.text("inspector.doubt") if id in desk.evidence.contradicted else "\u2013"
        rooms.setdefault(point.room, []).append((
            id, " · ".join(filter(None, (_what(desk, point), point.at, point.use))),
            " ".join(desk.tree.protected_by(id)) or none, " ".join(arcs) or none, _by_day(desk, shown) or doubt, _reading(desk, point)))
    return tuple((room, tuple(rows)) for room, rows in rooms.items())


# What makes a reading one that the list above speaks of.
_OF_READINGS = {"wrong-reading", "reads-ground", "volts-outside", "neutral-failing"}


def _reading(desk: Desk, point: Point) -> str:
    """The latest, whether a visit made it old, and whether something is told of it."""
    row = desk.evidence.readings.get(point.id)
    if row is None:
        return "\u2013" if not point.kind.has_face else desk.words.text("inspector.not_read")
    touch = desk.evidence.standing.voided(point.id, row)
    told = any(finding.kind in _OF_READINGS and point.id in finding.points and finding.level != "know" for finding in desk.report.findings)
    return ", ".join(filter(None, (
        row.wiring, f"{row.volts:g} V" if row.volts is not None else "", desk.words.day(row.date),
        desk.words.text("service.read_before", day=desk.words.day(touch.date)) if touch else "",
        desk.words.text("inspector.see_above") if told or point.id in desk.evidence.contradicted else "")))


def _what(desk: Desk, point: Point) -> str:
    """Its kind; what is not usual of it behind."""
    ground = "" if point.grounded else desk.words.text("inspector.no_ground")
    return ", ".join(filter(None, (kind_name(desk.words, point.kind), ground, f"{point.voltage:g} V" if point.voltage != 120 else "")))


def _unguarded(desk: Desk, rules: tuple[Judged, ...]) -> Iterator[str]:
    """Outlets that no device guards though they hang on the line terminals of one, or a book asks it by now, with the record's reason. That wiring
    is existing is none where something has to be put right."""
    latest = House(desk.proof, Book(VERIFIED, ""))
    broken = {id for one in rules for told in one.against if told.level != "know" for id in told.points}
    bare = {id for one in rules if one.rule.name == "three-slots-no-ground" for told in one.against for id in told.points}
    for id in desk.tree.outlets:
        point = desk.point(id)
        asked = point.feed.side == "line" and point.kind.has_face or id in bare or outdoors(latest, point) or in_crawl_space(latest, point) \
            or first_asking(latest, point)[1] is True
        if asked and point.needs is None and not desk.tree.protected_by(id) and id not in desk.tree.unknown:
            existing = desk.words.text("inspector.existing") if latest.work(id) == "existing" and id not in broken else ""
            yield desk.words.text("inspector.unguarded", place=place(desk.job, id),
                                  note=(desk.words.text("inspector.noted", note=point.note) if point.note else existing) or desk.words.text("inspector.no_reason"))


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
                       ids=all_ids(lacks.points))
        for beyond in one.beyond:
            yield text("inspector.beyond", rule=one.rule.says, section=source(one.rule, one.section or "", book), ids=all_ids(beyond.points), why=without_keys(beyond.why))
