"""Random houses for properties: takes a random generator; gives a Job, and the trip tests of a truthful walk-through."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from random import Random

import networkx

from sitegen.job.kinds import BREAKERS, POINTS
from sitegen.job.records import (Breaker, Circuit, Code, Feed, Job, JobFile, LabelStock, Panel, Point, ReminderRule,
                                 TripTest, Where)

DAY = date(2026, 5, 12)
FILE = JobFile("house", "A house", DAY, "https://house.example", Code(), ("en",), LabelStock(63.5, 38.1),
               ReminderRule("first saturday", time(9)), {"firm": "Firm", "phone": "207-555-0100"}, {}, {}, (),
               Where("job.yaml", 1))


def random_house(rng: Random) -> Job:
    """One to four circuits of up to a dozen points each; every kind of breaker and point can come."""
    circuits, breakers, points = [], [], []
    for number in range(1, rng.randint(1, 4) + 1):
        breaker = Breaker(f"B{number}", rng.choice(list(BREAKERS.values())), str(number), 20.0, 1, _where(number))
        breakers.append(breaker)
        circuits.append(Circuit(f"P1-{number}", str(number), "P1", f"Part {number}", breaker.id, None, None, None,
                                _where(number)))
        made: list[Point] = []
        for index in range(rng.randint(1, 12)):
            kind = rng.choice(list(POINTS.values()))
            made.append(Point(f"K{number}X{index}", kind, f"P1-{number}", rng.choice(["Kitchen", "Hall", "Garage"]),
                              f"spot {number} {index}", _feed(rng, breaker, made), _where(100 * number + index)))
        made += _something_to_show(breaker, made)
        rng.shuffle(made)
        points += made
    return Job(FILE, (Panel("P1", "Garage", _where(1)),), tuple(breakers), tuple(circuits), tuple(points), ())


def _something_to_show(breaker: Breaker, made: list[Point]) -> list[Point]:
    """A receptacle for every device that would have no outlet to show for it."""
    more = []
    for index, thing in enumerate(made):
        if thing.kind.has_sides and not thing.kind.has_face:
            more.append(Point(f"Z{breaker.space}X{index}", POINTS["receptacle"], f"P1-{breaker.space}", "Hall",
                              f"end {breaker.space} {index}", Feed(thing.id, "load"), _where(100 * index)))
    if breaker.kind.opens and not any(point.kind.is_outlet for point in (*made, *more)):
        more.append(Point(f"Z{breaker.space}", POINTS["receptacle"], f"P1-{breaker.space}", "Hall", "end",
                          Feed(breaker.id), _where(99)))
    return more


def _where(line: int) -> Where:
    return Where("protection_map.yaml", line)


def _feed(rng: Random, breaker: Breaker, made: list[Point]) -> Feed:
    source = rng.choice([breaker, *made])
    return Feed(source.id, rng.choice(["line", "load"]) if source.kind.has_sides else None)


def wiring(job: Job) -> networkx.DiGraph:
    """The house as copper: terminals are nodes, contacts are edges named by the device that can open them.

    Written from the meaning of line and load terminals alone, apart from the code under test: a device's slots hang on
    the load side of its contacts.
    """
    graph = networkx.DiGraph()
    for breaker in job.breakers:
        graph.add_edge("street", (breaker.id, "out"), contact=breaker.id)
    for point in job.points:
        side = {"line": "in", "load": "out", None: "out"}[point.feed.side]
        graph.add_edge((point.feed.source, side), (point.id, "in"))
        graph.add_edge((point.id, "in"), (point.id, "out"), contact=point.id if point.kind.opens else None)
        graph.add_edge((point.id, "out" if point.kind.has_face else "in"), (point.id, "use"))
    return graph


def live(graph: networkx.DiGraph, opened: set[str]) -> set[str]:
    """The points that have power while these contacts are open."""
    open_edges = [(a, b) for a, b, contact in graph.edges(data="contact") if contact in opened]
    left = graph.copy()
    left.remove_edges_from(open_edges)
    return {node[0] for node in networkx.descendants(left, "street") if node[1] == "use"}


def walk_through(job: Job, rng: Random | None = None) -> Job:
    """The job with every test a careful walk would write down, told by the copper and not by the map's reasoning."""
    graph = wiring(job)
    outlets = [point for point in job.points if point.kind.is_outlet]
    rows: list[TripTest] = []

    def row(outlet: str, pressed: str, tripped: tuple[str, ...], opened: set[str]) -> None:
        on = live(graph, opened)
        dead = tuple(point.id for point in outlets if point.id not in on)
        stayed = tuple(point.id for point in outlets if point.id in on)
        rows.append(TripTest(len(rows), DAY, outlet, pressed, 120.0, "correct", tripped, dead, stayed, None, None,
                             True, "A. Walker", None, Where("trip_tests.csv", len(rows) + 2)))

    devices = [thing for thing in (*job.breakers, *job.points) if thing.kind.opens]
    for device in devices:
        row(device.id, "device", (device.id,), {device.id})
    for point in outlets:
        if point.kind.has_face:
            guards = [d.id for d in devices if d.kind.stops_shock and point.id not in live(graph, {d.id})]
            tripped = tuple(rng.sample(guards, rng.randint(1, len(guards)))) if guards and rng else tuple(guards)
            row(point.id, "tester", tripped, set(tripped))
    return replace(job, tests=tuple(rows))
