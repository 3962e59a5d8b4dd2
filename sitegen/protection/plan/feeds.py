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
    if now is None:
        return ()
    unit, found = max(run.prices.receptacle, 1), []
    for i, box in enumerate(run.boxes):
        if box.outlet and not box.stands and _could_save(run, i, cap, now.cost + now.wishes - unit):
            feeds = [(saves // unit, -steps, source, saves) for steps, source, saves in _feeds(run, i, cap, now.cost + now.wishes)]
            units, _, source, saves = max(feeds, default=(0, 0, "", 0))
            if units > 0:
                found.append(OtherFeed(box.id, source, saves))
    return tuple(sorted(found, key=lambda feed: -feed.saves))


def _could_save(run: Run, i: int, cap: int | None, cost: int) -> bool:
    """False where not even a run without the outlet costs so little: fed from anywhere it only adds to that.

    But a light that stays on may spare the wish that no room goes dark.
    """
    plan = least(run.with_boxes(_without(run, i)), cap)
    return run.boxes[i].light and run.wishes.dark > 0 or plan is not None and plan.cost + plan.wishes <= cost


def _feeds(run: Run, i: int, cap: int | None, cost: int) -> Iterator[tuple[int, str, int]]:
    """For each other source: steps before the outlet, id, what it saves."""
    box, way, place = run.boxes[i], [run.boxes[i].fed_from], run.source[i]
    while place is not None:
        way.append(run.boxes[place].fed_from)
        place = run.source[place]
    for steps, source in enumerate(way):
        if steps or run.feeds[i]:  # else that is its feed today
            moved = replace(box, fed_from=source, on_load=box.on_load and source == box.fed_from)
            plan = least(run.with_boxes([*_without(run, i), moved]), cap)
            if plan is not None:
                yield steps, source, cost - plan.cost - plan.wishes


def _without(run: Run, i: int) -> list[Box]:
    """What the outlet fed is fed from where it was fed itself."""
    gone = run.boxes[i]
    return [replace(box, fed_from=gone.fed_from, on_load=gone.on_load) if box.fed_from == gone.id else box
            for box in run.boxes if box is not gone]
