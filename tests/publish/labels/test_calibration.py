"""The calibration page measured dot by dot as poppler paints it from its PDF: rulers as long as their numbers say, frames where the stock has them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import pytest
from PIL import Image
from publish.labels.inked import apart, dots, painted, thorough

from sitegen.job.labels.stock import STOCKS
from sitegen.job.records import LabelStock
from sitegen.publish.labels.calibration import DOWN_AT, calibration_page
from sitegen.publish.labels.pdf import pdf
from sitegen.publish.labels.places import frames
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.thorough

WORDS = open_theme().words("en")
LETTER, A4 = STOCKS["letter 4 x 2 in"], STOCKS["a4 63.5 x 38.1 mm"]
every_stock = pytest.mark.parametrize("stock", [LETTER, pytest.param(A4, marks=thorough)], ids=["letter", "a4"])


def runs(line: Sequence[int]) -> list[tuple[float, float]]:
    """Where ink begins and ends along a line of dots, in mm; a dot is ink at 0."""
    found, start = [], None
    for at, value in enumerate([*line, 255]):
        if value == 0 and start is None:
            start = at
        elif value and start is not None:
            found.append((start / 600 * 25.4, at / 600 * 25.4))
            start = None
    return found


def row(picture: Image.Image, y_mm: float) -> list[int]:
    return list(picture.crop((0, dots(y_mm), picture.width, dots(y_mm) + 1)).convert("L").tobytes())


def column(picture: Image.Image, x_mm: float) -> list[int]:
    return list(picture.crop((dots(x_mm), 0, dots(x_mm) + 1, picture.height)).convert("L").tobytes())


@cache
def page(stock: LabelStock, framed: bool = False) -> Image.Image:
    """Without its frames, so that only the rulers are measured."""
    layout = calibration_page(stock, WORDS)
    kept = tuple(mark for mark in layout.marks if framed or not hasattr(mark, "dash"))
    return painted(pdf([replace(layout, marks=kept)]))[0]


def said(stock: LabelStock) -> int:
    """The length of the ruler across, as the page itself says it."""
    text = calibration_page(stock, WORDS).words().replace("\u00a0", " ")
    return int(re.search(r"Measure the line across, 0 to (\d+) mm", text)[1])


@every_stock
def test_both_rulers_are_as_long_as_their_numbers_say(stock: LabelStock) -> None:
    width, height = stock.page_mm
    picture, across, down = page(stock), said(stock), int((height - 20) // 10) * 10
    [line] = [run for run in runs(row(picture, height / 2)) if run[1] - run[0] > 20]
    assert line == pytest.approx((10, 10 + across), abs=0.1) and line[1] - line[0] == pytest.approx(across, abs=0.1)
    [line] = [run for run in runs(column(picture, DOWN_AT * width)) if run[1] - run[0] > 20]
    assert line[1] - line[0] == pytest.approx(down, abs=0.1)
    texts = {mark.text for mark in calibration_page(stock, WORDS).marks if hasattr(mark, "text")}
    assert {str(across), str(down), "0", "10 mm", "1 in"} <= texts


@every_stock
def test_the_end_ticks_are_as_far_apart_as_the_line_is_long(stock: LabelStock) -> None:
    """Measured from the outer edge of the first to the outer edge of the last, as a person would."""
    edges = runs(row(page(stock), stock.page_mm[1] / 2 - 2.6))      # there only the longest ticks stand
    ticks = [run for run in edges if 9 < run[0] < 12 + said(stock)]
    assert ticks[-1][1] - ticks[0][0] == pytest.approx(said(stock), abs=0.1)


@every_stock
def test_every_tick_stands_where_its_count_says(stock: LabelStock) -> None:
    """A millimetre apart on one side, an eighth of an inch on the other (25.4 mm: NIST SP 811, as reported)."""
    width, height = stock.page_mm
    picture, across, down = page(stock), said(stock), int((height - 20) // 10) * 10
    for side, step in ((-0.9, 1.0), (0.9, 25.4 / 8)):
        for line, start, length in ((row(picture, height / 2 + side), 10, across),
                                    (column(picture, DOWN_AT * width + side), 10, down)):
            ticks = [(left + right) / 2 for left, right in runs(line) if right - left < 0.3]
            wanted = [start + step * number for number in range(int(length / step + 1e-9) + 1)]
            # Where the other ruler crosses, its ticks and its line run into these.
            # The first and the last stand half a pen inside the ends of the ruler.
            clear = [at for at in wanted if any(abs(at - tick) < (0.14 if at in (wanted[0], wanted[-1]) else 0.1) for tick in ticks)]
            assert len(clear) >= len(wanted) - 7, (side, set(wanted) - set(clear))
            assert {wanted[0], wanted[-1]} <= set(clear)


@every_stock
def test_frames_stand_where_the_stock_has_its_labels(stock: LabelStock) -> None:
    """Both edges of every label, seen in the picture; no other dotted line."""
    picture = page(stock, framed=True)
    for where in frames(stock):
        y, x = where.top_mm + stock.height_mm - 1.5, where.left_mm + 1.5
        edges = [(left, right) for left, right in runs(row(picture, y)) + runs(row(picture, y + 25.4 / 600)) if right - left < 0.1]
        for side in (where.left_mm, where.left_mm + stock.width_mm):
            assert any(abs(left - side) < 0.1 for left, _ in edges), (where, side)
        edges = [run for more in (0, 25.4 / 600) for run in runs(column(picture, x + more)) if run[1] - run[0] < 0.1]
        for side in (where.top_mm, where.top_mm + stock.height_mm):
            assert any(abs(top - side) < 0.1 for top, _ in edges), (where, side)


@every_stock
def test_the_page_is_adjusted_as_the_sheets_are(stock: LabelStock) -> None:
    """A printer that shrinks everything to 99.6 % and drifts prints the adjusted page true: 100 / 99.6 = 1.004."""
    moved = replace(stock, right_mm=0.5, down_mm=-0.3, scale=1 / 0.996)
    _, height = stock.page_mm
    [line] = [run for run in runs(row(page(moved), -0.3 + height / 2 / 0.996)) if run[1] - run[0] > 20]
    assert (line[0] - 0.5) * 0.996 == pytest.approx(10, abs=0.1) and (line[1] - line[0]) * 0.996 == pytest.approx(said(stock), abs=0.1)


@pytest.mark.parametrize("stock", [LETTER, A4, LabelStock(101.6, 50.8, None), LabelStock(57.0, 32.0, None)],
                         ids=["letter", "a4", "roll", "small roll"])
def test_no_number_or_word_is_over_another_or_off_the_page(stock: LabelStock) -> None:
    assert len(apart(calibration_page(stock, WORDS))) >= 4
