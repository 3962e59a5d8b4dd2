"""trip_tests.csv into records."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from house import READING as CASES
from hypothesis import given, strategies as st

from sitegen.errors import Fault, Where
from sitegen.job import read_job
from sitegen.job.map.read import MapRead, read_map
from sitegen.job.read.files import decode
from sitegen.job.records import Job, TripTest
from sitegen.job.trips import COLUMNS, job_line, read_trips


@pytest.mark.parametrize("line, job", [
    ("# 26-041", "26-041"), ("#26-041,,,,", "26-041"), ('"# 26-041";;', "26-041"), ("\n# small", "small"),
    ("#,outlet,pressed", None), ("date,outlet,pressed", None), ("# two words", None)])
def test_the_first_line_may_name_the_job(line, job):
    """As written by hand, by a spreadsheet, in quotes; a column that is called # is no such line. The rows keep their lines."""
    named, rest = job_line(f"{line}\ndate,outlet,pressed,tripped\n")
    assert named == job and rest.count("\n") == line.count("\n") + 2 and rest.endswith("date,outlet,pressed,tripped\n")


@pytest.mark.parametrize("written, named, rest, left_out", [
    ("L1 rest of house except K2 K3", ("L1",), "house", ("K2", "K3")), ("L1 rest of the circuit EXCEPT K2", ("L1",), "circuit", ("K2",)),
    ("rest of house", (), "house", ())])
def test_rest_of_leaves_out_what_it_excepts(written, named, rest, left_out):
    faults = []
    [test] = read_trips(f"date,outlet,pressed,tripped,stayed_live\n2026-05-12,K1,device,K1,{written}\n", the_map().names, faults)
    assert not faults and (test.stayed_live, test.rest_live, test.rest_except) == (named, rest, left_out)


@pytest.mark.parametrize("written", ["K2 except L1", "rest of house except"])
def test_except_without_a_rest_or_ids_is_a_fault(written):
    faults = []
    read_trips(f"date,outlet,pressed,tripped,stayed_live\n2026-05-12,K1,device,K1,{written}\n", the_map().names, faults)
    [fault] = faults
    assert str(fault) == (f"trip_tests.csv:2: `stayed_live: {written}` says `except`; expected `rest of house except V1 V3`. Write what it "
                          "leaves out behind `rest of circuit` or `rest of house`.")


@pytest.mark.parametrize("written, says", [
    ("rest of house except K2 L1", "`except` is followed by `L1`, which no `rest of house` speaks of: a light counts by its id alone; expected "
     "receptacles and appliances there. If seen live, write lights first: `L1 rest of house`, and behind it `except` with what else was "
     "not looked at; if not seen, leave them out."),
    ("rest of house and the lights", "`stayed_live: rest of house and the lights` speaks of lights without their ids; expected the id of "
     "each light. Name each light that was seen: `L1 L2 rest of house`.")])
def test_lights_are_named_and_stand_before_the_rest(written, says):
    """A light behind `except` counts as not looked at: whoever meant it as seen live would never hear of it."""
    faults = []
    read_trips(f"date,outlet,pressed,tripped,stayed_live\n2026-05-12,K1,device,K1,{written}\n", the_map().names, faults)
    assert [str(fault) for fault in faults] == [f"trip_tests.csv:2: {says}"]


def the_map() -> MapRead:
    return read_map((CASES / "sound" / "protection_map.yaml").read_text(), [])


def test_a_spreadsheets_file_is_read(folder: Path) -> None:
    """Byte order mark, CRLF, semicolons, a quoted cell of two lines, blank lines, blanks that repeat date and by."""
    where = [Where("trip_tests.csv", line) for line in (2, 5, 6, 7, 8)]
    note = "tested twice;\nsame both times"
    assert read_job(folder).tests == (
        TripTest(0, date(2026, 5, 12), "K1", "device", 121.4, "correct", ("K1",), ("K1", "K2", "K3"), (), "circuit",
                 0.0, True, "Dana", note, where[0]),
        TripTest(1, date(2026, 5, 12), "K3", "tester", 121.0, "correct", ("K1",), ("K3",), (), None, 0.4, True, "Dana",
                 None, where[1]),
        TripTest(2, date(2026, 5, 13), "B7", "device", None, None, ("B7",), ("R1",), ("K1",), "house", None, True,
                 "Lee", None, where[2]),
        TripTest(3, date(2026, 5, 13), "L1", "none", 120.0, None, (), (), ("L1",), None, None, None, "Lee", None,
                 where[3]),
        TripTest(4, date(2026, 5, 13), "B5", "breaker", None, None, ("B5",), ("K1", "S1"), (), None, None, None, "Lee",
                 None, where[4]))


ROW = {"date": "2026-05-12", "outlet": "K1", "pressed": "device", "volts": "121.5", "wiring": "open ground",
       "tripped": "K1", "went_dead": "K1 K2", "stayed_live": "L1 rest of house", "volts_after": "0", "reset": "yes",
       "by": "Dana", "note": 'said "fine",\nthen left; twice'}


@given(st.permutations(COLUMNS), st.sampled_from(",;\t"), st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL]),
       st.sampled_from(["\n", "\r\n"]))
