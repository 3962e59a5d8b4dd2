"""Rooms and positions of the map into records, and the walls of a room; the faults are in cases/reading."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings, strategies as st
from rooms import random_outline

from sitegen.errors import Where
from sitegen.job.language import in_language, untranslated
from sitegen.job.map.walls import clockwise, is_inside, is_outline, walls_of
from sitegen.job.records import Job
from sitegen.job.records.plans import Door, Position, Thing, WallRun

MAP = """panels: [{id: P1, at: Garage, room: garage, position: {wall: west, at: 3 ft, height: 5}}]
rooms:
  - room: Kitchen
    outline: 14 x 11 ft
    doors: [{wall: South, from: 3, to: 6, leads_to: {en: Hall, es: Pasillo}}]
    things: [{name: sink, wall: east, from: 5, to: 8}, {name: island, x: 5, y: 4, wide: 4, deep: 3}]
    runs: [{name: Sink counter, wall: east, from: 0, to: 10}, {name: Wall, wall: west, from: 0, to: 4, is: wall}]
  - {room: Garage, outline: [0 8, 6 8, 6 4, 10 4, 10 0, 0 0]}
circuits:
  - {number: 5, panel: P1, serves: All, breaker: {id: B5, space: 5, type: afci}, points: [
     {id: K1, is: receptacle, room: kitchen, at: wall, fed_from: B5, position: {wall: east, at: 4.5, height: 3.5}},
     {id: K2, is: receptacle, room: Kitchen, at: island, fed_from: B5, position: {x: 9, y: 5}},
     {id: K3, is: receptacle, room: Kitchen, at: wall, fed_from: B5, position: by the window}]}
"""
TRIPS = "date,outlet,pressed,tripped\n"


@pytest.fixture
def job(read: Callable[..., Job], folder: Path) -> Job:
    two = (folder / "job.yaml").read_text().replace("languages: [en]", "languages: [en, es]")
    return read(job=two, map=MAP, trips=TRIPS)


def test_every_key_of_a_room_reaches_its_record(job: Job) -> None:
    kitchen = job.rooms[0]
    assert kitchen.corners == ((0, 0), (14, 0), (14, 11), (0, 11))
    assert kitchen.doors == (Door("south", 3, 6, "Hall", True, Where("protection_map.yaml", 5)),)
    assert kitchen.things == (
        Thing("sink", 12, 5, 2, 3, Where("protection_map.yaml", 6), "east", 5, 8),
        Thing("island", 5, 4, 4, 3, Where("protection_map.yaml", 6)))
    assert [(run.name, run.start, run.end, run.counter) for run in kitchen.runs] == [
        ("Sink counter", 0, 10, True), ("Wall", 0, 4, False)]
    assert isinstance(kitchen.runs[0], WallRun)


def test_positions_are_read_on_walls_and_free(job: Job) -> None:
    """The east wall's left end is its upper one, for whoever faces it from inside."""
    assert job.point["K1"].drawn_at == Position("Kitchen", 14, 4.5, "east", 4.5, 3.5)
    assert job.point["K2"].drawn_at == Position("Kitchen", 9, 5)
    assert job.panel["P1"].drawn_at == Position("Garage", 0, 5, "west", 3, 5)
    assert job.point["K3"].drawn_at is None


def test_an_outline_may_go_round_either_way(job: Job) -> None:
    """Of two walls that face one way the leftmost, as one faces them, is 1: drawn on paper and read off by hand."""
    walls = {wall.name: (wall.left, wall.right) for wall in walls_of(job.rooms[1].corners)}
    assert walls == {"north": ((0, 0), (10, 0)), "east 1": ((10, 0), (10, 4)), "south 1": ((10, 4), (6, 4)),
                     "east 2": ((6, 4), (6, 8)), "south 2": ((6, 8), (0, 8)), "west": ((0, 8), (0, 0))}


def test_a_drawing_speaks_the_language_of_its_page(job: Job) -> None:
    assert in_language(job, "es").rooms[0].doors[0].leads_to == "Pasillo"
    assert in_language(job, "es").rooms[0].things[0].name == "sink [en]"
    lacking = [lack for lack in untranslated(job) if lack.what == "roomplan"]
    assert [(lack.id, lack.keys, lack.where.line) for lack in lacking] == [
        ("Kitchen", ("name",), 6), ("Kitchen", ("name",), 6), ("Kitchen", ("name",), 7), ("Kitchen", ("name",), 7)]


@pytest.mark.thorough
@settings(deadline=None)   # a busy machine is no fault
@given(st.integers(0, 10_000))
def test_walls_close_the_room_and_face_into_it(seed: int) -> None:
    """Foot by foot, one side of every wall is in the room and the other is not; the area says the same (shoelace)."""
    corners = random_outline(Random(seed))
    assert is_outline(corners) and clockwise(tuple(reversed(corners))) == corners == clockwise(corners)
    walls = walls_of(corners)
    assert len({wall.name for wall in walls}) == len(walls) == len(corners)
    for wall, after in zip(walls, (*walls[1:], walls[0])):
        assert wall.right == after.left
        for feet in (0.1, wall.length / 2, wall.length - 0.1):
            assert is_inside(corners, wall.at(feet, 0.05)) and not is_inside(corners, wall.at(feet, -0.05))
    area = sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]))) / 2
    step = 0.25
    cells = sum(is_inside(corners, ((i + 0.5) * step, (j + 0.5) * step)) for i in range(100) for j in range(100))
    assert cells * step * step == pytest.approx(area, rel=0.1)


@pytest.mark.parametrize("corners", [
    ((0, 0), (4, 0), (4, 4)), ((0, 0), (4, 4), (4, 0), (0, 4)), ((0, 0), (4, 0), (8, 0), (8, 4), (0, 4), (0, 2)),
    ((0, 0), (6, 0), (6, 4), (2, 4), (2, -2), (0, -2)), ((0, 0), (0, 0), (4, 0), (4, 4))])
def test_what_is_no_outline(corners: tuple[tuple[float, float], ...]) -> None:
    """Three corners, a slanted wall, a corner in the middle of a wall, a room that crosses itself, a wall of no length."""
    assert not is_outline(corners)
