"""Takes the report; gives what may be said to a homeowner: only pairs that were shown, each with its day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from ...protection.examine import Report
from .once import once


@dataclass(frozen=True, slots=True)
class Cut:
    """A device that stands before an outlet on the map, and the day the outlet was seen dead with it."""

    device: str
    shown: date | None


@dataclass(frozen=True)
class Claims:
    report: Report
    kept: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    @once
    def cuts(self, outlet: str) -> tuple[Cut, ...]:
        """Every device whose opening leaves the outlet dead, nearest first."""
        tree = self.report.tree
        return tuple(Cut(id, self.day_shown(outlet, id)) for id in reversed(tree.reset_order(outlet)) if tree.kind(id).opens)

    def day_shown(self, outlet: str, device: str) -> date | None:
        """The day the outlet was seen dead with this device open, or with a standard breaker off; None where that was not shown."""
        evidence = self.report.evidence
        row = (evidence.shown if self.report.tree.kind(device).opens else evidence.handle_tried)(outlet, device)
        return row.date if row and outlet not in evidence.contradicted else None

    @once
    def turns_off(self, device: str) -> tuple[str, ...]:
        """The outlets shown to go off with the device, in feed order."""
        tree = self.report.tree
        return tuple(id for id in tree.outlets_of(tree.goes_dead(device)) if self.day_shown(id, device))

    @once
    def may_turn_off(self, device: str) -> tuple[str, ...]:
        """The outlets that the map puts behind the device and nobody saw go off with it."""
        tree = self.report.tree
        return tuple(id for id in tree.outlets_of(tree.goes_dead(device)) if not self.day_shown(id, device))

    def not_on(self, device: str, outlets: Iterable[str]) -> tuple[str, ...]:
        """Those seen live while the device was open, as it is now: what the one before it left on says nothing of it."""
        evidence = self.report.evidence
        seen = {outlet: evidence.live_while_open(outlet, device) for outlet in outlets if outlet not in evidence.contradicted}
        voided = {id(row) for row in {id(row): row for row in seen.values() if row}.values() if evidence.voided_test(row, device)}
        return tuple(outlet for outlet, row in seen.items() if row and id(row) not in voided)

    def protects(self, device: str) -> tuple[str, ...]:
        """The outlets with which this device makes a proved pair."""
        return tuple(id for id in self.report.tree.protects(device) if device in self.report.proof.proved_by(id))

    def day_of_device(self, device: str) -> date | None:
        """The day the device was shown to work by its own TEST."""
        row = self.report.evidence.own_test(device)
        return row.date if row and self.report.proof.devices[device] == "proved" else None

    def changed(self, id: str) -> date | None:
        """The latest day on which this itself was put in, replaced or fed from elsewhere."""
        return max((visit.date for visit in self.report.job.visits for done in visit.done
                    if done.id == id and done.what in ("added", "replaced", "refed")), default=None)

    def not_shown_since(self, id: str) -> date | None:
        """The day of the visit after which this was not shown again as far as it has to be."""
        owed = self.report.proof.owed.get(id)
        voided = self.report.proof.test_voided(id) if self.report.tree.kind(id).opens else None
        days = [touch.date for touch in (owed and owed[0], voided and voided[1]) if touch]
        return max(days, default=None)

    def breaker_tried(self, id: str) -> bool:
        """True when the breaker's handle was seen to turn this outlet, or something on this device, off."""
        tree, evidence = self.report.tree, self.report.evidence
        breaker = tree.breaker_of(id)
        outlets = (id,) if id in self.report.job.point and tree.is_outlet(id) else tree.outlets_of(tree.goes_dead(id))
        return any(evidence.handle_tried(outlet, breaker) for outlet in outlets)

    def no_reset_problem(self, outlet: str) -> bool:
        """True when the outlet was seen live in the own TEST of every device of the house."""
        return outlet not in self.report.evidence.contradicted and self.report.evidence.live_in_every_own_test(outlet)

    @once
    def inner(self, device: str) -> tuple[str, ...]:
        """The devices next behind this one, with something shown to go off with each."""
        tree = self.report.tree
        behind = [id for id in tree.goes_dead(device) if id != device and tree.kind(id).opens and self.turns_off(id)]
        return tuple(id for id in behind if self.outer(id) == device)

    @once
    def outer(self, device: str) -> str | None:
        """The device that stands next before this one."""
        tree = self.report.tree
        if device in self.report.job.breaker:
            return None
        before = [id for id in tree.reset_order(device) if id != device and tree.kind(id).opens]
        return before[-1] if before else None
