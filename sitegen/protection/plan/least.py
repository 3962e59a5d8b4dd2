"""Takes a run; gives the cheapest devices that meet every need, wishes counted; of several the one that leaves least dark.

A device behind another adds its price and takes no outlet out of the other's zone. So there is a best plan without any, and
below the LOAD of a device nothing is left to choose:

    least(x) = least of: no device at x, if x needs none:  the sum of least(c) over all that x feeds
                        a device at x, for each set of cables on its LOAD:  its price and wishes, and line + least(c) for the others
                        a new box before x:  its price and wishes

Worked from the ends of the run to its breaker, which may have a device as well. A device that stands already stays as it is,
and costs nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod

from .run import Run

MOST_SPLITS = 2 ** 14  # ways to part the cables of one box that are all tried; with more the plan may not be the best

Value = tuple[int, int, int, int]  # cents with wishes; sum of squares of outlets dark at once; how awkward; cables on LINE
_NOTHING: Value = (0, 0, 0, 0)
_AWKWARD = {"receptacle": 1, "faceless": 2, "new box": 3, "breaker": 4}  # a receptacle before a breaker where all else is equal


@dataclass(frozen=True, slots=True)
class Device:
    """One device of a plan."""

    at: str                # id of its box; of the box behind a new box; of a breaker
    how: str               # receptacle | faceless | new box | breaker
    load: tuple[str, ...]  # the cables on its LOAD, by the box that each goes to; its own box: what is there
    line: tuple[str, ...]  # those on its LINE, apart from the incoming one
    zone: int              # set of what it protects
    cost: int = 0          # cents
    wishes: int = 0        # cents
    stands: bool = False   # it is there already


@dataclass(frozen=True, slots=True)
class Least:
    """The cheapest plan of a run."""

    devices: tuple[Device, ...]  # in feed order
    cost: int
    wishes: int
    dark: int                    # sum of squares of the outlets that each device turns off
    most: int                    # outlets that go dark at once, at most
    best: bool                   # False: there were too many ways to try them all


@dataclass(frozen=True, slots=True)
class _Branch:
    """A cable that leaves a box, or what is in the box itself."""

    i: int
    zone: int             # set of what hangs on it
    rest: Value | None    # what it costs to leave it on LINE; None: it cannot stay there
    may_load: bool

    def alike(self, run: Run) -> tuple[object, ...]:
        """The same for two branches that can be exchanged without a difference."""
        boxes = (run.boxes[j] for j in range(len(run.boxes)) if self.zone >> j & 1)
        return self.rest, self.may_load, tuple(sorted((box.room, box.light, box.share or "") for box in boxes if box.outlet))


def least(run: Run, cap: int | None = None) -> Least | None:
    """The plan; None where some need cannot be met. No new device turns off more than `cap` outlets."""
    search = _Search(run, cap)
    value = search.all_of(run.first)
    chosen = list(search.devices())
    if run.breaker and run.may(run.all, cap):
        whole = search.device(run.breaker, "breaker", run.first, (), run.all, run.breaker_room, run.prices.breaker)
        if value is None or whole[0] < value:
            value, chosen = whole[0], [whole[1]]
    if value is None:
        return None
    chosen += standing(run)
    chosen.sort(key=lambda device: run.index.get(device.at, -1))
    sizes = [run.count(device.zone) for device in chosen]
    return Least(tuple(chosen), sum(d.cost for d in chosen), sum(d.wishes for d in chosen), sum(n * n for n in sizes),
                 max(sizes, default=0), search.best)


def standing(run: Run) -> Iterator[Device]:
    """The devices that are there already."""
    for i, box in enumerate(run.boxes):
        if box.stands:
            behind = [run.boxes[c] for c in run.feeds[i]]
            yield Device(box.id, "receptacle" if box.face else "faceless", tuple(b.id for b in behind if b.on_load),
                         tuple(b.id for b in behind if not b.on_load), run.standing(i), stands=True)


class _Search:
    """The recurrence: for each box its least value, and the device there or before it, if any."""

    def __init__(self, run: Run, cap: int | None) -> None:
        self.run, self.cap, self.best = run, cap, True
        self.value: list[Value | None] = [None] * len(run.boxes)
        self.pick: list[Device | None] = [None] * len(run.boxes)
        for i in reversed(range(len(run.boxes))):
            self._solve(i)

    def all_of(self, boxes: Sequence[int]) -> Value | None:
        values = [value for i in boxes if (value := self.value[i]) is not None]
        return _sum(values) if len(values) == len(boxes) else None

    def device(self, at: str, how: str, load: Sequence[int], line: Sequence[int], zone: int, room: str,
               price: int) -> tuple[Value, Device]:
        ids = [box.id for box in self.run.boxes]
        cost, wishes = price + self.run.prices.line * len(line), self.run.wish(zone, room)
        value = (cost + wishes, self.run.count(zone) ** 2, _AWKWARD[how], len(line))
        return value, Device(at, how, tuple(ids[i] for i in load), tuple(ids[i] for i in line), zone, cost, wishes)

    def devices(self) -> Iterator[Device]:
        """The new devices that were picked, from the breaker down."""
        waiting = list(self.run.first)
        while waiting:
            i = waiting.pop()
            pick, box = self.pick[i], self.run.boxes[i]
            if pick:
                yield pick
            zone = pick.zone if pick else self.run.standing(i) if box.stands else 0
            waiting += [c for c in self.run.feeds[i] if not zone >> c & 1]

    def _solve(self, i: int) -> None:
        run, box = self.run, self.run.boxes[i]
        for value, device in self._ways(i):
            best = self.value[i]
            if best is None or value < best:
                self.value[i], self.pick[i] = value, device
        whole = run.below[i]
        if box.new_box and not whole & run.cut and run.may(whole, self.cap):
            value, device = self.device(box.id, "new box", (i,), (), whole, box.room, run.prices.new_box)
            best = self.value[i]
            if best is None or value < best:
                self.value[i], self.pick[i] = value, device

    def _ways(self, i: int) -> Iterator[tuple[Value, Device | None]]:
        """With each device that there is room for at a box, and without."""
        run, box, feeds = self.run, self.run.boxes[i], self.run.feeds[i]
        if box.stands:
            value = self.all_of([c for c in feeds if not run.boxes[c].on_load])
            if value is not None and not (box.needs and not box.face):
                yield value, None
            return
        value = self.all_of(feeds)
        if value is not None and not box.needs:
            yield value, None
        if box.holds != "none" and not (box.needs and not box.own):
            yield from self._with_device(i)

    def _with_device(self, i: int) -> Iterator[tuple[Value, Device]]:
        run, box = self.run, self.run.boxes[i]
        branches = [_Branch(c, run.below[c], self.value[c], not run.below[c] & (run.cut | run.never)) for c in run.feeds[i]]
        own = 1 << i if box.own else 0
        if box.holds == "faceless" and own:
            branches.insert(0, _Branch(i, own, None if box.needs else _NOTHING, not own & run.never))
            own = 0
        price = run.prices.receptacle if box.holds == "receptacle" else run.prices.faceless
        for load, line in [(branches, [])] if box.whole else self._splits(branches):
            zone = own | sum(branch.zone for branch in load)
            if run.may(zone, self.cap) and all(branch.may_load for branch in load):
                value, device = self.device(box.id, box.holds, [b.i for b in load], [b.i for b in line], zone, box.room, price)
                yield _sum([value, *(rest for branch in line if (rest := branch.rest))]), device     # what stays on LINE has one

    def _splits(self, branches: list[_Branch]) -> Iterator[tuple[list[_Branch], list[_Branch]]]:
        """What goes on LOAD, and what stays on LINE; of branches that are alike it matters only how many."""
        if any(branch.rest is None and not branch.may_load for branch in branches):
            return
        forced = [branch for branch in branches if branch.rest is None]
        kept = [branch for branch in branches if not branch.may_load]
        free = [branch for branch in branches if branch.may_load and branch.rest is not None]
        groups: dict[object, list[_Branch]] = {}
        for branch in free:
            groups.setdefault(branch.alike(self.run) if len(free) > 2 else branch.i, []).append(branch)
        sizes = [range(len(group) + 1) for group in groups.values()]
        if prod(len(size) for size in sizes) > MOST_SPLITS:
            self.best = False
            groups = {0: sorted(free, key=lambda branch: branch.rest or _NOTHING, reverse=True)}     # each is free, so it has one
            sizes = [range(len(free) + 1)]
        for counts in product(*sizes):
            parts = list(zip(groups.values(), counts))
            yield ([*forced, *(b for group, n in parts for b in group[:n])],
                   [*kept, *(b for group, n in parts for b in group[n:])])


def _sum(values: Sequence[Value]) -> Value:
    cents, dark, awkward, on_line = map(sum, zip(_NOTHING, *values))
    return cents, dark, awkward, on_line
