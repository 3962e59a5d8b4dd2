"""Random houses for properties: takes a random generator; gives a Job, and the trip tests of a truthful walk-through."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, time
from functools import cache
from random import Random

import networkx

from sitegen.errors import Where
from sitegen.job.kinds import BREAKERS, POINTS
from sitegen.job.month_day import DAY_RULES, ReminderRule
from sitegen.job.records import Breaker, Circuit, Code, Feed, Job, JobFile, LabelStock, Panel, Point, TripTest
from sitegen.protection.examine import Report, examine
from sitegen.protection.maps.missing import MissingTest
from sitegen.protection.rounds import plan
from sitegen.protection.tree import Tree

DAY = date(2026, 5, 12)
FILE = JobFile("house", "A house", DAY, "https://house.example", Code(), ("en",), LabelStock(63.5, 38.1),
               ReminderRule(DAY_RULES["first saturday"], time(9)), {"firm": "Firm", "phone": "207-555-0100"}, {}, {}, (),
               Where("job.yaml", 1))


def random_house(rng: Random) -> Job:
    """One to four circuits of up to a dozen points each; every kind of breaker and point can come, a subpanel and a
    breaker that two circuits share among them."""
    circuits, breakers, points = [], [], []
    panels = [Panel("P1", "Garage", _where(1))]
    if rng.random() < 0.3:
        feeder = Breaker("B9", rng.choice(list(BREAKERS.values())), "9", 60.0, 2, _where(9))
        breakers.append(feeder)
        circuits.append(Circuit("P1-9", "9", "P1", "Shed", "B9", None, None, None, _where(9)))
        panels.append(Panel("P2", "Shed", _where(2), "B9"))
    for number in range(1, rng.randint(1, 4) + 1):
        panel = "P2" if len(panels) > 1 and (number == 1 or rng.random() < 0.5) else "P1"
        mates = [circuit.breaker for circuit in circuits if circuit.panel == panel and circuit.breaker != "B9"]
        if mates and rng.random() < 0.2:
            breaker = next(breaker for breaker in breakers if breaker.id == mates[-1])
        else:
            breaker = Breaker(f"B{number}", rng.choice(list(BREAKERS.values())), str(number), 20.0, 1, _where(number))
            breakers.append(breaker)
        circuits.append(Circuit(f"{panel}-{number}", str(number), panel, f"Part {number}", breaker.id, None, None, None,
                                _where(number)))
        made: list[Point] = []
        for index in range(rng.randint(1, 12)):
            kind = rng.choice(list(POINTS.values()))
            made.append(Point(f"K{number}X{index}", kind, f"{panel}-{number}", rng.choice(["Kitchen", "Hall", "Garage"]),
                              f"spot {number} {index}", _feed(rng, breaker, made), _where(100 * number + index)))
        made += _something_to_show(breaker, made, f"{panel}-{number}")
        rng.shuffle(made)
        points += made
    return Job(FILE, tuple(panels), tuple(breakers), tuple(circuits), tuple(points), ())


def _something_to_show(breaker: Breaker, made: list[Point], circuit: str) -> list[Point]:
    """A receptacle for every device that would have no outlet to show for it."""
    more = []
    for index, thing in enumerate(made):
        if thing.kind.has_sides and not thing.kind.has_face:
            more.append(Point(f"Z{circuit[3:]}X{index}", POINTS["receptacle"], circuit, "Hall",
                              f"end {circuit} {index}", Feed(thing.id, "load"), _where(100 * index)))
    if not any(point.kind.is_outlet for point in (*made, *more)):
        more.append(Point(f"Z{circuit[3:]}", POINTS["receptacle"], circuit, "Hall", "end",
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
    feeder = {circuit.breaker: job.panel[circuit.panel].fed_from for circuit in job.circuits}
    for breaker in job.breakers:
        source = (feeder[breaker.id], "out") if feeder[breaker.id] else "street"
        graph.add_edge(source, (breaker.id, "out"), contact=breaker.id)
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


def walk_through(job: Job, rng: Random | None = None, handles: bool = False) -> Job:
    """The job with every test a careful walk would write down, told by the copper and not by the map's reasoning.

    With `handles` every breaker was switched off and on as well.
    """
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
    lit = {device.id: live(graph, {device.id}) for device in devices}
    for device in devices:
        row(device.id, "device", (device.id,), {device.id})
    for point in outlets:
        if point.kind.has_face:
            guards = [d.id for d in devices if d.kind.stops_shock and point.id not in lit[d.id]]
            tripped = tuple(rng.sample(guards, rng.randint(1, len(guards)))) if guards and rng else tuple(guards)
            row(point.id, "tester", tripped, set(tripped))
    for breaker in job.breakers if handles else ():
        row(breaker.id, "breaker", (), {breaker.id})
    return replace(job, tests=tuple(rows))


def done(job: Job, tests: Iterable[MissingTest], day: date = DAY) -> Job:
    """The job with these tests made, as the copper answers: the tester opens the nearest guard."""
    graph, tree, rows = wiring(job), Tree(job), list(job.tests)
    for test in tests:
        guards = tree.protected_by(test.outlet) if test.pressed == "tester" else (test.outlet,)
        point = job.point.get(test.outlet)
        opened = guards[:1] if test.pressed == "device" or point.grounded else ()
        on = live(graph, set(opened))
        wiring_word = None if test.pressed == "device" else "correct" if point.grounded else "open ground"
        rows.append(TripTest(len(rows), day, test.outlet, test.pressed, 120.0, wiring_word, opened,
                             tuple(id for id in test.look_at if id not in on), tuple(id for id in test.look_at if id in on),
                             None, None, True, "A. Walker", None, Where("trip_tests.csv", len(rows) + 2)))
    return replace(job, tests=tuple(rows))


@cache
def holed_house(seed: int) -> Report:
    """A walked house of whose tests rows are struck out and cells emptied, examined; made once for all properties."""
    rng, job = Random(seed), walked_house(seed)
    keep = rng.uniform(0.2, 1)
    rows = (row for row in job.tests if rng.random() < keep)
    return examine(replace(job, tests=tuple(
        replace(row, went_dead=row.went_dead[::2]) if rng.random() < 0.2 else row for row in rows)))


@cache
def walked_house(seed: int) -> Job:
    """A random house with all tests of a careful walk, breaker handles included; made once for all properties."""
    rng = Random(seed)
    return walk_through(random_house(rng), rng, handles=True)


ROOMS = ("Kitchen", "Dining", "Pantry", "Hall", "Bath", "Bedroom", "Living room", "Garage", "Laundry", "Outdoors")


def whole_house(rng: Random, circuits: int) -> Job:
    """A house of so many branch circuits as they are built: lights here and there, one to six outlets, none to three devices one
    behind another or side by side, a freezer and a furnace; in one of five a subpanel."""
    panels, breakers, made, points = [Panel("P1", "Garage", _where(1))], [], [], []
    if rng.random() < 0.2:
        panels.append(Panel("P2", "Shed", _where(2), "B99"))
        breakers.append(Breaker("B99", BREAKERS["standard"], "99", 60.0, 2, _where(99)))
        made.append(Circuit("P1-99", "99", "P1", "Shed", "B99", None, None, None, _where(99)))
    for number in range(1, circuits + 1):
        panel = "P2" if len(panels) > 1 and number <= 3 else "P1"
        kind = rng.choices(["standard", "afci", "gfci", "dual-function"], [5, 3, 1, 1])[0]
        breakers.append(Breaker(f"B{number}", BREAKERS[kind], str(number), 20.0, 1, _where(number)))
        made.append(Circuit(f"{panel}-{number}", str(number), panel, f"Part {number}", f"B{number}", None, None, None, _where(number)))
        points += _branch(rng, made[-1], number)
    return Job(FILE, tuple(panels), tuple(breakers), tuple(made), tuple(points), ())


def _branch(rng: Random, circuit: Circuit, number: int) -> list[Point]:
    lights = rng.random() < 0.25
    devices = rng.choices([0, 1, 2, 3], [12, 5, 2, 1])[0]
    kinds = ["light" if lights else "receptacle"] * rng.randint(1, 6)
    for _ in range(devices):
        kinds.insert(rng.randint(0, len(kinds)), rng.choices(["gfci receptacle", "faceless gfci"], [4, 1])[0])
    room, run = rng.choice(ROOMS), [(circuit.breaker, None)]
    points: list[Point] = []
    for index, name in enumerate(kinds):
        source, side = rng.choice(run[-2:])
        use = rng.choice([None, None, None, "freezer", "refrigerator", "furnace"]) if index == 0 and not lights else None
        points.append(Point(f"K{number}X{index}", POINTS[name], circuit.key, room, f"spot {index}", Feed(source, side),
                            _where(100 * number + index), use=use))
        sides = ["line", "load", "load", "load"] if POINTS[name].has_sides else [None]
        run.append((points[-1].id, rng.choice(sides)))
    for device in [point for point in points if point.kind.has_sides]:
        if not device.kind.has_face and not any(point.feed == Feed(device.id, "load") for point in points):
            points.append(Point(f"Z{device.id}", POINTS["receptacle"], circuit.key, room, "behind", Feed(device.id, "load"),
                                _where(100 * number + 50 + len(points))))
    return points


def walked_in_rounds(job: Job, true: Job | None = None, part: slice = slice(None), lit_again: bool = True) -> Job:
    """The job with a reading at every receptacle, the rounds planned on its map, and a last walk with all on, as the copper of
    `true` tells it; `part`: which of the rounds were walked."""
    made, tree = plan(Tree(job)), Tree(job)
    graph, outlets = wiring(true or job), [point for point in job.points if point.kind.is_outlet]
    rows: list[TripTest] = []

    def row(outlet: str, pressed: str, tripped: tuple[str, ...], dead: list[str], stayed: list[str], together: tuple[str, ...] = ()) -> None:
        read = pressed == "none"
        wiring_read = "correct" if read and job.point[outlet].grounded else "open ground" if read else None
        rows.append(TripTest(len(rows), DAY, outlet, pressed, 120.0 if read else None, wiring_read, tripped, tuple(dead), tuple(stayed),
                             None, None, None if read else True, "A. Walker", None, Where("trip_tests.csv", len(rows) + 2), together=together))

    for point in outlets:
        if point.kind.has_face:
            row(point.id, "none", (), [], [point.id])
    walks = [(one.open, one.own_test) for one in made.rounds] + [((id,), (id,) if tree.kind(id).opens else ()) for id in made.alone]
    for opened, own_test in walks[part]:
        on = live(graph, set(opened))
        dead, stayed = [p.id for p in outlets if p.id not in on], [p.id for p in outlets if p.id in on]
        if len(opened) > 1:
            row(" ".join(sorted(opened)), "round", own_test, dead, stayed, opened)
        else:
            row(opened[0], "device" if own_test else "breaker", own_test, dead, stayed)
    if lit_again:
        row(outlets[0].id, "none", (), [], [point.id for point in outlets])
    return replace(job, tests=tuple(rows))


def some_house(seed: int) -> Job:
    """Every kind of thing in a few circuits, or a whole house as they are built."""
    rng = Random(seed)
    return random_house(rng) if seed % 2 else whole_house(rng, rng.randint(6, 20))


def wrong(job: Job, rng: Random) -> Job:
    """The map with one fault: a feed elsewhere on the circuit, the other side of a device, or two names exchanged."""
    point = rng.choice(job.points)
    if rng.random() < 0.4:
        other = rng.choice([p for p in job.points if p.kind == point.kind])
        names = {point.id: other.id, other.id: point.id}

        def name(id: str) -> str:
            return names.get(id, id)
        return replace(job, points=tuple(replace(p, id=name(p.id), feed=replace(p.feed, source=name(p.feed.source)))
                                         for p in job.points))
    below = {*Tree(job).below(point.id), point.id}
    sources = [p for p in job.points if p.circuit == point.circuit and p.id not in below]
    source = rng.choice([job.breaker[job.circuit[point.circuit].breaker], *sources])
    feed = Feed(source.id, rng.choice(["line", "load"]) if source.kind.has_sides else None)
    return replace(job, points=tuple(replace(p, feed=feed) if p is point else p for p in job.points))


def small(*circuits: str) -> Job:
    """A job in a few words: `B1: K1=gfci receptacle B1, K2=receptacle K1 load`."""
    breakers, made, points = [], [], []
    for number, text in enumerate(circuits, 1):
        breaker, _, listed = text.partition(": ")
        breakers.append(Breaker(breaker, BREAKERS["standard"], str(number), 20.0, 1, Where("m", number)))
        made.append(Circuit(f"P1-{number}", str(number), "P1", f"Part {number}", breaker, None, None, None, Where("m", number)))
        for item in listed.split(", "):
            id, _, rest = item.partition("=")
            kind = next(name for name in sorted(POINTS, key=len, reverse=True) if rest.startswith(name))
            source, *side = rest.removeprefix(kind).split()
            points.append(Point(id, POINTS[kind], made[-1].key, "Hall", f"spot {id}", Feed(source, side[0] if side else None),
                                Where("m", 10 + len(points))))
    return Job(FILE, (Panel("P1", "Garage", Where("m", 1)),), tuple(breakers), tuple(made), tuple(points), ())
