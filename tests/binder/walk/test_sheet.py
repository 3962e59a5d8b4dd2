"""The walk-through sheet: its order against brute force, its boxes empty, its columns those of trip_tests.csv, its paper."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from itertools import permutations
from pathlib import Path
from random import Random

import html5lib
import networkx
import pytest
from house import BASE, report_of, small_job
from houses import walked_house
from pypdf import PdfReader

from sitegen.binder.desk import Desk
from sitegen.binder.walk.asks import Ask, all_tests, missing_tests
from sitegen.binder.walk.sheet import ends, rooms_walked, walk_sheet
from sitegen.binder.walking import doorways, passed, shortest_walk
from sitegen.cli import main
from sitegen.errors import JobUnreadable, Where
from sitegen.job import read_job
from sitegen.job.records.plans import Door, RoomPlan
from sitegen.job.trips import COLUMNS
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

WORDS = open_theme().words("en")


@pytest.fixture(scope="module")
def small():
    return report_of(BASE)


def one_each(here: str, there: str) -> int:
    return int(here != there)


def random_ways(rng: Random, most: int) -> list[tuple[str, str]]:
    rooms = "ABCDEF"[:rng.randint(1, 6)]
    return [(start := rng.choice(rooms), start if rng.random() < 0.5 else rng.choice(rooms))
            for _ in range(rng.randint(1, most))]


def random_steps(rng: Random):
    """Doorways in a random house: the shortest way in a tree of rooms with a few doors more, told by networkx."""
    graph = networkx.random_labeled_tree(6, seed=rng.randrange(10 ** 6))
    graph.add_edge(rng.randrange(6), rng.randrange(6))
    far = dict(networkx.all_pairs_shortest_path_length(graph))
    return lambda here, there: far["ABCDEF".index(here)]["ABCDEF".index(there)]


def cost(ways, order, steps, start=None, end=None) -> int:
    rooms = [room for at in order for room in ways[at]]
    rooms = ([start] if start else []) + rooms + ([end] if end else [])
    return passed(rooms, steps)


@pytest.mark.parametrize("drawn", [False, True])
def test_the_order_is_the_best_of_all_orders(drawn):
    """Brute force over every order of up to six presses, with and without drawn doors, with and without fixed ends."""
    rng = Random(7)
    for _ in range(150):
        steps = random_steps(rng) if drawn else one_each
        ways = random_ways(rng, 6)
        start, end = rng.choice([None, "A"]), rng.choice([None, "B"])
        order = shortest_walk(ways, steps, start, end)
        assert sorted(order) == list(range(len(ways)))
        best = min(cost(ways, tried, steps, start, end) for tried in permutations(range(len(ways))))
        assert cost(ways, order, steps, start, end) == best


def trails(ways) -> int:
    """Where every change of room counts one: the fewest trails that use every arrow once, less one (Euler)."""
    graph = networkx.MultiDiGraph()
    graph.add_edges_from(ways)
    return sum(max(1, sum(max(0, graph.out_degree(room) - graph.in_degree(room)) for room in part))
               for part in networkx.weakly_connected_components(graph)) - 1


def test_the_order_of_many_presses_is_near_the_bound():
    """Up to 40 presses: never under the bound that Euler's trails give, over it by one at most, and seldom."""
    rng, over = Random(3), 0
    for _ in range(200):
        ways = random_ways(rng, 40)
        order = shortest_walk(ways, one_each)
        between = sum(one_each(ways[a][1], ways[b][0]) for a, b in zip(order, order[1:]))
        assert 0 <= between - trails(ways) <= 1
        over += between > trails(ways)
    assert over <= 10


def test_presses_and_looks_together_are_the_best_of_all(small):
    """The whole walk of a small job against every order of its presses and every order of the rooms of each."""
    desk, asks = Desk(small, WORDS), [ask for ask in all_tests(small) if ask.pressed in ("device", "tester")]
    sheet = walk_sheet(Desk(small, WORDS))
    best_looks = [min(passed(rooms_walked(desk, Ask(ask.outlet, ask.pressed, looks)), one_each)
                      for looks in permutations(ask.looks)) for ask in asks]
    ways = [ends(desk, ask) for ask in asks]
    between = min(sum(one_each(ways[a][1], ways[b][0]) for a, b in zip(order, order[1:]))
                  for order in permutations(range(len(ways))))
    assert sheet.doorways == sum(best_looks) + between


def test_drawn_doors_count_and_others_count_one(small):
    def room(name, *doors):
        return RoomPlan(name, (), tuple(Door("N", 0, 3, to, False, Where("", 1)) for to in doors), (), (), Where("", 1))

    steps = doorways(replace(small.job, rooms=(room("Kitchen", "Hall", None), room("Dining", "hall"))))
    assert [steps("kitchen", "Dining"), steps("Hall", "Kitchen"), steps("Hall", "Hall"), steps("Hall", "Shed")] == [2, 1, 0, 1]


