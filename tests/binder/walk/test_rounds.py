"""Rounds on paper and as rows: each on one page, nothing expected printed on it, and what is typed is read back."""

from __future__ import annotations

import csv
import json
import re
from dataclasses import replace
from random import Random

import html5lib
import pytest
from house import BASE, report_of, small_job
from houses import small, walked_in_rounds, whole_house

from sitegen.binder.desk import Desk
from sitegen.binder.walk.sheet import walk_sheet
from sitegen.cli import main
from sitegen.job import read_job
from sitegen.job.records import Feed
from sitegen.protection.examine import examine
from sitegen.protection.rounds.report import Left
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.thorough

WORDS = open_theme().words("en")


def sheet_of(report, missing=False):
    return walk_sheet(Desk(report, WORDS), missing, Left(report.proof))


def test_the_plan_as_json(example, capsys):
    assert main(["walk", str(example), "--rounds", "--json"]) == 0
    plan = json.loads(capsys.readouterr().out)
    tree = report_of(example).tree
    assert plan["walks"] == len(plan["rounds"]) + len(plan["alone"]) and plan["bound"] <= plan["walks"] <= 8
    rooms = [tree.job.point[id].room for id in plan["rounds"][0]["look"]]
    assert len(set(rooms)) == sum(one != other for one, other in zip(rooms, rooms[1:])) + 1, "each room is walked once"
    for one in plan["rounds"]:
        assert set(one["look"]) == set(tree.outlets) and set(one["own_test"]) <= set(one["open"])
    assert set(tree.devices) == {id for one in plan["rounds"] for id in one["own_test"]}


