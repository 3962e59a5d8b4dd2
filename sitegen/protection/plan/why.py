"""Takes a run whose needs cannot all be met; gives which cannot, and the lowest box in which a device would do.

Also what stands already and turns off an outlet that it must not.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from .least import least, standing
from .run import Box, Run


@dataclass(frozen=True, slots=True)
class Unmet:
    """Needs that cannot be met, though each but one of them could."""

    ids: tuple[str, ...]
    lowest: str | None      # the lowest box that would do if it could hold a device
    new_box: bool           # a new box in the cable before it is what would do


@dataclass(frozen=True, slots=True)
class Stands:
    """A device that is there and turns off what the map wants otherwise."""

    device: str
    never: tuple[str, ...]  # outlets that must stand behind none
    alone: tuple[str, ...]  # outlets that must be the only one


def stands_wrong(run: Run) -> tuple[Stands, ...]:
    """The devices that stand wrongly; there is no plan while one does."""
    return tuple(Stands(device.at, run.ids(device.zone & run.never), run.ids(device.zone & run.alone))
                 for device in standing(run) if not run.may(device.zone, None))


def unmet(run: Run) -> tuple[Unmet, ...]:
    """The smallest sets of needs that cannot be met, one after the other until the rest can."""
    needs, found = [box.id for box in run.boxes if box.needs], []
    while least(_needing(run, needs)) is None:
        group = needs
        for id in needs:
            fewer = [other for other in group if other != id]
            if least(_needing(run, fewer)) is None:
                group = fewer
        found.append(_with_a_remedy(run, group))
        needs = [id for id in needs if id not in group]
    return tuple(found)


def _needing(run: Run, ids: list[str]) -> Run:
    return run.with_boxes(replace(box, needs=box.id in ids) for box in run.boxes)


def _with_a_remedy(run: Run, group: list[str]) -> Unmet:
    only = _needing(run, group)
    for box, changed in _remedies(run, group[-1]):
        if least(only.with_boxes(replace(other, holds=changed.holds, new_box=changed.new_box) if other.id == box else other
                                 for other in only.boxes)) is not None:
            return Unmet(tuple(group), box, changed.new_box and not run.boxes[run.index[box]].new_box)
    return Unmet(tuple(group), None, False)


def _remedies(run: Run, id: str) -> Iterator[tuple[str, Box]]:
    """From the outlet up: a device in a box that is there; then a new box."""
    way: list[Box] = []
    place: int | None = run.index[id]
    while place is not None:
        way.append(run.boxes[place])
        place = run.source[place]
    yield from ((box.id, replace(box, holds="faceless")) for box in way if box.holds == "none" and not box.closed)
    yield from ((box.id, replace(box, new_box=True)) for box in way if not box.new_box)
