"""Takes a map that the tests contradict; gives the smallest changes of it under which every one of them agrees.

Some change must sit on a clashing outlet's way up, so the search branches only there, and over places, not over points.
All answers of one change; if there are none, all of two. It is bounded by the number of maps tried, so that it gives the
same on any machine, and says when it stopped short.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .layouts import Layout

MAPS = 4000  # maps built before a search gives up


@dataclass(frozen=True, slots=True)
class Feed:
    """Hang this point behind the contacts of this breaker or device."""

    point: str
    place: str


@dataclass(frozen=True, slots=True)
class Swap:
    """Exchange two names."""

    one: str
    other: str


Step = Feed | Swap


@dataclass(frozen=True, slots=True)
class Answer:
    steps: tuple[Step, ...]
    layout: Layout          # the map after them


@dataclass(frozen=True, slots=True)
class Found:
    answers: tuple[Answer, ...]  # all with the same number of steps
    whole: bool                  # False: the search was cut off


def search(layout: Layout, maps: int = MAPS) -> Found:
    """All smallest answers, of one step or of two; `whole` is False where not all of two were tried."""
    answers = [Answer((step,), after(layout, step)) for step in _last_steps(layout)]
    if answers:
        return Found(tuple(answers), True)
    found: dict[frozenset[object], Answer] = {}
    tried = 0
    for step in _first_steps(layout):
        tried += 1
        if tried > maps:
            return Found(tuple(found.values()), False)
        half = after(layout, step)
        for last in _mending(layout, step, half.loop) if isinstance(step, Feed) and half.loop else _last_steps(half):
            if isinstance(last, Feed) and isinstance(step, Feed) and last.point == step.point:
                continue
            whole = after(half, last)
            tried += 1
            steps = (last, step) if half.loop else (step, last)
            found.setdefault(frozenset(whole.hangs.items()), Answer(steps, whole))
    return Found(tuple(found.values()), True)


def after(layout: Layout, step: Step) -> Layout:
    return layout.fed(step.point, step.place) if isinstance(step, Feed) else layout.exchanged(step.one, step.other)


def _first_steps(layout: Layout) -> Iterator[Step]:
    """Every step on the way up of the clashing outlet with the fewest."""
    outlet = min(layout.disagreeing(), key=lambda id: len(layout.way(id)))
    for point in layout.way(outlet):
        for place in layout.house.contacts:
            if place not in (point, layout.place[point]) and (place not in layout.loose or _named(layout, place, point)):
                yield Feed(point, place)
    for one in _names(layout, outlet):
        for other in _peers(layout, one):
            yield Swap(one, other)


def _names(layout: Layout, outlet: str) -> list[str]:
    """The names whose exchange can change what is before an outlet: its own, and those that cut it."""
    bits = layout.out[outlet]
    return [outlet, *(id for id, bit in layout.house.contact_bits.items() if bits & bit and id != outlet)]


def _peers(layout: Layout, one: str) -> Iterator[str]:
    """Names it may have been mixed up with. A breaker and its feeder, or a point of unknown feed, are not exchanged."""
    bit = layout.house.bit
    for other in layout.house.peers[one]:
        if one in layout.loose or other in layout.loose:
            continue
        related = layout.path[one] & bit[other] or layout.path[other] & bit[one]
        if not (related and one in layout.house.job.breaker):
            yield other


def _named(layout: Layout, place: str, point: str) -> bool:
    """True when a test saw something at or below this point die with that device open: without it, a place behind an
    unknown feed would explain anything."""
    bit = layout.house.bit[place]
    return any(bit & dead for id in layout.below(point) for dead in layout.house.facts[id].dead)


def _last_steps(layout: Layout) -> Iterator[Step]:
    """Every step after which no outlet disagrees."""
    clashing = layout.disagreeing()
    if clashing:
        yield from _last_feeds(layout, clashing)
        yield from _last_swaps(layout, clashing)


def _last_feeds(layout: Layout, clashing: list[str]) -> Iterator[Feed]:
    """A re-feed moves all below its point by the same exchange of bits, so it must stand above every clashing outlet."""
    house = layout.house
    common = -1
    for id in clashing:
        common &= layout.path[id]
    for point in layout.way(clashing[0]):
        if not common & house.bit[point]:
            continue
        above, now = layout.stands[point], layout.place[point]
        below = [*clashing, *(id for id in layout.below(point) if id not in clashing)]
        for place in house.contacts:
            if place == now or layout.path[place] & house.bit[point]:
                continue
            loose = place in layout.loose
            if loose and not _named(layout, place, point):
                continue
            bits = layout.out[place]
            if all(house.agrees(id, layout.out[id] & ~above | bits, loose) for id in below):
                yield Feed(point, place)


def _last_swaps(layout: Layout, clashing: list[str]) -> Iterator[Swap]:
    """What stands before a name after an exchange is what stood before its partner, the two names exchanged in it."""
    house, seen = layout.house, set()
    outlets = [*clashing, *(id for id in house.facts if id not in clashing)]
    for one in _names(layout, clashing[0]):
        for other in _peers(layout, one):
            pair = frozenset((one, other))
            if pair not in seen and all(_agrees_swapped(layout, id, one, other) for id in outlets):
                seen.add(pair)
                yield Swap(one, other)


def _agrees_swapped(layout: Layout, outlet: str, one: str, other: str) -> bool:
    partner = other if outlet == one else one if outlet == other else outlet
    before = layout.out[partner]
    first, second = layout.house.contact_bits.get(one, 0), layout.house.contact_bits.get(other, 0)
    if bool(before & first) != bool(before & second):
        before ^= first | second
    return layout.house.agrees(outlet, before, partner in layout.loose)


def _mending(layout: Layout, step: Feed, loop: list[str]) -> Iterator[Feed]:
    """A point fed from below itself makes a loop; feeding one of the points between from elsewhere mends it.

    Reckoned in bits on the map before the step: what hangs on the mended point moves to its new place; what else hung on the
    step's point follows to where that is fed from now.
    """
    house, top = layout.house, layout.house.bit[step.point]
    below = [*layout.disagreeing(), *layout.below(step.point)]
    if not all(layout.path[id] & top for id in below):
        return
    for point in loop:
        if point == step.point or point not in house.job.point:
            continue
        bit, above = house.bit[point], layout.stands[point]
        for place in house.contacts:
            if layout.path[place] & top or place in layout.loose:
                continue
            bits = layout.out[place]
            fed = layout.out[step.place] & ~above | bits
            if all(house.agrees(id, layout.out[id] & ~above | bits if layout.path[id] & bit
                                else layout.out[id] & ~layout.stands[step.point] | fed, False) for id in below):
                yield Feed(point, place)
