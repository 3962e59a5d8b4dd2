"""The frozen records of rooms that are drawn, as `rooms:` and `position:` of the map give them."""

from __future__ import annotations

from dataclasses import dataclass

from ...errors import Where
from .texts import Noted, Said


@dataclass(frozen=True, slots=True)
class Position:
    """Where something is in the drawing of its room."""

    room: str                         # as `rooms` writes it
    x: float                          # ft right of the upper left corner of the sketch
    y: float                          # ft down from it
    wall: str | None = None           # the wall that it is on; None: ceiling, island, ...
    at: float | None = None           # ft along that wall from its left end as you face it
    height: float | None = None       # ft from the floor


@dataclass(frozen=True, slots=True)
class Door:
    wall: str
    start: float                      # ft along the wall from its left end as you face it
    end: float
    leads_to: Said | None             # the room behind it
    way_in: bool                      # the door that people come in by
    where: Where


@dataclass(frozen=True, slots=True)
class Thing:
    """Something fixed that a stranger knows at sight: sink, range, water heater, ..."""

    name: Said
    left: float                       # ft right of the upper left corner of the sketch
    top: float                        # ft down from it
    wide: float                       # ft, left to right on the sketch
    deep: float                       # ft, up and down on the sketch
    where: Where
    wall: str | None = None           # the wall that it stands at
    start: float = 0.0                # ft along that wall
    end: float = 0.0


@dataclass(frozen=True, slots=True)
class WallRun:
    """A counter, or a stretch of bare wall, that is drawn as you face it."""

    name: Said
    wall: str
    start: float                      # ft along the wall
    end: float
    counter: bool                     # False: a wall
    deep: float                       # ft, of a counter
    where: Where


@dataclass(frozen=True, slots=True)
class RoomPlan:
    """A room from above; walls.py says what its walls are called."""

    room: Noted                       # as the points write it, in the job's first language
    corners: tuple[tuple[float, float], ...]    # (x, y) in ft, clockwise on the sketch
    doors: tuple[Door, ...]
    things: tuple[Thing, ...]
    runs: tuple[WallRun, ...]
    where: Where
    bays: int | None = None           # vehicles that a garage is made for