def test_a_house_that_is_shown_has_no_round_left(capsys):
    """Of the example not every breaker's handle was tried again after its visit."""
    assert main(["walk", str(BASE), "--rounds", "--missing", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"walks": 0, "bound": 0, "rounds": [], "alone": []}


def test_double_takes_more_walks_and_opens_every_contact_twice(example, capsys):
    main(["walk", str(example), "--rounds", "--double", "--json"])
    rounds = json.loads(capsys.readouterr().out)["rounds"]
    opened = [id for one in rounds for id in one["open"]]
    assert all(opened.count(id) >= 2 for id in opened) and len(rounds) <= 14


def test_of_a_double_plan_all_is_left_that_was_not_walked(example, capsys):
    """One round behind each fact is seen: that is not enough here."""
    main(["walk", str(example), "--rounds", "--double", "--missing", "--json"])
    assert len(json.loads(capsys.readouterr().out)["rounds"]) > 10


def test_rows_of_rounds_filled_in_are_read_back(tmp_path, capsys):
    """The rows for the small job, each filled in as its copper tells it, make it ready."""
    folder = small_job(tmp_path / "job")
    rows = tmp_path / "rows.csv"
    assert main(["walk", str(folder), "--rounds", "--csv", "--out", str(rows)]) == 0
    seen = {(row.outlet, row.pressed, row.row > 5): row for row in walked_in_rounds(read_job(folder)).tests}
    written = list(csv.DictReader(line for line in rows.read_text().splitlines() if not line.startswith("#")))
    last = len(written) - 1
    for number, row in enumerate(written):
        ids = " ".join(sorted(row["outlet"].split()))
        if row["pressed"] in ("round", "device", "breaker"):
            fact = next(test for (outlet, pressed, _), test in seen.items() if (outlet, pressed) == (ids, row["pressed"]))
            row |= {"tripped": " ".join(fact.tripped) or "none", "went_dead": " ".join(fact.went_dead),
                    "stayed_live": " ".join(fact.stayed_live), "reset": "yes"}
        elif row["pressed"] == "none":
            row |= {"volts": "120", "wiring": "correct", "tripped": "none",
                    "stayed_live": "rest of house L1" if number == last else row["outlet"]}
    kept = [row for row in written if row["pressed"] != "tester"]
    kept[0]["date"] = "2026-05-12"
    with (folder / "trip_tests.csv").open("w", newline="") as file:
        writer = csv.DictWriter(file, written[0])
        writer.writeheader()
        writer.writerows(kept)
    assert main(["check", str(folder)]) == 0, capsys.readouterr().out


def test_a_page_says_what_to_do_and_never_what_will_be_dead(example, tmp_path):
    """Every page of a round has the same looks, whatever the map says of them."""
    out = tmp_path / "sheet.html"
    assert main(["walk", str(example), "--rounds", "--out", str(out)]) == 0
    text = out.read_text()
    html5lib.HTMLParser(strict=True).parse(text)
    pages = re.findall(r'<section class="page">(.*?)</section>', text, re.DOTALL)
    looks = [re.search(r'<div class="rooms.*?</div></div>', page, re.DOTALL).group() for page in pages]
    assert len(pages) == len(sheet_of(report_of(example)).rounds) + 1 and len(set(looks)) == 1


@pytest.mark.browser
def test_every_round_stands_on_one_page(example, tmp_path, chromium):
    from pypdf import PdfReader
    out, pdf = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    main(["walk", str(example), "--rounds", "--out", str(out)])
    page = chromium.new_page()
    page.goto(out.as_uri())
    page.pdf(path=str(pdf), prefer_css_page_size=True)
    page.close()
    texts = [page.extract_text() for page in PdfReader(pdf).pages]
    rounds = [text for text in texts if re.search(r"Round \d of \d", text)]
    assert len(rounds) == 7 and all("To type it: date YYYY-MM-DD" in text and "On again" in text for text in rounds)


def test_after_a_contradiction_the_sheet_begins_where_it_is_settled():
    job = report_of(BASE).job
    wrong = replace(job, points=tuple(replace(p, feed=Feed("K1", "load")) if p.id == "D1" else p for p in job.points))
    report = examine(walked_in_rounds(wrong, job))
    sheet = sheet_of(report, missing=True)
    assert [(press.outlet, press.pressed, [look.id for look in press.looks]) for press in sheet.presses] == [("K1", "device", ["K1", "D1"])]
    assert not sheet.rounds and not sheet.again, "K1 was pressed alone here"
    assert {look.id for look in sheet.first} == {"K1", "D1"}, "where only this is to be settled, nothing else is looked at"


def test_a_round_at_odds_is_looked_at_again_before_anything_else():
    job = small("B1: K1=gfci receptacle B1, K2=receptacle K1 load", "B2: K3=gfci receptacle B2, K4=receptacle K3 load")
    true = replace(job, points=tuple(replace(p, feed=Feed("K1", "line")) if p.id == "K2" else p for p in job.points))
    sheet = sheet_of(examine(walked_in_rounds(job, true)), missing=True)
    [again] = sheet.again
    assert [id for _, found in again.rooms for id, _ in found] == ["K2"] and not again.whole
    assert sheet.rows[0] == (" ".join(again.open), "round") and sorted(again.open) == sorted(again.tests) == ["K1", "K3"]
    assert [(press.outlet, press.pressed, [look.id for look in press.looks]) for press in sheet.presses] == [("K1", "device", ["K1", "K2"])]


def test_the_row_has_the_ids_in_the_order_in_which_they_are_opened(example):
    tree = report_of(example).tree
    for page in sheet_of(report_of(example)).rounds:
        assert page.open == (*(id for id, _, _ in page.devices), *(id for panel in page.panels for id in (*panel.own_test, *panel.handles)))
        assert sorted((*page.tests, *page.handles)) == sorted(page.open)
        assert set(page.lights) == {id for id in tree.outlets if tree.kind(id).by_name}


def test_the_presses_and_handles_of_rounds_are_counted(example, tmp_path, capsys):
    main(["walk", str(example), "--rounds", "--json"])
    rounds = json.loads(capsys.readouterr().out)["rounds"]
    main(["walk", str(example), "--rounds", "--out", str(tmp_path / "sheet.html")])
    said = capsys.readouterr().out
    tests = sum(len(one["own_test"]) for one in rounds)
    handles = sum(len(one["open"]) for one in rounds) - tests
    looks = sum(len(one["look"]) for one in rounds) + len(rounds[0]["look"])
    assert f"{len(rounds)} rounds and a last walk with all on, with {tests} own-TEST presses, {handles} handles and {looks} looks; " in said
    assert "doorway" not in said



def test_the_plain_sheet_says_where_rounds_save_walks(example, tmp_path, capsys):
    main(["walk", str(example), "--out", str(tmp_path / "sheet.html")])
    assert re.search(r"In rounds, several open at once, it takes [78] walks in place of \d+: `sitegen walk", capsys.readouterr().out)


@pytest.mark.parametrize(("words", "says"), [
    (["--double"], "--double belongs to --rounds"), (["--json"], "--json belongs to --rounds"),
    (["--rounds", "--json", "--csv"], "leave one of them out")])
def test_options_that_do_not_go_together(example, words, says, capsys):
    assert main(["walk", str(example), *words]) == 2
    assert says in capsys.readouterr().err


def test_check_says_how_far_the_proof_is(tmp_path, capsys):
    from sitegen.commands.check.sheet import check_text
    report = examine(walked_in_rounds(whole_house(Random(3), 8), part=slice(0, 2)))
    told = re.search(r"(\d+) of (\d+) pairs of an outlet and what turns it off are shown; (\d+) rounds left", check_text(report))
    assert told and int(told[1]) < int(told[2]) and int(told[3]) == len(Left(report.proof).whole.rounds) - 2


def test_check_plans_no_rounds_of_a_large_house(monkeypatch):
    from sitegen.commands.check.sheet import PLANNED, check_text
    asked = []
    monkeypatch.setattr(Left, "plan", property(lambda left: asked.append(left)))
    circuits = [f"B{at}: K{at}=gfci receptacle B{at}, R{at}=receptacle K{at} load" for at in range(PLANNED)]
    told = check_text(examine(small(*circuits)))
    assert not asked and f"0 of {4 * PLANNED} pairs of an outlet and what turns it off are shown; the rounds that are left:" in told


def test_what_a_round_to_look_at_again_turns_off_is_seen_back_on():
    """The aquarium hangs on the round that is opened again, and nobody is asked to look at it."""
    job = small("B1: K1=gfci receptacle B1, K2=receptacle K1 load", "B2: K3=gfci receptacle B2, K4=receptacle K3 load")
    job = replace(job, points=tuple(replace(p, use="aquarium") if p.id == "K4" else p for p in job.points))
    true = replace(job, points=tuple(replace(p, feed=Feed("K1", "line")) if p.id == "K2" else p for p in job.points))
    sheet = sheet_of(examine(walked_in_rounds(job, true)), missing=True)
    assert [text.split()[0] for text in sheet.vital] == ["K4"] and "K4" not in {look.id for look in sheet.first}


def test_a_light_with_a_sensor_is_told_before_the_rounds(example):
    """Dead by its own sensor it would look as if something open cut it."""
    sheet = sheet_of(report_of(example))
    assert [text for text in sheet.told if text.startswith("Have L4 lit before each walk (Pantry · ceiling · pantry light; the map notes: No switch.")]
    spots = dict(look for _, found in sheet.rounds[0].rooms for look in found)
    assert spots["L4"] == "ceiling (page\u00a01)" and spots["L5"] == "ceiling (lit by S5 S12, either way)" and "(" not in spots["K1"]
