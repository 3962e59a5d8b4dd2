"""Takes the desk and a circuit; gives its service page: feed order, sides, readings, the tests."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from ...job.records import Circuit, TripTest
from ..answer.places import place
from ..desk import Desk
from ..desk.once import once
from ..desk.words import Words
from .isolate import breakers_and_devices, symptoms_of
from .live import LiveRow, live_rows, not_told
from .one_line import OneLine, one_line
from .records import VisitRecord
from .service import also_in_neutral, circuit_name, device_state, handle_state, kind_name, notices, other_sources, wire_name
from .visits import measured_at, metered, spoken_of, visit_records


@dataclass(frozen=True, slots=True)
class FeedRow:
    """One point of a circuit."""

    id: str
    depth: int
    kind: str
    place: str
    fed: str         # "B5", "K1 LOAD, 9 ft", "S9 box, always hot"
    out: str         # what it feeds: "D1 from LINE; K2 from LOAD"
    box: str         # how it is made up and reached: "easy; pigtail; 3 cables; torque not recorded"
    switched: str    # the wall switches that must be on
    guard: str       # proved pairs, or what is known instead
    reading: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TestRow:
    date: str
    outlet: str
    pressed: str
    before: str
    tripped: str
    dead: str
    live: str
    after: str
    reset: str
    by: str
    note: str


@dataclass(frozen=True, slots=True)
class CircuitSheet:
    key: str
    title: str
    facts: tuple[tuple[str, str], ...]
    rows: tuple[FeedRow, ...]
    tests: tuple[TestRow, ...]
    head: str                          # "B5 · 20 A · space 5 · 12 AWG copper · record of 11 May 2026 · 2 visits"
    panel: str                         # its id
    notices: tuple[str, ...]           # what keeps it live, what must be off with it
    drawing: OneLine
    live: tuple[LiveRow, ...]
    not_told: tuple[str, ...]          # what no test can tell of it
    visits: tuple[VisitRecord, ...]    # that touched something of it, the newest first
    faults: tuple[tuple[str, tuple[str, ...]], ...]     # breaker and devices, the symptoms that have a page


@once
def circuit_sheet(desk: Desk, circuit: Circuit) -> CircuitSheet:
    """The record of one circuit, every point in feed order."""
    words, points = desk.words, [(id, depth) for id, depth in desk.tree.walk(circuit)]
    ids = {id for id, _ in points} | {circuit.breaker}
    ids |= {done.id for visit in desk.job.visits for done in visit.done
            if done.what == "removed" and done.was and done.was.source in ids}
    tests = tuple(told_row(desk, row, ids) for row in tests_of(desk, ids))
    return CircuitSheet(circuit.key, circuit_name(desk, circuit), _facts(desk, circuit, [circuit.breaker, *(id for id, _ in points)]),
                        tuple(_feed_row(desk, id, depth) for id, depth in points), tests,
                        _head(desk, circuit, ids), circuit.panel, notices(desk, circuit.breaker),
                        one_line(desk, circuit, words.text("service.line.says", feed=feed_line(desk, circuit))),
                        live_rows(desk, circuit), not_told(desk, circuit), visit_records(desk, ids),
                        tuple((id, symptoms_of(desk, id)) for id in breakers_and_devices(desk, circuit)))


def _head(desk: Desk, circuit: Circuit, ids: Collection[str]) -> str:
    """What stands over the page in one line."""
    words, breaker = desk.words, desk.job.breaker[circuit.breaker]
    mark = words.get(f"kinds.breakers.{breaker.kind.name}.mark") or words.text("service.line.breaker")
    days = [row.date for row in desk.evidence.record_of(*ids) if set(ids) & {*row.at, *row.went_dead}]
    visits = [visit for visit in desk.job.visits if spoken_of(visit) & set(ids)]
    left = any(visit.left_to_do for visit in visits)
    parts = (breaker.id, f"{breaker.amps:g} A {mark}" if breaker.amps else mark, words.text("service.space", space=breaker.space),
             wire_name(words, circuit),
             words.text("service.record_of", day=words.day(max(days))) if days else "",
             words.text("service.visits_left" if left else "service.visits", count=len(visits)) if visits else "")
    return words.parts(parts)


def _facts(desk: Desk, circuit: Circuit, ids: Collection[str]) -> tuple[tuple[str, str], ...]:
    job = desk.job
    breaker = job.breaker[circuit.breaker]
    panel = job.panel[circuit.panel]
    handle = handle_state(desk, breaker.id)
    parts = (desk.words.text("service.space", space=breaker.space), f"{breaker.amps:g} A" if breaker.amps else "",
             kind_name(desk.words, breaker.kind))
    facts = [(desk.words.text("service.serves"), circuit.serves), (desk.words.text("service.panel"), f"{panel.id}: {panel.at}"),
             (desk.words.text("service.breaker"), f"{breaker.id}: {', '.join(filter(None, parts))}. {handle}")]
    facts += [(desk.words.text(f"service.{name}"), text) for name, text in (
        ("neutral", also_in_neutral(desk, circuit.breaker)), ("sources", other_sources(desk, circuit.breaker))) if text]
    if circuit.wire:
        facts.append((desk.words.text("service.wire"), wire_name(desk.words, circuit)))
    facts.append((desk.words.text("service.trade.facts.metered"), "; ".join(metered(desk, ids))))
    if circuit.work:
        facts.append((desk.words.text("service.work"), circuit.work))
    if circuit.note:
        facts.append((desk.words.text("service.columns.note"), circuit.note))
    return tuple(facts)


def feed_line(desk: Desk, circuit: Circuit) -> str:
    """The feed of a circuit in one line: `B5 → K1 LINE. K1 LOAD → K2 → K3`; a branch begins anew at its fork. Behind a switch it
    says of each way whether it is switched."""
    points = [id for id, _ in desk.tree.walk(circuit)]
    job = desk.job
    fed: dict[str, list[str]] = {}
    legs: dict[str, str] = {}
    for id in points:
        feed, leg = job.point[id].feed, desk.tree.leg(id)
        source = f"{feed.source} {feed.side.upper()}" if feed.side else feed.source
        legs[id] = desk.words.text(f"service.chain_legs.{leg}") if leg else ""
        fed.setdefault(source, []).append(id)
    chains: list[str] = []
    for source, ids in sorted(fed.items(), key=lambda entry: points.index(entry[1][0])):
        if len(ids) == 1 and source in points:
            continue                    # a plain splice with one way on stands inside its chain
        for id in ids:
            chain, last = [f"{source} {legs[id]}".rstrip()], id
            while not job.point[last].kind.has_sides and len(fed.get(last, ())) == 1:
                after = fed[last][0]
                chain.append(f"{last} {legs[after]}".rstrip())
                last = after
            chains.append(" → ".join([*chain, f"{last} LINE" if job.point[last].kind.has_sides else last]))
    return ". ".join(chains)


def _feed_row(desk: Desk, id: str, depth: int) -> FeedRow:
    point, state, proved = desk.point(id), desk.proof.outlet(id), desk.proof.proved_by(id)
    guard = "; ".join(_shown(desk, id, device) for device in proved) or desk.words.text(f"service.proof.{state}")
    notes = [text for text in (point.note, point.not_proved, None if point.grounded else desk.words.text("service.ungrounded"))
             if text]
    if point.kind.opens:
        notes.insert(0, device_state(desk, id))
    if day := desk.claims.changed(id):
        notes.insert(0, desk.words.text("service.changed", day=desk.words.day(day)))
    return FeedRow(id, depth, kind_name(desk.words, point.kind), place(desk, id).removesuffix("."), _fed(desk, id),
                   _out(desk, id), _box(desk, id), " ".join(point.switched_by), guard, "; ".join(filter(None, (_reading(desk, id), *measured_at(desk, id)))), tuple(notes))


def _fed(desk: Desk, id: str) -> str:
    """The terminals a point hangs on, whether it is switched there, and the cable to it."""
    point, job = desk.point(id), desk.job
    source = point.feed.source
    if point.feed.unknown:
        fed = desk.words.text("service.unknown")
    elif source in job.point and job.point[source].kind.switches:
        fed = desk.words.text(f"service.legs.{desk.tree.leg(id) or 'unknown'}", id=source)
    else:
        fed = f"{source} {point.feed.side.upper()}" if point.feed.side else source
    if point.kind.has_sides and not point.feed.unknown:
        fed = desk.words.text("service.to_line", fed=fed)
    return f"{fed}, {point.length_ft:g} ft" if point.length_ft else fed


def _out(desk: Desk, id: str) -> str:
    """What it feeds, by its terminals."""
    words, point = desk.words, desk.point(id)
    sides: dict[str | None, list[str]] = {}
    for child in desk.tree.children.get(id, ()):
        sides.setdefault(desk.point(child).feed.side, []).append(child)
    says = [words.text(f"service.out.{side or 'plain'}", ids=" ".join(ids)) for side, ids in sides.items()]
    return "; ".join([*says, *([words.text("service.out.load_empty")] if point.load_empty else [])])


def _box(desk: Desk, id: str) -> str:
    words, point = desk.words, desk.point(id)
    terminals = point.kind.has_face or point.kind.switches or point.kind.has_sides
    torque = point.device.get("torque")
    return "; ".join(filter(None, (box_says(desk, id), words.text("service.box.torque", torque=torque) if torque else
                                   words.text("service.box.no_torque") if terminals else "")))


def box_says(desk: Desk, id: str) -> str:
    """How a box is reached and made up, and its size."""
    words, point = desk.words, desk.point(id)
    joined = point.kind.is_outlet or point.kind.switches or point.kind.opens
    joint = words.text(f"service.box.{(point.joint or 'no joint').replace(' ', '_')}") if joined and desk.tree.children.get(id) else ""
    return "; ".join(filter(None, (words.text(f"service.line.access.{point.access}") if point.access else "", joint, _cables(desk, id),
                                   words.text("service.box.cu_in", size=f"{point.fill.cu_in:g}") if point.fill else point.box or "")))


def _cables(desk: Desk, id: str) -> str:
    """How many were counted in its box, and how many the map has there where that differs."""
    counted, drawn = desk.point(id).cables, desk.tree.cables_drawn(id)
    if not counted:
        return ""
    return desk.words.text("service.box.cables_differ" if drawn != counted else "service.box.cables", count=counted, drawn=drawn)


def _reading(desk: Desk, id: str) -> str:
    row = desk.evidence.readings.get(id)
    if row is None:
        return ""
    volts = desk.words.text("service.volts", volts=f"{row.volts:g}") + " " if row.volts is not None else ""
    says = f"{volts}{row.wiring}, {desk.words.day(row.date)}"
    touch = desk.evidence.standing.voided(id, row)
    return f"{says}, {desk.words.text('service.read_before', day=desk.words.day(touch.date))}" if touch else says


def _shown(desk: Desk, id: str, device: str) -> str:
    """K4, tester here, 8 May 2026."""
    evidence = desk.evidence
    row, tester = evidence.shown(id, device), evidence.looked(id, id, "tester")
    own = evidence.looked(id, device, "device")
    ways = ["tester"] if tester and tester.dead and device in tester.row.tripped else []
    ways += ["device"] if own and own.dead and own.row.tripped == (device,) else []
    ways += ["round"] if evidence.company and evidence.company.shown(id, device) is not None and not ways else []
    how = " + ".join(desk.words.text(f"service.shown_by.{way}") for way in ways)
    return desk.words.text("service.shown", device=device, how=how, day=desk.words.day(row.date) if row else "")


def tests_of(desk: Desk, ids: Collection[str]) -> tuple[TripTest, ...]:
    """The rows that speak of one of these, the newest first."""
    return tuple(reversed(desk.evidence.record_of(*ids)))


def told_row(desk: Desk, row: TripTest, ids: Collection[str]) -> TestRow:
    return test_row(desk.words, row, _again(desk, row), void_says(desk, row, ids), (desk.evidence.rest(row) & ~desk.tree.bits(row.went_dead)).bit_count())


def test_row(words: Words, row: TripTest, again: date | None = None, void: str = "", rest_of: int = 0) -> TestRow:
    """One row of the trip test record, as typed; `again`: the day on which the same press was done over; `void`: what of it
    no longer counts; `rest_of`: how many outlets its "rest of ..." speaks of."""
    def number(value: float | None) -> str:
        return "" if value is None else f"{value:g}"

    rest = words.text(f"service.rest.{row.rest_live}", count=rest_of) if row.rest_live else ""
    if row.rest_except:
        rest = words.text("service.rest_except", rest=rest, ids=" ".join(row.rest_except))
    live = list(filter(None, (*row.stayed_live, rest)))
    reset = "" if row.reset is None else words.text("service.yes" if row.reset else "service.no")
    note = " ".join(filter(None, (void or (words.text("service.done_again", day=words.day(again)) if again else ""), row.note)))
    return TestRow(row.date.isoformat(), " ".join(row.at), words.text(f"service.pressed.{row.pressed}"),
                   " ".join(filter(None, (number(row.volts), row.wiring))),
                   " ".join(row.tripped) or words.text("service.none"), " ".join(row.went_dead), " ".join(live),
                   number(row.volts_after), reset, row.by or "", note)


def void_says(desk: Desk, row: TripTest, ids: Collection[str]) -> str:
    """What of this row no longer counts, of these ids, and since which visit."""
    if not desk.job.visits:
        return ""
    evidence, words = desk.evidence, desk.words
    now = evidence.standing.of_today(row)
    if now is None:
        return words.text("service.void_gone", ids=row.outlet)
    void = {s.outlet: touch for s in evidence.saw(now) if (touch := evidence.standing.voided(s.outlet, now))}
    own = evidence.standing.voided_press(now)
    if not void and not own:
        return ""
    whole = len(void) == len([*evidence.saw(now)])
    here = [id for id in void if id in ids] or ([row.outlet] if own else [])
    if not whole and not here:
        return ""
    day = words.day(max(touch.date for touch in (*void.values(), *filter(None, (own,)))))
    return words.text("service.void_all", day=day) if whole else words.text("service.void", day=day, ids=" ".join(here))


def _again(desk: Desk, row: TripTest) -> date | None:
    last = desk.evidence.presses.get((row.outlet, row.pressed))
    return last.date if last and last.row > row.row else None
