"""Takes a stock and a number of labels; gives the place of each on its sheet, in sheets, rows, columns and millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ...job.records import LabelStock


class Place(NamedTuple):
    """Where one label stands; sheet, row and column are counted from 1, mm from the sheet's upper left corner."""

    sheet: int
    row: int
    column: int
    left_mm: float
    top_mm: float


def label_place(stock: LabelStock, number: int) -> Place:
    """The place of the label with this number (from 0), along the rows, the first sheet from its first free label on.

    `scale` and the two shifts move places, never what stands in a label: a code keeps its whole dots. So a label is
    centred in a frame that is a little larger or smaller.
    """
    sheet, at = divmod(number + stock.start - 1, stock.columns * stock.rows)
    row, column = divmod(at, stock.columns)
    across = stock.left_mm + column * (stock.width_mm + stock.gap_mm[0]) + stock.width_mm / 2
    down = stock.top_mm + row * (stock.height_mm + stock.gap_mm[1]) + stock.height_mm / 2
    return Place(sheet + 1, row + 1, column + 1, stock.right_mm + stock.scale * across - stock.width_mm / 2,
                 stock.down_mm + stock.scale * down - stock.height_mm / 2)


def frames(stock: LabelStock) -> Iterator[Place]:
    """Every place of a whole sheet."""
    start = stock.start - 1
    yield from (label_place(stock, number - start) for number in range(stock.columns * stock.rows))


def strip_stock(stock: LabelStock, size: tuple[float, float]) -> LabelStock:
    """A plain sheet to cut strips of this size from: two columns, or one, each strip with room for its caption before it.

    Of a roll, a Letter sheet: strips are cut from paper.
    """
    page = stock.sheet_mm or (215.9, 279.4)
    pitch = CAPTION_MM + size[0]
    columns = max(1, int((page[0] - 2 * MARGIN_MM + GAP_MM) // (pitch + GAP_MM)))
    rows = max(1, int((page[1] - 2 * MARGIN_MM + GAP_MM) // (size[1] + GAP_MM)))
    left = (page[0] - columns * pitch - (columns - 1) * GAP_MM) / 2 + CAPTION_MM
    return LabelStock(*size, page, columns, rows, left, MARGIN_MM, (GAP_MM + CAPTION_MM, GAP_MM), frame=True,
                      right_mm=stock.right_mm, down_mm=stock.down_mm, scale=stock.scale)


MARGIN_MM = 12.0    # around the strips of a sheet
GAP_MM = 5.0        # between two strips
CAPTION_MM = 20.0   # before a strip, for the id that it belongs to
