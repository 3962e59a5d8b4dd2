"""A file that the walk page saved in; its rows as they are written out, where it is whole. One that was cut off is refused."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ...errors import Fault, Where
from ...job.read.files import decode
from ...job.read.values import listed
from ...job.trips import COLUMNS, MORE, job_line

PAGE_COLUMNS = (*COLUMNS, *MORE)
WRITTEN = ("date", "by", "time", "page")    # what the page writes into every row
AGAIN = "save it on the phone again and take that file; this one was cut off or changed on its way"

Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Saved:
    """A whole file of the walk page."""

    name: str
    job: str                    # id of the job that it says it is of
    places: str                 # its line of places
    text: str                   # as the reader of trip tests takes it: that line blank
    cells: Mapping[int, Cells]  # of every row, by its line


def read_saved(data: bytes, name: str, faults: list[Fault]) -> Saved | None:
    """None and faults where it is not whole, or nothing that the page writes."""
    text = decode(data, name, faults)
    if text is None:
        return None
    lines = text.split("\n")
    job = job_line(text)[0]
    cells: dict[int, Cells] = {}
    before = len(faults)
    if not data.endswith(b"\n"):
        faults.append(Fault(Where(name, len(lines)), "the last line has no end", "a whole file", AGAIN))
    elif job is None or len(lines) < 4 or not lines[1].startswith("# "):
        faults.append(Fault(Where(name, 1), "this does not begin as the walk page begins a file",
                            "`# <id of the job>`, then `# places ...`", AGAIN))
    elif lines[2] != ",".join(PAGE_COLUMNS):
        faults.append(Fault(Where(name, 3), "this line is not the header that the walk page writes", f"`{','.join(PAGE_COLUMNS)}`",
                            AGAIN))
    else:
        cells = dict(_cells(lines[3:-1], name, faults))
        if not cells and len(faults) == before:
            faults.append(Fault(Where(name, 3), "no row stands below this header", "a row for each test that was made", AGAIN))
    if job is None or len(faults) > before:
        return None
    return Saved(name, job, lines[1], "\n".join([lines[0], "", *lines[2:]]), cells)


def _cells(lines: Sequence[str], name: str, faults: list[Fault]) -> Iterator[tuple[int, Cells]]:
    """The line of each row with its cells; each row has all cells, and none of those blank that the page always writes."""
    reader = csv.reader(io.StringIO("".join(f"{line}\n" for line in lines), newline=""), strict=True)
    while True:
        where = Where(name, reader.line_num + 4)
        try:
            found = next(reader, None)
        except csv.Error as error:
            faults.append(Fault(where, f"this row cannot be read ({error})", "a whole row", AGAIN))
            return
        if found is None:
            return
        row = dict(zip(PAGE_COLUMNS, found))
        if len(found) != len(PAGE_COLUMNS):
            faults.append(Fault(where, f"{len(found)} cells in this row", f"{len(PAGE_COLUMNS)}, as the page writes them", AGAIN))
        elif blank := [column for column in WRITTEN if not row[column].strip()]:
            faults.append(Fault(where, f"{listed(blank)} blank in this row", f"{listed(WRITTEN)} in every row", AGAIN))
        yield where.line, row
