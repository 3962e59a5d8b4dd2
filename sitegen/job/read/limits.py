"""How much a job folder may hold: the one table, and the fault that a thing too large gives, early and by its line.

Each limit lies far above a house of 300 protective devices and far below what slows the reading of it down.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...errors import Fault, Where


@dataclass(frozen=True, slots=True)
class Limit:
    """One row of the table in the README."""

    most: int
    of: str      # what is counted: "letters in one file"
    why: str     # what it is for: "a file is read whole"


FILE = Limit(2_000_000, "bytes in one file", "every file is read whole")
TEXT = Limit(1_000, "letters in one text of job.yaml, the map or the visits", "it has to fit a page and be broken into lines")
CELL = Limit(10_000, "letters in one cell of trip_tests.csv", "it may name every outlet of a large house")
ENTRIES = Limit(3_000, "entries in one list, such as the points of a circuit", "a house has some hundreds")
ROWS = Limit(20_000, "rows in trip_tests.csv", "a walk of 300 devices has some thousands")
SERIES = Limit(12, "protective devices one behind another", "each asks for a press before the next")
CHAIN = Limit(80, "points one behind another", "every run of cable between two of them is weighed where a fault is sought")
NOTE = Limit(20_000, "letters in one page of notes/", "some ten sheets of paper")
NOTES = Limit(30, "pages in notes/, in each language", "each becomes a page and a sheet")
PHOTO = Limit(50_000_000, "pixels in one photo", "it is opened whole before it is made small")
LIMITS = (FILE, TEXT, CELL, ENTRIES, ROWS, SERIES, CHAIN, NOTE, NOTES, PHOTO)


def beyond(limit: Limit, where: Where, met: int, do: str) -> Fault:
    """The fault of a thing with `met` of what the limit counts."""
    return Fault(where, f"{met:,} {limit.of}", f"at most {limit.most:,}", do)
