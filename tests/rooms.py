"""Random rooms for drawings: takes a random generator; gives a plan that the reader would accept, and scenes in it."""

from __future__ import annotations

from random import Random

from sitegen.binder.drawing import Bracket, RoomScene, StripScene, WallMark
from sitegen.errors import Where
from sitegen.job.map.walls import Spot, Wall, is_inside, walls_of
from sitegen.job.records.plans import Door, Position, RoomPlan, Thing, WallRun

WHERE = Where("protection_map.yaml", 1)
NAMES = ("sink", "range", "refrigerator", "fregadero", "lavavajillas", "refrigeradora de la cocina", "calentador de agua",
         "mesa", "congelador", "estante de la despensa", "triturador", "encimera de la derecha")
PLACES = ("Hall", "Pasillo", "Cuarto de lavado", "Comedor de diario", "Estacionamiento", "Patio")


def tenths(rng: Random, least: float, most: float) -> float:
    return round(rng.uniform(least, most), 1)


def random_outline(rng: Random) -> tuple[Spot, ...]:
    """A rectangle, or an L in one of its four turns."""
    wide, deep = tenths(rng, 4, 24), tenths(rng, 4, 24)
    if rng.random() < 0.5:
        return (0, 0), (wide, 0), (wide, deep), (0, deep)
    x, y = round(wide / 2, 1), round(deep / 2, 1)
    return rng.choice((
        ((0, 0), (wide, 0), (wide, y), (x, y), (x, deep), (0, deep)),
        ((0, 0), (x, 0), (x, y), (wide, y), (wide, deep), (0, deep)),
        ((0, 0), (wide, 0), (wide, deep), (x, deep), (x, y), (0, y)),
        ((x, 0), (wide, 0), (wide, deep), (0, deep), (0, y), (x, y))))


def random_plan(rng: Random) -> RoomPlan:
    corners = random_outline(rng)
    walls = walls_of(corners)
    doors = []
    for wall in rng.sample(walls, rng.randint(1, 3)):
        if wall.length > 2:
            start = tenths(rng, 0, wall.length - 2)
            doors.append(Door(wall.name, start, start + 2, rng.choice((*PLACES, None)), not doors, WHERE))
    things = [thing for _ in range(rng.randint(0, 5)) if (thing := _thing(rng, corners))]
    bare = [wall for wall in walls if wall.name not in {door.wall for door in doors} and wall.length > 3]
    runs = [WallRun("run", wall.name, 0, wall.length, True, 2.0, WHERE) for wall in bare[:rng.randint(0, 2)]]
    return RoomPlan("Kitchen", corners, tuple(doors), tuple(things), tuple(runs), WHERE)


def _thing(rng: Random, corners: tuple[Spot, ...]) -> Thing | None:
    x, y, wide, deep = tenths(rng, 0, 20), tenths(rng, 0, 20), tenths(rng, 0.5, 4), tenths(rng, 0.5, 4)
    ends = [(x, y), (x + wide, y), (x, y + deep), (x + wide, y + deep)]
    inside = all(is_inside(corners, end) for end in ends) and not any(
        x < cx < x + wide and y < cy < y + deep for cx, cy in corners)
    return Thing(rng.choice(NAMES), x, y, wide, deep, WHERE) if inside else None


def on_wall(rng: Random, wall: Wall) -> Position:
    at = tenths(rng, 0, wall.length - 0.1)
    return Position("Kitchen", *wall.at(at), wall.name, at)


def random_room(rng: Random) -> RoomScene:
    plan = random_plan(rng)
    walls = walls_of(plan.corners)
    at, panel, here = (on_wall(rng, rng.choice(walls)) for _ in range(3))
    return RoomScene("Kitchen", "in words", plan, rng.choice(("K1", "K12-LONG", "breaker 13")), at,
                     tuple(door.leads_to or "" for door in plan.doors), (panel,) if rng.random() < 0.5 else (),
                     rng.choice(("Breaker panel", "Panel de breakers")), here if rng.random() < 0.3 else None,
                     "Usted está aquí")


def random_strip(rng: Random) -> StripScene:
    run = WallRun("run", "north", tenths(rng, 0, 4), tenths(rng, 6, 20), rng.random() < 0.7, 2.0, WHERE)
    length = run.end - run.start
    places = sorted(tenths(rng, 0, length) for _ in range(rng.randint(1, 8)))
    marks = tuple(WallMark(f"{rng.choice(('K', 'DW', 'KITCH-'))}{n}", rng.choice(("outlet", "buttons", "plate", "fixed")), at,
                       rng.random() < 0.2, n == 0 or rng.random() < 0.9) for n, at in enumerate(places))
    outlets = [mark.id for mark in marks if mark.is_outlet]
    things = []
    for _ in range(rng.randint(0, 5)):
        start = tenths(rng, run.start - 1, run.end - 0.5)
        things.append(Thing(rng.choice(NAMES), start, 0, 2, 2, WHERE, "north", start, start + 2))

    def some() -> frozenset[str]:
        return frozenset(rng.sample(outlets, rng.randint(1, len(outlets))))

    whole = Bracket(rng.choice(("all off with K1", "con breaker 13 se apaga todo esto")), some())
    parts = tuple(Bracket(f"con K{n} se apaga", some()) for n in range(rng.randint(0, 3)))
    return StripScene("strip", "in words", run, marks, tuple(things), marks[0].id, whole, parts)
