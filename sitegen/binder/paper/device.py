"""Takes the desk and a device's page; gives what both sides of its leaf say beside that page."""

from __future__ import annotations

from ...job.records import Circuit
from ..answer.lists import Item, flatten, turns_off
from ..desk import Desk
from ..site.circuit import feed_line
from ..site.records import PlacePage
from ..site.service import circuit_name, neutral_with, wire_name
from .records import DeviceSheet, OffRow
from .where import bare, where


def device_sheet(desk: Desk, page: PlacePage) -> DeviceSheet:
    """What the leaf of a device says beside its page."""
    listed = turns_off(desk, page.id)
    circuits = _circuits_of(desk, page.id)
    return DeviceSheet(page, where(desk, page.answer.spot), bare(page.url), listed.seen, _off_rows(listed.items, 0),
                       tuple(item.place for item in flatten(listed.not_seen)),
                       listed.not_on,
                       tuple(_record_line(desk, circuit) for circuit in circuits),
                       tuple(feed_line(desk, circuit) for circuit in circuits))


def _off_rows(items: tuple[Item, ...], depth: int) -> tuple[OffRow, ...]:
    rows: list[OffRow] = []
    for item in items:
        vital = item.vital and not item.children
        rows.append(OffRow(item.id, item.place, depth, item.itself, bool(item.children), vital))
        rows += _off_rows(item.children, depth + 1)
    return tuple(rows)


def _circuits_of(desk: Desk, device: str) -> tuple[Circuit, ...]:
    job = desk.job
    if device in job.breaker:
        return tuple(circuit for circuit in job.circuits if circuit.breaker == device)
    return (job.circuit[job.point[device].circuit],)


def _record_line(desk: Desk, circuit: Circuit) -> str:
    breaker, mates = desk.job.breaker[circuit.breaker], neutral_with(desk, circuit.breaker)
    parts = [circuit_name(desk, circuit), desk.words.text("print.panel", id=circuit.panel),
             desk.words.text("print.space", space=breaker.space), f"{breaker.amps:g} A" if breaker.amps else "",
             desk.words.get(f"kinds.breakers.{breaker.kind.name}.mark"), wire_name(desk.words, circuit),
             desk.words.text("service.line.neutral", breakers=mates) if mates else ""]
    return desk.words.join([part for part in parts if part])
