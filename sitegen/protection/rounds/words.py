"""Takes the planner's house and a number of rounds; gives each contact its word, the set of rounds that it is open in, or None.

A word is a sum of bits, one bit a round. Words along one path share no round. The word of a breaker, and of a device among those
of its circuit, must not lie within the rounds in which an outlet that it does not cut is dead: there it is seen live with that
contact open. Two devices without a face share no round: nothing but the elimination of all others tells what they cut. With
`support` 2 every one of these holds although any single look was wrong.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations, count
from math import comb
from random import Random

from .house import Group, House

SAMPLE = 8          # words of a breaker that hold before the best of them is taken
MOST = 200           # words of one length that are tried for a breaker
DEVICE_TRIES = 4    # ways of giving rounds to the devices of a circuit, for each of them

Words = dict[int, int]  # contact -> its rounds


def lower_bound(house: House, support: int = 1) -> int:
    """No plan has fewer rounds: of each breaker's rounds and the rounds that its farthest outlet is live in, no two fit
    (Bollobas 1965, on pairs of sets)."""
    feeding = 0
    for group in house.groups:
        feeding |= group.feeders
    deepest = [max(bits.bit_count() for bits in group.paths) for group in house.groups if group.paths]
    chains = [max(bits.bit_count() for bits in group.paths) - 1 for group in house.groups
              if group.breaker & ~feeding and group.paths]
    rounds = max((support * depth for depth in deepest), default=0)
    while sum(1 / comb(left, left // 2) if (left := rounds - support * chain) >= 0 else 2 for chain in chains) > 1 + 1e-9:
        rounds += 1
    return rounds


def least_given(house: House, support: int) -> int:
    """No try succeeds with fewer rounds: breakers and devices of one circuit, and devices without a face, have each their own."""
    def least(breakers: int, devices: int) -> int:
        return next(rounds for rounds in count() if breakers * _shortest(rounds, support) + support * devices <= rounds)

    circuits = (least(bool(group.breaker) + group.feeders.bit_count(), len(group.devices)) for group in house.groups)
    return max((*circuits, support * house.faceless.bit_count()), default=0)


def _shortest(rounds: int, support: int) -> int:
    """Rounds in the shortest word of a breaker."""
    return 1 if rounds < 2 + support else support + 1


class Table:
    """The words that a breaker may have in so many rounds, shorter ones first; a set of them is a sum of bits."""

    def __init__(self, rounds: int, support: int) -> None:
        self.rounds, self.support = rounds, support
        self.words = [sum(1 << number for number in chosen) for size in range(_shortest(rounds, support), support + 3)
                      for chosen in combinations(range(rounds), size)]
        self.place = {word: 1 << index for index, word in enumerate(self.words)}
        self.all = (1 << len(self.words)) - 1
        self._within: dict[int, int] = {}    # asked again and again of the same rounds
        self.having = [sum(bit for word, bit in self.place.items() if word >> number & 1) for number in range(rounds)]

    def within(self, dead: int) -> int:
        """The words of which too little is left outside these rounds."""
        found = self._within.get(dead)
        if found is None:
            found = self._within[dead] = self._left_within(dead)
        return found

    def _left_within(self, dead: int) -> int:
        outside = [0] * self.support     # words with one round outside, with two
        for number, having in enumerate(self.having):
            if not dead >> number & 1:
                for more in range(self.support - 1, 0, -1):
                    outside[more] |= outside[more - 1] & having
                outside[0] |= having
        return self.all & ~outside[-1]


@dataclass(slots=True)
class _Coding:
    """Words given so far, and what they leave to choose from."""

    house: House
    table: Table
    strict: bool                 # no two lighting circuits in one round
    random: Random
    free: int                    # words that a breaker may still have
    dark: list[int]              # round -> lighting circuits that are dark in it
    words: Words = field(default_factory=dict)
    given: int = 0               # words of breakers
    faceless: int = 0            # rounds with a device without a face


def give_words(house: House, table: Table, strict: bool, seed: int) -> Words | None:
    """One try; another seed is another try."""
    coding = _Coding(house, table, strict, Random(seed), table.all, [0] * table.rounds)
    for group in _hardest_first(house, coding.random, seed):
        found = _best(coding, group)
        if found is None:
            return None
        _take(coding, group, found)
    return coding.words


def _hardest_first(house: House, random: Random, seed: int) -> list[Group]:
    """Feeders and what they feed, then breakers with many devices; after the first try some are exchanged."""
    feeders = sum({group.breaker for group in house.groups for other in house.groups if group.breaker & other.feeders})

    def rank(group: Group) -> tuple[bool, int, float]:
        joined = bool(group.feeders or group.breaker & feeders)
        return not joined, group.feeders.bit_count(), -len(group.devices) - (random.random() * 2 if seed else 0)
    return sorted(house.groups, key=rank)


def _best(coding: _Coding, group: Group) -> Words | None:
    """Words for the group that leave most to choose from; the shortest word of the breaker first."""
    base, table = _union(coding.words, group.feeders), coding.table
    choices = [table.words[index] for index in _numbers(coding.free)] if group.breaker else [0]
    choices = [word for word in choices if not word & base]
    coding.random.shuffle(choices)
    best: tuple[int, int] | None = None
    words: Words | None = None
    tried = 0
    for word in _a_few(choices):
        if best is not None and (tried >= SAMPLE or word.bit_count() > best[0]):
            break
        found = _with_devices(coding, group, word, base)
        if found is None:
            continue
        tried += 1
        lost = 0
        for path in group.paths:
            lost |= table.within(base | _union(found, path))
        rank = word.bit_count(), (lost & coding.free).bit_count()
        if best is None or rank < best:
            best, words = rank, found
    return words


def _a_few(choices: list[int]) -> Iterator[int]:
    """So many of each length, the short ones first."""
    for length in sorted({word.bit_count() for word in choices}):
        yield from [word for word in choices if word.bit_count() == length][:MOST]


def _with_devices(coding: _Coding, group: Group, word: int, base: int) -> Words | None:
    """The breaker's word and one for each of its devices; the first that holds, of a few."""
    own = {group.breaker: word} if group.breaker else {}
    if not _lit(coding, own):
        return None
    allowed = coding.given & ~_places(coding, group.feeders)
    for _ in range(DEVICE_TRIES * len(group.devices) or 1):
        found = _shared_out(coding, group, own, base | word)
        if found is None:
            return None
        if not any(coding.table.within(base | _union(found, path)) & allowed for path in group.paths) and _lit(coding, found):
            return found
    return None


