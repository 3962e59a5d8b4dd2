"""Takes the proof; gives what the panel itself has wrong: breakers in one space, neutrals that circuits share behind a GFCI."""

from __future__ import annotations

from collections.abc import Iterator

from ..finding import Finding
from ..proof import Proof
from ..say import both, place, things

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
