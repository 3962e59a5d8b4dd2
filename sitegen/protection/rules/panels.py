"""Takes the proof; gives what the panel itself has wrong: breakers in one space, aluminum wiring."""

from __future__ import annotations

from collections.abc import Iterator

from ...job.records import Breaker
from ..finding import Finding
from ..proof import Proof
from ..say import both, place


def same_space(proof: Proof) -> Iterator[Finding]:
    """Two breakers of one panel in the same space: a page would send someone to the wrong one."""
    job = proof.tree.job
    seen: dict[tuple[str, str], Breaker] = {}
    for breaker in (job.breaker[id] for id in proof.tree.breakers):
        for space in breaker.space.upper().replace("/", " ").split():
            first = seen.setdefault((proof.tree.panel_of[breaker.id], space), breaker)
            if first is not breaker:
                yield Finding("same-space", "stop", breaker.where, (breaker.id, first.id),
                              f"{place(job, breaker.id)} is in space {space}, and so is {first.id} ({first.where}). Write the "
                              f"space that each one is in: pages and labels send people there.")
                break


def aluminum(proof: Proof) -> Iterator[Finding]:
    """Aluminum branch wiring on outlets and switches: made for it, or copper pigtails (406.3(C), 404.14(C), from memory)."""
    job = proof.tree.job
    for circuit in proof.tree.circuits:
        amps = job.breaker[circuit.breaker].amps or 0
        ids = [id for id, _ in proof.tree.walk(circuit) if (job.point[id].kind.has_face or job.point[id].kind.switches)
               and not {"co/alr", "copper pigtails"} & set(job.point[id].marks or ())]
        if circuit.wire and circuit.wire.metal == "aluminum" and amps <= 20 and ids:
            yield Finding("aluminum", "fix", circuit.where, tuple(ids),
                          f"Circuit {circuit.number} is aluminum, and {both(ids)} {'is' if len(ids) == 1 else 'are'} not written as made for it. Devices "
                          f"of 15 and 20 A on it are marked CO/ALR, or have copper pigtails with a listed connector (NEC 406.3(C) and 404.14(C), from "
                          f"memory). Write `marks: [CO/ALR]` or `[copper pigtails]` where you saw it.")
