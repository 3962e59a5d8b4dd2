"""Takes a job; gives the feed tree and what follows from it alone: what stands before a point, what goes dark with a device.

Each circuit is a tree whose root is its breaker. A point hangs on what feeds it, behind a device on its
line or its load terminals. What hangs on load terminals loses power when the device opens.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from ..job.kinds import Kind
from ..job.records import Job


@dataclass(frozen=True)
class Tree:
    """The feed of a whole job. Every list of ids is in feed order unless it says otherwise."""

    job: Job

    @cached_property
    def children(self) -> dict[str, tuple[str, ...]]:
        """Id of a breaker or point -> ids of what it feeds, in file order."""
        table: dict[str, list[str]] = {}
        for point in self.job.points:
            table.setdefault(point.feed.source, []).append(point.id)
        return {source: tuple(ids) for source, ids in table.items()}

    @cached_property
    def order(self) -> tuple[str, ...]:
        """Every point, depth first, a point before what it feeds, circuits in file order."""
        return tuple(id for breaker in self.breakers for id, _ in self.walk(breaker))

    @cached_property
    def breakers(self) -> tuple[str, ...]:
        """Every breaker that feeds a circuit, in file order, once."""
        return tuple(dict.fromkeys(circuit.breaker for circuit in self.job.circuits))

    def walk(self, source: str) -> Iterator[tuple[str, int]]:
        """Every point below a breaker or point with its depth, counted from 0."""
        waiting = [(child, 0) for child in reversed(self.children.get(source, ()))]
        while waiting:
            id, depth = waiting.pop()
            yield id, depth
            waiting.extend((child, depth + 1) for child in reversed(self.children.get(id, ())))

    def kind(self, id: str) -> Kind:
        """The kind of a breaker or point."""
        return self.job.breaker[id].kind if id in self.job.breaker else self.job.point[id].kind

    @cached_property
    def _before(self) -> dict[str, tuple[str, ...]]:
        below_load: dict[str, tuple[str, ...]] = {}  # what a point's own load terminals, or a plain splice, stand behind
        above: dict[str, tuple[str, ...]] = {}       # what its incoming conductors stand behind
        before: dict[str, tuple[str, ...]] = {}
        for id in self.order:
            feed = self.job.point[id].feed
            if feed.source in self.job.breaker:
                above[id] = (feed.source,)
            else:
                above[id] = above[feed.source] if feed.side == "line" else below_load[feed.source]
            kind = self.kind(id)
            below_load[id] = above[id] + (id,) if kind.opens else above[id]
            before[id] = below_load[id] if kind.has_face else above[id]
        return before

    def reset_order(self, point: str) -> tuple[str, ...]:
        """The breaker, then every device whose opening leaves the point dead, the point's own last."""
        return self._before[point]

    def protected_by(self, point: str) -> tuple[str, ...]:
        """The devices that guard people against shock at this point, nearest first."""
        return tuple(id for id in reversed(self._before[point]) if self.kind(id).stops_shock)

    @cached_property
    def _goes_dead(self) -> dict[str, tuple[str, ...]]:
        table: dict[str, list[str]] = {}
        for id in self.order:
            for cut in self._before[id]:
                table.setdefault(cut, []).append(id)
        return {cut: tuple(ids) for cut, ids in table.items()}

    def goes_dead(self, device: str) -> tuple[str, ...]:
        """Every point that loses power when this device or breaker opens, a device's own face included."""
        return self._goes_dead.get(device, ())

    def protects(self, device: str) -> tuple[str, ...]:
        """The outlets this device guards against shock."""
        return self.outlets_of(self.goes_dead(device)) if self.kind(device).stops_shock else ()

    @cached_property
    def devices(self) -> tuple[str, ...]:
        """Every protective device: a breaker before the points it feeds."""
        ids = (id for breaker in self.breakers for id in (breaker, *(point for point, _ in self.walk(breaker))))
        return tuple(id for id in ids if self.kind(id).opens)

    def is_outlet(self, point: str) -> bool:
        return self.job.point[point].kind.is_outlet

    def outlets_of(self, ids: Iterable[str]) -> tuple[str, ...]:
        return tuple(id for id in ids if self.is_outlet(id))

    @cached_property
    def outlets(self) -> tuple[str, ...]:
        return self.outlets_of(self.order)

    def breaker_of(self, id: str) -> str:
        """The breaker of a point; a breaker itself."""
        return id if id in self.job.breaker else self.job.circuit[self.job.point[id].circuit].breaker

    def on_breaker(self, breaker: str) -> tuple[str, ...]:
        """Every point of every circuit of this breaker."""
        return tuple(point for point, _ in self.walk(breaker))
