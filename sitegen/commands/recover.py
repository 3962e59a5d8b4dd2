"""`sitegen recover`: the map that the trip tests alone support, and what no test can tell."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..job import read_job
from ..job.read.values import quoted
from ..job.records import Circuit, Job, Point
from ..protection.changes import Exchange
from ..protection.evidence import Evidence
from ..protection.maps.correct import correct
from ..protection.maps.recover import Recovered, recover
from ..protection.say import both, place
from ..protection.tree import Tree


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(call: argparse.Namespace) -> int:
    job = read_job(Path(call.job))
    found = recover(job)
    print(json.dumps(recover_json(job, found), indent=1, ensure_ascii=False) + "\n" if call.json else recover_text(job, found),
          end="")
    return 0


def recover_json(job: Job, found: Recovered) -> dict[str, Any]:
    """The object that `recover --json` prints."""
    return {"points": {p.id: str(found.feeds[p.id]) for p in job.points if p.id in found.feeds},
            "unknown": list(found.unknown)}


def recover_text(job: Job, found: Recovered) -> str:
    """Map lines circuit by circuit, then every doubt."""
    return "\n".join([*_lines(job, found), *_doubts(job, found)]) + "\n"


def _lines(job: Job, found: Recovered) -> Iterator[str]:
    yield (f"From the trip tests alone: {_count(len(found.feeds))} placed, {len(found.unknown)} that no test made so far can "
           f"tell. The map was not changed.")
    for circuit in job.circuits:
        points = [point for point in job.points if _circuit(job, found, point) == circuit]
        if points:
            yield ""
            yield f"# circuit {circuit.number} of {circuit.panel}, breaker {circuit.breaker}: {circuit.serves}"
            yield "points:"
            yield from (_line(job, found, point) for point in points)


def _circuit(job: Job, found: Recovered, point: Point) -> Circuit:
    """Where the line of a point belongs: its own circuit wherever that has the breaker the tests showed."""
    own = job.circuit[point.circuit]
    breaker = found.breaker.get(point.id, own.breaker)
    return own if own.breaker == breaker else next(c for c in job.circuits if c.breaker == breaker)


def _line(job: Job, found: Recovered, point: Point) -> str:
    texts = f"room: {quoted(point.room)}, at: {quoted(point.at)}"
    feed = found.feeds.get(point.id, "unknown")
    moved = _circuit(job, found, point)
    remark = f"  # listed under circuit {job.circuit[point.circuit].number}" if moved.key != point.circuit else ""
    return f"  - {{id: {point.id}, is: {point.kind.name}, {texts}, fed_from: {feed}}}{remark}"


def _doubts(job: Job, found: Recovered) -> Iterator[str]:
    yield ""
    yield "What the tests cannot tell"
    yield "  Which of several points behind the same devices on one breaker feeds the next: the line names the device or breaker."
    blind = [id for id in found.unknown if not job.point[id].kind.is_outlet and not job.point[id].kind.opens]
    devices = [id for id in found.unknown if job.point[id].kind.opens]
    outlets = [id for id in found.unknown if id not in blind and id not in devices and id not in found.at_odds]
    if blind:
        yield f"  Where these hang, which nobody can see dead or live: {_places(job, blind)}."
    if devices:
        yield f"  What stands before these: {_places(job, devices)}. Look at their own slots, and at what is behind them, in " \
              f"the TEST of every other device of the circuit."
    if outlets:
        yield f"  Where these hang: {_places(job, outlets)}. Look at them in the TEST of every device of the circuit."
    for first, second in found.either_order:
        yield f"  Whether {place(job, first)} stands before {place(job, second)} or behind it: both turn off the same."
    if found.by_list:
        yield f"  Whether the breaker is right: no test spoke of {both(found.by_list)}, so it was taken from the list of the " \
              f"circuit. Switch its handle off and look."
    for change in _exchanged(job):
        yield (f"  Whether {change.one} and {change.other}, which the map has the other way round, stand at each other's place: the lines "
               f"keep the places, as if the tests were made by place. By the tag on the plate, exchange their places too, and look at "
               f"the plates.")
    for quarrel in found.quarrels:
        yield f"  {quarrel.why[:1].upper()}{quarrel.why[1:]}. No map can explain both: do these tests over."
    if found.at_odds:
        yield f"  Where these hang, since what was seen there fits no map: {_places(job, found.at_odds)}. Test again there."


def _exchanged(job: Job) -> list[Exchange]:
    """What `check` proposes to exchange, if that is its first proposal: the same fact, and told as one."""
    proposals = correct(Evidence(Tree(job)), most=1).proposals
    return [change for change in proposals[0].changes if isinstance(change, Exchange)] if proposals else []


def _places(job: Job, ids: list[str] | tuple[str, ...]) -> str:
    return both(place(job, id) for id in ids)


def _count(number: int) -> str:
    return f"{number} point{'s' if number != 1 else ''}"
