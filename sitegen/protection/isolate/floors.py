"""Takes a load side; gives how dear every run between two boxes is, and from it what a part costs at the least.

A plan for a part, kept to some of its suspects, costs no more than the plan. So floors on suspects that are counted once add up.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from .rank import rank
from .side import Side, bits


class Floors:
    """What finding the fault costs at the least; `runs` is exact where a part is a run without branches."""

    def __init__(self, side: Side) -> None:
        self.side = side
        boxes = side.boxes
        self.way = {(start, end): path for start in range(len(boxes)) for end, path in _paths(side, start)}
        self.pair = [0] * len(boxes)      # of the cable into a box: one of its ends is opened while the other is in the part
        for i, source in enumerate(side.up):
            if source >= 0:
                cable = boxes[i].cable
                self.pair[i] = min(boxes[source].reach * (side.load[i] - cable), boxes[i].reach * (side.load[source] - cable))

    def _runs(self, cost: Callable[[int, int, int, int], int]) -> dict[tuple[int, int], int]:
        """Every run, short ones first. `cost`: of a box, the run's weight, and what is left of the run on either side."""
        side = self.side
        found: dict[tuple[int, int], int] = {}
        weight: dict[tuple[int, int], int] = {}
        for start, end in sorted(self.way, key=lambda ends: len(self.way[ends])):
            path = self.way[start, end]
            if len(path) == 1:
                weight[start, end] = side.load[start]
            else:
                weight[start, end] = weight[start, path[-2]] + side.load[end] - side.cable(path[-2], end)
            if (end, start) in found:
                found[start, end] = found[end, start]
                continue
            last = len(path) - 1
            found[start, end] = min(cost(box, weight[start, end], found[start, path[k - 1]] if k else 0,
                                         found[path[k + 1], end] if k < last else 0) for k, box in enumerate(path))
        return found

    @cached_property
    def gains(self) -> dict[tuple[int, int], int]:
        """By how much a run costs more than its boxes and cables one by one."""
        boxes, side = self.side.boxes, self.side
        least = self._runs(lambda box, weight, one, other: boxes[box].reach * weight + one + other)
        alone: dict[tuple[int, int], int] = {}
        for (start, end) in sorted(self.way, key=lambda ends: len(self.way[ends])):
            path = self.way[start, end]
            alone[start, end] = boxes[end].reach * side.load[end] + (
                alone[start, path[-2]] + self.pair[end if side.up[end] == path[-2] else path[-2]] if len(path) > 1 else 0)
        return {ends: least[ends] - alone[ends] for ends in least}

    @cached_property
    def worst_runs(self) -> dict[tuple[int, int], int]:
        return self._runs(lambda box, weight, one, other: self.side.boxes[box].reach + max(one, other))

    def least(self, part: int) -> int:
        """Of weight times reach: each box is opened at least by itself, and one run is as dear as it is."""
        side, gains, ends = self.side, self.gains, self.side.ends(part)
        floor = sum(side.boxes[i].reach * side.load[i] + (self.pair[i] if side.up[i] >= 0 and part >> side.up[i] & 1 else 0)
                    for i in bits(part))
        return floor + max(gains[one, other] for k, one in enumerate(ends) for other in ends[k:])

    def worst(self, part: int) -> int:
        """Of reach: the dearest run; the fewest openings, each as cheap as any; the dearest box and the cheapest other."""
        reaches = sorted(self.side.boxes[i].reach for i in bits(part))
        ends, runs = self.side.ends(part), self.worst_runs
        longest = max(runs[one, other] for k, one in enumerate(ends) for other in ends[k:])
        two = reaches[-1] + reaches[0] if len(reaches) > 1 else reaches[0]
        return max(longest, rank(self.side, part) * reaches[0], two)


def _paths(side: Side, start: int) -> list[tuple[int, tuple[int, ...]]]:
    found: list[tuple[int, tuple[int, ...]]] = []
    waiting: list[tuple[int, tuple[int, ...]]] = [(start, (start,))]
    while waiting:
        here, path = waiting.pop()
        found.append((here, path))
        waiting += [(i, (*path, i)) for i in bits(side.near[here]) if len(path) < 2 or i != path[-2]]
    return found
