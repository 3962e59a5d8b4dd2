"""Takes a job's tree; gives it as the planner sees it: who stands before whom, in bits, and what must not be off together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from ..tree import Tree
from .limits import alone, lighting, outlets_used_as
from .uses import COLD


@dataclass(frozen=True, slots=True)
class Group:
    """One breaker with the devices behind it."""

    breaker: int                    # its bit
    feeders: int                    # bits of the breakers before it
    devices: tuple[int, ...]        # bit of each, a device before what it feeds
    paths: tuple[int, ...]          # what stands before each place: bits, the breaker's and the feeders' among them


@dataclass(frozen=True)
class House:
    """What a plan has to tell, and what it may not do."""

    tree: Tree

    @cached_property
    def outlets(self) -> tuple[str, ...]:
        """What is looked at in every round, in feed order; of what nobody can reach only devices, which are pressed all the same."""
        return tuple(id for id in self.tree.outlets if self.tree.kind(id).opens or not self.tree.job.point[id].not_proved)

    @cached_property
    def contacts(self) -> tuple[str, ...]:
        """Every breaker, then every device that is in no panel."""
        return (*self.tree.breakers, *(id for id in self.tree.devices if id in self.tree.job.point))

    @cached_property
    def alone(self) -> tuple[str, ...]:
        """What is opened by itself; also a device that cuts nothing on the map: no other could be told from it."""
        by_itself = alone(self.tree)
        cut = {id for outlet in self.outlets for id in self.tree.reset_order(outlet)}
        return tuple(id for id in self.contacts if id in by_itself or id in self.tree.job.point and id not in cut)

    @cached_property
    def company(self) -> tuple[str, ...]:
        return tuple(id for id in self.contacts if id not in self.alone)

    @cached_property
    def bit(self) -> dict[str, int]:
        """Of what is opened in company."""
        return {id: 1 << index for index, id in enumerate(self.company)}

    def bits(self, ids: Iterable[str]) -> int:
        return sum(self.bit.get(id, 0) for id in set(ids))

    @cached_property
    def before(self) -> dict[str, int]:
        """Outlet -> what stands before it."""
        return {id: self.bits(self.tree.reset_order(id)) for id in self.outlets}

    @cached_property
    def faceless(self) -> int:
        """Devices without a face of their own, or with one that nobody can look at."""
        return self.bits(id for id in self.company if id in self.tree.job.point and id not in self.outlets)

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """Feeders before what they feed; devices whose breaker is opened alone come under no breaker."""
        paths: dict[str, dict[int, None]] = {}
        for outlet in self.outlets:
            if outlet not in self.tree.unknown:
                paths.setdefault(self.tree.breaker_of(outlet), {})[self.before[outlet]] = None
        return tuple(self._group(breaker, tuple(found)) for breaker in self.tree.breakers
                     if (found := paths.get(breaker, {})) or breaker in self.bit)

    def _group(self, breaker: str, paths: tuple[int, ...]) -> Group:
        devices = self.bits(id for id in self.company if id in self.tree.job.point and self.tree.breaker_of(id) == breaker)
        ordered = tuple(self.bit[id] for id in self.tree.devices if self.bit.get(id, 0) & devices)
        return Group(self.bit.get(breaker, 0), self.bits(self.tree.feeders(breaker)[:-1]), ordered, paths)

    @cached_property
    def dark(self) -> tuple[int, ...]:
        """For each lighting circuit what leaves it dark."""
        return tuple(bits for ids in lighting(self.tree) if (bits := self.bits(ids)))

    @cached_property
    def darkens(self) -> dict[int, int]:
        """Contact -> the lighting circuits that it leaves dark, one bit each."""
        return {bit: own for bit in self.bit.values()
                if (own := sum(1 << number for number, cuts in enumerate(self.dark) if cuts & bit))}

    @cached_property
    def cold(self) -> tuple[int, ...]:
        """For each refrigerator, furnace and the like what cuts it."""
        return tuple({bits: None for id in outlets_used_as(self.tree, COLD) if (bits := self.bits(self.tree.reset_order(id)))})

    @cached_property
    def rooms(self) -> dict[int, str]:
        """Device that is in no panel -> its room."""
        return {self.bit[id]: str(self.tree.job.point[id].room) for id in self.company if id in self.tree.job.point}
