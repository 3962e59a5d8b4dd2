"""Takes the desk; gives the rules of the folded sheet: what to look at first, how often one may press, when to stop."""

from __future__ import annotations

from collections.abc import Iterator

from ..answer.places import space
from ..desk import Desk
from ..desk.words import Rich, Tag


def stop_rules(desk: Desk) -> tuple[Rich, ...]:
    """Of RESET: twice at most; of one behind another the other comes first."""
    return (*desk.words.many("fold.reset"), *_series(desk), desk.words.rich("fold.stuck"))


def breaker_rules(desk: Desk) -> tuple[Rich, ...]:
    """Once; twice, unplugged, only where it guards people."""
    twice = [space(desk, id) for id in desk.tree.breakers if desk.tree.kind(id).stops_shock]
    more = (desk.words.rich("fold.twice", spaces=desk.words.join(twice)),) if twice else ()
    return (*desk.words.many("fold.breaker"), *more, desk.words.rich("fold.off_again"))


def _series(desk: Desk) -> Iterator[Rich]:
    for id in desk.tree.devices:
        outer = desk.claims.outer(id)
        if outer and outer not in desk.job.breaker:
            yield desk.words.rich("fold.outer", id=Tag(id), outer=Tag(outer), room=desk.point(outer).room)
