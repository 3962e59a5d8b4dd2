"""One-line drawings: no line meets another or a word, no word another; solid where tests showed it; a way from every id to its row."""

from dataclasses import replace
from itertools import combinations
from math import log2
from random import Random

import networkx
import pytest
from house import ROOT, report_of, small_job
from houses import random_house, walk_through

from sitegen.binder.desk import Desk
from sitegen.binder.site.one_line import Node, one_line
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.drawing.one_line import across, lanes, upright
from sitegen.publish.drawing.one_line_svg import HIGHEST, PHONE, SHEET, one_line_svg
from sitegen.publish.drawing.shapes import Area, Box, stroke
from sitegen.publish.theme import open_theme

WORDS = open_theme().words("en")
MAP = "protection_map.yaml"


def drawing(report, key):
    desk = Desk(report, WORDS)
    return one_line(desk, report.job.circuit[key], "")


def kitchen(points: list[str]) -> str:
    """A map of one circuit; a point is written without its room and spot."""
    rows = "".join(f"      - {{{point}, room: Kitchen, at: \"left of the sink, a hand above the counter, place {n}\", use: coffee maker}}\n"
                   for n, point in enumerate(points))
    return ("panels:\n  - {id: P1, at: Garage}\n  - {id: P2, at: Shed, fed_from: B9}\ncircuits:\n"
            "  - {number: 9, panel: P1, serves: Shed, breaker: {id: B9, space: 9, amps: 60, type: standard, poles: 2}, points: []}\n"
            f"  - number: 5\n    panel: P2\n    serves: Bench\n    breaker: {{id: B5, space: 5, amps: 20, type: afci}}\n    points:\n{rows}")


FORTY = ["id: K1, is: gfci receptacle, fed_from: B5, joint: pigtail, access: easy, length_ft: 46"] + [
    f"id: K{n}, is: {'switch' if n % 7 == 0 else 'receptacle'}, fed_from: {'K1 load' if n < 4 else f'K{n // 2 + 1}'}, length_ft: {n}, access: attic"
    for n in range(2, 41)]
DEEP = [f"id: K{n}, is: receptacle, fed_from: {f'K{n - 1}' if n > 1 else 'B5'}, length_ft: 9" for n in range(1, 16)] + [
    f"id: D{n}, is: light, fed_from: {f'D{n - 1}' if n > 1 else 'K3'}" for n in range(1, 12)] + [
    f"id: E{n}, is: light, fed_from: {f'E{n - 1}' if n > 1 else 'D4'}" for n in range(1, 10)]
SERIES = ["id: K1, is: gfci receptacle, fed_from: B5", "id: K2, is: gfci receptacle, fed_from: K1 load", "id: D1, is: light, fed_from: K2 line",
          "id: F1, is: faceless afci, fed_from: K2 load, length_ft: 0", "id: K3, is: receptacle, fed_from: F1 load", "id: D2, is: light, fed_from: K1 line",
          "id: OUTSIDE9, is: receptacle, fed_from: K1 line", "id: Q1, is: receptacle, fed_from: unknown", "id: Q2, is: receptacle, fed_from: Q1"]
LINES = [f"id: K{n}, is: gfci receptacle, fed_from: {f'K{n - 1} line' if n > 1 else 'B5'}" for n in range(1, 9)] + [
    f"id: L{n}, is: receptacle, fed_from: K{n} load" for n in range(1, 9)]
MAPS = {"forty points": FORTY, "deep branches": DEEP, "three devices in series": SERIES, "eight devices fed from LINE": LINES}


def drawn_of_map(read, points):
    report = examine(read(map=kitchen(points), trips="date,outlet,pressed,tripped\n"))
    return [drawing(report, key) for key in ("P2-5", "P1-9")]


