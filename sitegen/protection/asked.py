"""Takes the tree; gives what printed labels and the map say otherwise of a feed, and no visit explains.

Either the wiring was changed, or the record was wrong. Only the electrician knows which, so it is asked and not guessed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ..job.labels.printed import now_called
from ..job.records import Job, Printed
from .tree import Tree


@dataclass(frozen=True, slots=True)
class Asked:
    """One difference of a feed between labels and map."""

    points: tuple[str, ...]       # where it shows, in feed order; the first hangs on none of the others
    label: Printed                # the label of the first
    printed: tuple[str, ...]      # breakers and devices before the first by that label, the nearest first
    now: tuple[str, ...]          # by the map


def asked(tree: Tree) -> tuple[Asked, ...]:
    """The differences in feed order; what moved along with a point stands with it."""
    job = tree.job
    found: dict[tuple[tuple[str, ...], tuple[str, ...]], dict[str, Printed]] = {}
    for label in _latest(job):
        id = now_called(job, label.id)
        if id is None or id not in job.point or label.says is None or not label.says.devices or id in tree.unknown:
            continue
        printed = tuple(now_called(job, one) or one for one in label.says.devices)
        now = tree.reset_order(id)[::-1]
        own = {id} if job.point[id].kind.opens else set()
        if printed != now and not _explained(tree, id, label, set(printed) ^ set(now)):
            key = tuple(one for one in printed if one not in own), tuple(one for one in now if one not in own)
            found.setdefault(key, {})[id] = label
    return tuple(_merged(tree, found))


def _latest(job: Job) -> Iterable[Printed]:
    """Of each thing the last label of any purpose of which it is known what it says."""
    return {label.id: label for label in job.printed if label.says and label.says.devices}.values()


def _merged(tree: Tree, found: dict[tuple[tuple[str, ...], tuple[str, ...]], dict[str, Printed]]) -> Iterator[Asked]:
    for (printed, now), labels in found.items():
        points = tuple(id for id in tree.order if id in labels)
        above = {other for labelled in found.values() for other in labelled}
        way = tree.way_up(points[0])[1:]
        if not above & set(way):
            behind = {id for id in tree.order if any(one in tree.way_up(id) for one in points)}
            yield Asked((*points, *(id for id in tree.order if id in above & behind and id not in points)),
                        labels[points[0]], printed, now)


def _explained(tree: Tree, id: str, label: Printed, differ: set[str]) -> bool:
    """True where a visit of that day or later refed or corrected the point or one that feeds it, or changed what differs."""
    way = set(tree.way_up(id))
    return any(one.what in ("refed", "corrected") and one.id in way or one.what != "opened" and one.id in differ
               for visit in tree.job.visits if visit.date >= label.date for one in visit.done)
