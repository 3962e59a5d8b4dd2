"""What labels, strips and sheets are laid out as, before they are inked as dots or as lines: marks with places in dots."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from ..qr import Code
from ..type.font import UNITS
from ..type.widths import bearing, length


class Modules(NamedTuple):
    """A QR code without its quiet zone; one module is `module` dots a side."""

    code: Code
    module: int
    left: int
    top: int

    @property
    def size(self) -> int:
        return self.code.side * self.module


class Line(NamedTuple):
    """One line of text; the pen starts at `left` and the letters stand on `baseline`."""

    text: str
    weight: str
    size: int
    left: int
    baseline: int
    black: bool = True


class Bar(NamedTuple):
    """A filled rectangle, or with a `pen` the frame just inside it."""

    left: int
    top: int
    width: int
    height: int
    radius: int = 0
    pen: int = 0
    black: bool = True


class Dotted(NamedTuple):
    """A frame to cut along: one dot in every `dash` on the edges of the rectangle."""

    left: int
    top: int
    width: int
    height: int
    dash: int


class Group(NamedTuple):
    """Marks that move together; their places count from `left` and `top`."""

    left: int
    top: int
    marks: tuple[Mark, ...]


Mark = Modules | Line | Bar | Dotted | Group


@dataclass(frozen=True, slots=True)
class Artwork:
    """One label, strip or sheet to be inked: its size in dots, how many an inch has, its marks, the later over the earlier."""

    width: int
    height: int
    dpi: int
    marks: tuple[Mark, ...]
    sheet_mm: tuple[float, float] | None = None     # of a sheet: its size, which may be no whole number of dots

    @property
    def size_mm(self) -> tuple[float, float]:
        return self.sheet_mm or (round(self.width / self.dpi * 25.4, 4), round(self.height / self.dpi * 25.4, 4))

    def words(self) -> str:
        """All its text, mark by mark."""
        return " ".join(mark.text for mark in flat(self.marks) if isinstance(mark, Line))


def flat(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    """Every mark, those of groups too."""
    for mark in marks:
        yield from flat(mark.marks) if isinstance(mark, Group) else (mark,)


def pens(line: Line) -> Iterator[tuple[str, float]]:
    """Each letter and where its pen starts, in units of the typeface: at the dots where the picture has it."""
    at = 0.0
    for letter in line.text:
        yield letter, round(at * UNITS / line.size, 1)
        at += length(letter, line.weight, line.size)


def flush(line: Line) -> Line:
    """The line moved so that upright stems stand at `left`: H begins with one, so its white space before it is taken off."""
    return line._replace(left=line.left - bearing(line.weight, line.size))


def whole_dots(mm: float, dpi: int) -> int:
    """As many dots as a length has room for, so that nothing is larger than asked.

    >>> whole_dots(63.5, 300), whole_dots(63.5, 203)
    (750, 507)
    """
    return int(mm / 25.4 * dpi + 1e-6)
