"""Takes the proof; gives what the panel itself has wrong: breakers in one space, wires too small, neutrals that circuits share."""

from __future__ import annotations

from collections.abc import Iterator

from ..finding import Finding
from ..proof import Proof
from ..say import both, place, things

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


def shared_neutral(proof: Proof) -> Iterator[Finding]:
    """A GFCI of one pole with a shared neutral behind it sees half of the current and opens."""
    tree, job = proof.tree, proof.tree.job
    for circuit in tree.circuits:
        partners = [job.circuit[key] for key in circuit.shares_neutral_with]
        if not partners:
            continue
        breaker = job.breaker[circuit.breaker]
        ids = [breaker.id] if breaker.poles == 1 else []
        ids += [id for id, _ in tree.walk(circuit)]
        for id in ids:
            behind = set(tree.goes_dead(id)) - {id} if tree.kind(id).stops_shock else set()
            if behind:
                yield Finding("shared-neutral", "fix", things(job, id).where, (id,),
                              f"{place(job, id)} guards circuit {circuit.number}, which shares its neutral with circuit "
                              f"{both(partner.number for partner in partners)}: one pole cannot see the other's current. "
                              f"Use a two-pole device, or part the neutrals before its load terminals.")
        first = all(circuit.key < partner.key for partner in partners)  # told once for all that share
        if first and breaker.poles == 1 and all(partner.breaker != breaker.id for partner in partners):
            yield Finding("multiwire-handles", "know", circuit.where, (breaker.id,),
                          f"Circuit {circuit.number} shares its neutral with circuit "
                          f"{both(partner.number for partner in partners)}. Both handles must be tied to move together "
                          f"(NEC 210.4(B), from memory).")
