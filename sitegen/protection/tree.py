"""Takes a job; gives the feed tree and what follows from it alone: what stands before a point, what goes dark with a device.

Each circuit is a tree whose root is its breaker; a subpanel's circuits hang on its feeder breaker. A point hangs on what feeds it, behind a device on its
line or its load terminals. What hangs on load terminals loses power when the device opens.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from ..job.kinds import Kind
from ..job.records import Circuit, Job


def bus_leg(space: str) -> int | None:
    """0 or 1, by the usual numbering of spaces: 1 2 on one leg, 3 4 on the other; None where it is no plain number."""
    return (int(space) - 1) // 2 % 2 if space.strip().isdecimal() else None


@dataclass(frozen=True)
class Tree:
    """The feed of a whole job. Every list of ids is in feed order unless it says otherwise."""

    job: Job

    @cached_property
    def children(self) -> dict[str, tuple[str, ...]]:
        """Id of a point -> ids of what it feeds, in file order."""
        table: dict[str, list[str]] = {}
        for point in self.job.points:
            if point.feed.source in self.job.point:
                table.setdefault(point.feed.source, []).append(point.id)
        return {source: tuple(ids) for source, ids in table.items()}

    @cached_property
    def circuits(self) -> tuple[Circuit, ...]:
        """Every circuit in feed order: file order, the circuits of a subpanel behind their feeder."""
        behind: dict[str | None, list[Circuit]] = {}
        for circuit in self.job.circuits:
            behind.setdefault(self.job.panel[circuit.panel].fed_from, []).append(circuit)
        ordered: list[Circuit] = []
        waiting = behind.get(None, [])[::-1]
        placed: set[str] = set()
        while waiting:
            circuit = waiting.pop()
            ordered.append(circuit)
            if circuit.breaker not in placed:
                placed.add(circuit.breaker)
                waiting.extend(behind.get(circuit.breaker, [])[::-1])
        return tuple(ordered)

    @cached_property
    def order(self) -> tuple[str, ...]:
        """Every point, depth first, a point before what it feeds, circuits in feed order."""
        return tuple(id for circuit in self.circuits for id, _ in self.walk(circuit))

    @cached_property
    def breakers(self) -> tuple[str, ...]:
        """Every breaker of a circuit, in feed order, once."""
        return tuple(dict.fromkeys(circuit.breaker for circuit in self.circuits))

    def walk(self, circuit: Circuit) -> Iterator[tuple[str, int]]:
        """Every point of a circuit with its depth, counted from 0; one whose feed is unknown stands at 0."""
        return self._down([(root, 0) for root in reversed(self._roots.get(circuit.key, ()))])

    @cached_property
    def _roots(self) -> dict[str, list[str]]:
        """Circuit -> its points that no point feeds, in file order."""
        table: dict[str, list[str]] = {}
        for point in self.job.points:
            if point.feed.source not in self.job.point:
                table.setdefault(point.circuit, []).append(point.id)
        return table

    def below(self, point: str) -> tuple[str, ...]:
        """Every point fed through this one, depth first."""
        return tuple(id for id, _ in self._down([(child, 0) for child in reversed(self.children.get(point, ()))]))

    def way_up(self, point: str) -> tuple[str, ...]:
        """The point and every point that feeds it, the nearest first."""
        way = [point]
        while (source := self.job.point[way[-1]].feed.source) in self.job.point:
            way.append(source)
        return tuple(way)

    def _down(self, waiting: list[tuple[str, int]]) -> Iterator[tuple[str, int]]:
        while waiting:
            id, depth = waiting.pop()
            yield id, depth
            waiting.extend((child, depth + 1) for child in reversed(self.children.get(id, ())))

    def kind(self, id: str) -> Kind:
        """The kind of a breaker or point."""
        return self.job.breaker[id].kind if id in self.job.breaker else self.job.point[id].kind

    @cached_property
    def panel_of(self) -> dict[str, str]:
        """Breaker -> its panel."""
        return {circuit.breaker: circuit.panel for circuit in self.job.circuits}

    def feeders(self, breaker: str) -> tuple[str, ...]:
        """The feeder breakers before a breaker, from the utility on, and the breaker itself last."""
        chain = [breaker]
        while feeder := self.job.panel[self.panel_of[chain[-1]]].fed_from:
            chain.append(feeder)
        return tuple(reversed(chain))

    @cached_property
    def _before(self) -> dict[str, tuple[str, ...]]:
        below_load: dict[str, tuple[str, ...]] = {}  # what a point's own load terminals, or a plain splice, stand behind
        above: dict[str, tuple[str, ...]] = {}       # what its incoming conductors stand behind
        before: dict[str, tuple[str, ...]] = {}
        for id in self.order:
            feed = self.job.point[id].feed
            if feed.unknown:
                above[id] = ()
            elif feed.source in self.job.breaker:
                above[id] = self.feeders(feed.source)
            else:
                above[id] = above[feed.source] if feed.side == "line" else below_load[feed.source]
            kind = self.kind(id)
            below_load[id] = above[id] + (id,) if kind.opens else above[id]
            before[id] = below_load[id] if kind.has_face else above[id]
        return before

    @cached_property
    def unknown(self) -> frozenset[str]:
        """The points whose way to the panel nobody knows: an unknown feed on old wiring, and all behind it."""
        roots = [point.id for point in self.job.points if point.feed.unknown]
        return frozenset(id for root in roots for id in (root, *self.below(root)))

    def reset_order(self, point: str) -> tuple[str, ...]:
        """The feeder breakers, the breaker, then every device whose opening leaves the point dead, its own last.

        Behind an unknown feed only what is known from there on.
        """
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
        ids = (id for circuit in self.circuits for id in (circuit.breaker, *(point for point, _ in self.walk(circuit))))
        return tuple(id for id in dict.fromkeys(ids) if self.kind(id).opens)

    def is_outlet(self, point: str) -> bool:
        return self.job.point[point].kind.is_outlet

    def outlets_of(self, ids: Iterable[str]) -> tuple[str, ...]:
        return tuple(id for id in ids if self.is_outlet(id))

    def either_way(self, point: str) -> bool:
        """True where a switch without an ON position turns this on."""
        return any(self.job.point[id].kind.either_way for id in self.job.point[point].switched_by)

    @cached_property
    def outlets(self) -> tuple[str, ...]:
        return self.outlets_of(self.order)

    @cached_property
    def bit(self) -> dict[str, int]:
        """Outlet -> its bit, in feed order: what many rows say of all outlets of a house is kept in bits."""
        return {id: 1 << at for at, id in enumerate(self.outlets)}

    def bits(self, ids: Iterable[str]) -> int:
        """The outlets among these."""
        return sum({self.bit[id] for id in ids if id in self.bit})

    def of_bits(self, bits: int) -> Iterator[str]:
        """Their outlets, in feed order."""
        while bits:
            lowest = bits & -bits
            yield self.outlets[lowest.bit_length() - 1]
            bits ^= lowest

    @cached_property
    def cuts(self) -> dict[str, int]:
        """Device or breaker -> the outlets that go dead with it, in bits."""
        return {cut: self.bits(ids) for cut, ids in self._goes_dead.items()}

    def breaker_of(self, id: str) -> str:
        """The breaker of a point; a breaker itself."""
        return id if id in self.job.breaker else self.job.circuit[self.job.point[id].circuit].breaker

    def on_breaker(self, breaker: str) -> tuple[str, ...]:
        """Every point of every circuit of this breaker; behind a feeder, of all that it supplies."""
        return tuple(self._on_breaker.get(breaker, ()))

    @cached_property
    def _on_breaker(self) -> dict[str, list[str]]:
        table: dict[str, list[str]] = {}
        for circuit in self.circuits:
            ids = [id for id, _ in self.walk(circuit)]
            for breaker in self.feeders(circuit.breaker) if ids else ():
                table.setdefault(breaker, []).extend(ids)
        return table

    def leg(self, point: str) -> str | None:
        """Of a point that hangs on a switch's box what the map brings it: switched, hot (whatever the switch does), both, or the
        travellers between two switches; None where nothing behind it tells, or where no switch feeds it."""
        source, kind = self.job.point[point].feed.source, self.kind(point)
        if source not in self.job.point or not self.job.point[source].kind.switches:
            return None
        if kind.either_way and self.job.point[source].kind.either_way:
            return "travellers"
        told = {source in self.job.point[id].switched_by for id in self.outlets_of((point, *self.below(point)))}
        told |= {True} if source in self.job.point[point].switched_by else set()
        return "both" if len(told) > 1 else "switched" if True in told else "hot" if told else None

    def shares_neutral(self, id: str) -> tuple[Circuit, ...]:
        """The circuits that one neutral serves together with that of a point or breaker, its own among them; () where none is shared."""
        waiting = [self.job.point[id].circuit] if id in self.job.point else [c.key for c in self.job.circuits if c.breaker == id]
        shared: set[str] = set()
        while waiting:
            key = waiting.pop()
            if key not in shared:
                shared.add(key)
                waiting += self._neutral_mates.get(key, ())
        if shared.isdisjoint(self._neutral_mates):
            return ()
        found = tuple(circuit for circuit in self.circuits if circuit.key in shared)
        return found if any(circuit.shares_neutral_with for circuit in found) else ()

    @cached_property
    def _neutral_mates(self) -> dict[str, list[str]]:
        """Circuit -> those that it, or that itself, is written to share a neutral with."""
        table: dict[str, list[str]] = {}
        for circuit in self.job.circuits:
            for mate in circuit.shares_neutral_with:
                table.setdefault(circuit.key, []).append(mate)
                table.setdefault(mate, []).append(circuit.key)
        return table

    def same_circuit(self, id: str) -> tuple[str, ...]:
        """Every point of a point's circuit; of all circuits of a breaker."""
        if id in self.job.breaker:
            return self.on_breaker(id)
        return tuple(point for point, _ in self.walk(self.job.circuit[self.job.point[id].circuit]))

    def cables_drawn(self, id: str) -> int:
        """How many cables the map has in the box of a point; what no cable parts from it is in the same box."""
        point, box = self.job.point, [id]
        for one in box:
            source = point[one].feed.source
            near = [source] if point[one].length_ft == 0 and source in point else []
            near += [child for child in self.children.get(one, ()) if point[child].length_ft == 0]
            box += [other for other in near if other not in box]
        return sum(child not in box for one in box for child in self.children.get(one, ())) + 1

    def other_sources(self, id: str) -> tuple[str, ...]:
        """What else may supply a point or breaker: generator, battery, solar of its panel or of one before it."""
        panels = (self.panel_of[breaker] for breaker in self.feeders(self.breaker_of(id)))
        return tuple(dict.fromkeys(source for panel in panels for source in self.job.panel[panel].also_supplied_by))
