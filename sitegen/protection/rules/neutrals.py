"""Takes the proof; gives what shared neutrals do: devices that cannot guard past one, testers that open two, a neutral that fails."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...job.records import Circuit, TripTest
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, place, things
from .readings import RANGES, latest_volts

FAR = 6.0   # V below 120: what a partner has lost while the other rises; common practice, no source


def shared_neutral(proof: Proof) -> Iterator[Finding]:
    """A GFCI of one pole with a shared neutral behind it sees half of the current and opens; so does one of two poles that has not
    every partner on it. Behind the box where the neutrals part each cable has its own."""
    tree, job = proof.tree, proof.tree.job
    for circuit in tree.circuits:
        partners = [job.circuit[key] for key in circuit.shares_neutral_with]
        if not partners:
            continue
        breaker = job.breaker[circuit.breaker]
        alone = breaker.poles == 1 or any(partner.breaker != breaker.id for partner in partners)
        ids = [breaker.id] if alone else []
        ids += [id for id, _ in tree.walk(circuit) if not set(tree.way_up(id)) & set(circuit.neutral_parts_at)]
        for id in ids:
            behind = set(tree.goes_dead(id)) - {id} if tree.kind(id).stops_shock else set()
            if behind:
                what = "one pole cannot see the other's current. Use a two-pole device with all of them on it" \
                    if breaker.poles == 1 or id != breaker.id else "its two poles see only what is on them. Put every partner on it"
                where = ", and the map does not say where the neutrals part: with the shared one behind it" if id != breaker.id \
                    and not circuit.neutral_parts_at else ":"
                yield Finding("shared-neutral", "fix", things(job, id).where, (id,),
                              f"{place(job, id)} guards circuit {circuit.number}, which shares its neutral with circuit "
                              f"{both(partner.number for partner in partners)}{where} {what}, or part the neutrals before its load "
                              f"terminals. Write the box where they part as `neutral_parts_at`.")


def opened_together(proof: Proof) -> Iterator[Finding]:
    """A tester that opened a device of a partner circuit too: the neutral that they share carries it there."""
    job = proof.tree.job
    for (outlet, pressed), row in proof.evidence.presses.items():
        others = proof.evidence.partners_opened(row) if pressed == "tester" else ()
        if others:
            yield Finding("opened-together", "fix", row.where, (outlet, *others),
                          f"The tester pressed at {place(job, outlet)} on {day(row.date)} opened {both(others)} too, on a circuit that shares "
                          f"its neutral: what leaks on one is missing on the other. Each will open for the other's faults until the neutrals "
                          f"part before both, or one two-pole device has both circuits.")


def neutral_failing(proof: Proof) -> Iterator[Finding]:
    """High here and low on the partner: the neutral that they share is failing. A rise of voltage is never load or length."""
    job = proof.tree.job
    for circuit in proof.tree.circuits:
        mates = [circuit, *(job.circuit[key] for key in circuit.shares_neutral_with)]
        if len(mates) < 2 or any(mate.key < circuit.key for mate in mates):
            continue
        if gone := gone_apart(proof, mates):
            high, low = gone
            yield Finding("neutral-failing", "stop", high.where, (high.outlet, low.outlet),
                          f"{place(job, high.outlet)} had {high.volts:g} V and {place(job, low.outlet)}, on the circuit that shares its neutral, "
                          f"{low.volts:g} V. One high and the other low points to a failing neutral: switch both breakers off, and do not use them "
                          f"until its splices are mended, from the panel on. A rise is never load or length.")


def gone_apart(proof: Proof, mates: Iterable[Circuit]) -> tuple[TripTest, TripTest] | None:
    """The highest reading and the lowest on another of these circuits, where one is too high and the other has lost."""
    volts = latest_volts(proof)
    here = [row for mate in mates for row in _at(proof, mate, volts)]
    high = max(here, key=lambda row: row.volts or 0, default=None)
    low = min((row for row in here if high and _circuit(proof, row) != _circuit(proof, high)), key=lambda row: row.volts or 0, default=None)
    return (high, low) if high and low and (high.volts or 0) > RANGES[120.0][2] and (low.volts or 0) <= 120 - FAR else None


def _at(proof: Proof, circuit: Circuit, volts: dict[str, TripTest]) -> list[TripTest]:
    return [volts[id] for id, _ in proof.tree.walk(circuit) if id in volts and proof.tree.job.point[id].voltage == 120]


def _circuit(proof: Proof, row: TripTest) -> str:
    return proof.tree.job.point[row.outlet].circuit
