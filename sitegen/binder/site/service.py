"""Takes the report; gives what the service pages say of a circuit: feed order, sides, readings, the tests."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from ...job.kinds import Kind
from ...job.records import Circuit, Job, TripTest
from ..answer import place
from ..claims import Claims
from ..words import Words


@dataclass(frozen=True, slots=True)
class FeedRow:
    """One point of a circuit."""

    id: str
    depth: int
    kind: str
    place: str
    fed: str         # "B5", "K1 LOAD, 9 ft", "S9 box, always hot"
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


@dataclass(frozen=True, slots=True)
class DeviceRecord:
    id: str
    kind: str
    place: str
    state: str
    details: str     # rating, class, make, model, date code


def by_space(job: Job) -> tuple[Circuit, ...]:
    """Every circuit, panel by panel, from the first space of its panel on."""
    panels = [panel.id for panel in job.panels]

    def place(circuit: Circuit) -> tuple[int, int, str]:
        space = job.breaker[circuit.breaker].space
        number = re.match(r"\d+", space)
        return panels.index(circuit.panel), int(number[0]) if number else 10_000, space

    return tuple(sorted(job.circuits, key=place))


def feed_line(claims: Claims, circuit: Circuit) -> str:
    """The feed of a circuit in one line: `B5 → K1 LINE. K1 LOAD → K2 → K3`; a branch begins anew at its fork."""
    points = [id for id, _ in claims.report.tree.walk(circuit)]
    job = claims.report.job
    fed: dict[str, list[str]] = {}
    for id in points:
        feed = job.point[id].feed
        fed.setdefault(f"{feed.source} {feed.side.upper()}" if feed.side else feed.source, []).append(id)
    chains: list[str] = []
    for source, ids in sorted(fed.items(), key=lambda entry: points.index(entry[1][0])):
        if len(ids) == 1 and source in points:
            continue                    # a plain splice with one way on stands inside its chain
        for id in ids:
            chain = [source, id]
            while not job.point[chain[-1]].kind.has_sides and len(fed.get(chain[-1], ())) == 1:
                chain.append(fed[chain[-1]][0])
            last = chain[-1]
            chain[-1] = f"{last} LINE" if job.point[last].kind.has_sides else last
            chains.append(" → ".join(chain))
    return ". ".join(chains)


def circuit_sheet(claims: Claims, words: Words, circuit: Circuit) -> CircuitSheet:
    """The record of one circuit, every point in feed order."""
    report = claims.report
    points = [(id, depth) for id, depth in report.tree.walk(circuit)]
    ids = {id for id, _ in points} | {circuit.breaker}
    tests = tuple(test_row(words, row, _again(claims, row)) for row in report.evidence.record
                  if row.outlet in ids or ids & set(row.tripped) or ids & set(row.went_dead))
    return CircuitSheet(circuit.key, words.text("service.circuit", number=circuit.number), _facts(claims, words, circuit),
                        tuple(_feed_row(claims, words, id, depth) for id, depth in points), tests)


def _again(claims: Claims, row: TripTest) -> date | None:
    last = claims.report.evidence.presses.get((row.outlet, row.pressed))
    return last.date if last and last.row > row.row else None


def _facts(claims: Claims, words: Words, circuit: Circuit) -> tuple[tuple[str, str], ...]:
    job = claims.report.job
    breaker = job.breaker[circuit.breaker]
    panel = job.panel[circuit.panel]
    tried = claims.report.evidence.presses.get((breaker.id, "breaker"))
    amps = f"{breaker.amps:g} A, " if breaker.amps else ""
    facts = [(words.text("service.serves"), circuit.serves), (words.text("service.panel"), f"{panel.id}: {panel.at}"),
             (words.text("service.breaker"), f"{breaker.id}: {words.text('service.space', space=breaker.space)}, {amps}{kind_name(words, breaker.kind)}. "
              + (words.text("service.tried", day=words.day(tried.date)) if tried else words.text("service.not_tried")))]
    if line := feed_line(claims, circuit):
        facts.append((words.text("service.chain"), line))
    if circuit.wire:
        facts.append((words.text("service.wire"), f"{circuit.wire.awg} AWG {circuit.wire.metal}"))
    if circuit.work:
        facts.append((words.text("service.work"), circuit.work))
    if circuit.note:
        facts.append((words.text("service.columns.note"), circuit.note))
    return tuple(facts)


def _feed_row(claims: Claims, words: Words, id: str, depth: int) -> FeedRow:
    report = claims.report
    point, state = claims.point(id), report.proof.outlet(id)
    proved = report.proof.proved_by(id)
    guard = "; ".join(_shown(claims, words, id, device) for device in proved) or words.text(f"service.proof.{state}")
    notes = [text for text in (point.note, point.not_proved, None if point.grounded else words.text("service.ungrounded"))
             if text]
    if point.kind.opens:
        notes.insert(0, device_state(claims, words, id))
    return FeedRow(id, depth, kind_name(words, point.kind), place(claims, words, id).removesuffix("."), _fed(claims, words, id),
                   " ".join(point.switched_by), guard, _reading(claims, words, id), tuple(notes))


def kind_name(words: Words, kind: Kind) -> str:
    """A kind as the trade writes it: "GFCI receptacle", "AFCI breaker"."""
    return words.get(f"service.{'breakers' if kind.is_breaker else 'kinds'}.{kind.name}")


def _fed(claims: Claims, words: Words, id: str) -> str:
    """The terminals a point hangs on, whether it is switched there, and the cable to it."""
    point, job = claims.point(id), claims.report.job
    source = point.feed.source
    if point.feed.unknown:
        fed = words.text("service.unknown")
    elif source in job.point and job.point[source].kind.switches:
        fed = words.text("service.switched_leg" if source in point.switched_by else "service.switch_box", id=source)
    else:
        fed = f"{source} {point.feed.side.upper()}" if point.feed.side else source
    return f"{fed}, {point.length_ft:g} ft" if point.length_ft else fed


def _reading(claims: Claims, words: Words, id: str) -> str:
    row = claims.report.evidence.readings.get(id)
    if row is None:
        return ""
    volts = words.text("service.volts", volts=f"{row.volts:g}") + " " if row.volts is not None else ""
    return f"{volts}{row.wiring}, {words.day(row.date)}"


def _shown(claims: Claims, words: Words, id: str, device: str) -> str:
    """K4, tester here, 8 May 2026."""
    evidence = claims.report.evidence
    row, tester = evidence.shown(id, device), evidence.looked(id, id, "tester")
    own = evidence.looked(id, device, "device")
    ways = ["tester"] if tester and tester.dead and device in tester.row.tripped else []
    ways += ["device"] if own and own.dead and own.row.tripped == (device,) else []
    how = " + ".join(words.text(f"service.shown_by.{way}") for way in ways)
    return words.text("service.shown", device=device, how=how, day=words.day(row.date) if row else "")


def device_state(claims: Claims, words: Words, device: str) -> str:
    """own TEST passed on 12 May 2026."""
    state = claims.report.proof.devices[device]
    day = claims.day_of_device(device)
    return words.text(f"service.device_states.{state}", day=words.day(day) if day else "")


def test_row(words: Words, row: TripTest, again: date | None = None) -> TestRow:
    """One row of the trip test record, as typed; `again`: the day on which the same press was done over."""
    number = lambda value: "" if value is None else f"{value:g}"  # noqa: E731
    live = list(row.stayed_live) + ([words.text(f"service.rest.{row.rest_live}")] if row.rest_live else [])
    reset = "" if row.reset is None else words.text("service.yes" if row.reset else "service.no")
    note = " ".join(filter(None, (words.text("service.done_again", day=words.day(again)) if again else "", row.note)))
    return TestRow(row.date.isoformat(), row.outlet, words.text(f"service.pressed.{row.pressed}"), " ".join(filter(None, (number(row.volts), row.wiring))),
                   " ".join(row.tripped) or words.text("service.none"), " ".join(row.went_dead), " ".join(live),
                   number(row.volts_after), reset, row.by or "", note)


def device_record(claims: Claims, words: Words, device: str) -> DeviceRecord:
    """What is known of one device."""
    job = claims.report.job
    if device in job.breaker:
        breaker = job.breaker[device]
        return DeviceRecord(device, kind_name(words, breaker.kind),
                            f"{claims.panel_of(device).at}, {words.text('service.space', space=breaker.space)}",
                            device_state(claims, words, device), f"{breaker.amps:g} A" if breaker.amps else "")
    point = job.point[device]
    return DeviceRecord(device, kind_name(words, point.kind), f"{point.room}, {point.at}", device_state(claims, words, device),
                        "; ".join(f"{key}: {value}" for key, value in point.device.items()))