def test_every_device_is_pressed_once_and_the_tester_only_where_it_adds(small):
    sheet = walk_sheet(Desk(small, WORDS))
    pressed = sorted((press.pressed, press.outlet) for press in (*sheet.presses, *sheet.handles))
    assert pressed == [("breaker", "B5"), ("breaker", "B7"), ("device", "B5"), ("device", "F1"), ("device", "K1"),
                       ("device", "K3"), ("tester", "K1"), ("tester", "K3"), ("tester", "K4")]


def test_what_was_walked_as_the_sheet_says_is_enough(houses):
    """Random houses: a truthful walk of the own TESTs and readings that the sheet asks for leaves no test missing."""
    tried = 0
    for seed in range(min(houses, 20)):
        report = examine(walked_house(seed))
        job = replace(report.job, tests=())
        asked = {(ask.outlet, ask.pressed) for ask in all_tests(examine(job))}
        done = {(row.outlet, row.pressed) for row in report.job.tests}
        assert {ask for ask in asked if ask[1] in ("device", "tester")} <= done
        if report.ready:
            tried += 1
            assert missing_tests(report) == ()
            assert walk_sheet(Desk(report, WORDS), missing=True).rows == ()
    assert tried > min(houses, 20) / 4


def test_missing_asks_for_what_was_taken_away(small):
    """Leave out any one row: `--missing` asks for a press or a reading at every outlet that a stop then names."""
    tried = 0
    for row in small.job.tests:
        report = examine(replace(small.job, tests=tuple(test for test in small.job.tests if test is not row)))
        asks = missing_tests(report)
        for finding in report.findings:
            if finding.level == "stop":
                tried += 1
                assert any(finding.points[0] in (ask.outlet, *ask.looks) for ask in asks), finding
        assert bool(asks) or report.ready
    assert tried >= 5


def test_a_sheet_shows_no_result(small, tmp_path):
    """The same sheet whether the tests were done or not, and not a tick in it: the map only says where to look."""
    assert walk_sheet(Desk(small, WORDS)) == walk_sheet(Desk(examine(replace(small.job, tests=())), WORDS))
    html = render(tmp_path)
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
    boxes = [box for box in tree.iter("span") if box.get("class") == "box"]
    assert len(boxes) > 40 and not any(box.text or len(box) for box in boxes)


def render(folder: Path, job: Path = BASE, *more: str) -> str:
    out = folder / "walk.html"
    assert main(["walk", str(job), "--out", str(out), *more]) == 0
    return out.read_text("utf-8")


def test_the_columns_are_those_of_the_file(tmp_path):
    tree = html5lib.parse(render(tmp_path), namespaceHTMLElements=False)
    heads = [["".join(cell.itertext()).replace(" ", "_") for cell in row.iter("th")] for row in tree.iter("tr")]
    columns = ["volts_left_while_dead" if name == "volts_after" else name for name in COLUMNS]  # what it means; page 1 says which it is
    assert heads.count(columns) == 3  # presses, handles, anything else
    widths = {sum(int(cell.get("colspan", 1)) for cell in row) for table in tree.iter("table") for row in table.iter("tr")}
    assert widths == {2, 6, 12}


def test_rows_to_fill_in_are_no_evidence_until_filled_in(tmp_path, monkeypatch):
    """Outlet and pressed are written, all else blank; read as trip_tests.csv every line has its fault."""
    monkeypatch.chdir(tmp_path)
    job = small_job(tmp_path / "job")
    assert main(["walk", "job", "--csv"]) == 0
    text = (tmp_path / "small-walk.csv").read_text("utf-8")
    of, table = text.split("\n", 1)
    rows = list(csv.DictReader(io.StringIO(table)))
    assert of == "# small"
    assert [tuple(row) for row in rows[:1]] == [COLUMNS]
    assert all({name for name, value in row.items() if value} == {"outlet", "pressed"} for row in rows)
    (job / "trip_tests.csv").write_text(text, "utf-8")
    with pytest.raises(JobUnreadable) as error:
        read_job(job)
    faulty = {fault.where.line for fault in error.value.faults if fault.met == "`tripped` is blank"}
    assert faulty == set(range(3, len(rows) + 3))


