"""Takes the boxes that hang on one breaker; gives what the search asks of them, a set of boxes being the bits of one number.

The cables are in the walls. Free are only the devices, and LINE or LOAD for each cable in the box of a device.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from ...job.records import Prices, Wishes


@dataclass(frozen=True, slots=True)
class Box:
    """One point of the map, as the search sees it."""

    id: str
    fed_from: str             # id of a box; of none: it hangs on the breaker
    outlet: bool = True       # power is taken here
    light: bool = False
    own: bool = True          # what is here can hang on LOAD of a device in the same box; False: a mere splice
    whole: bool = False       # what is here and all that it feeds go on LOAD together: a switch
    room: str = ""
    needs: bool = False       # must stand behind a device
    share: str | None = None  # "alone": the only outlet of its zone; "never": in no zone
    holds: str = "none"       # the device that there is room for: receptacle | faceless | none
    closed: bool = False      # the map itself says that it holds none
    new_box: bool = False     # a box with a faceless device may go into the cable before it
    cut: bool = False         # no one-pole device may have the cable into it on LOAD
    stands: bool = False      # a device against shock stands here already, and stays as it is
    face: bool = False        # and protects its own slots
    on_load: bool = False     # the cable into it is on LOAD of such a device


@dataclass(frozen=True)
class Run:
    """All boxes on one breaker, a box before what it feeds."""

    boxes: tuple[Box, ...]
    breaker: str | None = None                    # where a GFCI breaker can go; None: nowhere
    breaker_room: str = ""
    prices: Prices = Prices()
    wishes: Wishes = Wishes()
    next_rooms: frozenset[tuple[str, str]] = frozenset()     # rooms that a door joins, either way round
    lights_elsewhere: frozenset[str] = frozenset()           # rooms that have a light on another breaker

    @classmethod
    def of(cls, boxes: Iterable[Box], **more: Any) -> Run:
        """The run of boxes in any order."""
        return cls(_in_feed_order(tuple(boxes)), **more)

    def with_boxes(self, boxes: Iterable[Box]) -> Run:
        """The same breaker, prices and wishes over other boxes, in any order."""
        return replace(self, boxes=_in_feed_order(tuple(boxes)))

    @cached_property
    def index(self) -> dict[str, int]:
        return {box.id: i for i, box in enumerate(self.boxes)}

    @cached_property
    def source(self) -> tuple[int | None, ...]:
        return tuple(self.index.get(box.fed_from) for box in self.boxes)

    @cached_property
    def feeds(self) -> tuple[tuple[int, ...], ...]:
        """For each box those that it feeds."""
        lists: list[list[int]] = [[] for _ in self.boxes]
        for i, source in enumerate(self.source):
            if source is not None:
                lists[source].append(i)
        return tuple(tuple(found) for found in lists)

    @cached_property
    def first(self) -> tuple[int, ...]:
        """The boxes that hang on the breaker itself."""
        return tuple(i for i, source in enumerate(self.source) if source is None)

    @cached_property
    def below(self) -> tuple[int, ...]:
        """For each box the set of it and of all behind it."""
        sets = [1 << i for i in range(len(self.boxes))]
        for i in reversed(range(len(self.boxes))):
            source = self.source[i]
            if source is not None:
                sets[source] |= sets[i]
        return tuple(sets)

    def where(self, true: Callable[[Box], object]) -> int:
        """The set of the boxes of which something is true."""
        return sum(1 << i for i, box in enumerate(self.boxes) if true(box))

    @cached_property
    def all(self) -> int:
        return (1 << len(self.boxes)) - 1

    @cached_property
    def outlets(self) -> int:
        return self.where(lambda box: box.outlet)

    @cached_property
    def needs(self) -> int:
        return self.where(lambda box: box.needs)

    @cached_property
    def never(self) -> int:
        return self.where(lambda box: box.share == "never")

    @cached_property
    def alone(self) -> int:
        return self.where(lambda box: box.share == "alone")

    @cached_property
    def cut(self) -> int:
        return self.where(lambda box: box.cut)

    def standing(self, i: int) -> int:
        """The set of boxes that the device which stands in a box protects."""
        return sum(self.below[c] for c in self.feeds[i] if self.boxes[c].on_load) | (self.boxes[i].face << i)

    def count(self, zone: int) -> int:
        """How many outlets of a set go dark."""
        return (zone & self.outlets).bit_count()

    def ids(self, zone: int) -> tuple[str, ...]:
        """The outlets of a set, in feed order."""
        return tuple(box.id for i, box in enumerate(self.boxes) if zone >> i & 1 and box.outlet)

    def may(self, zone: int, cap: int | None) -> bool:
        """True where a device may have just this zone: all that is hard but the needs and the cables."""
        if zone & self.never or zone & self.alone and self.count(zone) > 1:
            return False
        return cap is None or self.count(zone) <= cap

    @cached_property
    def _far(self) -> dict[str, int]:
        """Room of a reset -> the outlets that are neither in it nor in the next."""
        def near(room: str, other: str) -> bool:
            return room == other or (room, other) in self.next_rooms or (other, room) in self.next_rooms

        def far_from(room: str) -> int:
            return self.where(lambda box: box.outlet and not near(room, box.room))

        rooms = {box.room for box in self.boxes} | {self.breaker_room}
        return {room: far_from(room) for room in rooms}

    @cached_property
    def _rooms(self) -> tuple[tuple[str, int, int], ...]:
        """Of each room whose lights are all on this breaker: its name, its lights, its other outlets."""
        lit = {box.room for box in self.boxes if box.light} - self.lights_elsewhere
        def of_room(room: str) -> tuple[str, int, int]:
            return (room, self.where(lambda box: box.light and box.room == room),
                    self.where(lambda box: box.outlet and not box.light and box.room == room))

        return tuple(of_room(room) for room in sorted(lit))

    def far(self, zone: int, room: str) -> int:
        """The outlets of a zone whose reset, in this room, is neither in theirs nor the next."""
        return zone & self._far[room]

    def over(self, zone: int) -> int:
        """The number of outlets above the wished one."""
        return 0 if self.wishes.most is None else max(0, self.count(zone) - self.wishes.most)

    def dark(self, zone: int) -> list[str]:
        """The rooms where an outlet and all lights go out with a zone."""
        return [room for room, lights, others in self._rooms if lights & zone == lights and others & zone]

    def wish(self, zone: int, room: str) -> int:
        """What the wishes cost that a device with this zone and its reset in this room does not keep."""
        wishes = self.wishes
        return self.over(zone) * wishes.over + (self.far(zone, room).bit_count() * wishes.far if wishes.far else 0) \
            + (len(self.dark(zone)) * wishes.dark if wishes.dark else 0)


def _in_feed_order(boxes: tuple[Box, ...]) -> tuple[Box, ...]:
    """Depth first, a box before what it feeds, siblings as they stand."""
    behind: dict[str | None, list[Box]] = {}
    ids = {box.id for box in boxes}
    for box in boxes:
        behind.setdefault(box.fed_from if box.fed_from in ids else None, []).append(box)
    waiting, ordered = behind.get(None, [])[::-1], []
    while waiting:
        box = waiting.pop()
        ordered.append(box)
        waiting += behind.get(box.id, [])[::-1]
    return tuple(ordered)
