"""Takes what is proved of a job, and a device that will not hold; gives the plan of openings that finds the fault behind it.

`isolate` is the face, and `broken` where nothing tripped and part stays dead. What a visit disturbed is opened first.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from ..proof import Proof
from ..tree import Tree
from .aims import AIMS
from .broken import Broken, Run, broken
from .opened import Left, NoCable, Opposite, Reading, after
from .search import Found, fewest_openings, search
from .side import Box, Side
from .steps import Cost, Lead, Plan, Step, Suspect, plan_of
from .zone import Zone, zone_of

__all__ = ["AIMS", "Box", "Broken", "Cost", "Isolation", "Lead", "Left", "NoCable", "Opposite", "Plan", "Reading", "Run", "Step",
           "Suspect", "Zone", "broken", "isolate", "zone_of"]


@dataclass(frozen=True, slots=True)
class Isolation:
    device: str
    aim: str                                    # least | worst
    zone: Zone
    side: Side
    left: Left                                  # where the fault can be, by what was read
    toward: tuple[tuple[str, str], ...]         # of each part that is left: the open box, and the box it leads to
    plan: Plan
    fewest: int                                 # openings in the worst case, were every box as easy
    best: bool
    above: float                                # per cent that the plan may be above the best one
    same_place: tuple[tuple[str, ...], ...]     # points whose order is the map's word alone
    not_shown: tuple[str, ...]                  # outlets of the load side that no test showed behind the device
    contradicted: tuple[str, ...]               # of the device's load side: what tests say otherwise


def isolate(proof: Proof, device: str, aim: str = "least", readings: Iterable[Reading] = (),
            hunches: Collection[str] = ()) -> Isolation | Opposite | NoCable:
    """`readings` and `hunches` name points of the job; a reading names the device itself by its id."""
    tree = proof.tree
    touched = {id for touch in proof.evidence.standing.touches if touch.visit for id in touch.boxes}
    zone = zone_of(tree, device, touched, hunches)
    side = Side(zone.boxes)
    left = after(side, device, [_of_boxes(zone, reading) for reading in readings])
    if not isinstance(left, Left):
        return left
    found = search(side, AIMS[aim], left.parts)
    plan = plan_of(side, found.opens, left.parts, device)
    toward = tuple(_toward(side, part, device, {device, *left.opened}) for part in left.parts)
    outlets = tree.outlets_of(id for ids in zone.points.values() for id in ids)
    opens = tree.kind(device).opens
    return Isolation(device, aim, zone, side, left, toward, plan, fewest_openings(side, left.parts), found.best,
                     _above(found, aim), _same_place(tree, zone),
                     tuple(id for id in outlets if opens and not proof.evidence.shown(id, device)),
                     tuple(id for id in tree.order if id in proof.evidence.contradicted and id in {*outlets, device}))


def _of_boxes(zone: Zone, reading: Reading) -> Reading:
    box = {id: box for box, ids in zone.points.items() for id in ids} | {id: zone.device for id in zone.here}
    return Reading(box.get(reading.box, reading.box), box.get(reading.toward, reading.toward), reading.bad)


def _toward(side: Side, part: int, device: str, opened: Collection[str]) -> tuple[str, str]:
    """The open box from which a part is reached, the one nearest to the panel, and the part's box at that cable."""
    for i, box in enumerate(side.boxes):
        source = side.boxes[side.up[i]].id if side.up[i] >= 0 else device
        if part >> i & 1 and source in opened:
            return source, box.id
        if side.up[i] >= 0 and part >> side.up[i] & 1 and box.id in opened:
            below = box.id, source
    return below


def _above(found: Found, aim: str) -> float:
    join = AIMS[aim].join
    floor = join(list(found.floors.values()))
    return 100 * (join(list(found.costs.values())) / floor - 1) if floor else 0.0


def _same_place(tree: Tree, zone: Zone) -> tuple[tuple[str, ...], ...]:
    """The boxes that stand behind the same devices on the same breaker: no trip test can tell which of them feeds which."""
    places: dict[tuple[str, ...], list[str]] = {}
    for box in zone.boxes:
        places.setdefault(tuple(id for id in tree.reset_order(box.id) if id != box.id), []).append(box.id)
    return tuple(tuple(ids) for ids in places.values() if len(ids) > 1)
