"""Takes a layout; gives it inked in dots: a picture in black and white, a PNG file, or pages of a PDF."""

from __future__ import annotations

import io
from collections.abc import Sequence

from PIL import Image, ImageDraw

from ...binder.labels.records import SheetLabel
from ...errors import LabelError
from ..type.widths import typeface
from .label import LabelFacts, lay_out_label, measure
from .marks import Bar, Dotted, Group, Layout, Line, Mark, Modules

DPI = 300

__all__ = ["LabelError", "LabelFacts", "draw", "draw_label", "label_png", "measure", "pdf"]


def draw(layout: Layout) -> Image.Image:
    """The layout as a picture of mode "1", dot for dot."""
    picture = Image.new("1", (layout.width, layout.height), 1)
    for mark in layout.marks:
        _ink(picture, ImageDraw.Draw(picture), mark, 0, 0)
    return picture


def draw_label(label: SheetLabel, dpi: int = DPI) -> Image.Image:
    """The label as a picture. LabelError: as `lay_out_label` says."""
    return draw(lay_out_label(label, dpi))


def label_png(label: SheetLabel, dpi: int = DPI) -> bytes:
    """The label as a PNG file that carries its resolution; the same label gives the same bytes."""
    file = io.BytesIO()
    draw_label(label, dpi).save(file, "PNG", dpi=(dpi, dpi))
    return file.getvalue()


def pdf(sheets: Sequence[Layout]) -> bytes:
    """The sheets as one PDF without a clock in it; a page is its dots / dpi inches, so Letter is 612 x 792 points."""
    file = io.BytesIO()
    first, *others = map(draw, sheets)
    first.save(file, "PDF", resolution=sheets[0].dpi, save_all=True, append_images=others, creationDate=None, modDate=None)
    return file.getvalue()


def _ink(picture: Image.Image, pen: ImageDraw.ImageDraw, mark: Mark, right: int, down: int) -> None:
    """One mark, moved by so many dots."""
    match mark:
        case Group():
            for part in mark.marks:
                _ink(picture, pen, part, right + mark.left, down + mark.top)
        case Line():
            font = typeface(mark.weight, mark.size)
            pen.text((right + mark.left, down + mark.baseline), mark.text, fill=int(not mark.black), font=font, anchor="ls")
        case Modules():
            _ink_code(picture, mark, right, down)
        case Bar():
            _ink_bar(pen, mark, right, down)
        case Dotted():
            _ink_dotted(pen, mark, right, down)


def _ink_code(picture: Image.Image, mark: Modules, right: int, down: int) -> None:
    small = Image.new("1", (mark.code.side, mark.code.side))
    small.putdata([0 if dark else 1 for row in mark.code.rows for dark in row])
    picture.paste(small.resize((mark.size, mark.size), Image.Resampling.NEAREST), (right + mark.left, down + mark.top))


def _ink_bar(pen: ImageDraw.ImageDraw, mark: Bar, right: int, down: int) -> None:
    left, top, fill = right + mark.left, down + mark.top, int(not mark.black)
    box = (left, top, left + mark.width - 1, top + mark.height - 1)     # Pillow counts the last dot in
    if mark.pen:
        pen.rounded_rectangle(box, mark.radius, outline=fill, width=mark.pen)
    else:
        pen.rounded_rectangle(box, mark.radius, fill=fill)


def _ink_dotted(pen: ImageDraw.ImageDraw, mark: Dotted, right: int, down: int) -> None:
    left, top = right + mark.left, down + mark.top
    for x in range(left, left + mark.width, mark.dash):
        pen.point([(x, top), (x, top + mark.height - 1)], 0)
    for y in range(top, top + mark.height, mark.dash):
        pen.point([(left, y), (left + mark.width - 1, y)], 0)
