"""A new job folder: what `check` says of it, what is refused, and the map that a spreadsheet of points becomes."""

from __future__ import annotations

import csv
import io
import string

import pytest
from hypothesis import given, settings, strategies as st

from sitegen.cli import main
from sitegen.commands.begin.spreadsheet import map_from_sheet
from sitegen.errors import JobUnreadable
from sitegen.job import read_job
from sitegen.job.map.read import read_map
from sitegen.protection.examine import examine

HEADER = "id,is,room,at,fed_from,circuit,panel,panel at,breaker,space,amps,breaker type"


def begin(folder, *rows: str, header: str = HEADER) -> int:
    sheet = folder.with_name("points.csv")
    sheet.write_text("\n".join([header, *rows]) + "\n", "utf-8")
    return main(["begin", str(folder), "--from", str(sheet)])


def test_a_new_folder_is_read_and_not_ready(tmp_path, capsys):
    """The starter is honest: `check` reads it and lists what is still to be shown."""
    assert main(["begin", str(tmp_path / "alder court")]) == 0
    job = read_job(tmp_path / "alder court")
    assert job.file.id == "alder-court" and list(job.point) == ["K1", "K2", "D1", "S1", "L1"]
    assert main(["check", str(tmp_path / "alder court")]) == 1
    assert "NOT READY: " in capsys.readouterr().out


def test_the_example_row_agrees_with_the_starter_map_and_proves_nothing(tmp_path):
    main(["begin", str(tmp_path / "job")])
    report = examine(read_job(tmp_path / "job"))
    assert len(report.job.tests) == 1 and not report.evidence.clashes
    assert "proved" not in report.proof.devices.values()
    assert not any(report.proof.proved_by(id) for id in report.tree.outlets)


def test_the_rows_that_the_starter_teaches_can_be_read(tmp_path):
    """The rows in its comments, put into trip_tests.csv, are read and agree with its map."""
    main(["begin", str(tmp_path / "job")])
    text = (tmp_path / "job" / "protection_map.yaml").read_text("utf-8")
    lines = [line.removeprefix("#").strip() for line in text.splitlines()]
    at = next(at for at, line in enumerate(lines) if line.startswith("date,outlet,pressed"))
    rows = [line.split("   ")[0] for line in lines[at:at + 5]]
    (tmp_path / "job" / "trip_tests.csv").write_text("\n".join(rows) + "\n", "utf-8")
    report = examine(read_job(tmp_path / "job"))
    assert len(report.job.tests) == 4 and not report.evidence.clashes


def test_a_folder_that_holds_anything_is_refused(tmp_path, capsys):
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / "mine.txt").write_text("mine")
    assert main(["begin", str(tmp_path / "job")]) == 2
    assert capsys.readouterr().err == f"{tmp_path / 'job'} is not empty and was left alone; name a new folder.\n"
    assert [path.name for path in tmp_path.rglob("*")] == ["job", "mine.txt"]


def test_an_empty_folder_will_do_and_a_file_will_not(tmp_path):
    (tmp_path / "job").mkdir()
    assert main(["begin", str(tmp_path / "job")]) == 0
    assert main(["check", str(tmp_path / "job")]) == 1
    assert main(["begin", str(tmp_path / "job" / "job.yaml")]) == 2
    assert sorted(path.name for path in (tmp_path / "job").iterdir()) == ["job.yaml", "protection_map.yaml", "trip_tests.csv"]


def test_nothing_is_left_half_written(tmp_path, monkeypatch, capsys):
    """Where a rename fails, no file of the new job stays behind."""
    def fails(*_):
        raise OSError(28, "No space left on device")
    monkeypatch.setattr("sitegen.commands.begin.new.os.rename", fails)
    (tmp_path / "empty").mkdir()
    for name in ("new", "empty"):
        assert main(["begin", str(tmp_path / name)]) == 2
        assert "No space left on device" in capsys.readouterr().err
    assert [path.name for path in tmp_path.rglob("*")] == ["empty"]


