"""Takes the evidence; gives what is proved, device by device and pair by pair."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..job.records import TripTest
from .asked import Asked, asked
from .evidence import Evidence
from .standing import Touch
from .tree import Tree


@dataclass(frozen=True)
class Proof:
    """What the walk-through proved of the map."""

    evidence: Evidence

    @property
    def tree(self) -> Tree:
        return self.evidence.tree

    @cached_property
    def asked(self) -> tuple[Asked, ...]:
        """What printed labels and the map say otherwise of a feed, and no visit explains."""
        return asked(self.tree)

    def is_asked(self, point: str) -> bool:
        """True where this hangs on something that is asked about: nothing more is made of its tests until it is answered."""
        return any(set(self.tree.way_up(point)) & set(one.points) for one in self.asked)

    @cached_property
    def devices(self) -> dict[str, str]:
        """Device -> proved | untested | failed."""
        return {device: self._device(device) for device in self.tree.devices}

    def why_failed(self, device: str) -> str | None:
        """opened nothing | opened another | face live | did not reset; None where its TEST did not fail."""
        row = self.evidence.own_test(device)
        if row is None:
            return None
        if not row.tripped:
            return "opened nothing"
        if row.tripped != (device,) and not row.together:
            return "opened another"
        face = self.tree.bit.get(device, 0)
        if any(look.live & face for look in self.evidence.press_looks(row)):
            return "face live"
        return "did not reset" if row.reset is False else None

    def _device(self, device: str) -> str:
        row = self.evidence.own_test(device)
        if self.why_failed(device):
            return "failed"
        if row is None or row.reset is None:
            return "untested"
        to_see = (device,) if self.tree.kind(device).has_face else self.tree.outlets_of(self.tree.goes_dead(device))
        if not self.evidence.cut_alone(row, device, to_see) or \
                any(look.live & self.tree.cuts.get(device, 0) for look in self.evidence.press_looks(row)):
            return "untested"
        return "proved"

    def test_voided(self, device: str) -> tuple[TripTest, Touch] | None:
        """Its latest own TEST, with what came after it, where that TEST would have to be pressed again for that alone."""
        evidence = self.evidence
        row = next(iter(evidence.own_tests.get(device, ())), None)
        if row is None or self.devices[device] == "proved":
            return None
        must_cut = self.tree.outlets_of(self.tree.goes_dead(device))
        seen = (evidence.standing.voided(s.outlet, row) for s in evidence.saw(row).dark if s.outlet in must_cut)
        touch = evidence.voided_test(row, device) or next(filter(None, seen), None)
        return (row, touch) if touch else None

    @cached_property
    def owed(self) -> dict[str, tuple[Touch, list[str], list[str]]]:
        """Outlet -> what left it unshown, the devices it is to be seen dead with, those whose TEST has to look at it."""
        tree, evidence = self.tree, self.evidence
        owed = {}
        for outlet, touch in evidence.voided.items():
            if outlet in evidence.contradicted or tree.job.point[outlet].not_proved:
                continue
            behind = [id for id in reversed(tree.reset_order(outlet)) if tree.kind(id).opens and not evidence.shown(outlet, id)] \
                if tree.kind(outlet).by_name else list(self.not_shown(outlet))
            looked = [device for device in tree.devices if outlet in self.not_accounted(device) and device not in behind]
            if behind or looked:
                owed[outlet] = touch, behind, looked
        return owed

    def proved_by(self, point: str) -> tuple[str, ...]:
        """The shock-protection devices proved and shown for this outlet, nearest first; none where it is contradicted."""
        if not self.tree.is_outlet(point) or point in self.evidence.contradicted:
            return ()
        return tuple(device for device in self.tree.protected_by(point)
                     if self.devices[device] == "proved" and self.evidence.shown(point, device))

    def outlet(self, point: str) -> str:
        """proved | untested | contradicted | unprotected | not-an-outlet."""
        if not self.tree.is_outlet(point):
            return "not-an-outlet"
        if point in self.evidence.contradicted:
            return "contradicted"
        if not self.tree.protected_by(point):
            return "untested" if point in self.tree.unknown else "unprotected"
        return "proved" if self.proved_by(point) else "untested"

    def not_shown(self, point: str) -> tuple[str, ...]:
        """The shock-protection devices the map gives this outlet that it was not shown behind."""
        return tuple(device for device in self.tree.protected_by(point) if not self.evidence.shown(point, device))

    def not_accounted(self, device: str) -> tuple[str, ...]:
        """The receptacles and appliances of the device's circuit that its own TEST did not look at."""
        ids = self.tree.outlets_of(self.tree.same_circuit(device))
        return tuple(id for id in ids if not self.tree.kind(id).by_name
                     and not self.tree.job.point[id].not_proved
                     and not self.evidence.accounted(id, device))
