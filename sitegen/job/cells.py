"""The text of a CSV file in, its rows out: cells by the name of their column, each row with its first line."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from .faults import Fault, nearest
from .records import Where
from .values import fold, listed, quantity

T = TypeVar("T")

DELIMITERS = ",;\t"


@dataclass(frozen=True, slots=True)
class Row:
    """One row. A getter gives None where the cell is absent, blank or at fault (then with a fault)."""

    where: Where
    cells: Mapping[str, str]   # of every known column of the file; "" where the row has none
    spoilt: bool               # it has too many cells, so none of them can be trusted
    faults: list[Fault]

    def fault(self, met: str, expected: str, do: str, near: str = "") -> None:
        self.faults.append(Fault(self.where, met, expected, do, near))

    def text(self, column: str) -> str | None:
        return self.cells.get(column) or None

    def needed(self, column: str, expected: str, do: str) -> str | None:
        """A cell that must not be blank. Without its column the header is at fault, not the row."""
        text = self.text(column)
        if text is None and column in self.cells:
            self.fault(f"`{column}` is blank", expected, do)
        return text

    def word(self, column: str, choices: Mapping[str, T]) -> T | None:
        """One of a few words, in any case."""
        text = self.text(column)
        if text is None:
            return None
        found = choices.get(fold(text).casefold())
        if found is None:
            self.fault(f"`{column}: {text}` is not known", listed(choices, "or"), "write one of these words",
                       nearest(text, choices))
        return found

    def number(self, column: str, unit: str, most: float) -> float | None:
        """A number from 0 to `most`; the unit may stand behind it."""
        text = self.text(column)
        if text is None:
            return None
        number = quantity(text, unit, most)
        if number is None:
            self.fault(f"`{column}: {text}` is not a number from 0 to {most:g}", f"{unit} as the meter showed it",
                       "write the number alone, with a point for decimals; leave it blank if it was not read")
        return number


def read_rows(text: str, file: str, columns: Sequence[str], required: Sequence[str],
              faults: list[Fault]) -> Iterator[Row]:
    """The rows below the header, blank ones left out; a header that is none gives no rows."""
    lines = _lines(text, file, faults)
    where, header = next(lines, (Where(file, 1), []))
    names = [fold(name).casefold() for name in header]
    if not set(names) & set(columns):
        faults.append(Fault(where, "this line is not the header", f"`{','.join(columns)}`",
                            "write that line above the rows"))
        return
    _check_header(where, names, columns, required, faults)
    place = {name: names.index(name) for name in columns if name in names}
    for where, cells in lines:
        spoilt = len(cells) > len(names)
        if spoilt:
            faults.append(Fault(where, f"{len(cells)} cells in this row", f"at most {len(names)}, as in the header",
                                "put a text that holds the delimiter in double quotes, or remove a delimiter"))
        padded = cells + [""] * len(names)
        yield Row(where, {name: padded[at].strip() for name, at in place.items()}, spoilt, faults)


def _lines(text: str, file: str, faults: list[Fault]) -> Iterator[tuple[Where, list[str]]]:
    """Every row that is not blank, header included, with its first line."""
    header = text.lstrip().split("\n", 1)[0]
    delimiter = max(DELIMITERS, key=header.count)
    # strict: else an unclosed quote swallows all rows below it without a word.
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    while True:
        where = Where(file, reader.line_num + 1)
        try:
            cells = next(reader, None)
        except csv.Error as error:
            faults.append(Fault(where, f"this row cannot be read ({error})", "cells with or without quotes",
                                "close the quote, and write a quote inside quotes twice"))
            return
        if cells is None:
            return
        if any(cell.strip() for cell in cells):
            yield where, cells


def _check_header(where: Where, names: Sequence[str], columns: Sequence[str], required: Sequence[str],
                  faults: list[Fault]) -> None:
    meant = set()
    for at, name in enumerate(names):
        if name == "":
            faults.append(Fault(where, f"column {at + 1} has no name", listed(columns, "or"), "name it or remove it"))
        elif name not in columns:
            near = nearest(name, columns)
            meant.add(near)
            faults.append(Fault(where, f"unknown column `{name}`", listed(columns, "or"),
                                "correct its name, or remove the column", near))
        elif name in names[:at]:
            faults.append(Fault(where, f"the column `{name}` stands twice", "each column once", "remove one of them"))
    for name in required:
        if name not in names and name not in meant:
            faults.append(Fault(where, f"there is no column `{name}`", listed(required), "add the column"))
