"""Takes the desk; gives what the service record says of the house and of each device."""

from __future__ import annotations

from ...job.kinds import Kind
from ..desk import Desk
from ..desk.words import Words
from .records import DeviceRecord, ServiceIndex
from .visits import visit_records


def service_index(desk: Desk) -> ServiceIndex:
    job = desk.job
    book = " ".join(filter(None, (job.file.code.book, job.file.code.edition)))
    code = "; ".join(filter(None, (book, job.file.code.amendments, *(change.reason for change in job.file.code.changes))))
    firm = [f"{key}: {value}" for key, value in job.file.contractor.items()]
    facts = [(desk.words.text("service.code"), code)] if code else []
    facts.append((desk.words.text("service.contractor"), "; ".join(firm)))
    return ServiceIndex(tuple(facts), tuple((c.key, desk.words.text("service.circuit", number=c.number), c.serves)
                                            for c in desk.by_space()),
                        tuple(device_record(desk, id) for id in desk.tree.devices),
                        job.file.punch_list, visit_records(desk))


def device_record(desk: Desk, device: str) -> DeviceRecord:
    """What is known of one device."""
    job = desk.job
    if device in job.breaker:
        breaker = job.breaker[device]
        return DeviceRecord(device, kind_name(desk.words, breaker.kind),
                            f"{desk.panel_of(device).at}, {desk.words.text('service.space', space=breaker.space)}",
                            device_state(desk, device), f"{breaker.amps:g} A" if breaker.amps else "")
    point = job.point[device]
    return DeviceRecord(device, kind_name(desk.words, point.kind), f"{point.room}, {point.at}", device_state(desk, device),
                        "; ".join(f"{key}: {value}" for key, value in point.device.items()))


def device_state(desk: Desk, device: str) -> str:
    """own TEST passed on 12 May 2026."""
    state = desk.proof.devices[device]
    day = desk.claims.day_of_device(device)
    return desk.words.text(f"service.device_states.{state}", day=desk.words.day(day) if day else "")


def kind_name(words: Words, kind: Kind) -> str:
    """A kind as the trade writes it: "GFCI receptacle", "AFCI breaker"."""
    return words.get(f"kinds.{'breakers' if kind.is_breaker else 'points'}.{kind.name}.name")