def sound(sheet, paper):
    """Every word inside, none on another, on a tag that is not its own, or on a line; no two lines meet but where they part."""
    groups = [[shape for shape in group.shapes if not hasattr(shape, "points")] for group in sheet.groups]
    boxes = [(word.box, word.text) for word in sheet.words]
    for (one, text), (other, more) in combinations(boxes, 2):
        assert not one.meets(other), (text, more)
    for box, text in boxes:
        assert box.left >= 0 and box.right <= sheet.wide + 0.01 and 0 <= box.top and box.bottom <= sheet.high + 0.01, text
    areas = [(index, shape.box) for index, shapes in enumerate(groups) for shape in shapes if isinstance(shape, Area)]
    for index, shapes in enumerate(groups):
        for shape in shapes:
            assert all(other == index or not box.meets(shape.box) for other, box in areas), shape
    for line in sheet.lines:
        for ink in stroke(line.points, 1):
            hit = [text for box, text in boxes if ink.meets(box.grown(-0.5)) and not any(
                area.grown(0.6).meets(box) and area.high >= box.high * 0.8 and abs(area.middle[0] - box.middle[0]) < 0.1 for _, area in areas)]
            assert not hit, (line, hit)
    pieces = [piece for line in sheet.lines for piece in zip(line.points, line.points[1:])]
    for one, other in combinations(pieces, 2):
        if one[0][0] == one[1][0] and other[0][0] == other[1][0] == one[0][0]:      # both down one lane: one ends where the next begins
            assert max(one[0][1], other[0][1]) >= min(one[1][1], other[1][1]) - 0.01, (one, other)
        elif one[0][0] != one[1][0] or other[0][0] != other[1][0]:
            across_, down = (one, other) if one[0][0] != one[1][0] else (other, one)
            inside = across_[0][0] < down[0][0] < across_[1][0] and down[0][1] < across_[0][1] < down[1][1]
            assert not inside, (one, other)


@pytest.mark.parametrize("name", MAPS)
def test_nothing_meets_in_a_drawing_on_a_phone_and_on_paper(read, name):
    for drawn in drawn_of_map(read, MAPS[name]):
        sound(upright(drawn, PHONE), False)
        sound(across(drawn, SHEET), True)


def test_a_drawing_higher_than_a_page_is_cut_between_its_rows(read):
    drawn, _ = drawn_of_map(read, FORTY)
    sheet = across(drawn, SHEET)
    pieces = sheet.pieces(HIGHEST)
    assert len(pieces) > 1 and pieces[0][0] == 0 and pieces[-1][1] == sheet.high
    assert all(bottom - top <= HIGHEST for top, bottom in pieces) and all(a[1] == b[0] for a, b in zip(pieces, pieces[1:]))
    for box in (word.box for word in sheet.words):
        assert any(top <= box.top and box.bottom <= bottom + 0.01 for top, bottom in pieces), box
    svg = one_line_svg(drawn)
    assert svg.count("<svg") == len(pieces) and all(svg.count(f">{node.id}</text>") == 1 for node in drawn.nodes)


