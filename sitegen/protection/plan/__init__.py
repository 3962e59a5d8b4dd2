"""Takes a job before its devices are in; gives where the fewest and cheapest of them meet every need, circuit by circuit.

`plan` is the face. What is needed is handed in: what the map says, and what the rules make of place, distance and use.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from ...job.records import Circuit
from ..tree import Tree
from .feeds import OtherFeed, other_feeds
from .from_job import Part, parts
from .front import Each, each, front
from .least import Device, Least
from .run import Run
from .why import Stands, Unmet, stands_wrong, unmet

__all__ = ["CircuitPlan", "Device", "Each", "FewestDark", "GuardShares", "GuardStands", "Least", "OtherFeed", "Stands",
           "UnknownFeed", "Unmet", "Why", "Zone", "needed", "plan"]


@dataclass(frozen=True, slots=True)
class UnknownFeed:
    """Points whose feed nobody knows: the circuit cannot be planned."""

    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FewestDark:
    """Fewer outlets dark at once than was asked for cannot be had."""

    most: int


@dataclass(frozen=True, slots=True)
class GuardStands:
    """A breaker that protects people has the whole circuit behind it already."""

    breaker: str
    never: tuple[str, ...]   # outlets that must stand behind none
    alone: tuple[str, ...]   # outlets that must be the only one


@dataclass(frozen=True, slots=True)
class GuardShares:
    """A breaker that protects people, whose circuit shares its neutral with one on another breaker."""

    breaker: str


Why = UnknownFeed | FewestDark | GuardStands | GuardShares | Stands | Unmet


@dataclass(frozen=True, slots=True)
class Zone:
    """What one device of a plan protects, and which wishes it does not keep; where a wish was not made nothing is told."""

    outlets: tuple[str, ...]
    over: int = 0                 # outlets above the wished number
    far: tuple[str, ...] = ()     # outlets whose reset is neither in their room nor the next
    dark: int = 0                 # rooms where an outlet and all lights go out together


@dataclass(frozen=True, slots=True)
class CircuitPlan:
    """What is planned together: the circuits of one breaker, or those that share a neutral."""

    circuits: tuple[Circuit, ...]
    breakers: tuple[str, ...]
    needs: tuple[str, ...]            # in feed order
    why: tuple[Why, ...]              # why it cannot be done; () where it can
    plan: Least | None                # None where it cannot
    zones: tuple[Zone, ...] = ()      # of each device of the plan
    unguarded: tuple[str, ...] = ()   # outlets behind no device
    each: Each = Each(0, 0, ())
    front: tuple[Least, ...] = ()     # the cheapest, then each with fewer outlets dark at once
    other_feeds: tuple[OtherFeed, ...] = ()


def needed(tree: Tree) -> frozenset[str]:
    """The points that the map says need protection against shock."""
    return frozenset(point.id for point in tree.job.points if point.needs == "gfci")


def plan(tree: Tree, needs: Collection[str], most: int | None = None) -> tuple[CircuitPlan, ...]:
    """A plan for every circuit with points, in feed order; no new device turns off more than `most` outlets."""
    return tuple(_plan(tree, part, most) for part in parts(tree, needs))


def _plan(tree: Tree, part: Part, most: int | None) -> CircuitPlan:
    run = part.run
    breakers = tuple(breaker.id for breaker in part.breakers)
    needs = tuple(box.id for box in run.boxes if box.needs)
    unknown = tuple(box.id for box in run.boxes if box.id in tree.unknown)
    guards = [id for id in breakers if any(tree.kind(feeder).stops_shock for feeder in tree.feeders(id))]
    if unknown and needs:
        return CircuitPlan(part.circuits, breakers, needs, (UnknownFeed(unknown),), None)
    if guards and len(guards) < len(breakers):
        return CircuitPlan(part.circuits, breakers, needs, tuple(GuardShares(id) for id in guards), None)
    if guards:
        return _guarded(tree, part, breakers, needs)
    why: tuple[Why, ...] = stands_wrong(run)
    found = () if why else front(run)
    chosen = next((least for least in found if most is None or least.most <= most), None)
    if not why and chosen is None:
        why = (FewestDark(found[-1].most),) if found else unmet(run)
    if chosen is None:
        return CircuitPlan(part.circuits, breakers, needs, why, None, each=each(run), front=found)
    dark = 0
    for device in chosen.devices:
        dark |= device.zone
    return CircuitPlan(part.circuits, breakers, needs, (), chosen, tuple(_zone(run, device) for device in chosen.devices),
                       run.ids(run.all & ~dark), each(run), found, other_feeds(run, most) if needs else ())


def _zone(run: Run, device: Device) -> Zone:
    if device.stands:
        return Zone(run.ids(device.zone))
    room = run.boxes[run.index[device.at]].room if device.at in run.index else run.breaker_room
    return Zone(run.ids(device.zone), run.over(device.zone), run.ids(run.far(device.zone, room)) if run.wishes.far else (),
                len(run.dark(device.zone)) if run.wishes.dark else 0)


def _guarded(tree: Tree, part: Part, breakers: tuple[str, ...], needs: tuple[str, ...]) -> CircuitPlan:
    """Behind a breaker that protects people: every need is met, and no outlet is alone or apart."""
    wrong = tuple(_wrong(tree, part, breakers))
    if wrong:
        return CircuitPlan(part.circuits, breakers, needs, wrong, None)
    zones = {id: tree.protects(id) for breaker in breakers for id in tree.feeders(breaker) if tree.kind(id).stops_shock}
    devices = tuple(Device(id, "breaker", (), (), 0, stands=True) for id in zones)
    sizes = [len(zone) for zone in zones.values()]
    least = Least(devices, 0, 0, sum(n * n for n in sizes), max(sizes), True)
    guarded = {id for zone in zones.values() for id in zone}
    return CircuitPlan(part.circuits, breakers, needs, (), least, tuple(map(Zone, zones.values())),
                       tuple(box.id for box in part.run.boxes if box.outlet and box.id not in guarded), front=(least,))


def _wrong(tree: Tree, part: Part, breakers: tuple[str, ...]) -> Iterator[GuardStands]:
    for id in dict.fromkeys(id for breaker in breakers for id in tree.feeders(breaker) if tree.kind(id).stops_shock):
        zone = tree.protects(id)
        own = [box for box in part.run.boxes if box.id in zone]
        never = tuple(box.id for box in own if box.share == "never")
        alone = tuple(box.id for box in own if box.share == "alone" and len(zone) > 1)
        if never or alone:
            yield GuardStands(id, never, alone)
