"""Takes a job and a change of its map; gives the job as it would stand. The map file itself is never touched."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from ..job.records import Feed, Job
from .tree import Tree


@dataclass(frozen=True, slots=True)
class Refeed:
    """Feed one point from somewhere else; on another circuit it moves there with all that hangs on it."""

    point: str
    before: Feed
    after: Feed
    same_effect: tuple[Feed, ...] = ()  # the other feeds in the same place: any of them would do as well

    def as_json(self) -> dict[str, Any]:
        return {"point": self.point, "from": str(self.before), "to": str(self.after),
                "same_effect": [feed.source for feed in self.same_effect]}


@dataclass(frozen=True, slots=True)
class Exchange:
    """Exchange where two ids stand in the map; the tests keep theirs."""

    one: str
    other: str

    def as_json(self) -> dict[str, Any]:
        return {"exchange": [self.one, self.other]}


Change = Refeed | Exchange


def apply(job: Job, changes: tuple[Change, ...]) -> Job:
    """The job with these changes made, one after the other."""
    for change in changes:
        job = _refeed(job, change) if isinstance(change, Refeed) else _exchange(job, change)
    return job


def _refeed(job: Job, change: Refeed) -> Job:
    source = change.after.source
    circuit = job.point[change.point].circuit
    if source in job.point:
        circuit = job.point[source].circuit
    elif job.circuit[circuit].breaker != source:
        circuit = next(c.key for c in job.circuits if c.breaker == source)
    moved = {change.point, *Tree(job).below(change.point)}
    points = (replace(p, circuit=circuit) if p.id in moved else p for p in job.points)
    return replace(job, points=tuple(replace(p, feed=change.after) if p.id == change.point else p for p in points))


def _exchange(job: Job, change: Exchange) -> Job:
    """A point keeps its line, place and feed and gets the other id; a breaker goes to the other's circuits."""
    other = {change.one: change.other, change.other: change.one}

    def name(id: str) -> str:
        return other.get(id, id)

    points = (replace(p, id=name(p.id), feed=replace(p.feed, source=name(p.feed.source)),
                      switched_by=tuple(name(id) for id in p.switched_by)) for p in job.points)
    circuits = (replace(circuit, breaker=name(circuit.breaker)) for circuit in job.circuits)
    panels = (replace(panel, fed_from=name(panel.fed_from) if panel.fed_from else None) for panel in job.panels)
    return replace(job, points=tuple(points), circuits=tuple(circuits), panels=tuple(panels))
