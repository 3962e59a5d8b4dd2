"""Takes the desk; gives a page for every device and breaker and every symptom, as `isolate` has it: in English, once for all languages."""

from __future__ import annotations

from collections.abc import Iterator

from ...job.records import Circuit
from ...protection.isolate import Isolation, isolate
from ...protection.isolate.symptoms import SYMPTOMS
from ..desk import Desk
from .fault.sheet import fault_sheet
from .records import FaultPage, Page, Places, circuit_path, isolate_path, site_path
from .service import circuit_name


def symptoms_of(desk: Desk, device: str) -> tuple[str, ...]:
    """A breaker without a TEST has none that does nothing; what dims is asked of a whole circuit."""
    never = {"test-dead": not desk.tree.kind(device).opens, "dim": device not in desk.job.breaker}
    return tuple(name for name in SYMPTOMS if not never.get(name))


def breakers_and_devices(desk: Desk, circuit: Circuit) -> tuple[str, ...]:
    return (circuit.breaker, *(id for id, _ in desk.tree.walk(circuit) if desk.tree.kind(id).opens))


def isolate_pages(desk: Desk, places: Places) -> Iterator[Page]:
    done: set[str] = set()
    for circuit in () if desk.further else desk.by_space():
        back = circuit_path(circuit.key), circuit_name(desk, circuit)
        lists = tuple((id, symptoms_of(desk, id)) for id in breakers_and_devices(desk, circuit))
        for device in (id for id in breakers_and_devices(desk, circuit) if id not in done):
            done.add(device)
            found = isolate(desk.proof, device)
            assert isinstance(found, Isolation)     # nothing was read that could be refused
            for name in symptoms_of(desk, device):
                sheet, folder = fault_sheet(desk.proof, found, SYMPTOMS[name]), isolate_path(device, name)
                yield Page(f"site/{site_path(folder)}", "isolate.html.j2", sheet.title, FaultPage(
                    sheet, device, name, lists, back), folder, alone=True)
