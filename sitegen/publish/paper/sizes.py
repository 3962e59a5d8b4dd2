"""Takes a theme; gives the sizes at the top of its print.css, the only place where they stand, and the style with them set in."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cached_property

from ...binder.desk.words import Words
from ...binder.site.records import Frame
from ...errors import ThemeError
from ..theme import Theme
from .blocks import apart

UNITS = {"pt": 1.0, "mm": 72 / 25.4, "in": 72.0, "": 1.0}     # to points; a bare number is how far lines are apart
A4_WIDE, LETTER_HIGH = 210 * UNITS["mm"], 11 * UNITS["in"]    # what fits on the narrower and the lower one fits on both
_TABLE = re.compile(r":root\{(.*?)\}")


class Sizes(dict[str, float]):
    """By their names in print.css, in points."""

    def __missing__(self, name: str) -> float:
        raise ThemeError(f"style/print.css has no size `--{name}` in the `:root` at its top; add it.")


def print_style(theme: Theme) -> tuple[Sizes, str]:
    """The sizes, and the style sheet with each set in where it is asked for: page margins cannot ask a browser for it."""
    style = theme.style("print")
    table = _TABLE.match(style)
    written = dict(re.findall(r"--([\w-]+):\s*([^;]+)", table[1])) if table else {}
    sizes = Sizes()
    for name, value in written.items():
        found = re.fullmatch(r"([\d.]+)(pt|mm|in|)", value)
        if not found:
            raise ThemeError(f"style/print.css has `--{name}: {value}`; expected a number with pt, mm or in, or alone.")
        sizes[name] = float(found[1]) * UNITS[found[2]]
    return sizes, re.sub(r"var\(--([\w-]+)\)", lambda asked: written.get(asked[1], asked[0]), _TABLE.sub("", style, count=1))


@dataclass(frozen=True, slots=True)
class Type:
    """The type of one side of a leaf, in points."""

    tight: bool
    text: float
    leading: float
    row: float              # the list of what goes off
    row_leading: float
    padding: float          # above and below a row, with its rule
    step: float
    headline: float
    picture: float          # how high the picture of the device is


@dataclass(frozen=True)
class Paper:
    """What everything on paper is set with."""

    frame: Frame
    words: Words
    sizes: Sizes

    @cached_property
    def wide(self) -> float:
        """Of a page between its margins, and between those of its text."""
        return math.floor(A4_WIDE - self.sizes["inner"] - self.sizes["outer"] - 1.5)

    @cached_property
    def high(self) -> float:
        """Of a page between its margins, with some kept free on every side."""
        return math.floor(LETTER_HIGH - self.sizes["top"] - self.sizes["bottom"]) - 15

    @cached_property
    def column(self) -> float:
        """Of a front's two."""
        return (self.wide - self.sizes["column-gap"]) / 2

    @cached_property
    def half(self) -> float:
        """Of a back."""
        return (self.wide - self.sizes["two-gap"]) / 2

    @cached_property
    def normal(self) -> Type:
        return self._type(False, "")

    @cached_property
    def tight(self) -> Type:
        return self._type(True, "tight-")

    def _type(self, tight: bool, of: str) -> Type:
        text, row, sizes = self.sizes[f"{of}text"], self.sizes[f"{of}row"], self.sizes
        return Type(tight, text, apart(text, sizes[f"{of}apart"]), row, apart(row, sizes[f"{of}row-apart"]),
                    2 * sizes[f"{of}row-air"] + 0.75, sizes[f"{of}step"], sizes[f"{of}headline"], sizes[f"{of}picture"])

    @property
    def draft(self) -> float:
        """Height of the bar of a draft."""
        return 40.0 if self.frame.draft else 0.0

    def text(self, name: str, **values: object) -> str:
        return self.words.text(name, **values)


def stop_line(paper: Paper, *names: str) -> str:
    """What stands in the frame before the first press."""
    return " ".join((*(paper.text(f"stop_line.{name}", number=paper.frame.emergency) for name in names), paper.frame.phone or paper.frame.firm))
