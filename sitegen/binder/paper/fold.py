"""Takes the desk; gives the rules of the folded sheet: what to look at first, how often one may press, when to stop."""

from __future__ import annotations

from collections.abc import Iterator

from ..desk import Desk
from ..desk.words import Rich, Tag
from ..panel import pushed_twice


def stop_rules(desk: Desk) -> tuple[Rich, ...]:
    """Of RESET: twice at most; of one behind another the other comes first."""
    return (*desk.words.many("fold.reset"), *_series(desk), desk.words.rich("fold.stuck"))


def breaker_rules(desk: Desk) -> tuple[Rich, ...]:
    """Once; twice, unplugged, only where it guards people."""
    return (*desk.words.many("fold.breaker"), desk.words.rich("fold.off_again"), *pushed_twice(desk, *desk.job.panel))


def _series(desk: Desk) -> Iterator[Rich]:
    for id in desk.tree.devices:
        outer = desk.claims.outer(id)
        if outer and outer not in desk.job.breaker:
            yield desk.words.rich("fold.outer", id=Tag(id), outer=Tag(outer), room=desk.point(outer).room)
