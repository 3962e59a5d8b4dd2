"""Two things exchanged: what the sentence says to write, by place or by tag, gives a map that is read and explains every test."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from random import Random

import pytest
from house import BASE, report_of
from houses import walked_house
from plants import PLANTS, cut_by

from sitegen.protection.changes import apply
from sitegen.protection.evidence import Evidence
from sitegen.protection.maps.correct import correct
from sitegen.protection.maps.recover import Recovered, recover
from sitegen.protection.tree import Tree

ROWS, MAP = "trip_tests.csv", "protection_map.yaml"
WRITTEN = re.compile(r"lines? ([0-9, ]+) `(fed_from|switched_by): ([^`]*)`")


def exchanged_in_tests(folder: Path, one: str, other: str) -> Path:
    """The small house whose tests know the two by each other's name."""
    shutil.copytree(BASE, folder)
    text = (folder / ROWS).read_text()
    for old, new in ((one, "TEMP"), (other, one), ("TEMP", other)):
        text = re.sub(rf"\b{old}\b", new, text)
    (folder / ROWS).write_text(text)
    return folder


def write(folder: Path, says: str) -> None:
    """Every `line N fed_from: X` of these words, into the map."""
    lines = (folder / MAP).read_text().split("\n")
    for numbers, key, value in WRITTEN.findall(says):
        for number in map(int, numbers.split(", ")):
            lines[number - 1], count = re.subn(rf"{key}: [^,}}]*", f"{key}: {value}", lines[number - 1])
            assert count == 1
    (folder / MAP).write_text("\n".join(lines))


def exchange(folder: Path, one: str, other: str, pattern: str) -> None:
    """What stands in the first group of the pattern, of the two exchanged."""
    text = (folder / MAP).read_text()
    a, b = (re.search(pattern.format(id), text)[1] for id in (one, other))
    (folder / MAP).write_text(text.replace(a, "TEMP").replace(b, a).replace("TEMP", b))


def proposed(folder: Path, one: str, other: str) -> str:
    return next(f.says for f in report_of(folder).findings if f.kind == "map-correction" and set(f.points) == {one, other})


@pytest.mark.parametrize("by", ["place", "tag"])
@pytest.mark.parametrize("one, other", [("K2", "K4"), ("K2", "D1"), ("K4", "D1"), ("K1", "K3")])
def test_points_are_exchanged_with_what_hangs_on_them(tmp_path, one, other, by):
    folder = exchanged_in_tests(tmp_path / "job", one, other)
    place, rest = proposed(folder, one, other).split(": both pages then keep the place and name another button. By tag, exchange the ids in the two lines")
    assert "Were the tests made by place or by the tag on the plate? By place (standing there, the id from the map), exchange what feeds them: " in place
    tag, hanging = rest.split(": both pages then keep the button and name another place")
    before = report_of(folder).job
    if by == "place":
        write(folder, place)
        write(folder, hanging)
    else:
        write(folder, tag)
        write(folder, hanging)
        exchange(folder, one, other, "(id: {},)")
    after = report_of(folder)
    assert not after.evidence.clashes
    stands = after.job.point[one].at == before.point[one].at
    assert stands == (by == "place") and after.job.point[one].feed.source != one


def test_by_place_two_points_of_two_circuits_change_circuits(tmp_path):
    """An outlet of circuit 7 and one of circuit 5: each line is moved to the other circuit with its feed."""
    folder = exchanged_in_tests(tmp_path / "job", "D1", "R9")
    text = (folder / MAP).read_text()
    (folder / MAP).write_text(f"{text.rstrip()}\n      - {{id: R9, is: receptacle, room: Hall, at: by the stair, fed_from: F1 load}}\n")
    rows = (folder / ROWS).read_text().replace(",F1,device,,,F1,DW L1,", ",F1,device,,,F1,DW L1 D1,")
    rows = rows.replace(",B7,breaker,,,none,DW L1,", ",B7,breaker,,,none,DW L1 D1,")
    (folder / ROWS).write_text(f"{rows}2026-05-09,D1,tester,120,correct,F1,D1,,0,yes,,\n")
    says = proposed(folder, "D1", "R9")
    moves = re.findall(r"line (\d+) `fed_from: ([^`]*)` \(moved to circuit (\d)\)", says)
    assert sorted(number for _, _, number in moves) == ["5", "7"]
    write(folder, says.split(": both pages then keep the place")[0])
    lines = (folder / MAP).read_text().rstrip().split("\n")
    moved = {number: lines[int(line) - 1] for line, _, number in moves}
    lines = [line for line in lines if line not in moved.values()]
    seven = next(at for at, line in enumerate(lines) if "number: 7" in line)
    (folder / MAP).write_text("\n".join([*lines[:seven], moved["5"], *lines[seven:], moved["7"]]) + "\n")
    after = report_of(folder)
    assert not after.evidence.clashes and after.job.point["D1"].at == "below the window"
    assert str(after.job.point["D1"].feed) == "F1 load" and str(after.job.point["R9"].feed) == "K1 line"


@pytest.mark.parametrize("by", ["place", "name"])
def test_breakers_are_exchanged_and_the_points_that_name_them_follow(tmp_path, by):
    """Two standard breakers; one handle row each."""
    folder = tmp_path / "job"
    shutil.copytree(BASE, folder)
    text = (folder / ROWS).read_text()
    (folder / MAP).write_text((folder / MAP).read_text().replace("type: afci", "type: standard"))
    (folder / ROWS).write_text("\n".join(line for line in text.splitlines() if not line.startswith(",B")) +
                               "\n,B7,breaker,,,none,K1 K2 K3 K4 D1,DW L1,,yes,,\n,B5,breaker,,,none,DW L1,K1 K2 K3 K4 D1,,yes,,\n")
    says = proposed(folder, "B5", "B7")
    assert "By place, exchange their two `breaker` entries whole" in says
    exchange(folder, "B5", "B7", r"breaker: (\{{id: {}, space: .*?\}})" if by == "place" else "breaker: {{(id: {},)")
    write(folder, says[says.index("and carry what names them"):])
    after = report_of(folder)
    assert not after.evidence.clashes and after.job.circuit["P1-5"].breaker == "B7"
    assert (after.job.breaker["B7"].space == "7") == (by == "place")


def before_it(job, found: Recovered, id: str) -> set[str] | None:
    """All that stands before an outlet by the recovered lines; None where one of them is open."""
    got = {id} if job.point[id].kind.opens else set()
    feeder = {circuit.breaker: job.panel[circuit.panel].fed_from for circuit in job.circuits}
    here = id
    while here in job.point:
        if here not in found.feeds:
            return None
        here = found.feeds[here].source
        got.add(here)
    while feeder.get(here):
        here = feeder[here]
        got.add(here)
    return got


@pytest.mark.parametrize("plant", PLANTS.values(), ids=PLANTS)
def test_what_is_recovered_is_what_every_correction_says(houses, plant):
    """One set of rows, one meaning: all that a recovered line puts before an outlet stands there in each proposal."""
    compared = 0
    for seed in range(max(20, houses // 3)):
        truth = walked_house(seed)
        job = plant(truth, Random(seed))
        if cut_by(truth) == cut_by(job):
            continue
        found = recover(job)
        for proposal in correct(Evidence(Tree(job)), most=1000).proposals:
            cuts = cut_by(apply(job, proposal.changes))
            for id in cuts:
                got = before_it(job, found, id)
                if got is not None:
                    assert got == cuts[id], (seed, id)
                    compared += 1
    assert compared > 20