def test_nothing_meets_in_the_drawings_of_the_example_and_of_random_houses(houses):
    jobs = [read_job(ROOT / "example_job")] + [walk_through(random_house(Random(f"one line {seed}"))) for seed in range(houses // 5)]
    for job in jobs:
        report = examine(job)
        for circuit in job.circuits:
            drawn = drawing(report, circuit.key)
            sound(upright(drawn, PHONE), False)
            sound(across(drawn, SHEET), True)


def test_a_drawing_has_few_lanes_and_each_run_goes_straight_down():
    """The heavier way on stays in its lane: the bound is that of heavy paths (Sleator and Tarjan 1983, from memory)."""
    comb = networkx.Graph([(n, n + 1) for n in range(20)] + [(n, 100 + n) for n in range(20)])
    trees = [(networkx.random_labeled_tree(Random(seed).randint(1, 60), seed=seed), 0) for seed in range(200)] + [(comb, 0)]
    for tree, root in trees:
        order = list(networkx.dfs_preorder_nodes(tree, root))
        above = {child: parent for parent, child in networkx.dfs_edges(tree, root)}
        nodes = [Node(str(id), "name", order.index(above[id]) if id in above else None, True, (), "", "") for id in order]
        placed = lanes(nodes)
        assert sorted(one.index for one in placed) == list(range(len(nodes)))
        assert max(one.lane for one in placed) <= log2(len(nodes))
        at = {one.index: (row, one.lane) for row, one in enumerate(placed)}
        for one in placed:
            if one.node.above is not None:
                row, lane = at[one.node.above]
                assert row < at[one.index][0] and one.lane == lane + one.branch
        for source in range(len(nodes)):
            assert sum(not one.branch for one in placed if one.node.above == source) == (1 if any(n.above == source for n in nodes) else 0)


BASE_SOLID = {"K1": True, "K2": True, "K3": False, "K4": True, "D1": False, "B5": False}


def test_solid_is_what_tests_showed_and_the_order_behind_the_same_devices_is_dashed(tmp_path):
    """K3 stands on K2's splice: no test can tell that from K2 on K3's."""
    report = report_of(small_job(tmp_path / "job"))
    shown = {node.id: node.shown for node in drawing(report, "P1-5").nodes if node.id}
    assert shown == BASE_SOLID
    untested = examine(replace(report.job, tests=()))
    assert not any(node.shown for node in drawing(untested, "P1-5").nodes)


def test_solid_lines_agree_with_the_copper_of_random_houses(houses):
    """What is drawn solid is dead in the copper with the breaker or device it is drawn behind open (networkx)."""
    from houses import live, wiring
    seen = 0
    for seed in range(houses // 2):
        job = walk_through(random_house(Random(f"solid {seed}")), handles=True)
        report, copper = examine(job), wiring(job)
        for circuit in job.circuits:
            nodes = drawing(report, circuit.key).nodes
            for node in nodes:
                point = job.point.get(node.id)
                if node.shown and point:
                    dark = {id for id in job.point if id not in live(copper, {point.feed.source})}
                    assert {point.id, *report.tree.below(point.id)} & dark, (seed, node.id)
                    assert point.feed.side == "load" or point.feed.source in job.breaker
                    seen += 1
    assert seen > houses / 2


def test_line_and_load_stand_beside_their_lines_and_every_id_leads_to_its_row(example):
    report = examine(read_job(example))
    drawn = drawing(report, "P1-5")
    nodes = {node.id: node for node in drawn.nodes}
    assert [text for text, _ in nodes["D1"].way] == ["K1 LINE", "22 ft"] and [text for text, _ in nodes["K5"].way] == ["LOAD", "5 ft"]
    assert [text for text, _ in nodes["K4"].way] == ["24 ft", "to LINE"]
    assert nodes["K2"].joint == "P" and nodes["K4"].joint == "F" and nodes["K5"].joint == ""
    assert nodes["D2"].access == "behind something" and nodes["D2"].alarm == "changed 18 May 2027"
    assert nodes["D1"].facts == "easy · 121.3 V, 8 May 2026 · test 18 May 2027" and nodes["K5"].facts == "easy · 120.9 V · test 18 May 2027"
    svg = one_line_svg(drawn, lambda folder: f"../{folder}/index.html")
    for id in ("D1", "K1", "K2", "D2", "K3", "K4", "K5"):
        assert f'<a href="#{id}">' in svg
    assert "<a" not in one_line_svg(drawn)
    legs = {node.id: node.way[-1][0] for node in drawing(report, "P1-6").nodes if node.way}
    assert (legs["L8"], legs["M1"], legs["L5"]) == ("S", "H", "S")
    assert {node.id: node.way[-1][0] for node in drawing(report, "P1-15").nodes if node.way}["J2"] == "S"


def test_a_feeder_leads_to_the_circuits_of_its_panel(read):
    _, feeder = drawn_of_map(read, SERIES)
    assert [(node.id, node.href) for node in feeder.nodes] == [("B9", "service-record/B9"), ("P2", ""), ("B5", "service-record/P2-5")]


@pytest.mark.browser
@pytest.mark.parametrize("name", MAPS)
def test_words_come_out_no_wider_than_measured_and_meet_nowhere_in_a_browser(read, chromium, name):
    theme = open_theme()
    for drawn in drawn_of_map(read, MAPS[name]):
        page = chromium.new_page(viewport={"width": 360, "height": 560})
        page.set_content(f"<style>{theme.style('site')}</style><body class=trade><main>{one_line_svg(drawn, str)}</main>")
        words = page.evaluate("""() => [...document.querySelectorAll('.one-line text')].map(t => { const b = t.getBBox();
            return {text: t.textContent, left: b.x, top: b.y, wide: b.width, high: b.height,
                    size: parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a}})""")
        assert words and min(word["size"] for word in words) >= 13
        boxes = [Box(word["left"], word["top"] + word["high"] * 0.15, word["wide"], word["high"] * 0.7) for word in words]
        for (one, a), (other, b) in combinations(zip(boxes, words), 2):
            assert not one.meets(other), (a["text"], b["text"])
        assert max(box.right for box in boxes) <= 328 and page.evaluate("document.documentElement.scrollWidth") <= 360
        page.close()


@pytest.mark.browser
def test_a_tap_on_a_point_leads_to_its_row_and_on_a_breaker_to_its_page(bound, chromium):
    context = chromium.new_context(viewport={"width": 360, "height": 560}, has_touch=True)
    page = context.new_page()
    for id in ("D1", "K3"):
        page.goto((bound / "site" / "service-record" / "P1-5" / "index.html").as_uri())
        page.tap(f".one-line a[href='#{id}']")
        page.wait_for_url(f"**#{id}")
        assert -1 <= page.locator(f"tr[id='{id}']").bounding_box()["y"] < 560
    page.tap(".one-line a[href$='service-record/B5/index.html']")
    page.wait_for_url("**/B5/index.html")
    context.close()
