"""The frozen records of job.yaml: who, where, when, what labels are printed on, what things cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Annotated

from ...errors import Where
from ..month_day import ReminderRule
from .texts import NOTHING, Apart, Mark, Noted, Said


@dataclass(frozen=True, slots=True)
class Amendment:
    """One local change to the book, as the contractor was given it."""

    does: str                         # drop | add | level
    rule: str                         # its name, as `check --rules` lists it
    places: tuple[str, ...]           # where alone, in the words of `place`; (): everywhere
    to: str | None                    # the level that `level` gives
    reason: Noted                     # whose amendment it is
    where: Where


@dataclass(frozen=True, slots=True)
class Code:
    book: Noted | None = None         # NEC
    edition: Noted | None = None      # 2023
    amendments: Noted | None = None   # local amendments, in words
    changes: tuple[Amendment, ...] = ()   # those that change what is judged


@dataclass(frozen=True, slots=True)
class Prices:
    """What each thing costs when devices are planned, in cents; as it stands here every device counts as one."""

    receptacle: int = 1               # a GFCI receptacle, more than a plain one
    faceless: int = 1                 # in a box that is there
    new_box: int = 1                  # with the faceless device in it
    breaker: int = 1                  # a GFCI breaker, more than the one that is there
    line: int = 0                     # a cable that stays on LINE: splice and pigtail


@dataclass(frozen=True, slots=True)
class Wishes:
    """What it is worth to keep a wish when devices are planned, in cents."""

    most: int | None = None           # outlets that one device turns off
    over: int = 0                     # for each outlet above `most`
    far: int = 0                      # for each outlet whose reset is neither in its room nor the next
    dark: int = 0                     # for each room where an outlet and all lights go out together


@dataclass(frozen=True, slots=True)
class LabelStock:
    """What labels are printed on, and which are wanted. Lengths are mm; without more, one label a Letter sheet."""

    width_mm: float
    height_mm: float
    sheet_mm: tuple[float, float] | None = (215.9, 279.4)  # width and height; None: a roll, one label after the other
    columns: int = 1
    rows: int = 1
    left_mm: float = 6.0              # from the sheet's left edge to the first label
    top_mm: float = 6.0               # from its upper edge
    gap_mm: tuple[float, float] = (0.0, 0.0)    # between columns, between rows
    start: int = 1                    # the first free label of a part-used sheet, counted along the rows
    frame: bool = False               # a faint frame to cut along
    right_mm: float = 0.0             # everything is moved by so much, against a printer's drift
    down_mm: float = 0.0
    scale: float = 1.0                # and set apart by this factor, from the upper left corner
    dpi: int = 300                    # dots an inch of the label pictures
    wanted: tuple[str, ...] = ("device", "outlet", "ground")    # kinds of label, in the order of `PURPOSES` in purposes.py
    qr: str = "address"               # what a QR code holds: "address", "text" (the answer in words), "none" (no codes)
    outlet_qr: bool = False           # outlet labels have a code too
    languages: tuple[str, ...] = ()   # two: a label speaks both; (): the first language of the job
    also_in: tuple[str, ...] = ()     # further languages in which the whole set is printed once more

    @property
    def page_mm(self) -> tuple[float, float]:
        """The sheet; of a roll, one label."""
        return self.sheet_mm or (self.width_mm, self.height_mm)


@dataclass(frozen=True, slots=True)
class JobFile:
    """job.yaml. It names no point and no circuit."""

    id: str
    title: Said
    handover: date | None
    base_url: str | None              # with its scheme, without a slash at the end
    code: Code
    languages: tuple[str, ...]
    labels: LabelStock
    reminders: ReminderRule
    contractor: Mapping[str, Noted]   # firm, name, phone, email, licence, ...
    home: Mapping[str, Apart]         # name, address, ...; printed only under print/
    private: Mapping[str, Apart]      # printed only under print/
    punch_list: tuple[Noted, ...]     # left to do
    where: Where
    forwarded: tuple[Apart, ...] = () # earlier base addresses that lead to `base_url` now
    emergency: str | None = None      # the number to call, the one entry of `home` that stands on the site
    prices: Prices | None = None      # None: not written
    wishes: Wishes = Wishes()
    # "handover", "contractor.phone" -> the line that it stands in, blank ones too
    lines: Annotated[Mapping[str, Where], Mark.APART] = field(default_factory=lambda: NOTHING, compare=False, repr=False)

    def line_of(self, *keys: str) -> Where:
        """The line of the first of these keys that is written; without any, where the file begins."""
        return next((self.lines[key] for key in keys if key in self.lines), self.where)
