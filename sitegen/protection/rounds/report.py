"""Takes tree, evidence and proof; gives how far the proof is, the rounds that are left, and where to stand first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from ..elimination import deduce
from ..proof import Proof
from . import House, Plan, Stand, not_walked, plan, stands, still_needed


@dataclass(frozen=True)
class Left:
    """What rounds have still to show."""

    proof: Proof
    support: int = 1

    @cached_property
    def house(self) -> House:
        return House(self.proof.tree)

    @cached_property
    def whole(self) -> Plan:
        return plan(self.proof.tree, self.support)

    @cached_property
    def pairs(self) -> tuple[tuple[str, str], ...]:
        """Every outlet that can be reached with each breaker and device before it."""
        tree = self.proof.tree
        return tuple((outlet, id) for outlet in self.house.outlets for id in tree.reset_order(outlet))

    @cached_property
    def shown(self) -> int:
        """How many of the pairs are shown."""
        evidence = self.proof.evidence
        return sum(outlet not in evidence.contradicted and bool(evidence.shown(outlet, id) or evidence.handle_tried(outlet, id))
                   for outlet, id in self.pairs)

    @property
    def done(self) -> bool:
        """True where all pairs are shown, every device proved, and every outlet of its circuit accounted for."""
        proof = self.proof
        return self.shown == len(self.pairs) and all(
            state == "proved" and not proof.not_accounted(id) for id, state in proof.devices.items())

    @cached_property
    def plan(self) -> Plan:
        """The rounds that are left of the plan; with two behind each fact all that were not walked."""
        evidence = self.proof.evidence
        if self.support > 1:
            return not_walked(self.whole, evidence.seen())
        if self.done:
            return replace(self.whole, rounds=(), alone=(), bound=0)
        untested = [id for id, state in self.proof.devices.items() if state != "proved" and not self._waits(id)]
        return still_needed(self.house, self.whole, evidence.seen(), untested, evidence.contradicted)

    def _waits(self, device: str) -> bool:
        """True where its TEST was pressed and turned something off, and what is left to tell of it other rounds or the settling of
        a disagreement will tell."""
        evidence, tree = self.proof.evidence, self.proof.tree
        row, behind = evidence.own_test(device), tree.goes_dead(device)
        return row is not None and bool(row.reset) and any(
            s.outlet in behind and not evidence.not_lit_again(s) for look in evidence.press_looks(row) for s in look.dark)

    @cached_property
    def stands(self) -> tuple[Stand, ...]:
        """Where a disagreement is settled without a walk."""
        evidence = self.proof.evidence
        told = evidence.company or deduce(evidence.seen(), self.house.contacts, self.proof.tree.breakers)
        return stands(self.house, told, (id for id in self.house.outlets if id in evidence.contradicted))