def test_a_sheet_becomes_a_map(tmp_path):
    """Columns in any case, a semicolon between them, the circuit's columns written once."""
    assert begin(tmp_path / "job", "k1;GFCI receptacle;Kitchen;left: of #1, sink;B5;5;p1;Garage;B5;5;20;AFCI",
                 "K2;receptacle;Kitchen;right;K1 load;;;;;;;", "L1;light;Hall;ceiling;;7;;;;9;15;standard",
                 header=HEADER.upper().replace(",", ";").replace("_", " ")) == 0
    job = read_job(tmp_path / "job")
    assert [str(point.feed) for point in job.points] == ["B5", "K1 load", "unknown"]
    assert job.point["K1"].at == "left: of #1, sink" and job.breaker["B5"].kind.name == "afci"
    assert [(circuit.key, circuit.breaker) for circuit in job.circuits] == [("P1-5", "B5"), ("P1-7", "B7")]
    assert job.breaker["B7"].space == "9"


def test_every_row_that_cannot_be_placed_is_told_and_kept(tmp_path, capsys):
    assert begin(tmp_path / "job", "K1,gfci receptacle,Kitchen,sink,B5,5,P1,Garage,B5,5,20,afci",
                 "K1,receptacle,Kitchen,again,K1 load", "K3,receptle,Kitchen,end,K1 load", "K4,receptacle,,end,K1 load",
                 "K5,receptacle,Hall,end,K11 load", "K6,receptacle,Hall,end,K1 load,,,,,,,,,,") == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0].startswith("points.csv:3: the id `K1` stands twice: line 2 gives it to a gfci receptacle; ")
    assert said[1].startswith("points.csv:4: `is: receptle` is not known; ") and "Did you mean `receptacle`?" in said[1]
    assert said[2].startswith("points.csv:5: this point has no `room`; ")
    assert said[3].startswith("points.csv:6: unknown id `K11`; ") and said[3].endswith("`fed_from: unknown` was written.")
    assert all(line.endswith("The row stands at the end of the map as a comment.") for line in said[:3])
    assert said[5] == "3 points on 1 circuits placed, 3 rows not."
    text = (tmp_path / "job" / "protection_map.yaml").read_text("utf-8")
    assert text.split("# Not placed, from points.csv:\n")[1].splitlines() == [
        "# line 6: point fed_from: K11 load", "# line 3: K1,receptacle,Kitchen,again,K1 load",
        "# line 4: K3,receptle,Kitchen,end,K1 load", "# line 5: K4,receptacle,,end,K1 load"]
    assert list(read_job(tmp_path / "job").point) == ["K1", "K5", "K6"]


def test_rows_below_an_open_quote_are_kept(tmp_path, capsys):
    assert begin(tmp_path / "job", "K1,receptacle,Kitchen,sink,B5,5,P1,Garage,B5,5,20,gfci",
                 'K2,receptacle,Kitchen,"open,B5', "K3,receptacle,Kitchen,end,B5") == 0
    text = (tmp_path / "job" / "protection_map.yaml").read_text("utf-8")
    assert 'K2,receptacle,Kitchen,"open,B5' in text and "K3,receptacle,Kitchen,end,B5" in text
    assert "points.csv:3: this row cannot be read" in capsys.readouterr().out


def test_a_breaker_without_a_type_promises_nothing(tmp_path, capsys):
    assert begin(tmp_path / "job", "K1,receptacle,Kitchen,sink,B5,5,P1,Garage,B5,5,20,") == 0
    assert not examine(read_job(tmp_path / "job")).tree.protected_by("K1")
    assert "circuit 5 has no breaker `type`" in capsys.readouterr().out


def test_the_same_number_in_two_panels_is_two_breakers_and_the_same_breaker_is_one(tmp_path):
    assert begin(tmp_path / "job", "K1,receptacle,Kitchen,sink,,5,P1,Garage,,,,gfci", "K2,receptacle,Hall,end,,5,P2,Shed,,,,gfci",
                 "K3,receptacle,Hall,end,,7,P1,,B9,9,20,gfci", "K4,receptacle,Hall,end,,9,P1,,B9,,,") == 0
    job = read_job(tmp_path / "job")
    assert [circuit.breaker for circuit in job.circuits] == ["B5", "B5-P2", "B9", "B9"]


