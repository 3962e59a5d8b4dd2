"""The drawings as shapes: what they show is what was shown, and every word has a place of its own."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from random import Random

import pytest
from houses import live, wiring
from hypothesis import given, strategies as st
from rooms import random_plan, random_room, random_strip

from sitegen.binder.desk import Desk
from sitegen.binder.drawing import Drawings, StripScene
from sitegen.binder.site.place import place_page
from sitegen.job import read_job
from sitegen.job.map.walls import is_inside, walls_of
from sitegen.protection.examine import Report, examine
from sitegen.publish.drawing.room import room_picture
from sitegen.publish.drawing.shapes import WIDE, Area, Box, Line, Picture
from sitegen.publish.drawing.svg import measure, picture_of
from sitegen.publish.drawing.wall import spans, strip_picture
from sitegen.publish.drawing.way import counter_boxes, thing_boxes, way
from sitegen.publish.theme import open_theme


@pytest.fixture(scope="module")
def report(example) -> Report:
    return examine(read_job(example))


def of(report: Report, id: str, language: str = "en") -> Drawings:
    return place_page(Desk(report, open_theme().words(language)), id).drawings


def check_words(picture: Picture) -> None:
    """Inside the picture, and no two in one place."""
    for word in picture.words:
        assert 0 <= word.box.left and word.box.right <= WIDE and 0 <= word.box.top and word.box.bottom <= picture.high
        assert word.box.wide >= measure(word.text, word.look != "word") - 0.001
    for one, other in combinations([word.box for word in picture.words], 2):
        across = min(one.right, other.right) - max(one.left, other.left)
        down = min(one.bottom, other.bottom) - max(one.top, other.top)
        assert across <= 0.001 or down <= 0.001


@given(st.integers(0, 100_000))
def test_words_of_any_room_keep_apart(seed: int) -> None:
    """And off its walls; the device is drawn once; the panel and the way in are written, or there is no picture."""
    scene = random_room(Random(seed))
    picture = room_picture(scene, measure)
    if picture is None:
        return
    check_words(picture)
    assert [word.text for word in picture.words if word.look == "id main"] == [scene.target]
    assert sum(isinstance(shape, Area) and shape.look == "tag main" for shape in picture.shapes) == 1
    said = " ".join(word.text for word in picture.words)
    assert not scene.panels or scene.panel_word.split()[0] in said
    assert not (scene.doors and scene.doors[0]) or scene.here or scene.doors[0].split()[0] in said
    walls = [shape for shape in picture.shapes if isinstance(shape, Line) and shape.look == "wall"]
    for word in picture.words:
        for wall in walls:
            (ax, ay), (bx, by) = wall.points
            line = Box(min(ax, bx), min(ay, by), abs(bx - ax) + 0.01, abs(by - ay) + 0.01)
            assert word.look == "id main" or not word.box.meets(line), word.text


def test_most_rooms_get_a_picture() -> None:
    """The rule falls back seldom: 100 random rooms with Spanish words."""
    drawn = sum(room_picture(random_room(Random(seed)), measure) is not None for seed in range(100))
    assert drawn > 90


@given(st.integers(0, 100_000))
def test_a_way_goes_through_free_floor(seed: int) -> None:
    rng = Random(seed)
    plan = random_plan(rng)
    walls = walls_of(plan.corners)
    start, goal = (rng.choice(walls).at(1.0) for _ in range(2))
    spots = way(plan, start, goal)
    for (ax, ay), (bx, by) in zip(spots, spots[1:]):
        for share in range(0, 101):
            x, y = ax + (bx - ax) * share / 100, ay + (by - ay) * share / 100
            assert is_inside(plan.corners, (x, y))
            assert not any(left < x < right and top < y < bottom
                           for left, top, right, bottom in (*counter_boxes(plan), *thing_boxes(plan)))


def brackets(picture: Picture, look: str) -> list[tuple[float, float]]:
    return [(shape.points[0][0], shape.points[-1][0]) for shape in picture.shapes
            if isinstance(shape, Line) and shape.look == look]


def middles(picture: Picture) -> dict[str, float]:
    return {word.text: word.box.middle[0] for word in picture.words if word.look in ("id", "id main")}


def covered(picture: Picture, scene: StripScene, look: str) -> list[str]:
    """The outlets, each once for every bracket that it stands in."""
    at = middles(picture)
    outlets = [mark.id for mark in scene.marks if mark.is_outlet]
    return sorted(id for id in outlets for left, right in brackets(picture, look) if left < at[id] < right)


@given(st.integers(0, 100_000))
def test_any_strip_shows_every_outlet_once_in_its_order_under_its_own_brackets(seed: int) -> None:
    scene = random_strip(Random(seed))
    picture = strip_picture(scene, measure)
    if picture is None:
        return
    check_words(picture)
    at = middles(picture)
    assert sorted(word.text for word in picture.words if word.look.startswith("id")) == sorted(m.id for m in scene.marks)
    places = [at[mark.id] for mark in scene.marks]
    assert places == sorted(places)
    assert covered(picture, scene, "bracket main") == sorted(scene.whole.outlets)
    assert covered(picture, scene, "bracket") == sorted(id for part in scene.parts for id in part.outlets)


def test_an_outlet_that_stays_on_breaks_a_bracket() -> None:
    """A device without slots does not: nothing there goes off or stays on."""
    scene = random_strip(Random(1))
    marks = tuple(replace(scene.marks[0], id=id, is_outlet=id != "F1") for id in ("K1", "F1", "K2", "K3", "K4"))
    assert spans(replace(scene.whole, outlets=frozenset(("K1", "K2", "K4"))), marks) == (("K1", "K2"), ("K4", "K4"))


def test_too_many_outlets_give_no_picture() -> None:
    scene = random_strip(Random(1))
    marks = tuple(replace(scene.marks[0], id=f"KITCH-{n}") for n in range(10))
    assert strip_picture(replace(scene, marks=marks), measure) is None


def test_every_device_of_the_example_has_its_room_and_every_breaker_its_panel(report: Report) -> None:
    for language in ("en", "es"):
        for device in report.tree.devices:
            found = of(report, device, language)
            assert (found.panel if device in report.job.breaker else found.room) and found.heading
            for scene in found.scenes:
                picture = picture_of(scene)
                assert picture, (device, scene.heading)
                check_words(picture)


def test_an_outlet_leads_to_the_room_of_its_device(report: Report) -> None:
    k3, k5, k1 = (of(report, id).room for id in ("K3", "K5", "K1"))
    assert (k3.plan.room, k3.target, k3.here) == ("Pantry", "K1", None)
    assert (k5.plan.room, k5.target, k5.here) == ("Kitchen", "K4", report.job.point["K5"].drawn_at)
    assert k1.here is None and of(report, "K3").strips == ()


def test_brackets_are_the_dead_sets_of_the_copper(report: Report) -> None:
    """Which outlets lose power is told by the house as a graph of copper (networkx), not by the map's reasoning."""
    graph = wiring(report.job)
    lit = live(graph, set())
    checked = 0
    for device in report.tree.devices:
        for scene in of(report, device).strips:
            outlets = {mark.id for mark in scene.marks if mark.is_outlet}
            assert scene.whole.outlets == outlets & (lit - live(graph, {device}))
            for bracket in scene.parts:
                inner = [id for id in report.tree.devices if f" {id} " in f"{bracket.says} "]
                assert bracket.outlets == outlets & (lit - live(graph, {inner[-1]}))
            assert ("all off" in scene.whole.says) == (scene.whole.outlets == outlets)
            checked += 1
    assert checked >= 8