def test_columns_delimiters_and_quotes_carry_no_meaning(columns: list[str], delimiter: str, quotes: int,
                                                       end: str) -> None:
    """The file is written by the csv module of the standard library in any of its ways."""
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, delimiter=delimiter, quoting=quotes, lineterminator=end)
    writer.writeheader()
    writer.writerow(ROW)
    faults: list[Fault] = []
    [test] = read_trips(out.getvalue(), the_map().names, faults)
    assert not faults
    assert test == TripTest(0, date(2026, 5, 12), "K1", "device", 121.5, "open ground", ("K1",), ("K1", "K2"), ("L1",),
                            "house", 0.0, True, "Dana", ROW["note"], Where("trip_tests.csv", 2))


@pytest.mark.parametrize("column", [column for column in COLUMNS if column not in (
    "date", "outlet", "pressed", "tripped")])
def test_a_column_that_nothing_hangs_on_may_be_absent(read: Callable[..., Job], column: str) -> None:
    row = {name: cell.replace("\n", " ") for name, cell in ROW.items() if name != column}
    out = io.StringIO()
    writer = csv.DictWriter(out, list(row))
    writer.writeheader()
    writer.writerow(row)
    [test] = read(trips=out.getvalue()).tests
    assert not getattr(test, column)


@pytest.mark.parametrize("column", ["date", "outlet", "pressed", "tripped"])
def test_a_column_that_a_row_cannot_be_without_is_missed_once(faults: Callable[..., list[str]], column: str) -> None:
    columns = [name for name in ("date", "outlet", "pressed", "tripped") if name != column]
    rows = ",".join(ROW[name] for name in columns) + "\n"
    assert faults(trips=",".join(columns) + "\n" + rows * 2) == [
        f"trip_tests.csv:1: there is no column `{column}`; expected `date`, `outlet`, `pressed` and `tripped`. "
        "Add the column."]


def test_ids_may_be_parted_by_commas_and_stand_among_rest_of(read: Callable[..., Job]) -> None:
    [test] = read(trips='date,outlet,pressed,tripped,stayed_live\n'
                        '2026-05-12,K1,device,"k1, B5","L1,Rest  of  Circuit K2"\n').tests
    assert (test.tripped, test.stayed_live, test.rest_live) == (("K1", "B5"), ("L1", "K2"), "circuit")


def test_a_row_whose_own_reading_speaks_against_went_dead_is_read(read: Callable[..., Job]) -> None:
    """That is evidence for the reasoning to weigh, not a slip of the pen."""
    [test] = read(trips="date,outlet,pressed,tripped,went_dead,volts_after\n2026-05-12,K1,device,K1,K1,119\n").tests
    assert (test.went_dead, test.volts_after) == (("K1",), 119.0)


def test_without_a_map_no_id_is_called_unknown_and_other_faults_are_told() -> None:
    faults: list[Fault] = []
    read_trips("date,outlet,pressed,tripped\n2026-05-12,K77,device,\n,P9,tester,X1\n", read_map(None, []).names, faults)
    assert [str(fault) for fault in faults] == [
        "trip_tests.csv:2: `tripped` is blank; expected the ids of what opened, or `none`. Write what opened; `none` "
        "if nothing did."]


def test_a_date_at_fault_is_told_once_though_rows_below_repeat_it() -> None:
    faults: list[Fault] = []
    read_trips("date,outlet,pressed,tripped\n12/5/2026,K1,device,K1\n,K1,device,K1\n", the_map().names, faults)
    assert [str(fault) for fault in faults] == [
        "trip_tests.csv:2: `date: 12/5/2026` is not a date; expected a real day, YYYY-MM-DD. Write it with four, two "
        "and two digits."]


def test_marks_for_as_above_shorthand_and_a_decimal_comma_are_read(old_house: Job) -> None:
    rows = [(test.date.day, test.outlet, test.pressed, test.volts, test.wiring, test.tripped, test.by, test.where.line)
            for test in old_house.tests]
    assert rows == [(12, "K1", "device", 121.4, "correct", ("K1",), "Lee", 2),
                    (12, "K7", "tester", 119.5, "hot/neutral reversed", (), "Lee", 3),
                    (12, "N1", "none", 118.0, "open ground", (), "Lee", 5)]
    first = old_house.tests[0]
    assert (first.stayed_live, first.rest_live, first.reset) == (("G1", "G2"), "circuit", True)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("delimiter", ",;\t")
def test_a_file_is_the_same_in_every_form_that_a_spreadsheet_saves(encoding: str, end: str, delimiter: str) -> None:
    """Blank lines, lines and ends of empty cells; Python's utf-16 writes a byte order mark."""
    lines = [[], ["", ""], ["Date", "OUTLET", "pressed", "Tripped", "Went  Dead", "By", "", ""], [], [""] * 9,
             ["2026-05-12", "K1", "device", "K1", "K2", "Zo\u00eb", "", "", "", ""], [], ["\u3003", "k1", "none", "-"]]
    data = end.join(delimiter.join(cells) for cells in lines).encode(encoding)
    faults: list[Fault] = []
    tests = read_trips(decode(data, "trip_tests.csv", faults) or "", the_map().names, faults)
    assert not faults
    assert [(test.date, test.outlet, test.tripped, test.went_dead, test.by, test.where.line) for test in tests] == [
        (date(2026, 5, 12), "K1", ("K1",), ("K2",), "Zo\u00eb", 6), (date(2026, 5, 12), "K1", (), (), "Zo\u00eb", 8)]


