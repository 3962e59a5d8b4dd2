"""Takes a run; gives what it would save to feed an outlet from elsewhere, while the walls are open.

The outlet alone is moved: what it fed is fed from where it was fed itself. Only boxes before it and the breaker are tried.
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


def other_feeds(run: Run, breaker: str, cap: int | None = None) -> tuple[OtherFeed, ...]:
    """The best other feed of each outlet that has one, the greatest saving first; `breaker` names the breaker of the run."""
    now = least(run, cap)
    if now is None:
        return ()
    found = []
    for i, box in enumerate(run.boxes):
        if box.outlet and not box.stands:
            feeds = [(saves, -steps, source) for steps, source, saves in _feeds(run, i, cap, now.cost + now.wishes)]
            saves, _, source = max(feeds, default=(0, 0, ""))
            if saves > 0:
                found.append(OtherFeed(box.id, source or breaker, saves))
    return tuple(sorted(found, key=lambda feed: -feed.saves))


def _feeds(run: Run, i: int, cap: int | None, cost: int) -> Iterator[tuple[int, str, int]]:
    """For each other source: steps before the outlet, id ("" the breaker), what it saves."""
    way, source = [], run.source[i]
    while source is not None:
        way.append(run.boxes[source])
        source = run.source[source]
    for steps, start in enumerate([*way, None]):
        if start is (way[0] if way else None) and not run.feeds[i]:
            continue  # that is its feed today
        plan = least(run.with_boxes(_moved(run, i, start.id if start else "")), cap)
        if plan is not None:
            yield steps, start.id if start else "", cost - plan.cost - plan.wishes


def _moved(run: Run, i: int, source: str) -> list[Box]:
    moved = run.boxes[i]
    taken = {run.boxes[c].id for c in run.feeds[i]}
    boxes = [replace(box, fed_from=moved.fed_from, on_load=moved.on_load) if box.id in taken else box for box in run.boxes]
    on_load = moved.on_load and source == moved.fed_from
    return [replace(box, fed_from=source, on_load=on_load) if box.id == moved.id else box for box in boxes]
