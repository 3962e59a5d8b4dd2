"""The rows of trip_tests.csv and those of saved files in; which are new, and the bytes of trip_tests.csv with those in, out.

Of what stands in trip_tests.csv the header line alone may get longer.
"""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from itertools import combinations, pairwise

from ...errors import CallError, Fault, Where
from ...job.read.files import decode
from ...job.read.rows import header_of
from ...job.records import TripTest
from ...job.trips import FILE, job_line
from .saved import PAGE_COLUMNS, Cells

Key = tuple[date, time | None, str, str]
Press = tuple[date, str, str]


@dataclass(frozen=True, slots=True)
class Entered:
    """One row of such a file: as it is read, and as it is written."""

    test: TripTest
    cells: Cells


def key(test: TripTest) -> Key:
    """What a row is known by."""
    return test.date, test.time, test.outlet, test.pressed


def new_rows(kept: Sequence[TripTest], files: Sequence[Sequence[Entered]], faults: list[Fault]) -> list[Entered]:
    """The rows that trip_tests.csv does not have, each once, in the order of their times."""
    lists = [_by_press(kept), *(_by_press([row.test for row in file]) for file in files)]
    for file in files:
        faults += _backwards([row.test for row in file])
    for one, other in combinations(lists, 2):
        for press in other.keys() & one.keys():
            faults += _differing(one[press], other[press])
    known = {key(test) for test in kept}
    found = {key(row.test): row for file in files for row in file if key(row.test) not in known}
    return [found[one] for one in sorted(found)]


def _by_press(tests: Iterable[TripTest]) -> dict[Press, dict[Key, TripTest]]:
    found: dict[Press, dict[Key, TripTest]] = defaultdict(dict)
    for test in tests:
        found[test.date, test.outlet, test.pressed][key(test)] = test
    return found


def _backwards(tests: Iterable[TripTest]) -> Iterator[Fault]:
    """One press done over has a later time below an earlier one: else the older look would count."""
    presses: dict[Press, list[TripTest]] = defaultdict(list)
    for test in tests:
        presses[test.date, test.outlet, test.pressed].append(test)
    for above, below in (pair for press in presses.values() for pair in pairwise(press)):
        if not (above.time and below.time and above.time < below.time):
            yield Fault(below.where, f"this does over what line {above.where.line} says and is no later: {below.time} after {above.time}",
                        "a later time below an earlier one", "set the clock of the phone, do the test over on the page, and save again")


def _differing(one: Mapping[Key, TripTest], other: Mapping[Key, TripTest]) -> Iterator[Fault]:
    """One press has one writer: of two lists one holds all that the other does, in the same words."""
    mine, theirs = ([test for known, test in rows.items() if known not in others] for rows, others in ((one, other), (other, one)))
    if mine and theirs:
        first, second = mine[0], theirs[0]
        yield Fault(second.where, f"two writers of one press: `{second.pressed}` at {second.outlet} on {second.date}, here"
                    f"{_said_by(second)} and in {first.where}{_said_by(first)}", "one writer for each press",
                    "see which of the two holds and take the other row out; if the press was made twice, copy the later row into "
                    f"{FILE} yourself")
    for known in one.keys() & other.keys():
        first, second = one[known], other[known]
        if _seen(first) != _seen(second):
            yield Fault(second.where, f"the row of {second.date} {second.time}, `{second.pressed}` at {second.outlet}, says something else "
                        f"in {first.where}", "the same words in both", "see which holds, and write it into both")


def _said_by(test: TripTest) -> str:
    return f" by {test.by}" if test.by else ""


def _seen(test: TripTest) -> TripTest:
    """The row, wherever it stands."""
    return replace(test, row=0, where=Where("", 0))


def with_rows(data: bytes, kept: Sequence[TripTest], new: Sequence[Entered]) -> tuple[bytes, tuple[str, ...]]:
    """The bytes of trip_tests.csv with these rows in, each by its time within its day; and the columns its header did not have."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise CallError(f"{FILE} is written in UTF-16; save it as CSV UTF-8, then enter again. Nothing was written.")
    lines = data.splitlines(keepends=True)
    at, delimiter, names = header_of(job_line(decode(data, FILE, []) or "")[1])
    more = tuple(column for column in PAGE_COLUMNS if column not in names and any(row.cells[column] for row in new))
    header = lines[at].rstrip(b"\r\n")
    end = lines[at][len(header):] or b"\n"
    if more:
        lines[at] = delimiter.join([header.decode().rstrip(f"{delimiter} "), *more]).encode() + end
    if not lines[-1].endswith((b"\r", b"\n")):
        lines[-1] += end
    starts = [*(test.where.line - 1 for test in kept), len(lines)]
    written: dict[int, list[bytes]] = defaultdict(list)
    for row in new:
        written[starts[place(kept, row.test)]].append(_line(row.cells, [*names, *more], delimiter, end.decode()))
    out = [piece for number, line in enumerate([*lines, b""]) for piece in (*written[number], line)]
    return b"".join(out), more


def place(kept: Sequence[TripTest], test: TripTest) -> int:
    """How many rows stand before it: before the first one that is later; rows of its day without a time are earlier."""
    day = [at for at, row in enumerate(kept) if row.date == test.date]
    later = [at for at in day if (time := kept[at].time) and test.time and time > test.time] if day else [
        at for at, row in enumerate(kept) if row.date > test.date]
    return later[0] if later else day[-1] + 1 if day else len(kept)


def _line(cells: Cells, names: Sequence[str], delimiter: str, end: str) -> bytes:
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator=end).writerow([cells.get(name, "") for name in names])
    return out.getvalue().encode()


def moved(kept: Sequence[TripTest], new: Sequence[Entered], found: Sequence[TripTest]) -> TripTest | None:
    """The first row of trip_tests.csv that would say something else with the new ones in; None: all say what they said.

    A blank `date` or `by` repeats the row above it, and that may be a new one now.
    """
    want: list[list[TripTest]] = [[] for _ in range(len(kept) + 1)]
    for row in new:
        want[place(kept, row.test)].append(row.test)
    order = [test for at, rows in enumerate(want) for test in (*rows, *kept[at:at + 1])]
    return next((test for test, is_now in zip(order, found, strict=True) if _seen(test) != _seen(is_now)), None)
