"""Takes the desk; gives what the service record says of the house and of each device."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from ...job.kinds import Kind
from ...job.records import Circuit
from ..desk import Desk
from ..desk.words import Words
from .records import DeviceRecord, ServiceIndex, circuit_path, trade_path
from .visits import visit_records


def record_rows(desk: Desk) -> dict[str, str]:
    """Where each id has its row: "service-record/P1-5#K3"; of a breaker its page."""
    return {**{point.id: f"{circuit_path(point.circuit)}#{point.id}" for point in desk.job.points},
            **{breaker: trade_path(breaker) for breaker in desk.job.breaker}}


def service_index(desk: Desk) -> ServiceIndex:
    job = desk.job
    book = " ".join(filter(None, (job.file.code.book, job.file.code.edition)))
    code = "; ".join(filter(None, (book, job.file.code.amendments, *(change.reason for change in job.file.code.changes))))
    known = desk.words.get("inspector.contractor") | {"inspected": desk.words.text("inspector.inspected")}
    firm = [(known.get(key, key), value) for key, value in job.file.contractor.items()]
    facts = [(desk.words.text("service.code"), code)] if code else []
    breakers = dict.fromkeys(circuit.breaker for circuit in desk.by_space())
    return ServiceIndex((*facts, *firm), tuple((c.key, circuit_name(desk, c), _serves(desk, c)) for c in desk.by_space()),
                        tuple(device_record(desk, id) for id in dict.fromkeys((*breakers, *desk.tree.devices))),
                        job.file.punch_list, visit_records(desk), tuple((panel.id, panel.at) for panel in job.panels))


def circuit_name(desk: Desk, circuit: Circuit) -> str:
    """Its number, and its panel where another panel has that number too."""
    alike = sum(other.number.casefold() == circuit.number.casefold() for other in desk.job.circuits)
    return desk.words.text("service.circuit_of" if alike > 1 else "service.circuit", number=circuit.number, panel=circuit.panel)


def _serves(desk: Desk, circuit: Circuit) -> str:
    return ". ".join(filter(None, (circuit.serves, also_in_neutral(desk, circuit.breaker))))


def also_in_neutral(desk: Desk, id: str) -> str:
    """What must be off too before a neutral of this breaker or point is touched; "" where it shares none."""
    circuits = desk.tree.shares_neutral(id)
    return desk.words.text("service.shares", circuits=_together(desk, circuits),
                           breakers=desk.words.join(list(dict.fromkeys(c.breaker for c in circuits)))) if circuits else ""


def _together(desk: Desk, circuits: Sequence[Circuit]) -> str:
    """Circuit 3 and circuit 5; their panel, which is one, where another panel has such a number too."""
    *most, last = [desk.words.text("service.shares_circuit", number=circuit.number) for circuit in circuits]
    named = str(desk.words.get("service.shares_and")).join(filter(None, (desk.words.join(most), last)))
    here = {circuit.number.casefold() for circuit in circuits}
    elsewhere = any(other.panel != circuits[0].panel and other.number.casefold() in here for other in desk.job.circuits)
    if elsewhere:
        named = desk.words.text("service.shares_of", circuits=named, panel=circuits[0].panel)
    return named[0].upper() + named[1:]


def neutral_with(desk: Desk, breaker: str) -> str:
    """The breakers whose circuits share a neutral with those of this one."""
    mates = dict.fromkeys(circuit.breaker for circuit in desk.tree.shares_neutral(breaker))
    return desk.words.join([mate for mate in mates if mate != breaker])


def other_sources(desk: Desk, id: str) -> str:
    return desk.words.join(desk.tree.other_sources(id))


def notices(desk: Desk, id: str) -> tuple[str, ...]:
    """What stands at the top of every page of a breaker or point: what must be off with it, what else keeps it live."""
    sources = other_sources(desk, id)
    return tuple(filter(None, (also_in_neutral(desk, id), desk.words.text("service.trade.sources", sources=sources) if sources else "")))


def device_record(desk: Desk, device: str) -> DeviceRecord:
    """What is known of one device."""
    job = desk.job
    if device in job.breaker:
        breaker = job.breaker[device]
        return DeviceRecord(device, kind_name(desk.words, breaker.kind),
                            f"{desk.panel_of(device).at}, {desk.words.text('service.space', space=breaker.space)}",
                            device_state(desk, device), _details(desk, device, breaker.device, f"{breaker.amps:g} A" if breaker.amps else ""), True)
    point = job.point[device]
    return DeviceRecord(device, kind_name(desk.words, point.kind), f"{point.room}, {point.at}", device_state(desk, device),
                        _details(desk, device, point.device))


def _details(desk: Desk, device: str, known: Mapping[str, str], amps: str = "") -> str:
    """What stands on it, and to what its terminals were tightened; a key of the contractor's own stands as written."""
    says = desk.words.get("service.plate")
    plate = ", ".join(filter(None, (amps, *(f"{says.get(key, key)} {dated(desk, value)}".strip() for key, value in known.items()))))
    return ". ".join(filter(None, (plate, also_in_neutral(desk, device))))


def dated(desk: Desk, value: str) -> str:
    """A value that is a day, in words."""
    try:
        return desk.words.day(date.fromisoformat(value))
    except ValueError:
        return value


def device_state(desk: Desk, device: str) -> str:
    """own TEST passed on 12 May 2026; of a breaker without a TEST whether its handle was tried."""
    if not desk.tree.kind(device).opens:
        return handle_state(desk, device)
    state = desk.proof.devices[device]
    day = desk.claims.day_of_device(device)
    return desk.words.text(f"service.device_states.{state}", day=desk.words.day(day) if day else "")


def handle_state(desk: Desk, breaker: str) -> str:
    tried = desk.evidence.handle(breaker)
    return desk.words.text("service.tried", day=desk.words.day(tried.date)) if tried else desk.words.text("service.not_tried")


def wire_name(words: Words, circuit: Circuit) -> str:
    """12 AWG Cu NM-B; "" where it is not written."""
    wire = circuit.wire
    return " ".join(filter(None, (wire.awg, "AWG", words.text(f"service.metals.{wire.metal}"), wire.cable))) if wire else ""


def kind_name(words: Words, kind: Kind) -> str:
    """A kind as the trade writes it: "GFCI receptacle", "AFCI breaker"."""
    return str(words.get(f"kinds.{'breakers' if kind.is_breaker else 'points'}.{kind.name}.name"))