def test_nothing_that_was_not_shown_has_a_bracket(report: Report) -> None:
    """Without the rows that looked at K3, the same strip has no bracket over it."""
    rows = tuple(replace(row, went_dead=tuple(id for id in row.went_dead if id != "K3")) for row in report.job.tests
                 if row.outlet != "K3")
    less = of(examine(replace(report.job, tests=rows)), "K1")
    shown = {id for scene in less.strips for id in scene.whole.outlets}
    assert "K3" not in shown and "K2" in shown
    assert of(examine(replace(report.job, tests=())), "K1").strips == ()


def test_a_map_without_rooms_has_no_drawing(report: Report) -> None:
    bare = replace(report.job, rooms=(), points=tuple(replace(point, drawn_at=None) for point in report.job.points),
                   panels=tuple(replace(panel, drawn_at=None) for panel in report.job.panels))
    assert of(examine(bare), "K1").scenes == ()


def test_a_drawing_says_in_words_what_it_shows(report: Report) -> None:
    found = of(report, "K1")
    assert found.room.says.startswith("Pantry, from above: K1, ")
    for words in ("Start: Kitchen", "shelf", "tall cupboard"):
        assert words in found.room.says
    assert "K5 stand mixer, K4 electric kettle" in found.strips[-1].says
    assert "off with K4: K5, K4" in found.strips[-1].says
