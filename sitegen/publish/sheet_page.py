"""Takes labels and strips; gives sheets of them as a PDF of pictures in black and white at 600 dots an inch."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence

from PIL import Image, ImageChops, ImageDraw

from sitegen.binder.records import LabelSet, SheetLabel, Strip
from sitegen.job.records import LabelStock

from .label_picture import draw_label, draw_line
from .label_strip import draw_strip
from .label_text import Line
from .lettering import CAP_HEIGHT, typeface
from .sheet import CAPTION_MM, Place, place, strip_stock

DPI = 600
DASH = 7        # one dot in so many: a frame to cut along that hardly shows where the knife leaves some of it
CAPTION = 9.0   # points

Sheets = list[Image.Image]


def label_sheets(labels: Sequence[SheetLabel], stock: LabelStock) -> Sheets:
    """Every label in its place, on as many sheets as it takes."""
    sheets: Sheets = []
    for number, label in enumerate(labels):
        where = place(stock, number)
        sheet = _sheet(sheets, where, stock)
        _paste(sheet, draw_label(label, DPI), where)
        if stock.frame:
            draw_frame(sheet, stock, where)
    return sheets


def strip_sheets(strips: Sequence[Strip], stock: LabelStock) -> Sheets:
    """Strips with their ids before them and a frame to cut along; another size begins another sheet."""
    sheets: Sheets = []
    for size in strip_sizes(strips):
        some: Sheets = []
        plain = strip_stock(stock, size)
        for number, strip in enumerate(strip for strip in strips if _size(strip) == size):
            where = place(plain, number)
            sheet = _sheet(some, where, plain)
            _paste(sheet, draw_strip(strip, DPI), where)
            draw_frame(sheet, plain, where)
            _caption(sheet, strip, where)
        sheets += some
    return sheets


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
            where = place(plain, index)
            found[number] = where._replace(sheet=before + where.sheet)
        before = found[numbers[-1]].sheet
    return [found[number] for number in range(len(labels.strips))]


def blank_page(page_mm: tuple[float, float]) -> Image.Image:
    """One white page; 8.5 x 11 in are 5100 x 6600 dots."""
    return Image.new("1", (dots(page_mm[0]), dots(page_mm[1])), 1)


def dots(mm: float) -> int:
    return round(mm / 25.4 * DPI)


def _sheet(sheets: Sheets, where: Place, stock: LabelStock) -> Image.Image:
    while len(sheets) < where.sheet:
        sheets.append(blank_page(stock.page_mm))
    return sheets[where.sheet - 1]


def _paste(sheet: Image.Image, picture: Image.Image, where: Place) -> None:
    """Black is added, nothing is wiped out: a white margin that drifts over its neighbour takes nothing from it."""
    at = dots(where.left_mm), dots(where.top_mm)
    there = sheet.crop((*at, at[0] + picture.width, at[1] + picture.height))
    sheet.paste(ImageChops.logical_and(there, picture), at)


def draw_frame(sheet: Image.Image, stock: LabelStock, where: Place, dash: int = DASH) -> None:
    """A dotted frame around a place, as large as the scaled label; `dash` 1 gives a whole line."""
    grow = (stock.scale - 1) / 2
    left, top = where.left_mm - grow * stock.width_mm, where.top_mm - grow * stock.height_mm
    box = [dots(left), dots(top), dots(left + stock.scale * stock.width_mm), dots(top + stock.scale * stock.height_mm)]
    box = [min(max(0, at), side - 1) for at, side in zip(box, sheet.size * 2)]
    draw = ImageDraw.Draw(sheet)
    for x in range(box[0], box[2] + 1, dash):
        draw.point([(x, box[1]), (x, box[3])], 0)
    for y in range(box[1], box[3] + 1, dash):
        draw.point([(box[0], y), (box[2], y)], 0)


def _caption(sheet: Image.Image, strip: Strip, where: Place) -> None:
    size = round(CAPTION * DPI / 72)
    wide = typeface("semibold", size).getlength(strip.caption)
    baseline = dots(where.top_mm + strip.height_mm / 2) + round(CAP_HEIGHT * size / 2)
    left = max(dots(where.left_mm - CAPTION_MM), dots(where.left_mm - 2) - round(wide))
    draw_line(ImageDraw.Draw(sheet), Line(strip.caption, "semibold", size, left, baseline), 0)


def pdf(sheets: Sheets) -> bytes:
    """The pages as one PDF without a clock in it; a page is its dots / 600 inches, so Letter is 612 x 792 points."""
    file = io.BytesIO()
    sheets[0].save(file, "PDF", resolution=DPI, save_all=True, append_images=sheets[1:], creationDate=None, modDate=None)
    return file.getvalue()
