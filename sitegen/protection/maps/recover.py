"""Takes a job whose feeds nobody knows; gives the map that the trip tests alone support, and what no test can tell.

Of the map only its lists are read: what each point is, on which circuit it stands, which panel a breaker is in. For every
outlet and device it is worked out what stands before it and what does not, by rules used until they give nothing new.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from ...job.records import Feed, Job
from ..elimination import deduce
from ..evidence import Evidence
from ..tree import Tree
from .impossible import Aside, Quarrel, impossible, presses, standing
from .layouts import STREET, UNKNOWN, House, Layout, house_of


@dataclass(frozen=True, slots=True)
class Recovered:
    """What the tests tell of a house."""

    feeds: dict[str, Feed]            # point -> what feeds it; another feed in the same place would do as well
    unknown: tuple[str, ...]          # points that no test made so far can place
    breaker: dict[str, str]           # placed point -> its breaker
    by_list: tuple[str, ...]          # breakers taken from the circuit that points are listed under: no test spoke of them
    either_order: tuple[tuple[str, str], ...]  # devices that cut the same outlets: which comes first no test can tell
    quarrels: tuple[Quarrel, ...]     # tests that cannot be nested
    at_odds: tuple[str, ...]          # outlets left out because what was seen there fits no map


def recover(job: Job) -> Recovered:
    """Draw the map from the tests."""
    evidence = Evidence(Tree(job))
    aside = impossible(evidence)
    working = _Working(evidence, aside)
    working.take()
    feeds = working.feeds()
    house = house_of(evidence, aside)
    at_odds = {id for id in working.seen if working.yes[id] & working.no[id]}
    while True:  # what fits no map is left out until all that is left fits
        at_odds |= set(_drawn(house, working, feeds).disagreeing())
        if not at_odds & set(feeds):
            break
        feeds = {id: feed for id, feed in feeds.items() if id not in at_odds}
    unknown = tuple(point.id for point in job.points if point.id not in feeds)
    breaker = {id: breaker for id in feeds if (breaker := working.breaker_of(id))}
    return Recovered(feeds, unknown, breaker, tuple(b.id for b in job.breakers if b.id in working.by_list),
                     tuple(working.either_order), tuple(aside.quarrels), tuple(p.id for p in job.points if p.id in at_odds))


def _drawn(house: House, working: _Working, feeds: dict[str, Feed]) -> Layout:
    """The map as far as it is drawn, to be held against every test once more."""
    hangs = {breaker: (feeder or STREET, True) for breaker, feeder in working.feeder.items()}
    for point in house.job.points:
        hangs[point.id] = (feeds[point.id].source, True) if point.id in feeds else (UNKNOWN, True)
    return Layout(house, hangs)


class _Working:
    """Masks of what stands before each thing's incoming conductors, and of what does not: one bit a breaker or device."""

    def __init__(self, evidence: Evidence, aside: Aside) -> None:
        self.job = job = evidence.tree.job
        self.contacts = (*(b.id for b in job.breakers), *(p.id for p in job.points if p.kind.opens))
        self.bit = {id: 1 << index for index, id in enumerate(self.contacts)}
        self.feeder = {b.id: next((job.panel[c.panel].fed_from for c in job.circuits if c.breaker == b.id), None)
                       for b in job.breakers}
        things = dict.fromkeys((*self.contacts, *evidence.tree.outlets))
        self.yes = {id: 0 for id in things}
        self.no = {id: self.bit.get(id, 0) for id in things}
        self.either: list[tuple[str, int]] = []          # outlet, and a sum of which one at least stands before it
        self.seen: set[str] = set()                      # what any test speaks of
        self.by_list: set[str] = set()
        self.either_order: list[tuple[str, str]] = []
        for id in self.feeder:
            self.yes[id] = self.chain(id) & ~self.bit[id]
            self.no[id] = ~self.yes[id]
        self._read(evidence, aside)

    def chain(self, breaker: str) -> int:
        """A breaker and its feeders."""
        bits = 0
        here: str | None = breaker
        while here is not None:
            bits, here = bits | self.bit[here], self.feeder[here]
        return bits

    def _read(self, evidence: Evidence, aside: Aside) -> None:
        for sighting in standing(evidence, aside):
            id = sighting.outlet
            bits = sum(self.bit[other] for other in set(sighting.opened))
            self.seen.add(id)
            if not sighting.dead:
                self.no[id] |= bits
            elif not bits & self.bit.get(id, 0):
                self.either.append((id, bits))
        for row in presses(evidence, aside):
            self.yes[row.outlet] |= sum(self.bit[other] for other in set(row.tripped) - {row.outlet})
            self.seen.add(row.outlet)
        if evidence.in_rounds:
            told = deduce(evidence.seen(standing(evidence, aside)), self.contacts, tuple(self.feeder))
            for id in told.yes.keys() - told.at_odds:
                self.yes[id] |= sum(self.bit[other] for other in told.yes[id] if other != id)
                self.no[id] |= sum(self.bit[other] for other in told.no[id])

    def take(self) -> None:
        """Use the tests; then, for what they leave open, the lists; then file order where two devices cut the same."""
        self._close()
        points = [p for p in self.job.points if p.id in self.yes and self._spoken_of(p.id)]
        for point in sorted(points, key=lambda p: not p.kind.opens):
            self._listed(point.id, self.job.circuit[point.circuit].breaker)
        while pair := self._tie():
            first, second = pair
            self.either_order.append(pair)
            self.yes[second] |= self.bit[first]
            self._close()

    def _spoken_of(self, id: str) -> bool:
        """True when a test speaks of it, or of an outlet behind it."""
        bit = self.bit.get(id, 0)
        return id in self.seen or any(bits & bit for bits in self.yes.values())

    def _listed(self, id: str, breaker: str) -> None:
        """Take the breaker of its circuit where no test spoke against it and none showed a nearer one."""
        breakers = sum(self.bit[b] for b in self.feeder)
        if self.yes[id] & self.bit[breaker] or self.no[id] & self.chain(breaker) \
                or self.yes[id] & breakers & ~self.chain(breaker):
            return
        self.yes[id] |= self.chain(breaker)
        self.by_list.add(breaker)
        self._close()

    def ids(self, bits: int) -> Iterator[str]:
        return (id for id in self.contacts if bits & self.bit[id])

    def _close(self) -> None:
        """Every rule, until none gives anything new. Things at odds with themselves pass nothing on."""
        before = None
        while before != (state := (tuple(self.yes.values()), tuple(self.no.values()))):
            before = state
            for id, bits in self.either:
                left = bits & ~self.no[id]
                if left and not left & (left - 1):
                    self.yes[id] |= left
            for id in self.yes:
                if not self.yes[id] & self.no[id]:
                    self._pass_on(id)

    def _pass_on(self, id: str) -> None:
        yes, no = self.yes[id], self.no[id]
        for other in self.ids(yes):
            yes |= self.yes[other]                # behind it: behind all that it is behind
            if other in self.feeder:              # on one breaker: on no other but its feeders and what it feeds
                no |= sum(self.bit[b] for b in self.feeder if not self.chain(b) & self.bit[other]
                          and not self.chain(other) & self.bit[b])
        for other in self.contacts:
            if self.yes[other] & no:              # not behind a thing: behind nothing that is
                no |= self.bit[other]
        self.yes[id], self.no[id] = yes, no
        if yes & no:
            return
        for one in self.ids(yes):
            if one not in self.feeder:
                self.no[one] |= no | self.bit.get(id, 0)  # what it is not behind, nothing before it is behind
            for other in self.ids(yes & self.no[one]):    # two things before it: one is behind the other
                if other != one and other not in self.feeder:
                    self.yes[other] |= self.bit[one]

    def _tie(self) -> tuple[str, str] | None:
        """Two devices without a face of which either may come first, since both cut the same outlets."""
        blind = [p.id for p in self.job.points if p.kind.opens and not p.kind.has_face]
        cuts = {id: {x for x in self.seen if self.yes[x] & self.bit[id]} for id in blind}
        for first, second in combinations(blind, 2):
            one, other = self.bit[first], self.bit[second]
            told = (self.yes[first] | self.no[first]) & other or (self.yes[second] | self.no[second]) & one
            sure = all((self.yes[x] | self.no[x]) & (one | other) == one | other for x in self.seen)
            if not told and sure and cuts[first] and cuts[first] == cuts[second]:
                return first, second
        return None

    def nearest(self, id: str) -> str | None:
        """The last thing before it; None where that is not sure."""
        told = (self.yes[id] | self.no[id]) & self._all == self._all and not self.yes[id] & self.no[id]
        if not told or not self._spoken_of(id) or not self.breaker_of(id):
            return None
        for other in self.ids(self.yes[id]):
            if (self.yes[other] | self.bit[other]) & self.yes[id] == self.yes[id]:
                return other
        return None

    @property
    def _all(self) -> int:
        return (1 << len(self.contacts)) - 1

    def feeds(self) -> dict[str, Feed]:
        found = {}
        for point in self.job.points:
            source = self.nearest(point.id) if point.id in self.yes else None
            if source:
                found[point.id] = Feed(source, "load" if source in self.job.point else None)
        return found

    def breaker_of(self, id: str) -> str | None:
        """The last breaker before a point; None where the tests name none, or several that do not feed each other."""
        breakers = [b for b in self.feeder if self.yes[id] & self.bit[b]]
        return next((b for b in breakers if self.chain(b) == sum(self.bit[b] for b in breakers)), None)