def test_a_sheet_with_nothing_to_place_writes_nothing(tmp_path, capsys):
    assert begin(tmp_path / "job", "K1,receptle,Kitchen,sink,B5,5") == 2
    assert begin(tmp_path / "job", header="what,where") == 2
    said = capsys.readouterr().err
    assert "No point of points.csv could be placed. Nothing was written." in said and "Traceback" not in said
    assert main(["begin", str(tmp_path / "job"), "--from", str(tmp_path / "none.csv")]) == 2
    assert not (tmp_path / "job").exists()


IDS = st.sampled_from(["K1", "k2", "K3", "B5", "P1", "B7", "NUL", "no", "K-é", "", "K123456789", "LOAD"])
TEXTS = st.one_of(st.sampled_from(["", "Kitchen", "a: b", "no", "- x", "1:30", "#5", "'", '"', "\\", "{", "a, b", "&a", "*a",
                                   "!x", "null", "é中", "@", "`", "%", "? ", "]", "2026-01-01"]),
                  st.text(alphabet=string.printable.strip() + " é", max_size=8))
FEEDS = st.one_of(st.sampled_from(["", "B5", "K1", "K1 load", "k2 line", "K3", "unknown", "K9", "B5 load", "K1 K2"]), TEXTS)
CELLS = {"id": IDS, "is": st.sampled_from(["receptacle", "gfci receptacle", "Faceless GFCI", "light", "recep", ""]),
         "room": TEXTS, "at": TEXTS, "fed_from": FEEDS, "circuit": st.sampled_from(["5", "7", "", "5/7", "no"]),
         "panel": st.sampled_from(["P1", "p2", "", "B5", "x y"]), "panel fed from": st.sampled_from(["", "", "B5", "B9"]),
         "breaker": st.sampled_from(["", "B5", "B7", "K1"]), "breaker type": st.sampled_from(["afci", "GFCI", "", "odd"]),
         "amps": st.sampled_from(["20", "", "20 A", "x"]), "poles": st.sampled_from(["", "1", "2", "3"]),
         "awg": st.sampled_from(["", "12"]), "metal": st.sampled_from(["", "copper", "tin"]), "use": TEXTS, "note": TEXTS,
         "switched_by": st.sampled_from(["", "S1", "K1"]), "voltage": st.sampled_from(["", "240", "x"]),
         "yoke": st.sampled_from(["", "", "Y1"]), "half": st.sampled_from(["", "upper", "lower"]), "position": TEXTS}


@pytest.mark.thorough
@settings(max_examples=80, deadline=None)
@given(st.lists(st.fixed_dictionaries(CELLS), min_size=1, max_size=7))
def test_whatever_the_rows_the_map_is_read_and_nothing_is_lost(rows):
    """The written map has no fault, and every row stands in it as a point or as a comment."""
    out = io.StringIO()
    writer = csv.DictWriter(out, CELLS, lineterminator="\n", quoting=csv.QUOTE_ALL)
    writer.writeheader()
    writer.writerows(rows)
    made = map_from_sheet(out.getvalue(), "points.csv")
    faults = []
    read = read_map(made.text, faults, ("en",), ())
    assert made.placed == 0 or not faults, made.text
    if made.placed:
        assert len(read.points) == made.placed
    comments = [line for line in made.text.splitlines() if line.startswith("# line ")]
    for number, row in enumerate(rows, 2):
        blank = not any(text.strip() for text in row.values())
        bare = not any(row[key].strip() for key in row if not key.startswith(("panel", "breaker")) and
                       key not in ("circuit", "amps", "poles", "awg", "metal"))
        kept = any(line.startswith(f"# line {number}:") for line in comments)
        assert blank or bare or kept or any(point.id == row["id"].upper() for point in read.points), made.text


def test_a_job_begun_from_a_sheet_is_read_with_its_other_files(tmp_path):
    begin(tmp_path / "job", "K1,receptacle,Kitchen,sink,B5,5,P1,Garage,B5,5,20,gfci")
    try:
        job = read_job(tmp_path / "job")
    except JobUnreadable as error:
        pytest.fail(str(error))
    assert job.tests == () and main(["check", str(tmp_path / "job")]) == 1
