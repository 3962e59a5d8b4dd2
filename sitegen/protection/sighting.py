"""Takes the trip tests and the tree; gives what each row looked at with what open, and what of it still stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from ..job.records import TripTest
from .standing import Standing, Touch
from .tree import Tree

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


@dataclass(frozen=True, slots=True)
class Look:
    """Every outlet that one row looked at, in bits of the tree: a walk of 300 devices makes 400,000 sightings."""

    row: TripTest
    dead: int
    live: int
    tree: Tree

    def __iter__(self) -> Iterator[Sighting]:
        return (Sighting(id, bool(self.dead & self.tree.bit[id]), self.row) for id in self.tree.of_bits(self.dead | self.live))

    def __bool__(self) -> bool:
        return bool(self.dead | self.live)

    @property
    def dark(self) -> Iterator[Sighting]:
        """What it saw dead."""
        return iter(self.without(self.live))

    @property
    def opened(self) -> tuple[str, ...]:
        return opened(self.row)

    def at(self, outlet: str) -> Sighting | None:
        bit = self.tree.bit.get(outlet, 0)
        return Sighting(outlet, bool(self.dead & bit), self.row) if (self.dead | self.live) & bit else None

    def without(self, outlets: int) -> Look:
        return Look(self.row, self.dead & ~outlets, self.live & ~outlets, self.tree)


@dataclass(frozen=True)
class Looks:
    """All rows of a house."""

    tree: Tree

    @cached_property
    def record(self) -> tuple[TripTest, ...]:
        """Every row as it was written, the oldest first."""
        return tuple(sorted(self.tree.job.tests, key=age))

    @cached_property
    def _record_of(self) -> dict[str, list[TripTest]]:
        table: dict[str, list[TripTest]] = {}
        for row in self.record:
            for id in {*row.at, *row.tripped, *row.went_dead}:
                table.setdefault(id, []).append(row)
        return table

    def record_of(self, *ids: str) -> list[TripTest]:
        """The rows, as they were written, that were made at one of these, opened it or saw it dead, the oldest first."""
        found = {row.row: row for id in ids for row in self._record_of.get(id, ())}
        return sorted(found.values(), key=age)

    @cached_property
    def rows(self) -> tuple[TripTest, ...]:
        """Every row, the oldest first, without what is gone."""
        return tuple(row for written in self.record if (row := self.standing.of_today(written)))

    @cached_property
    def standing(self) -> Standing:
        return Standing(self.tree.job)

    def counts(self, row: TripTest) -> bool:
        """False for a press that a later visit leaves worth nothing."""
        return self.standing.voided_press(row) is None

    @cached_property
    def voided(self) -> dict[str, Touch]:
        """Outlet -> what left something that was seen there worth nothing, the latest such."""
        found: dict[str, Touch] = {}
        told = [0] * len(self._touched)
        for row in self.rows if self._touched else ():
            for number, bits in self._void(self.saw(row)):
                touch = self._touched[number][0]
                for id in self.tree.of_bits(bits & ~told[number]):
                    if id not in found or found[id].date < touch.date:
                        found[id] = touch
                told[number] |= bits
        return found

    @cached_property
    def _touched(self) -> tuple[tuple[Touch, int], ...]:
        """The newest first, each with the outlets at or behind it."""
        return tuple((touch, self.tree.bits(touch.behind)) for touch in self.standing.touches)

    def _void(self, look: Look) -> Iterator[tuple[int, int]]:
        """Which touch leaves which outlets of this look worth nothing: of each outlet the latest such."""
        for number, (touch, behind) in enumerate(self._touched):
            if touch.after(look.row):
                yield number, (look.dead | look.live) & behind
                look = look.without(behind)

    def looks(self, row: TripTest) -> Look:
        """Every outlet this row looked at and that no later visit touched."""
        look = self.saw(row)
        return look.without(sum(bits for _, bits in self._void(look)))

    def press_looks(self, row: TripTest) -> Sequence[Look]:
        """What this press showed; of a round also what an earlier round of the same set saw and this one did not look at."""
        return self._of_press[row.outlet, row.pressed] if row.together else (self.looks(row),)

    def saw(self, row: TripTest) -> Look:
        """Every outlet this row looked at; asked again and again, worked out once."""
        if id(row) not in self._seen:
            self._seen[id(row)] = self._sees(row)
        return self._seen[id(row)]

    @cached_property
    def _seen(self) -> dict[int, Look]:
        return {}

    def _sees(self, row: TripTest) -> Look:
        dead, live = self.tree.bits(row.went_dead), self.tree.bits(row.stayed_live)
        own = self.tree.bits((row.outlet,)) if row.volts_after is not None else 0
        if own and (row.volts_after or 0) <= DEAD_VOLTS:
            dead |= own
        else:
            live |= own
        unsure = dead & live  # said one way and measured the other: shows neither, and is a stop of its own
        return Look(row, dead & ~unsure, (live | self.rest(row) & ~dead) & ~unsure, self.tree)

    def rest(self, row: TripTest) -> int:
        """What "rest of circuit" or "rest of house" speaks of, in bits: receptacles and appliances; lights, and what nobody could
        reach (`not_proved`), only by name."""
        if row.rest_live is None:
            return 0
        circuit = row.rest_live == "circuit"
        left_out = self.tree.bits((*(self.standing.listed_elsewhere(row) if circuit else ()), *row.rest_except))
        return self._looked_at & ~left_out & (self.tree.bits(self.tree.same_circuit(row.outlet)) if circuit else -1)

    @cached_property
    def _looked_at(self) -> int:
        """The outlets that are looked at unless a row says otherwise."""
        return self.tree.bits(id for id in self.tree.outlets
                              if not self.tree.kind(id).by_name and not self.tree.job.point[id].not_proved)

    @cached_property
    def stand(self) -> tuple[Look, ...]:
        """What stands of each row, the oldest first: a sighting gives way only to a later one of the same outlet under the same press."""
        later: dict[tuple[str, str], int] = {}
        found = []
        for row in reversed(self.rows):
            press = row.outlet, row.pressed
            look = self.looks(row).without(later.get(press, 0))
            later[press] = later.get(press, 0) | look.dead | look.live
            found.append(look)
        return tuple(reversed(found))

    @cached_property
    def _of_press(self) -> dict[tuple[str, str], list[Look]]:
        """(where, what was pressed) -> what stands of it."""
        table: dict[tuple[str, str], list[Look]] = {}
        for look in self.stand:
            table.setdefault((look.row.outlet, look.row.pressed), []).append(look)
        return table

    @property
    def sightings(self) -> list[Sighting]:
        """All that stand, one by one."""
        return [sighting for look in self.stand for sighting in look]
