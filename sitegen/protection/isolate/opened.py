"""Takes a load side and what was read at boxes that are open already; gives the parts in which the fault can still be.

A reading at an open box speaks of one cable and of all that hangs on it up to the next open box. One fault is assumed for a
plan; where two parts read bad, each is followed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .side import Side, bits
from .steps import suspects


@dataclass(frozen=True, slots=True)
class Reading:
    """One cable at an open box, read by itself with all conductors lifted."""

    box: str          # of a box, or the device
    toward: str       # the box, or the device, at its other end
    bad: bool

    def __str__(self) -> str:
        return f"{self.box}:{self.toward}={'bad' if self.bad else 'good'}"


@dataclass(frozen=True, slots=True)
class Opposite:
    """Two readings that cannot both be right: they speak of one part, from its two ends."""

    bad: Reading
    good: Reading


@dataclass(frozen=True, slots=True)
class NoCable:
    """A reading of a cable that the map does not have."""

    reading: Reading
    cables: tuple[str, ...]    # what hangs on that box; () where the box is not on this load side


@dataclass(frozen=True, slots=True)
class Left:
    """What is left to look at."""

    bad: bool                        # True: these read bad; False: nothing did, and these were not read
    parts: tuple[int, ...]
    cables: tuple[tuple[str, str], ...]     # between two open boxes: read bad, the fault is in them
    opened: tuple[str, ...]          # boxes that are open


def after(side: Side, device: str, readings: Iterable[Reading]) -> Left | Opposite | NoCable:
    index = {box.id: i for i, box in enumerate(side.boxes)} | {device: -1}
    readings = tuple(readings)
    for reading in readings:
        if reading.box not in index:
            return NoCable(reading, ())
        around = _around(side, index[reading.box])
        if index.get(reading.toward, -2) not in around:
            return NoCable(reading, tuple(device if i < 0 else side.boxes[i].id for i in around))
    opened = sum(1 << i for i in {index[reading.box] for reading in readings} if i >= 0)
    told: dict[tuple[int, int], list[Reading]] = {}
    for reading in readings:
        told.setdefault(_spoken_of(side, opened, index[reading.box], index[reading.toward]), []).append(reading)
    for about in told.values():
        bad, good = (next((r for r in about if r.bad is wanted), None) for wanted in (True, False))
        if bad and good:
            return Opposite(bad, good)
    any_bad = any(reading.bad for reading in readings)
    left = [key for key in _all(side, opened) if (told[key][0].bad if key in told else not any_bad)]
    cables = tuple(_cable(side, device, cable) for part, cable in left if not part)
    return Left(any_bad, tuple(part for part, _ in left if part), cables, tuple(side.boxes[i].id for i in bits(opened)))


def _around(side: Side, box: int) -> list[int]:
    """What is next to a box, or to the device (-1): the source first."""
    if box < 0:
        return [i for i, source in enumerate(side.up) if source < 0]
    return [side.up[box], *(i for i in bits(side.near[box]) if side.up[i] == box)]


def _spoken_of(side: Side, opened: int, box: int, toward: int) -> tuple[int, int]:
    """(the part up to the next open boxes, 0), or (0, the box fed by a cable between two open ones)."""
    if toward < 0 or opened >> toward & 1:
        return 0, box if toward < 0 or side.up[box] == toward else toward
    return _spread(side, opened, toward), -1


def _spread(side: Side, opened: int, start: int) -> int:
    part, fresh = 0, 1 << start
    while fresh:
        part |= fresh
        fresh = sum(1 << k for k in {k for i in bits(fresh) for k in bits(side.near[i])}) & ~part & ~opened
    return part


def _all(side: Side, opened: int) -> Iterator[tuple[int, int]]:
    """Every part, and every cable between two open boxes, in feed order."""
    seen = 0
    for i, source in enumerate(side.up):
        if opened >> i & 1:
            if source < 0 or opened >> source & 1:
                yield 0, i
        elif not seen >> i & 1:
            part = _spread(side, opened, i)
            seen |= part
            yield part, -1


def _cable(side: Side, device: str, box: int) -> tuple[str, str]:
    return next(one for one in suspects(side, 1 << box, device) if isinstance(one, tuple) and one[1] == side.boxes[box].id)
