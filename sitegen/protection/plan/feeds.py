"""Takes a run; gives what it would save to feed an outlet from elsewhere, while the walls are open.

The outlet alone is moved: what it fed is fed from where it was fed itself. Only boxes before it and the breaker are tried.
A cable costs something too: what saves less than a GFCI receptacle is left out, and the nearest box is preferred where another
saves no whole one more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from .least import least
from .run import Box, Run


@dataclass(frozen=True, slots=True)
class OtherFeed:
    """One outlet fed from elsewhere."""

    id: str
    source: str    # id of a box; of a breaker
    saves: int     # cents, wishes counted


def other_feeds(run: Run, cap: int | None = None) -> tuple[OtherFeed, ...]:
    """The best other feed of each outlet that has one, the greatest saving first."""
    now = least(run, cap)
    found = [_best(run, i, cap, now.cost + now.wishes) for i, box in enumerate(run.boxes)
             if now is not None and box.outlet and not box.stands]
    return tuple(sorted(filter(None, found), key=lambda feed: -feed.saves))


def _best(run: Run, i: int, cap: int | None, cost: int) -> OtherFeed | None:
    unit, best = max(run.prices.receptacle, 1), None
    bound = _at_most(run, i, cap, cost) // unit
    for source, saves in _feeds(run, i, cap, cost) if bound > 0 else ():
        if saves // unit > (best.saves // unit if best else 0):
            best = OtherFeed(run.boxes[i].id, source, saves)
        if best and best.saves // unit >= bound:
            break
    return best


def _at_most(run: Run, i: int, cap: int | None, cost: int) -> int:
    """No feed of an outlet saves more than a run without it; one that must be alone and needs a device pays for that too.

    Without a light its room may go dark that would not with it: there no room is counted.
    """
    box, prices = run.boxes[i], run.prices
    elsewhere = run.lights_elsewhere | ({box.room} if box.light else set())
    without = least(replace(run.with_boxes(_without(run, i)), lights_elsewhere=elsewhere), cap)
    if without is None:
        return 0
    own = min(prices.receptacle, prices.faceless, prices.new_box, prices.breaker) if box.needs and box.share == "alone" else 0
    return cost - without.cost - without.wishes - own


def _feeds(run: Run, i: int, cap: int | None, cost: int) -> Iterator[tuple[str, int]]:
    """Each other source, the nearest first, and what it saves."""
    box, way, place = run.boxes[i], [run.boxes[i].fed_from], run.source[i]
    while place is not None:
        way.append(run.boxes[place].fed_from)
        place = run.source[place]
    for source in way if run.feeds[i] else way[1:]:  # its feed of today would be another only if something hangs on it
        moved = replace(box, fed_from=source, on_load=box.on_load and source == box.fed_from)
        plan = least(run.with_boxes([*_without(run, i), moved]), cap)
        if plan is not None:
            yield source, cost - plan.cost - plan.wishes


def _without(run: Run, i: int) -> list[Box]:
    """What the outlet fed is fed from where it was fed itself."""
    gone = run.boxes[i]
    return [replace(box, fed_from=gone.fed_from, on_load=gone.on_load) if box.fed_from == gone.id else box
            for box in run.boxes if box is not gone]
