"""Takes a job's tree; gives the breakers with TEST in the groups that a visit to their panel may hold off together, and what is
not pressed at all. The limits of the rounds, for somebody who lives there: by daylight, and never in the dark at the panel.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..tree import Tree
from .limits import alone, lighting
from .uses import MEDICAL, used_as


@dataclass(frozen=True, slots=True)
class Visit:
    """Breakers of one panel, off during one walk."""

    panel: str
    breakers: tuple[str, ...]


def not_pressed(tree: Tree) -> frozenset[str]:
    """Devices that would cut medical equipment."""
    return frozenset(id for id in tree.devices if cuts_medical(tree, id))


def cuts_medical(tree: Tree, device: str) -> bool:
    return any(used_as(tree.job.point[id], MEDICAL) for id in tree.outlets_of(tree.goes_dead(device)))


def visits(tree: Tree) -> tuple[Visit, ...]:
    """Panel by panel: first all that may be off together, then one by one what may not."""
    held = not_pressed(tree)
    found: list[Visit] = []
    for panel in tree.job.panels:
        breakers = [id for id in tree.devices if id in tree.job.breaker and id not in held and tree.panel_of[id] == panel.id]
        apart = _apart(tree, panel.id, breakers)
        groups = [tuple(id for id in breakers if id not in apart), *((id,) for id in breakers if id in apart)]
        found += [Visit(panel.id, group) for group in groups if group]
    return tuple(found)


def _apart(tree: Tree, panel: str, breakers: list[str]) -> frozenset[str]:
    """What is opened by itself; what leaves the panel's room without its light; one more where every light would be off."""
    room = tree.job.panel[panel].room_and_spot[0].casefold()
    apart = alone(tree) & set(breakers)
    apart |= {id for id in breakers if any(tree.kind(point).by_name and tree.job.point[point].room.casefold() == room
                                           for point in tree.goes_dead(id))}
    together, lights = set(breakers) - apart, lighting(tree)
    if len(together) > 1 and lights and all(cuts & together for cuts in lights):
        apart |= lights[-1] & together
    return apart
