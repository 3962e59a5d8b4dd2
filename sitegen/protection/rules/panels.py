"""Takes the proof; gives what the panel itself has wrong: two breakers in one space, a breaker too large for its wire."""

from __future__ import annotations

from collections.abc import Iterator

from ..finding import Finding
from ..proof import Proof
from ..say import place

# NEC 240.4(D), as reported: the largest breaker for small copper and aluminum wire, A. Motor, air-conditioner and
# range-tap circuits are exempt, so it is told and does not stop.
LARGEST = {("copper", "18"): 7, ("copper", "16"): 10, ("copper", "14"): 15, ("copper", "12"): 20, ("copper", "10"): 30,
           ("aluminum", "12"): 15, ("aluminum", "10"): 25}


def same_space(proof: Proof) -> Iterator[Finding]:
    """Two breakers of one panel in the same space: a page would send someone to the wrong one."""
    job, seen = proof.tree.job, {}
    for breaker in (job.breaker[id] for id in proof.tree.breakers):
        for space in breaker.space.upper().replace("/", " ").split():
            first = seen.setdefault((proof.tree.panel_of[breaker.id], space), breaker)
            if first is not breaker:
                yield Finding("same-space", "stop", breaker.where, (breaker.id, first.id),
                              f"{place(job, breaker.id)} is in space {space}, and so is {first.id} ({first.where}). Write the "
                              f"space that each one is in: pages and labels send people there.")
                break


def wire_too_small(proof: Proof) -> Iterator[Finding]:
    """A breaker larger than its wire may have."""
    job = proof.tree.job
    for circuit in proof.tree.circuits:
        breaker, wire = job.breaker[circuit.breaker], circuit.wire
        most = LARGEST.get((wire.metal, wire.awg)) if wire else None
        if wire and most and breaker.amps and breaker.amps > most:
            yield Finding("wire-too-small", "fix", breaker.where, (breaker.id,),
                          f"{place(job, breaker.id)} is {breaker.amps:g} A on {wire.awg} AWG {wire.metal}; 240.4(D) of the NEC "
                          f"allows {most} A, apart from motor, air-conditioner and range-tap circuits. Look which is wrong.")
