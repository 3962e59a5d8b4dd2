"""Takes a stock; gives a page of rulers and frames, laid out, that shows how far a printer drifts and stretches."""

from __future__ import annotations

from ...binder.desk.words import Words
from ...job.records import LabelStock
from ..type.font import CAP_HEIGHT
from ..type.widths import NO_BREAK, break_lines, length
from .marks import Artwork, Bar, Line, Mark, flush
from .places import frames
from .sheets import DPI, dots, frame, page

PEN = 4             # dots; a hairline that every printer prints
MARGIN_MM = 10.0    # from the edges of the page to a ruler
DOWN_AT = 0.75      # of the width: there the ruler down stands clear of the text, and of the gaps of two or three columns
TEXT = 9.0          # points
SIZE = round(TEXT * DPI / 72)
TICKS = {"mm": (1.0, 5, 10), "in": (25.4 / 8, 4, 8)}    # mm a tick; a longer one, and a number, every so many
NUMBER_MM = 3.6     # from the line of a ruler to its numbers


def calibration_page(stock: LabelStock, words: Words) -> Artwork:
    """Frames of the whole sheet, a ruler across and one down in both units, what to do. It is adjusted as the sheets are."""
    width, height = stock.page_mm
    across, down = (int((side - 2 * MARGIN_MM) // 10) * 10 for side in (width, height))
    marks: list[Mark] = [frame(stock, where, dash=2) for where in frames(stock)]
    marks += _ruler(stock, (MARGIN_MM, height / 2), across, DOWN_AT * width - MARGIN_MM, down=False)
    marks += _ruler(stock, (DOWN_AT * width, MARGIN_MM), down, height / 2 - MARGIN_MM, down=True)
    return page(stock, [*marks, *_says(stock, words, across)])


def _ruler(stock: LabelStock, start: tuple[float, float], long: int, cross: float, down: bool) -> list[Mark]:
    """Millimetres on one side of the line, inches on the other; adjusted, so that it is true on paper. No number stands
    near `cross`, where the other ruler runs through it."""

    def point(along: float, aside: float) -> tuple[int, int]:
        x, y = (aside, along) if down else (along, aside)
        return (dots(stock.right_mm + stock.scale * (start[0] + x)), dots(stock.down_mm + stock.scale * (start[1] + y)))

    marks: list[Mark] = [_stroke(point(0, 0), point(long, 0))]
    half = PEN / 2 / DPI * 25.4 / stock.scale
    for side, (unit, (step, higher, numbered)) in zip((-1, 1), TICKS.items()):
        for tick in range(int(long / step + 1e-9) + 1):
            high = 3.0 if tick % numbered == 0 else 2.2 if tick % higher == 0 else 1.4
            along = min(max(tick * step, half), long - half)      # the whole ruler is just as long as its line
            marks.append(_stroke(point(along, 0), point(along, side * high)))
            if tick % numbered == 0 and abs(tick * step - cross) > 9:
                count = tick if unit == "mm" else tick // numbered
                text = f"{count} {unit}" if tick == numbered else str(count)
                marks += _number(text, point(tick * step, side * NUMBER_MM), side, down)
    return marks


def _stroke(start: tuple[int, int], end: tuple[int, int]) -> Bar:
    """A line across or down, exactly as long as its ends are apart, half its pen on either side."""
    (left, right), (top, foot) = (sorted(pair) for pair in zip(start, end))
    if top == foot:
        return Bar(left, top - PEN // 2, right - left, PEN)
    return Bar(left - PEN // 2, top, PEN, foot - top)


def _number(text: str, at: tuple[int, int], side: int, down: bool) -> list[Mark]:
    """Beside a ruler that runs down, above (-1) or below one that runs across; its middle at the tick. White around it
    keeps frames off."""
    wide, high = round(length(text, "regular", SIZE)), round(CAP_HEIGHT * SIZE)
    if down:
        left, top = at[0] - (wide if side < 0 else 0), at[1] - high // 2
    else:
        left, top = at[0] - wide // 2, at[1] - (high if side < 0 else 0)
    return [Bar(left - 2 * PEN, top - 2 * PEN, wide + 4 * PEN, high + 4 * PEN, black=False),
            Line(text, "regular", SIZE, left, top + high)]


def _says(stock: LabelStock, words: Words, across: int) -> list[Mark]:
    """The three steps, in the upper left quarter of the page, on white; none where the page has no room for them."""
    measured = round(across * 0.996, 1)     # an example, to show which way round it goes
    texts = (words.text("label.calibration.print"),
             words.text("label.calibration.measure", length=across, measured=f"{measured:g}",
                        percent=f"{100 * across / measured:.1f}"),
             words.text("label.calibration.hold"))
    left, width = dots(MARGIN_MM + 4), dots(stock.page_mm[0] / 2 - MARGIN_MM - 18)
    if width < dots(40):
        return []
    whole = (text.replace(" mm", f"{NO_BREAK}mm").replace(" %", f"{NO_BREAK}%") for text in texts)
    lines = [line for text in whole for line in break_lines(text, "semibold", SIZE, width) or ()]
    top, step = dots(MARGIN_MM + 6), 1.3 * SIZE
    high = round(step * (len(lines) + 0.5))
    if top + high > dots(stock.page_mm[1] / 2 - 8):
        return []
    white = Bar(left - SIZE, top, width + SIZE + SIZE // 2, high, black=False)
    return [white, *(flush(Line(line, "semibold", SIZE, left, top + round(step * number)))
                     for number, line in enumerate(lines, 1))]
