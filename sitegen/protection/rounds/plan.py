"""Takes a job's tree; gives the rounds that show everything in the fewest walks, then with the fewest openings and the least walking.

The same tree gives the same plan: tries are numbered, and their number is fixed. The map says only what is worth opening together;
that the rounds show everything, if the map is right, is asked of the engine before a plan is given.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from ..elimination import Seen, Told, deduce
from ..tree import Tree
from .house import House
from .words import Table, Words, give_words, least_given, lower_bound

TRIES = 600   # contacts that all tries for one number of rounds give words to; at least four tries are made
STEPS = 5000  # places tried for a round while the rounds are put in order


@dataclass(frozen=True, slots=True)
class Round:
    """What is open during one walk: devices before breakers, each in feed order."""

    open: tuple[str, ...]
    own_test: tuple[str, ...]   # those opened by their own TEST, the others by their handle


@dataclass(frozen=True, slots=True)
class Plan:
    rounds: tuple[Round, ...]
    alone: tuple[str, ...]      # what is pressed by itself, with a walk for each
    look: tuple[str, ...]       # outlets looked at in every walk, in feed order
    bound: int                  # no plan has fewer rounds
    cold_twice: tuple[str, ...] # what cuts a refrigerator or the like in two rounds running: no order was found without

    @property
    def walks(self) -> int:
        return len(self.rounds) + len(self.alone)


def plan(tree: Tree, support: int = 1) -> Plan:
    """`support` 2: each fact rests on two rounds, so that no single wrong look stays hidden."""
    house = House(tree)
    bound = lower_bound(house, support)
    singles = [house.bit[id] for id in house.company for _ in range(support)]
    least = max(bound, least_given(house, support))
    fewest = _fewest(house, least, len(singles), support)
    for strict in (True, False) if least <= len(singles) else ():
        for _, _, opened in sorted(_tries(house, fewest, support, strict), key=lambda one: one[:2]):
            if shows_all(house, opened):
                return _plan(house, opened, bound)
    return _plan(house, in_order(house, singles) or singles, bound)


def _fewest(house: House, least: int, most: int, support: int) -> int:
    """The smallest number of rounds with a try that succeeds: by longer and longer steps, then by halving the last."""
    step = 1
    low = high = least
    while high < most and not _any(house, high, support):
        low, high, step = high + 1, high + step, 2 * step
    high = min(high, most)
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if _any(house, middle, support) else (middle + 1, high)
    return high


def _any(house: House, rounds: int, support: int) -> bool:
    return any(True for strict in (True, False) for _ in _tries(house, rounds, support, strict))


def _tries(house: House, rounds: int, support: int, strict: bool) -> Iterator[tuple[int, int, Sequence[int]]]:
    """Of each try that succeeds the openings, the trips to devices, and the rounds in order."""
    table = _table(rounds, support)
    for seed in range(max(4, TRIES // support // max(1, len(house.company)))):
        words = give_words(house, table, strict, seed)
        ordered = in_order(house, _opened(words, rounds)) if words else None
        if ordered:
            trips = sum(len({house.rooms[bit] for bit in house.rooms if bit & bits}) for bits in ordered)
            yield sum(bits.bit_count() for bits in ordered), trips, ordered


_table = lru_cache(maxsize=2)(Table)     # made once for all tries of so many rounds


def _opened(words: Words, rounds: int) -> list[int]:
    """Round -> what is open in it."""
    opened = (sum(contact for contact, word in words.items() if word >> number & 1) for number in range(rounds))
    return [bits for bits in opened if bits]


def in_order(house: House, opened: Sequence[int]) -> list[int] | None:
    """The rounds so that no refrigerator, furnace or the like is off in two running; None where no such order was found."""
    ways = [(number, *_back_to_back(house, opened, number)) for number in range(len(opened))]
    apart = {number: set(others) for number, *others in ways}
    steps = 0

    def go_on(order: list[int], left: list[int]) -> list[int] | None:
        nonlocal steps
        steps += 1
        if not left or steps > STEPS:
            return None if left else order
        fits = [number for number in left if not order or number not in apart[order[-1]]]
        for number in sorted(fits, key=lambda number: -len(apart[number] & set(left))):
            if found := go_on([*order, number], [other for other in left if other != number]):
                return found
        return None

    order = go_on([], list(range(len(opened))))
    return [opened[number] for number in order] if order else None


def _back_to_back(house: House, opened: Sequence[int], number: int) -> Iterator[int]:
    """The rounds that must not be next to this one."""
    for other, bits in enumerate(opened):
        if other != number and any(cuts & opened[number] and cuts & bits for cuts in house.cold):
            yield other


def shows_all(house: House, opened: Sequence[int]) -> bool:
    """True where these rounds, with what is pressed alone, tell every outlet from every contact if the map is right."""
    rounds = [frozenset(id for id in house.company if house.bit[id] & bits) for bits in opened]
    told = foretold(house, (*rounds, *(frozenset((id,)) for id in house.alone)))
    return tells_all(house, told)


def foretold(house: House, rounds: Sequence[Collection[str]], seen: Sequence[Seen] = ()) -> Told:
    """What is known after these rounds if the map is right, beside what was seen."""
    first = max((sight.row for sight in seen), default=-1) + 1
    expected = [Seen(id, not opened.isdisjoint(house.tree.reset_order(id)), frozenset(opened), number)
                for number, opened in enumerate(map(frozenset, rounds), first) for id in house.outlets
                if id not in house.tree.unknown]
    return deduce((*seen, *expected), house.contacts, house.tree.breakers)


def tells_all(house: House, told: Told, leave_out: Collection[str] = ()) -> bool:
    for id in house.outlets:
        if id in house.tree.unknown or id in leave_out:
            continue
        before = set(house.tree.reset_order(id))
        if any(told.shown(id, contact) is None if contact in before else told.shown_not(id, contact) is None
               for contact in house.contacts):
            return False
    return True


def as_rounds(house: House, opened: Iterable[Collection[str]], untested: Collection[str]) -> tuple[Round, ...]:
    """Each with its ids in order; a breaker's own TEST the first time, where it is still to be pressed."""
    waiting = set(untested)
    devices_first = sorted(house.company, key=lambda id: id in house.tree.job.breaker)
    rounds = []
    for ids in opened:
        ordered = tuple(id for id in devices_first if id in ids)
        own_test = tuple(id for id in ordered if id in house.tree.job.point or id in waiting)
        waiting -= set(own_test)
        rounds.append(Round(ordered, own_test))
    return tuple(rounds)


def _plan(house: House, opened: Sequence[int], bound: int) -> Plan:
    sets = [[id for id in house.company if house.bit[id] & bits] for bits in opened]
    twice = {id for one, other in zip(opened, opened[1:]) for cuts in house.cold if cuts & one and cuts & other
             for id in house.company if house.bit[id] & cuts & (one | other)}
    return Plan(as_rounds(house, sets, house.tree.devices), house.alone, house.outlets, bound,
                tuple(id for id in house.company if id in twice))
