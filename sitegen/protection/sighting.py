"""Takes a row of the trip tests; gives what was open after its press, and what a sighting and a clash are."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ..job.records import TripTest

DEAD_VOLTS = 5.0  # V; common practice, no source: more is a reading to repeat with a load or a low-impedance tester


@dataclass(frozen=True, slots=True)
class Sighting:
    """This outlet was dead, or live, while the row's devices were open."""

    outlet: str
    dead: bool
    row: TripTest

    @property
    def opened(self) -> tuple[str, ...]:
        return opened(self.row)


@dataclass(frozen=True, slots=True)
class Clash:
    """One fact of one row that the map as written cannot explain."""

    outlet: str
    row: TripTest
    because: str  # dead | live | tester opened | no trip


def opened(row: TripTest) -> tuple[str, ...]:
    """What was open after this row's press: what tripped, and the breaker whose handle was used; all that a round lists."""
    if row.together:
        return tuple(dict.fromkeys((*row.together, *row.tripped)))
    handle = (row.outlet,) if row.pressed == "breaker" and row.outlet not in row.tripped else ()
    return handle + row.tripped


def is_own_test(row: TripTest, device: str) -> bool:
    return device in row.together and device in row.tripped if row.together else (row.outlet, row.pressed) == (device, "device")


def age(row: TripTest) -> tuple[date, int]:
    """Rows in this order: the oldest first."""
    return row.date, row.row
