"""The spreadsheet that a contractor has already: its own headers and words, and what it leaves open asked once."""

from __future__ import annotations

import pytest

from sitegen.cli import main
from sitegen.commands.begin.spreadsheet import map_from_sheet
from sitegen.commands.begin.usual import IN_ROOM, KINDS, in_our_words
from sitegen.job import read_job
from sitegen.job.kinds import POINTS

SHEET = """Breaker,Tag,Kind,Where,Fed by,Checked by,Amps
5,K1,GFCI,"Kitchen, left of the sink",panel,DV,20
5,K2,outlet,"Kitchen, right of the window",K1 (load),DV,
5,K3,outlet,"Kitchen, end of the counter",K1,DV,
5,K4,duplex,"Dining: by the door",K1,DV,
5,K5,outlet,Dining - window,K1,DV,
7,L1,light,Hall,S1,DV,15
7,S1,wall switch,Hall - by the door,breaker 7,,
"""


def test_an_ordinary_sheet_becomes_a_map_and_asks_once(tmp_path, capsys):
    (tmp_path / "house.csv").write_text(SHEET)
    assert main(["begin", str(tmp_path / "job"), "--from", str(tmp_path / "house.csv")]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "Read `Tag` as id, `Kind` as is, `Where` as at, `Fed by` as fed_from, `Breaker` as circuit."
    assert [line for line in said if "K1" in line and "side" in line] == [
        "house.csv, lines 4, 5, 6: `K1` without a side, but K1 is a gfci receptacle; expected the terminals that this point hangs on. "
        "Write `K1 line` or `K1 load`. `fed_from: unknown` was written."]
    assert said[1].startswith("house.csv:1: unknown column `checked_by`; expected a key of the map.")
    assert len(said) == 11
    job = read_job(tmp_path / "job")
    assert [(point.id, point.kind.name, point.room, point.at, str(point.feed)) for point in job.points] == [
        ("K1", "gfci receptacle", "Kitchen", "left of the sink", "B5"), ("K2", "receptacle", "Kitchen", "right of the window", "K1 load"),
        ("K3", "receptacle", "Kitchen", "end of the counter", "unknown"), ("K4", "receptacle", "Dining", "by the door", "unknown"),
        ("K5", "receptacle", "Dining", "window", "unknown"), ("L1", "light", "Hall", IN_ROOM, "S1"), ("S1", "switch", "Hall", "by the door", "B7")]
    assert [(breaker.id, breaker.space, breaker.amps) for breaker in job.breakers] == [("B5", "5", 20.0), ("B7", "7", 15.0)]


def test_a_side_is_never_made_up():
    """Whatever is written for a feed, a side comes out only where the sheet has one."""
    for written, read in (("K1", "K1"), ("from K1", "from K1"), ("K1 LOAD side", "K1 load"), ("K1-line", "K1 line"), ("K1 loud", "K1 loud")):
        assert in_our_words({("point", "fed_from"): written}, True)["point", "fed_from"] == read


@pytest.mark.parametrize("written, breaker", [("20A", {"amps": "20"}), ("20 A GFCI", {"amps": "20", "type": "GFCI"}),
                                              ("5", {"id": "B5", "space": "5"}), ("B5", {"id": "B5"}), ("15 amp gfi", {"amps": "15", "type": "gfci"})])
def test_what_stands_under_breaker_is_its_size_its_space_or_its_id(written, breaker):
    cells = in_our_words({("breaker", "id"): written, ("circuit", "number"): "5"}, True)
    assert {key: text for (part, key), text in cells.items() if part == "breaker"} == breaker


def test_every_other_name_of_a_kind_means_one_kind_that_there_is():
    names = [name for others in KINDS.values() for name in others]
    assert set(KINDS) <= set(POINTS) and len(names) == len(set(names)) and not set(names) & set(POINTS)


def test_our_own_headers_are_read_as_they_were():
    sheet = "id,is,room,at,fed_from,circuit,breaker\nK1,receptacle,Kitchen,sink,B5,5,B5\n"
    assert "Read `" not in map_from_sheet(sheet, "x.csv").told and map_from_sheet(sheet, "x.csv").placed == 1