def test_rows_filled_in_truthfully_make_the_job_ready(tmp_path, monkeypatch):
    """Typed from the sheet, with what its map would show, the rows are all that the job needs."""
    monkeypatch.chdir(tmp_path)
    job = small_job(tmp_path / "job")
    main(["walk", "job", "--csv"])
    tree, out = report_of(BASE).tree, io.StringIO()
    writer = csv.DictWriter(out, COLUMNS)
    writer.writeheader()
    for row in csv.DictReader((tmp_path / "small-walk.csv").read_text().splitlines()[1:]):
        where, opened = row["outlet"], row["outlet"]
        if row["pressed"] == "tester":
            opened = tree.protected_by(where)[0]
        dead = [] if row["pressed"] == "none" else tree.outlets_of(tree.goes_dead(opened))
        row |= {"date": "2026-05-12", "tripped": opened if row["pressed"] in ("tester", "device") else "none",
                "went_dead": " ".join(dead), "stayed_live": where if row["pressed"] == "none" else "rest of house",
                "wiring": "correct" if row["pressed"] == "none" else "", "reset": "" if row["pressed"] == "none" else "yes"}
        writer.writerow(row)
    (job / "trip_tests.csv").write_text(out.getvalue(), "utf-8")
    assert main(["check", "job"]) == 0


def test_a_file_that_may_hold_what_was_seen_is_never_written_over(tmp_path, capsys):
    filled = tmp_path / "filled.csv"
    filled.write_text("mine")
    for more in (["--csv"], []):
        assert main(["walk", str(BASE), "--out", str(filled), *more]) == 2
        assert capsys.readouterr().err == f"{filled} is there already and was left alone; choose another name with --out.\n"
    assert filled.read_text() == "mine"
    assert render(tmp_path) == render(tmp_path)  # an earlier sheet of ours is


@pytest.mark.browser
@pytest.mark.parametrize("paper, wide_mm", [("Letter", 279.4), ("A4", 297.0)])
def test_on_paper(example, tmp_path, chromium, paper, wide_mm):
    """Boxes of 5 mm, 11 pt, no row across two pages, the job and the page number on every page, nothing cut off."""
    render(tmp_path, example)
    page = chromium.new_page()
    page.goto((tmp_path / "walk.html").as_uri())
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round((wide_mm - 24) / 25.4 * 96), "height": 700})
    sizes = page.evaluate("""() => {
        const boxes = [...document.querySelectorAll('.box')].map(box => box.getBoundingClientRect());
        const texts = [...document.querySelectorAll('td, th, p, li')].map(e => parseFloat(getComputedStyle(e).fontSize));
        const cut = [...document.querySelectorAll('td, th')].filter(e => e.scrollWidth > e.clientWidth + 1);
        return {box: Math.min(...boxes.map(b => Math.min(b.width, b.height))), text: Math.min(...texts),
                cut: cut.map(e => e.textContent), over: document.body.scrollWidth - innerWidth}}""")
    assert sizes["box"] >= 5 / 25.4 * 96 - 0.5 and sizes["text"] >= 11 / 72 * 96 - 0.1
    assert sizes["cut"] == [] and sizes["over"] <= 0
    page.pdf(path=tmp_path / "walk.pdf", format=paper, landscape=True)
    page.close()
    sheets = PdfReader(tmp_path / "walk.pdf").pages
    title = read_job(example).file.title
    sheet = walk_sheet(Desk(report_of(example), WORDS))
    numbers = [press.number for press in (*sheet.presses, *sheet.handles)]
    begun = []
    for number, paper_page in enumerate(sheets, 1):
        assert float(paper_page.mediabox.width) == pytest.approx(wide_mm / 25.4 * 72, abs=1.5)
        text = " ".join(paper_page.extract_text().split())
        assert title in text and f"{number} / {len(sheets)}" in text
        begun += [int(found) for found in re.findall(r"\b(\d+) (?:Press|Switch) ", text)]
    assert begun == numbers


def test_nothing_is_asked_where_nobody_can_get_to_and_the_reachable_one_is(tmp_path):
    """K4, the end of its branch, stands behind a cabinet: the tester goes to the last one before it."""
    hidden = ("protection_map.yaml", "at: by the door, fed_from: K3 load", "at: by the door, not_proved: behind the hutch, fed_from: K3 load")
    before = walk_sheet(Desk(report_of(BASE), WORDS))
    after = walk_sheet(Desk(report_of(small_job(tmp_path / "job", hidden)), WORDS))
    asked = {id for press in (*after.presses, *after.handles) for id in (press.outlet, *(look.id for look in press.looks))}
    assert "K4" not in asked | {look.id for look in after.first} | {id for id, _ in after.rows}
    assert after.not_reached == ("K4 Dining · by the door: behind the hutch",) and before.not_reached == ()
    assert ("K4", "tester") in before.rows and ("K3", "tester") in after.rows
