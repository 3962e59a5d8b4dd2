"""Takes a job and its evidence; gives the map as bits that can be tried otherwise, and what the tests ask of each outlet.

Every id has one bit. What stands before a point is the sum of the bits of its breakers and devices, so that one map is held
against all tests in microseconds. Thousands are tried for one correction.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from ...job.records import Breaker, Job, Point
from ..evidence import Evidence
from .impossible import Aside, presses, standing

UNKNOWN = "unknown"
STREET = ""
Hang = tuple[str, bool]  # what feeds it, and whether behind that one's contacts (load terminals, breaker, plain splice)


@dataclass(slots=True)
class Fact:
    """What the tests ask of one outlet on any map, in bits."""

    live: int = 0        # none of these stands before it
    opened: int = 0      # each of these does: its own tester opened it
    no_trip: bool = False  # no guard against shock does: a tester at a grounded outlet opened nothing
    dead: list[int] = field(default_factory=list)  # of each of these sums at least one does


@dataclass(frozen=True)
class House:
    """What stays the same whatever the map says."""

    job: Job
    facts: Mapping[str, Fact]

    @cached_property
    def bit(self) -> dict[str, int]:
        ids = [*(b.id for b in self.job.breakers), *(p.id for p in self.job.points)]
        return {id: 1 << index for index, id in enumerate(ids)}

    @cached_property
    def contacts(self) -> tuple[str, ...]:
        """Everything that can open: breakers, then devices, in file order."""
        return (*(b.id for b in self.job.breakers), *(p.id for p in self.job.points if p.kind.opens))

    @cached_property
    def contact_bits(self) -> dict[str, int]:
        return {id: self.bit[id] for id in self.contacts}

    @cached_property
    def guards(self) -> int:
        things: tuple[Breaker | Point, ...] = (*self.job.breakers, *self.job.points)
        return sum(self.bit[thing.id] for thing in things if thing.kind.stops_shock)

    @cached_property
    def peers(self) -> dict[str, tuple[str, ...]]:
        """Id -> the ids it may have been mixed up with: breakers, or points of the same kind that have or lack ground alike."""
        breakers = [b.id for b in self.job.breakers]
        groups: dict[tuple[str, bool], list[str]] = {}
        for p in self.job.points:
            groups.setdefault((p.kind.name, p.grounded), []).append(p.id)
        all_groups = [breakers, *groups.values()]
        return {id: tuple(other for other in group if other != id) for group in all_groups for id in group}

    def agrees(self, outlet: str, before: int, loose: bool) -> bool:
        """The law, for one outlet that stands behind these; `loose`: behind an unknown feed as well."""
        fact = self.facts.get(outlet)
        if fact is None:
            return True
        if before & fact.live or fact.no_trip and before & self.guards:
            return False
        if loose:
            return True
        return not fact.opened & ~before and all(before & dead for dead in fact.dead)


def house_of(evidence: Evidence, aside: Aside) -> House:
    """The facts of all standing sightings and presses, `rest of ...` taken as the written map has it."""
    facts: dict[str, Fact] = {}
    house = House(evidence.tree.job, facts)
    for sighting in standing(evidence, aside):
        fact = facts.setdefault(sighting.outlet, Fact())
        bits = sum(house.bit[id] for id in set(sighting.opened))
        if not sighting.dead:
            fact.live |= bits
        elif bits not in fact.dead:
            fact.dead.append(bits)
    for row in presses(evidence, aside):
        fact = facts.setdefault(row.outlet, Fact())
        fact.opened |= sum(house.bit[id] for id in set(row.tripped) - set(evidence.partners_opened(row)))
        fact.no_trip |= not row.tripped and evidence.has_ground(row)
    for fact in facts.values():
        fact.dead = [bits for bits in fact.dead if not any(less & bits == less != bits for less in fact.dead)]
    return house


def written(house: House) -> Layout:
    """The map as it is written."""
    job = house.job
    hangs: dict[str, Hang] = {}
    for breaker in job.breakers:
        panel = next((circuit.panel for circuit in job.circuits if circuit.breaker == breaker.id), None)
        feeder = job.panel[panel].fed_from if panel else None
        hangs[breaker.id] = (feeder or STREET, True)
    for point in job.points:
        hangs[point.id] = (point.feed.source, point.feed.side != "line")
    return Layout(house, hangs)


class Layout:
    """One map: what each id hangs on, and what follows from that."""

    __slots__ = ("house", "hangs", "stands", "out", "place", "path", "loose", "loop")

    def __init__(self, house: House, hangs: dict[str, Hang]) -> None:
        self.house, self.hangs = house, hangs
        self.stands: dict[str, int] = {}   # what its incoming conductors stand behind
        self.out: dict[str, int] = {STREET: 0, UNKNOWN: 0}  # what hangs on it stands behind; for an outlet, what cuts it
        self.place: dict[str, str] = {STREET: STREET, UNKNOWN: UNKNOWN}  # the nearest of those: names the place
        self.path: dict[str, int] = {STREET: 0, UNKNOWN: 0}  # every id on the way up, its own included
        self.loose: set[str] = {UNKNOWN}   # behind an unknown feed
        self.loop: list[str] = []          # ids that feed each other in a circle: no map
        self._settle()

    def _settle(self) -> None:
        for id in self.hangs:
            chain: list[str] = []
            while id not in self.path:
                if id in chain:
                    self.loop = chain[chain.index(id):]
                    return
                chain.append(id)
                id = self.hangs[id][0]
            for below in reversed(chain):
                self._hang(below)

    def _hang(self, id: str) -> None:
        source, through = self.hangs[id]
        contact = self.house.contact_bits.get(id, 0)
        self.stands[id] = self.out[source] if through else self.stands[source]
        self.out[id] = self.stands[id] | contact
        self.place[id] = source if through and source in self.house.contact_bits else self.place[source]
        self.path[id] = self.path[source] | self.house.bit[id]
        if source in self.loose:
            self.loose.add(id)

    def fed(self, point: str, source: str, through: bool = True) -> Layout:
        """The map with this point hung elsewhere; `through`: behind the contacts of what feeds it now."""
        return Layout(self.house, {**self.hangs, point: (source, through)})

    def exchanged(self, one: str, other: str) -> Layout:
        """The map with two names exchanged wherever they stand."""
        names = {one: other, other: one}
        return Layout(self.house, {names.get(id, id): (names.get(source, source), through)
                                   for id, (source, through) in self.hangs.items()})

    def disagreeing(self) -> list[str]:
        """The outlets whose tests this map does not explain."""
        agrees = self.house.agrees
        return [id for id in self.house.facts if not agrees(id, self.out[id], id in self.loose)]

    def way(self, point: str) -> list[str]:
        """The points from this one up to its breaker, which is not among them; a point of unknown feed is not either,
        since its feed is not to be forced."""
        ids = []
        while point in self.house.job.point and self.hangs[point][0] != UNKNOWN:
            ids.append(point)
            point = self.hangs[point][0]
        return ids

    def below(self, point: str) -> list[str]:
        """The outlets with facts that hang on this point, itself included."""
        bit = self.house.bit[point]
        return [id for id in self.house.facts if self.path[id] & bit]
