"""Takes what was seen dead or live while contacts were open; gives, for each outlet and contact, shown, shown not, or open.

A contact is a breaker or a protective device. The law: an outlet is dead exactly if an open contact stands before it. From the
law alone, never from the map:

1. Live: none of the open contacts stands before it.
2. Dead, and all open contacts but one are known not to stand before it: that one does.
3. A closed device with its own face dead: what feeds it was cut, so whatever is behind it is dead too. What was live is not.
4. A contact shown before a device's face, and not before an outlet: that device does not stand before the outlet either.
5. An outlet shown behind a breaker and behind a device that is in no panel: the breaker comes first.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple


class Seen(NamedTuple):
    """One outlet in one row."""

    outlet: str
    dead: bool
    opened: frozenset[str]   # every contact that was open
    row: int                 # number of the row; a later row has a higher one


@dataclass(frozen=True, slots=True)
class Told:
    """What follows. A number is that of a row: of what is shown, the latest in which the outlet was dead with that contact open,
    whenever the others were cleared; of what is shown not to be, the first that told it."""

    yes: Mapping[str, Mapping[str, int]]   # outlet -> contact shown before it
    no: Mapping[str, Mapping[str, int]]    # outlet -> contact shown not to be
    at_odds: frozenset[str]                # outlets of which no feed explains all that was seen

    def shown(self, outlet: str, contact: str) -> int | None:
        return None if outlet in self.at_odds else self.yes.get(outlet, {}).get(contact)

    def shown_not(self, outlet: str, contact: str) -> int | None:
        return None if outlet in self.at_odds else self.no.get(outlet, {}).get(contact)

    def not_told(self, outlet: str, contacts: Iterable[str]) -> tuple[str, ...]:
        """The contacts of which nothing is known here."""
        yes, no = self.yes.get(outlet, {}), self.no.get(outlet, {})
        return tuple(id for id in contacts if id not in yes and id not in no)


def deduce(seen: Sequence[Seen], contacts: Sequence[str], breakers: Collection[str],
           given: Mapping[tuple[str, str], int] | None = None, withheld: Iterable[str] = ()) -> Told:
    """Use the rules until they give nothing new.

    `given`: outlet and contact shown another way (its own tester opened that one) -> row. Of the faces in `withheld`, and of
    those found at odds on the way, nothing is passed on to other outlets.
    """
    odd: frozenset[str] = frozenset()
    while True:
        told = _Deduction(seen, contacts, breakers, given or {}, odd.union(withheld)).told()
        if told.at_odds <= odd:
            return replace(told, at_odds=odd)
        odd |= told.at_odds


class _Deduction:
    """Sums of bits, one bit a contact."""

    def __init__(self, seen: Sequence[Seen], contacts: Sequence[str], breakers: Collection[str],
                 given: Mapping[tuple[str, str], int], silent: frozenset[str]) -> None:
        self.ids = tuple(contacts)
        self.bit = {id: 1 << index for index, id in enumerate(contacts)}
        self.panel = sum(bit for id, bit in self.bit.items() if id in breakers)
        self.silent = silent
        self.dead: dict[str, list[tuple[int, int]]] = {}   # outlet -> what was open, row
        self.yes: dict[str, dict[int, int]] = {}           # outlet -> bit -> row
        self.no: dict[str, dict[int, int]] = {}
        self.line: dict[str, dict[int, int]] = {id: {} for id in contacts if id not in breakers}
        self.yes_bits: dict[str, int] = {}
        self.no_bits: dict[str, int] = {}
        self.line_bits = dict.fromkeys(self.line, 0)
        self.at_odds: set[str] = set()
        for sight in seen:
            self._know(sight.outlet)
        self._take(seen)
        for (outlet, contact), row in given.items():
            self._know(outlet)
            self._add(self.yes, self.yes_bits, outlet, self.bit[contact], row)

    def _know(self, outlet: str) -> None:
        if outlet not in self.yes:
            self.yes[outlet], self.no[outlet], self.dead[outlet] = {}, {}, []
            self.yes_bits[outlet] = self.no_bits[outlet] = 0

    def _take(self, seen: Sequence[Seen]) -> None:
        """Rules 1 and 3, which look at one row alone; the first row counts: it was known from then on."""
        cut: dict[int, int] = {}        # row -> devices with their own face dead
        for sight in seen:
            if sight.dead and sight.outlet in self.line and sight.outlet not in self.silent:
                cut[sight.row] = cut.get(sight.row, 0) | self.bit[sight.outlet]
        for sight in sorted(seen, key=lambda sight: sight.row):
            bits = sum(self.bit[id] for id in sight.opened)
            if sight.dead:
                self.dead[sight.outlet].insert(0, (bits, sight.row))
                continue
            for bit in _bits(bits | cut.get(sight.row, 0)):
                self.no[sight.outlet].setdefault(bit, sight.row)
            self.no_bits[sight.outlet] |= bits | cut.get(sight.row, 0)

    def _add(self, table: dict[str, dict[int, int]], sums: dict[str, int], id: str, bits: int, row: int) -> None:
        for bit in _bits(bits & ~sums[id]):
            table[id][bit] = row
        sums[id] |= bits

    def told(self) -> Told:
        before = None
        while before != (before := (*self.yes_bits.values(), *self.no_bits.values(), *self.line_bits.values())):
            for outlet in self.yes:
                self._eliminate(outlet)
            for outlet in self.yes:
                self._order(outlet)
            for outlet in self.yes:
                self._not_behind(outlet)
        odd = {id for id in self.yes if self.yes_bits[id] & self.no_bits[id]} | self.at_odds
        return Told(self._named(self.yes), self._named(self.no), frozenset(odd))

    def _eliminate(self, outlet: str) -> None:
        """Rule 2."""
        no = self.no_bits[outlet]
        for bits, row in self.dead[outlet]:
            left = bits & ~no
            if not left:
                self.at_odds.add(outlet)
            elif not left & (left - 1) and not left & self.yes_bits[outlet]:
                self._add(self.yes, self.yes_bits, outlet, left, row)

    def _order(self, outlet: str) -> None:
        """What stands before a device: all before its face; rule 5."""
        yes = self.yes_bits[outlet]
        if outlet in self.silent or yes & self.no_bits[outlet]:
            return
        before = self.line_bits.get(outlet)
        if before is not None:
            for bit in _bits(yes & ~before & ~self.bit[outlet]):
                self._add(self.line, self.line_bits, outlet, bit, self.yes[outlet][bit])
        for device in _bits(yes & ~self.panel):
            id = self.ids[device.bit_length() - 1]
            for bit in _bits(yes & self.panel & ~self.line_bits[id]):
                self._add(self.line, self.line_bits, id, bit, max(self.yes[outlet][bit], self.yes[outlet][device]))

    def _not_behind(self, outlet: str) -> None:
        """Rule 4."""
        for id, before in self.line_bits.items():
            hit = before & self.no_bits[outlet]
            if hit and not self.bit[id] & self.no_bits[outlet]:
                rests = min(max(self.line[id][bit], self.no[outlet][bit]) for bit in _bits(hit))
                self._add(self.no, self.no_bits, outlet, self.bit[id], rests)

    def _named(self, table: Mapping[str, Mapping[int, int]]) -> dict[str, dict[str, int]]:
        return {outlet: {self.ids[bit.bit_length() - 1]: row for bit, row in facts.items()} for outlet, facts in table.items()}


def _bits(bits: int) -> Iterator[int]:
    while bits:
        low = bits & -bits
        yield low
        bits ^= low
