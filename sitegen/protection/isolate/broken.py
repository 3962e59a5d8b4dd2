"""Takes the tree and what was found dead and live with nothing tripped; gives where a conductor may be open.

The law: one break leaves dead exactly the outlets below it. So a live outlet clears every cable on its way, and outlets that are
dead belong to one break where one cable can leave all of them dead and no live one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from ..tree import Tree
from .aims import AIMS
from .search import search
from .side import Box, Side
from .steps import Plan, plan_of
from .zone import box_of_points

_PANEL = 3    # reach of the breaker's terminals, in times an easy receptacle: a guess (no source)


@dataclass(frozen=True, slots=True)
class Run:
    """The boxes between which one break lies, from the last that has power to the first common to all that are dead."""

    boxes: tuple[str, ...]
    points: tuple[tuple[str, ...], ...]   # the points in each box
    dead: tuple[str, ...]
    look: tuple[str, ...]                 # outlets beside it, not looked at: each would shorten it
    plan: Plan

    @property
    def cables(self) -> tuple[str, ...]:
        """The points into which a broken cable agrees with all that was seen."""
        return tuple(id for here in self.points for id in here)[1:]


@dataclass(frozen=True, slots=True)
class Broken:
    runs: tuple[Run, ...]                 # as many as there are breaks at the least
    own: tuple[str, ...]                  # dead though power goes on beyond: its own pigtail or device
    no_power: tuple[tuple[str, tuple[str, ...]], ...]   # nothing live is known: at or before this point, and what is dead
    unknown: tuple[str, ...]              # dead, with a feed that nobody knows


def broken(tree: Tree, dead: Collection[str], live: Collection[str], aim: str = "least") -> Broken:
    lit = {id for point in live for id in tree.way_up(point)}    # nothing open at or before these
    groups: dict[str, list[str]] = {}
    own, unknown = [], []
    for id in tree.order:
        if id in dead and id in tree.unknown:
            unknown.append(id)
        elif id in dead and id in lit:
            own.append(id)
        elif id in dead:
            groups.setdefault(next(up for up in reversed(tree.way_up(id)) if up not in lit), []).append(id)
    runs, no_power = [], []
    for top, ids in groups.items():
        source = tree.job.point[top].feed.source
        if source in tree.job.point or any(tree.breaker_of(id) == source for id in live):
            runs.append(_run(tree, top, ids, {*dead, *live}, aim))
        else:
            no_power.append((top, tuple(ids)))
    return Broken(tuple(runs), tuple(own), tuple(no_power), tuple(unknown))


def _run(tree: Tree, top: str, dead: list[str], looked: set[str], aim: str) -> Run:
    common = set.intersection(*(set(tree.way_up(id)) for id in dead))
    lowest = next(id for id in tree.way_up(dead[0]) if id in common)
    down = tree.way_up(lowest)[::-1]
    way = [tree.job.point[top].feed.source, *down[down.index(top):]]
    boxes: list[list[str]] = []
    for id in way:
        if boxes and boxes[-1][0] not in tree.job.breaker and tree.job.point[id].length_ft == 0:
            boxes[-1].append(id)
        else:
            boxes.append([id])
    side = Side(tuple(_box(tree, here, boxes[k - 1][0] if k else None) for k, here in enumerate(boxes)))
    part = side.branches[0]
    plan = plan_of(side, search(side, AIMS[aim], [part]).opens, [part], "")
    return Run(tuple(here[0] for here in boxes), tuple(map(tuple, boxes)), tuple(dead), tuple(_look(tree, way, looked)), plan)


def _box(tree: Tree, points: list[str], fed_from: str | None) -> Box:
    if points[0] in tree.job.breaker:
        return Box(points[0], None, _PANEL, 1, 0)
    box = box_of_points([tree.job.point[id] for id in points], fed_from)
    return box if fed_from else Box(box.id, None, box.reach, box.suspect, 0)


def _look(tree: Tree, way: list[str], looked: set[str]) -> Iterator[str]:
    """Of each box between the two ends one outlet: its own, or the first that hangs on it beside the run."""
    for here, after in zip(way[1:], way[2:]):
        beside = [id for id in (here, *tree.below(here)) if id != after and id not in tree.below(after)]
        yield from [id for id in beside if tree.is_outlet(id) and id not in looked][:1]