def cell_of(column: str, cell: str) -> tuple[list[TripTest], list[str]]:
    """The second of two rows, with this cell in it."""
    rows = [ROW | {"note": ""}, ROW | {"note": "", column: cell}]
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS)
    writer.writeheader()
    writer.writerows(rows)
    faults: list[Fault] = []
    tests = read_trips(out.getvalue(), the_map().names, faults)
    return tests[1:], [fault.met for fault in faults]


@pytest.mark.parametrize("mark", ['"', "''", "\u3003", "\u201d", "do.", "Ditto", '-"-', ""])
@pytest.mark.parametrize("column", ["date", "by"])
def test_a_mark_for_as_above_repeats_date_and_by(column: str, mark: str) -> None:
    [test], faults = cell_of(column, mark)
    assert not faults and (test.date, test.by) == (date(2026, 5, 12), "Dana")


@pytest.mark.parametrize("column", [column for column in COLUMNS if column not in ("date", "by")])
def test_a_mark_for_as_above_is_one_fault_elsewhere(column: str) -> None:
    assert cell_of(column, "ditto")[1] == [f"`{column}: ditto` repeats the row above"]


@pytest.mark.parametrize(("column", "cell", "read"), [
    ("pressed", "Own TEST", "device"), ("pressed", "device test", "device"), ("pressed", "test", "device"),
    ("wiring", "OK", "correct"), ("wiring", "Correct  wiring", "correct"), ("wiring", "OG", "open ground"),
    ("wiring", "no ground", "open ground"), ("wiring", "ON", "open neutral"), ("wiring", "OH", "open hot"),
    ("wiring", "hot/neutral reverse", "hot/neutral reversed"), ("wiring", "H/G Rev.", "hot/ground reversed"),
    ("wiring", "Hot neutral reversed", "hot/neutral reversed"), ("wiring", "reversed polarity", "hot/neutral reversed"),
    ("wiring", "rev", "reversed"), ("wiring", "Reversed", "reversed"), ("wiring", "H/N & G", "h/n & g"),
    ("tripped", "nothing", ()), ("tripped", "No trip", ()), ("tripped", "-", ()),
    ("tripped", "K1 and B5", ("K1", "B5")),
    ("went_dead", "K1;K2", ("K1", "K2")), ("went_dead", "K1+ k2", ("K1", "K2")), ("reset", "OK", True),
    ("reset", "n", False), ("volts", "119,5 V", 119.5), ("volts_after", "0,25", 0.25), ("volts", "120 v", 120.0)])
def test_what_people_write_is_read_as_they_mean_it(column: str, cell: str, read: object) -> None:
    [test], faults = cell_of(column, cell)
    assert not faults and getattr(test, column) == read


@pytest.mark.parametrize(("pressed", "outlet", "read"), [
    ("plug-in", "K1", "tester"), ("Tester button", "K1", "tester"), ("handle", "B5", "breaker"),
    ("reading", "K1", "none"), ("read", "K1", "none")])
def test_other_words_for_what_was_pressed(pressed: str, outlet: str, read: str) -> None:
    faults: list[Fault] = []
    [test] = read_trips(f"date,outlet,pressed,tripped\n2026-05-12,{outlet},{pressed},none\n", the_map().names, faults)
    assert not faults and test.pressed == read


@pytest.mark.parametrize(("written", "near"), [
    ("5/13/2026", "2026-05-13"), ("13.5.2026", "2026-05-13"), ("5/5/2026", "2026-05-05"), ("2026/5/3", "2026-05-03"),
    ("12 May 2026", "2026-05-12"), ("May 12, 2026", "2026-05-12"), ("12-MAY-2026", "2026-05-12"),
    ("2026-05-12 00:00", "2026-05-12"), ("12/5/2026", ""), ("1.2.2026", ""), ("5/13/26", ""), ("31/31/2026", ""),
    ("2026-02-30", ""), ("May 2026", ""), ("today", "")])
def test_another_form_of_date_is_a_fault_that_names_the_day_where_it_can_be_only_one(written: str, near: str) -> None:
    faults: list[Fault] = []
    read_trips(f'date,outlet,pressed,tripped\n"{written}",K1,device,K1\n', the_map().names, faults)
    assert [(fault.met, fault.near) for fault in faults] == [(f"`date: {written}` is not a date", near)]


def test_an_unclosed_quote_in_a_note_still_swallows_nothing() -> None:
    faults: list[Fault] = []
    tests = read_trips('date,outlet,pressed,tripped,note\n2026-05-12,K1,device,K1,"a note\n",K1,device,K1,"x", y\n',
                       the_map().names, faults)
    assert not tests and [fault.where.line for fault in faults] == [2]
