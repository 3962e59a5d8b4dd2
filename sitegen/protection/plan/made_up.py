"""Takes the plans of a job; gives what they change in its map: kinds, feeds, new points and breakers."""

from __future__ import annotations

from collections.abc import Iterable

from ...job.kinds import BREAKERS, POINTS, Kind
from ...job.map.rewrite import BreakerChange, MapChanges, NewPoint
from ...job.records import Breaker, Job, Point
from . import CircuitPlan
from .least import Device


def made_up(job: Job, plans: Iterable[CircuitPlan]) -> MapChanges:
    """The changes that put every new device of the plans into the map; what stands already is left as it is."""
    changes, made = MapChanges(), _Ids(job)
    for planned in plans:
        for device in planned.plan.devices if planned.plan else ():
            if not device.stands:
                _put(job, planned, device, changes, made)
    return changes


def _put(job: Job, planned: CircuitPlan, device: Device, changes: MapChanges, made: _Ids) -> None:
    if device.how == "breaker":
        _put_breaker(job, planned, changes)
        return
    point, at = job.point[device.at], device.at
    kind = _guard(POINTS.values(), has_face=device.how == "receptacle", stops_arcs=False)
    if device.how == "receptacle" or not (point.kind.is_outlet or point.kind.switches or device.how == "new box"):
        changes.kinds[device.at] = kind.name  # the outlet itself, or a splice, becomes the device
    else:
        at = made.next()
        where = f"in the cable before {device.at}" if device.how == "new box" else f"in the box of {device.at}"
        changes.new_points.append(NewPoint(at, device.at, kind.name, where, changes.feeds.get(device.at, str(point.feed))))
    for side, ids in (("load", device.load), ("line", device.line)):
        changes.feeds |= {id: f"{at} {side}" for id in ids}


def _put_breaker(job: Job, planned: CircuitPlan, changes: MapChanges) -> None:
    """A GFCI breaker, dual-function where arcs are guarded today; over two breakers a 2-pole one in place of both."""
    first, *others = (job.breaker[id] for id in planned.breakers)
    kind = _guard(BREAKERS.values(), has_face=False, stops_arcs=any(b.kind.stops_arcs for b in (first, *others)))
    spaces = "/".join(breaker.space for breaker in (first, *others))
    changes.breakers[first.id] = BreakerChange(kind.name, spaces if others else None, 2 if others else None)
    for other in others:
        changes.shared |= {circuit.key: first.id for circuit in planned.circuits if circuit.breaker == other.id}
        changes.feeds |= {point.id: first.id for point in job.points if point.feed.source == other.id}


def _guard(kinds: Iterable[Kind], has_face: bool, stops_arcs: bool) -> Kind:
    """The kind that protects people and has just these."""
    return next(kind for kind in kinds if kind.stops_shock and (kind.has_face, kind.stops_arcs) == (has_face, stops_arcs))


class _Ids:
    """Ids that nothing in the job has, had, or is printed with."""

    def __init__(self, job: Job) -> None:
        things: tuple[Breaker | Point, ...] = (*job.breakers, *job.points)
        self.taken = {*job.panel, *job.breaker, *job.point, *(id for thing in things for id in thing.was),
                      *(gone.id for gone in job.removed), *(label.id for label in job.printed),
                      *(point.yoke for point in job.points if point.yoke)}

    def next(self) -> str:
        id = next(id for number in range(1, 10_000) if (id := f"G{number}") not in self.taken)
        self.taken.add(id)
        return id
