"""The text of a CSV file in, its rows out: cells by the name of their column, each row with its first line."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeVar

from ...errors import Fault, Where, nearest
from .limits import CELL, ROWS, beyond
from .values import fold, listed, quantity

T = TypeVar("T")

DELIMITERS = ",;\t"
# What people write for "as above"; a spreadsheet bends the straight mark.
DITTO = frozenset({'"', "''", "\u3003", "\u201c", "\u201d", "\u2033", "do.", "ditto", '-"-'})

# 119,5; with three digits behind the comma it may be a thousand.
_DECIMAL_COMMA = re.compile(r"([0-9]+),([0-9]{1,2})(?![0-9])")


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

    def ditto(self, column: str) -> bool:
        return fold(self.cells.get(column, "")).casefold() in DITTO

    def word(self, column: str, choices: Mapping[str, T], also: Mapping[str, str] = MappingProxyType({})) -> T | None:
        """One of a few words, in any case; `also` has other words for some of them."""
        text = self.text(column)
        if text is None:
            return None
        word = fold(text).casefold()
        found = choices.get(also.get(word, word))
        if found is None:
            self.fault(f"`{column}: {text}` is not known", listed(choices, "or"), "write one of these words",
                       nearest(text, choices))
        return found

    def number(self, column: str, unit: str, most: float) -> float | None:
        """A number from 0 to `most`, with a point or a comma for decimals; the unit may stand behind it."""
        text = self.text(column)
        if text is None:
            return None
        number = quantity(_DECIMAL_COMMA.sub(r"\1.\2", text, count=1), unit, most)
        if number is None:
            self.fault(f"`{column}: {text}` is not a number from 0 to {most:g}", f"{unit} as the meter showed it",
                       "write the number alone, with a point for decimals; leave it blank if it was not read")
        return number


def read_rows(text: str, file: str, columns: Sequence[str], required: Sequence[str], faults: list[Fault],
              free: Sequence[str]) -> Iterator[Row]:
    """The rows below the header, blank ones left out; a header that is none gives no rows.

    `free` names the columns of free text; in the others a lone `"` is a ditto mark and opens no quoted cell.
    """
    lone_quotes: set[int] = set()  # where those columns stand; known once the header is read
    lines = _lines(text, file, lone_quotes, faults)
    where, header = next(lines, (Where(file, 1), []))
    names = _names(header)
    if not set(names) & set(columns):
        faults.append(Fault(where, "this line is not the header", f"`{','.join(columns)}`",
                            "write that line above the rows"))
        return
    _check_header(where, names, columns, required, faults)
    place = {name: names.index(name) for name in columns if name in names}
    lone_quotes.update(at for name, at in place.items() if name not in free)
    for where, cells in lines:
        spoilt = len(cells) > len(names)
        if spoilt:
            faults.append(Fault(where, f"{len(cells)} cells in this row", f"at most {len(names)}, as in the header",
                                "put a text that holds the delimiter in double quotes, or remove a delimiter"))
        long = [cell for cell in cells if len(cell) > CELL.most]
        if long:
            faults.append(beyond(CELL, where, len(long[0]), "shorten it; a quote that is not closed takes in what follows"))
            return
        if where.line > ROWS.most:
            faults.append(beyond(ROWS, where, where.line, "check what this file is, and part the job"))
            return
        padded = cells + [""] * len(names)
        yield Row(where, {name: padded[at].strip() for name, at in place.items()}, spoilt, faults)


def header_of(text: str) -> tuple[int, str, list[str]]:
    """The line of the header, from 0, the delimiter that it shows, and the names in it as they are compared."""
    lines = text.split("\n")
    at = next((at for at, line in enumerate(lines) if any(sign.isalnum() for sign in line)), 0)
    delimiter = max(DELIMITERS, key=lines[at].count)
    return at, delimiter, _names(next(csv.reader([lines[at]], delimiter=delimiter), []))


def _names(header: Sequence[str]) -> list[str]:
    return [re.sub(r"[ -]+", "_", fold(name).casefold()) for name in header]


def _lines(text: str, file: str, lone_quotes: set[int], faults: list[Fault]) -> Iterator[tuple[Where, list[str]]]:
    """Every row that is not blank, header included, with its first line and without blank cells at its end."""
    delimiter = header_of(text)[1]
    begins = True  # the next line begins a row, not a further line of a quoted cell

    def lines() -> Iterator[str]:
        nonlocal begins
        for line in io.StringIO(text, newline=""):
            mended = _quote_lone_quotes(line, delimiter, lone_quotes) if begins else line
            begins = False
            yield mended

    # strict: else an unclosed quote swallows all rows below it without a word.
    reader = csv.reader(lines(), delimiter=delimiter, strict=True)
    while True:
        begins = True
        where = Where(file, reader.line_num + 1)
        try:
            cells = next(reader, None)
        except csv.Error as error:
            faults.append(Fault(where, f"this row cannot be read ({error})", "cells with or without quotes",
                                "close the quote, and write a quote inside quotes twice"))
            return
        if cells is None:
            return
        while cells and not cells[-1].strip():
            cells.pop()
        if cells:
            yield where, cells


def _quote_lone_quotes(line: str, delimiter: str, columns: set[int]) -> str:
    """The line with every cell of these columns that is a lone `"` written as CSV writes it.

    >>> _quote_lone_quotes('",K2,a "b",",c', ",", {0, 3})
    '\"\"\"\",K2,a "b","\"\"\",c'
    """
    end = re.escape(delimiter)
    lone = re.compile(rf'[ ]*"[ ]*(?=[{end}\n]|$)')
    # A quoted cell that is not closed on this line reaches to its end.
    any_cell = re.compile(rf'"(?:[^"]|"")*"?[^{end}\n]*|[^{end}\n]*')
    cells: list[str] = []
    at = 0
    while True:
        found = lone.match(line, at) if len(cells) in columns else None
        cell = found or any_cell.match(line, at)
        assert cell     # an empty cell matches too
        cells.append('""""' if found else cell[0])
        at = cell.end()
        if line[at:at + 1] != delimiter:
            return delimiter.join(cells) + line[at:]
        at += 1


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
