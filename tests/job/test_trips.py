"""trip_tests.csv into records."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from sitegen.job import read_job
from sitegen.job.faults import Fault
from sitegen.job.map import MapRead, read_map
from sitegen.job.records import Job, TripTest, Where
from sitegen.job.trips import COLUMNS, read_trips

CASES = Path(__file__).parents[1] / "cases" / "reading"


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
