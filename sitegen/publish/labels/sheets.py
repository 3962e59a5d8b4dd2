"""Takes labels and strips; gives sheets of them laid out at 600 dots an inch."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ...binder.labels.records import LabelSet, SheetLabel, Strip
from ...job.records import LabelStock
from ..type.font import CAP_HEIGHT
from ..type.widths import length
from .label import lay_out_label
from .marks import Artwork, Dotted, Group, Line, Mark, flush
from .places import CAPTION_MM, Place, label_place, strip_stock
from .strip import lay_out_strip

DPI = 600
DASH = 7        # one dot in so many: a frame to cut along that hardly shows where the knife leaves some of it
CAPTION = 9.0   # points


def label_sheets(labels: Sequence[SheetLabel], stock: LabelStock) -> list[Artwork]:
    """Every label in its place, on as many sheets as it takes."""
    sheets: list[list[Mark]] = []
    for number, label in enumerate(labels):
        where = label_place(stock, number)
        marks = _sheet(sheets, where)
        marks.append(_at(where, lay_out_label(label, DPI)))
        if stock.frame:
            marks.append(frame(stock, where))
    return [page(stock, marks) for marks in sheets]


def strip_sheets(strips: Sequence[Strip], stock: LabelStock) -> list[Artwork]:
    """Strips with their ids before them and a frame to cut along; another size begins another sheet."""
    done: list[Artwork] = []
    for size in strip_sizes(strips):
        sheets: list[list[Mark]] = []
        plain = strip_stock(stock, size)
        for number, strip in enumerate(strip for strip in strips if _size(strip) == size):
            where = label_place(plain, number)
            _sheet(sheets, where).extend(
                (_at(where, lay_out_strip(strip, DPI)), frame(plain, where), _caption(strip, where)))
        done += [page(plain, marks) for marks in sheets]
    return done


def strip_sizes(strips: Iterable[Strip]) -> tuple[tuple[float, float], ...]:
    return tuple(dict.fromkeys(map(_size, strips)))


def _size(strip: Strip) -> tuple[float, float]:
    return strip.width_mm, strip.height_mm


def strip_places(labels: LabelSet, stock: LabelStock) -> list[Place]:
    """The place of every strip, its sheet counted through all sizes."""
    found: dict[int, Place] = {}
    before = 0
    for size in strip_sizes(labels.strips):
        numbers = [number for number, strip in enumerate(labels.strips) if _size(strip) == size]
        plain = strip_stock(stock, size)
        for index, number in enumerate(numbers):
            where = label_place(plain, index)
            found[number] = where._replace(sheet=before + where.sheet)
        before = found[numbers[-1]].sheet
    return [found[number] for number in range(len(labels.strips))]


def page(stock: LabelStock, marks: Sequence[Mark]) -> Artwork:
    """One page of the stock; 8.5 x 11 in are 5100 x 6600 dots."""
    return Artwork(dots(stock.page_mm[0]), dots(stock.page_mm[1]), DPI, tuple(marks), stock.page_mm)


def dots(mm: float) -> int:
    return round(mm / 25.4 * DPI)


def _sheet(sheets: list[list[Mark]], where: Place) -> list[Mark]:
    while len(sheets) < where.sheet:
        sheets.append([])
    return sheets[where.sheet - 1]


def _at(where: Place, layout: Artwork) -> Group:
    return Group(dots(where.left_mm), dots(where.top_mm), layout.marks)


def frame(stock: LabelStock, where: Place, dash: int = DASH) -> Dotted:
    """A dotted frame around a place, as large as the scaled label, and no further than the sheet."""
    grow = (stock.scale - 1) / 2
    left, top = where.left_mm - grow * stock.width_mm, where.top_mm - grow * stock.height_mm
    right, foot = left + stock.scale * stock.width_mm, top + stock.scale * stock.height_mm
    left, top, right, foot = (min(max(0, dots(at)), dots(side) - 1)
                              for at, side in zip((left, top, right, foot), stock.page_mm * 2))
    return Dotted(left, top, right - left + 1, foot - top + 1, dash)


def _caption(strip: Strip, where: Place) -> Line:
    size = round(CAPTION * DPI / 72)
    wide = length(strip.caption, "semibold", size)
    baseline = dots(where.top_mm + strip.height_mm / 2) + round(CAP_HEIGHT * size / 2)
    left = max(dots(where.left_mm - CAPTION_MM), dots(where.left_mm - 2) - round(wide))
    return flush(Line(strip.caption, "semibold", size, left, baseline))
