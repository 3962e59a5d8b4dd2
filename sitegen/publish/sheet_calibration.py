"""Takes a stock; gives a page of rulers and frames that shows how far a printer drifts and stretches."""

from __future__ import annotations

from PIL import Image, ImageDraw

from sitegen.binder.words import Words
from sitegen.job.records import LabelStock

from .label_picture import draw_line
from .label_text import Line
from .lettering import break_lines, typeface
from .sheet import frames
from .sheet_page import DPI, blank_page, dots, draw_frame

PEN = 4             # dots; a hairline that every printer prints
MARGIN_MM = 10.0    # from the edges of the page to a ruler
TEXT = 9.0          # points
TICKS = {"mm": (1.0, 5, 10), "in": (25.4 / 8, 4, 8)}    # mm a tick; a longer one, and a number, every so many


def calibration_page(stock: LabelStock, words: Words) -> Image.Image:
    """Frames of the whole sheet, a ruler across and one down in both units, what to do. It is adjusted as the sheets are."""
    page = blank_page(stock.page_mm)
    draw = ImageDraw.Draw(page)
    for where in frames(stock):
        draw_frame(page, stock, where, dash=2)
    width, height = stock.page_mm
    across = int((width - 2 * MARGIN_MM) // 10) * 10
    _ruler(draw, stock, (MARGIN_MM, height / 2), across, width / 2 - MARGIN_MM, down=False)
    _ruler(draw, stock, (width / 2, MARGIN_MM), int((height - 2 * MARGIN_MM) // 10) * 10, height / 2 - MARGIN_MM, down=True)
    _says(page, stock, words, across)
    return page


def _ruler(draw: ImageDraw.ImageDraw, stock: LabelStock, start: tuple[float, float], length: int, cross: float,
           down: bool) -> None:
    """Millimetres on one side of the line, inches on the other; adjusted, so that it is true on paper. No number stands
    near `cross`, where the other ruler runs through it."""

    def point(along: float, aside: float) -> tuple[int, int]:
        x, y = (aside, along) if down else (along, aside)
        return (dots(stock.right_mm + stock.scale * (start[0] + x)), dots(stock.down_mm + stock.scale * (start[1] + y)))

    draw.line([point(0, 0), point(length, 0)], 0, PEN)
    size = round(TEXT * DPI / 72)
    for side, (unit, (step, long, numbered)) in zip((-1, 1), TICKS.items()):
        for tick in range(int(length / step + 1e-9) + 1):
            high = 3.0 if tick % numbered == 0 else 2.2 if tick % long == 0 else 1.4
            draw.line([point(tick * step, 0), point(tick * step, side * high)], 0, PEN)
            if tick % numbered == 0 and tick * step <= length and abs(tick * step - cross) > 9:
                count = tick if unit == "mm" else tick // numbered
                text = f"{count} {unit}" if tick == numbered else str(count)
                x, y = point(tick * step, side * 3.6)
                anchor = ("rm" if side < 0 else "lm") if down else ("ms" if side < 0 else "mt")
                draw.text((x, y), text, fill=0, font=typeface("regular", size), anchor=anchor)


def _says(page: Image.Image, stock: LabelStock, words: Words, across: int) -> None:
    """The three steps, in the upper left quarter of the page, on white."""
    measured = round(across * 0.996, 1)     # an example, to show which way round it goes
    texts = (words.text("label.calibration.print"),
             words.text("label.calibration.measure", length=across, measured=f"{measured:g}",
                        percent=f"{100 * across / measured:.1f}"),
             words.text("label.calibration.hold"))
    size = round(TEXT * DPI / 72)
    font, left, width = typeface("semibold", size), dots(MARGIN_MM + 4), dots(stock.page_mm[0] / 2 - MARGIN_MM - 18)
    if width < dots(40):
        return
    lines = [line for text in texts for line in break_lines(text, font, width) or ()]
    top = dots(MARGIN_MM + 6)
    bottom = top + round(1.3 * size * (len(lines) + 0.5))
    if bottom > dots(stock.page_mm[1] / 2 - 8):
        return
    draw = ImageDraw.Draw(page)
    draw.rectangle((left - size, top, left + width + size // 2, bottom), fill=1)
    for number, line in enumerate(lines, 1):
        draw_line(draw, Line(line, "semibold", size, left, top + round(1.3 * size * number)), 0)