def _shared_out(coding: _Coding, group: Group, own: Words, taken: int) -> Words | None:
    """Rounds for the devices, each its own."""
    found = dict(own)
    for device in group.devices:
        used = taken | coding.faceless if device & coding.house.faceless else taken
        left = [1 << number for number in range(coding.table.rounds) if not used >> number & 1]
        if len(left) < coding.table.support:
            return None
        found[device] = coding.random.choice(left) if coding.table.support == 1 else sum(coding.random.sample(left, coding.table.support))
        taken |= found[device]
    return found


def _union(words: Words, path: int) -> int:
    rounds = 0
    for contact, word in words.items():
        if contact & path:
            rounds |= word
    return rounds


def _places(coding: _Coding, breakers: int) -> int:
    """The words of these breakers."""
    return sum({coding.table.place[word] for contact, word in coding.words.items() if contact & breakers})


def _lit(coding: _Coding, found: Words) -> bool:
    """Never all lighting circuits at once; where `strict`, not two. What one contact cuts alone cannot be helped."""
    every = (1 << len(coding.house.dark)) - 1
    dark: dict[int, int] = {}
    for contact, word in found.items():
        own = coding.house.darkens.get(contact, 0)
        for number in _numbers(word) if own else ():
            already = coding.dark[number] | dark.get(number, 0)
            if coding.strict and already & ~own or already | own == every != own:
                return False
            dark[number] = dark.get(number, 0) | own
    return True


def _take(coding: _Coding, group: Group, found: Words) -> None:
    for contact, word in found.items():
        for number in _numbers(word):
            coding.dark[number] |= coding.house.darkens.get(contact, 0)
        if contact & coding.house.faceless:
            coding.faceless |= word
    coding.words |= found
    if group.breaker:
        coding.given |= coding.table.place[found[group.breaker]]
    for path in group.paths:
        coding.free &= ~coding.table.within(_union(coding.words, path))


def _numbers(word: int) -> Iterator[int]:
    while word:
        low = word & -word
        yield low.bit_length() - 1
        word ^= low
