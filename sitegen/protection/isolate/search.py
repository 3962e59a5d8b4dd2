"""Takes a load side and an aim; gives for every part of a best plan the box to open first, and what finding the fault costs.

    least(C) = min over b of reach(b) * weight(C) + the sum of least(parts of C without b)
    worst(C) = min over b of reach(b) + the dearest of worst(parts of C without b)

Depth first: floors are kept and only rise; a part is left as soon as its floor reaches what is allowed. Boxes that a rule shows
not to be the first are not tried: each rule stands with its reason.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from .aims import LEAST, WORST, Aim
from .floors import Floors
from .rank import rank
from .rules import by_rules
from .side import Side, bits

PARTS = 20_000     # tried before the search is cut off: some seconds


class _CutOff(Exception):
    pass


@dataclass(frozen=True, slots=True)
class Found:
    """The plan of every part that it comes to."""

    opens: dict[int, int]     # part -> the box to open
    costs: dict[int, int]     # branch -> cost of its plan
    floors: dict[int, int]    # branch -> what no plan goes below

    @property
    def best(self) -> bool:
        return self.costs == self.floors


def search(side: Side, aim: Aim, parts: Sequence[int], limit: int = PARTS) -> Found:
    """A plan for each of these parts; one that takes too many tries is made by rules, with the floor that was reached."""
    opens: dict[int, int] = {}
    costs, floors = {}, {}
    for part in parts:
        ruled, choice = by_rules(side, aim, part)
        run = _Search(side, aim, limit)
        try:
            cost = run.least(part, ruled + 1)
            opens |= run.plan(part)
            costs[part] = floors[part] = cost
        except _CutOff:
            opens |= choice
            costs[part], floors[part] = ruled, min(run.floor(part), ruled)
    return Found(opens, costs, floors)


class _Search:
    def __init__(self, side: Side, aim: Aim, limit: int) -> None:
        self.side, self.aim, self.limit = side, aim, limit
        self.low: dict[int, int] = {}     # a floor; the cost itself where `opens` has the part
        self.opens: dict[int, int] = {}
        self.tried = 0

    @cached_property
    def _floor(self) -> Callable[[int], int]:
        floors = Floors(self.side)
        return floors.least if self.aim is LEAST else floors.worst

    def floor(self, part: int) -> int:
        if part not in self.low:
            self.low[part] = self._floor(part)
        return self.low[part]

    def plan(self, part: int) -> dict[int, int]:
        """Of a part that is worked out, and of all it leads to."""
        found, waiting = {}, [part]
        while waiting:
            part = waiting.pop()
            found[part] = self.opens[part]
            waiting += self.side.without(part, found[part])
        return found

    def least(self, part: int, allowed: int) -> int:
        """The cost of the part, if that is below what is allowed; else a floor that is not."""
        if part in self.opens or self.floor(part) >= allowed:
            return self.low[part]
        self.tried += 1
        if self.tried > self.limit:
            raise _CutOff
        best, raised = allowed, None
        for low, box, own, parts in self._choices(part):
            if low >= best:
                raised = low if raised is None else min(raised, low)
                break
            cost = self._cost(own, parts, best)
            if cost < best:
                best, self.opens[part] = cost, box
            else:
                raised = cost if raised is None else min(raised, cost)
        if part not in self.opens:
            self.low[part] = max(self.low[part], raised or 0)
        else:
            self.low[part] = best
        return self.low[part]

    def _choices(self, part: int) -> list[tuple[int, int, int, list[int]]]:
        """(what it costs at least, box, the opening itself, the parts that are left), the cheapest first."""
        found = []
        for box in _may_be_first(self.side, self.aim, part):
            own, parts = self.aim.own(self.side, part, box), self.side.without(part, box)
            found.append((own + self.aim.join([self.floor(one) for one in parts]), box, own, parts))
        return sorted(found)

    def _cost(self, own: int, parts: list[int], allowed: int) -> int:
        """Of opening a box and what follows; given up as soon as that is not below what is allowed."""
        parts = sorted(parts, key=lambda one: -self.floor(one))
        costs = [self.floor(one) for one in parts]
        for k, one in enumerate(parts):
            if own + self.aim.join(costs) >= allowed:
                break
            costs[k] = self.least(one, allowed - own - self.aim.rest(costs[:k] + costs[k + 1:]))
        return own + self.aim.join(costs)


def _may_be_first(side: Side, aim: Aim, part: int) -> Iterator[int]:
    if part & side.first:       # an order that is asked for, which no rule knows of
        yield from bits(part & side.first)
        return
    passed = _passed_over(side, aim, part) if part & (part - 1) else 0
    yield from bits(part & ~passed)


def _passed_over(side: Side, aim: Aim, part: int) -> int:
    rule = _neighbour_first if aim is LEAST else _end_after_neighbour
    weight = side.weight(part)
    passed = sum(1 << box for box in bits(part) if rule(side, part, weight, box))
    hubs: dict[int, list[int]] = {}
    for end in side.ends(part):
        hubs.setdefault(side.near[end] & part, []).append(end)
    for twins in hubs.values():
        for k, one in enumerate(twins):
            if any(_goes_before(side, aim, other, one) and not (j > k and _goes_before(side, aim, one, other))
                   for j, other in enumerate(twins) if j != k):
                passed |= 1 << one
    return passed


def _neighbour_first(side: Side, part: int, weight: int, box: int) -> bool:
    """Open u next to v first, then v on v's side, all else as before: u costs at most reach(u) * (W - load(u)) more, since it
    was opened for at least its own load; v costs less by its reach times all beyond the cable between them."""
    for u in bits(side.near[box] & part):
        beyond = side.weight(part & side.toward(box, u)) - side.cable(box, u)
        if side.boxes[u].reach * (weight - side.load[u]) < side.boxes[box].reach * beyond:
            return True
    return False


def _end_after_neighbour(side: Side, part: int, weight: int, box: int) -> bool:
    """Opening the only neighbour, if that is as easy, leaves the end box alone and the rest no larger. Of two alike, the first."""
    near = side.near[box] & part
    return near & (near - 1) == 0 and any(
        (side.boxes[u].reach, u if part.bit_count() == 2 else -1) < (side.boxes[box].reach, box) for u in bits(near))


def _goes_before(side: Side, aim: Aim, one: int, other: int) -> bool:
    """Of two end boxes on one neighbour: exchange them in any plan that opens the other first, and it is no dearer."""
    a, b = side.boxes[one], side.boxes[other]
    if aim is WORST:
        return a.reach <= b.reach
    hub = next(bits(side.near[one] & side.near[other]))
    return a.reach <= b.reach and side.load[one] >= side.load[other] and \
        side.load[one] - side.cable(one, hub) >= side.load[other] - side.cable(other, hub)


def fewest_openings(side: Side, parts: Sequence[int]) -> int:
    """In the worst case, were every box as easy as the next."""
    return max((rank(side, part) for part in parts), default=0)
