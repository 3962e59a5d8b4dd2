"""Takes ways that have to be walked, each from one room to another; gives an order that passes the fewest doorways.

Exact where there are few ways. Of many, a good order: always on to the nearest, from the best beginning, then runs of up
to three moved for as long as that saves a doorway.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cache

from ..job.records import Job

Way = tuple[str, str]              # the room where it begins, the room where it ends
Steps = Callable[[str, str], int]  # doorways from room to room

EXACT = 9        # ways, after those that stay in one room are taken together; the work doubles with each
BEGINNINGS = 40  # tried where there are more ways


def doorways(job: Job) -> Steps:
    """How many doorways lie between two rooms by the doors that are drawn; where none joins them, a change of room is one."""
    joined: dict[str, set[str]] = {}
    for plan in job.rooms:
        for door in plan.doors:
            if door.leads_to:
                one, other = plan.room.casefold(), door.leads_to.casefold()
                joined.setdefault(one, set()).add(other)
                joined.setdefault(other, set()).add(one)
    far = {room: _far(room, joined) for room in joined}

    def steps(one: str, other: str) -> int:
        one, other = one.casefold(), other.casefold()
        return 0 if one == other else far.get(one, {}).get(other, 1)
    return steps


def _far(start: str, joined: dict[str, set[str]]) -> dict[str, int]:
    far = {start: 0}
    waiting = [start]
    for here in waiting:
        for room in sorted(joined[here] - far.keys()):
            far[room] = far[here] + 1
            waiting.append(room)
    return far


def passed(rooms: Sequence[str], steps: Steps) -> int:
    """The doorways passed on the way from room to room."""
    return sum(steps(one, other) for one, other in zip(rooms, rooms[1:]))


def shortest_walk(ways: Sequence[Way], steps: Steps, start: str | None = None, end: str | None = None) -> tuple[int, ...]:
    """The numbers of the ways in the order to walk them, from the room `start` and to the room `end` where these are given.

    Ways that stay in one room are walked together there. Among equals the order given counts.
    """
    together: dict[object, list[int]] = {}
    for number, (begins, ends) in enumerate(ways):
        together.setdefault(begins if begins == ends else number, []).append(number)
    groups = list(together.values())

    @cache      # asked again and again
    def gap(one: int | None, other: int | None) -> int:
        """From the end of one group to the beginning of another; None: from `start`, or to `end`."""
        here = start if one is None else ways[groups[one][0]][1]
        there = end if other is None else ways[groups[other][0]][0]
        return 0 if here is None or there is None else steps(here, there)

    order = _exact(len(groups), gap) if len(groups) <= EXACT else _good(len(groups), gap)
    return tuple(number for group in order for number in groups[group])


Gap = Callable[[int | None, int | None], int]


def _exact(count: int, gap: Gap) -> list[int]:
    """The best order by the best way to have walked each set of groups and to stand at its last (Held and Karp 1962)."""
    best: dict[tuple[int, int | None], tuple[int, list[int]]] = {(0, None): (0, [])}
    for walked in range(1 << count):
        for last in (None, *range(count)):
            if (walked, last) not in best:
                continue
            cost, order = best[walked, last]
            for group in range(count):
                if not walked >> group & 1:
                    key, found = (walked | 1 << group, group), (cost + gap(last, group), [*order, group])
                    best[key] = min(best.get(key, found), found)
    return min((cost + gap(last, None), order) for (walked, last), (cost, order) in best.items()
               if walked == (1 << count) - 1)[1]


def _good(count: int, gap: Gap) -> list[int]:
    def cost(order: list[int]) -> int:
        return sum(gap(one, other) for one, other in zip([None, *order], [*order, None]))

    least, best = _least(count, gap), _nearest(0, count, gap)
    for first in range(1, min(count, BEGINNINGS)):
        if cost(best) == least:     # none is better
            return best
        best = min(best, _nearest(first, count, gap), key=cost)
    return _mended(best, gap)


def _least(count: int, gap: Gap) -> int:
    """No order costs less: every group is entered from its nearest, all but one, which comes first."""
    enter = [min(gap(other, group) for other in range(count) if other != group) for group in range(count)]
    first = max(near - gap(None, group) for group, near in enumerate(enter))
    return sum(enter) - first + min(gap(group, None) for group in range(count))


def _nearest(first: int, count: int, gap: Gap) -> list[int]:
    order, waiting = [first], [group for group in range(count) if group != first]
    while waiting:
        order.append(min(waiting, key=lambda group: gap(order[-1], group)))
        waiting.remove(order[-1])
    return order


def _mended(order: list[int], gap: Gap) -> list[int]:
    """Move runs of groups to where they save most, until none saves any more."""
    while True:
        moves = list(_moves(order, gap))
        saved, better = max(moves, key=lambda move: move[0], default=(0, order))
        if saved <= 0:
            return order
        order = better


def _moves(order: list[int], gap: Gap) -> Iterator[tuple[int, list[int]]]:
    """What the best new place of every run of one to three groups saves, and the order then."""
    for length in (1, 2, 3):
        for at in range(len(order) - length + 1):
            run, others = order[at:at + length], [*order[:at], *order[at + length:]]
            rest = [None, *others, None]
            out = gap(rest[at], run[0]) + gap(run[-1], rest[at + 1]) - gap(rest[at], rest[at + 1])
            costs = [gap(rest[to], run[0]) + gap(run[-1], rest[to + 1]) - gap(rest[to], rest[to + 1])
                     for to in range(len(rest) - 1)]
            to = costs.index(min(costs))
            yield out - costs[to], [*others[:to], *run, *others[to:]]
