"""Takes what hangs on a device's load terminals, box by box; gives it as numbers and bit masks that the search works on.

A part is a set of boxes that hang together, one bit a box. Its weight counts its boxes and every cable with an end in it.
Weights and reach are whole numbers, so that sums are exact and a plan is the same on any machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Box:
    """What must be opened, and the cable into it."""

    id: str
    fed_from: str | None      # id of a box; None: the opened device itself
    reach: int = 1            # times an easy receptacle
    suspect: int = 1          # how likely the fault is in it; only proportions count
    cable: int = 1            # how likely it is in the cable into it; 0: there is none, or it is known to be good
    first: bool = False       # to be opened before boxes that are not


@dataclass(frozen=True)
class Side:
    boxes: tuple[Box, ...]    # a box before what it feeds
    up: tuple[int, ...] = field(init=False)        # the box that feeds it; -1: the device
    load: tuple[int, ...] = field(init=False)      # weight of a box with all its cables
    near: tuple[int, ...] = field(init=False)      # mask of the boxes next to it
    below: tuple[int, ...] = field(init=False)     # mask of a box and all it feeds
    branch: tuple[int, ...] = field(init=False)    # mask of all that hangs together with it
    first: int = field(init=False)                 # mask of the boxes that are opened before others

    def __post_init__(self) -> None:
        index = {box.id: i for i, box in enumerate(self.boxes)}
        up = tuple(index.get(box.fed_from, -1) if box.fed_from else -1 for box in self.boxes)
        load = [box.suspect + box.cable for box in self.boxes]
        near, below = [0] * len(up), [1 << i for i in range(len(up))]
        for i in reversed(range(len(up))):
            if up[i] >= 0:
                load[up[i]] += self.boxes[i].cable
                near[i] |= 1 << up[i]
                near[up[i]] |= 1 << i
                below[up[i]] |= below[i]
        branch = list(below)
        for i in range(len(up)):
            branch[i] = branch[up[i]] if up[i] >= 0 else below[i]
        first = sum(1 << i for i, box in enumerate(self.boxes) if box.first)
        for name, value in (("up", up), ("load", tuple(load)), ("near", tuple(near)), ("below", tuple(below)),
                            ("branch", tuple(branch)), ("first", first)):
            object.__setattr__(self, name, value)

    @property
    def branches(self) -> tuple[int, ...]:
        """The parts that hang on the device, in feed order."""
        return tuple(self.below[i] for i, source in enumerate(self.up) if source < 0)

    def toward(self, box: int, next_to: int) -> int:
        """All that lies beyond the cable from a box to one next to it."""
        return self.below[next_to] if self.up[next_to] == box else self.branch[box] & ~self.below[box]

    def cable(self, one: int, other: int) -> int:
        """Weight of the cable between two boxes that are next to each other."""
        return self.boxes[one if self.up[one] == other else other].cable

    def weight(self, part: int) -> int:
        return sum(self.load[i] - (self.boxes[i].cable if self.up[i] >= 0 and part >> self.up[i] & 1 else 0) for i in bits(part))

    def without(self, part: int, box: int) -> list[int]:
        """The parts that are left of one when this box is open."""
        return [part & self.toward(box, i) for i in bits(self.near[box] & part)]

    def ends(self, part: int) -> list[int]:
        """The boxes with no more than one other next to them in the part."""
        return [i for i in bits(part) if (self.near[i] & part).bit_count() <= 1]

    def candidates(self, part: int) -> int:
        """The boxes that may be opened next: those that come first, while there are any."""
        return part & self.first or part


def bits(mask: int) -> Iterator[int]:
    """The places of the ones, the lowest first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low
