"""The frozen records of visits.yaml: what was done on a day after the handover, to which box, and what was measured."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, time

from ...errors import Where
from .feed import Feed
from .texts import Noted


@dataclass(frozen=True, slots=True)
class Done:
    """One thing that was done at a visit, or to the record."""

    what: str                         # refed | replaced | opened | added | removed | corrected
    id: str                           # of a point, breaker or panel, or of one that is gone
    was: Feed | None                  # what it hung on before; None: not written, or the same
    old_device: Mapping[str, Noted]   # of a replaced one: make, model, date code, ...
    note: Noted | None
    where: Where


@dataclass(frozen=True, slots=True)
class Measured:
    """One value that a meter showed at a visit."""

    at: str                           # id of a point, breaker or panel
    what: Noted                       # hot to ground, ...
    value: float
    unit: str                         # ohms | megohms | volts | amps | milliamps
    state: Noted | None               # load lifted, ...
    also: float | None = None         # of volts the A of the load, of milliamps the ms of the trip


@dataclass(frozen=True, slots=True)
class Visit:
    """One day on which somebody came back."""

    date: date
    time: time | None                 # a press of that day is of before only where its own time is earlier
    by: Noted | None
    why: Noted | None                 # what the people of the house told
    found: Noted | None
    done: tuple[Done, ...]
    readings: tuple[Measured, ...]
    cause: Noted | None
    minutes: int | None
    left_to_do: tuple[Noted, ...]
    photos: tuple[str, ...]           # files in photos/
    notes: tuple[str, ...]            # names of pages in notes/
    where: Where
