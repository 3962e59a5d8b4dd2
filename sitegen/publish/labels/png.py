"""Takes artwork; gives it inked in dots: a picture in black and white, or a PNG file of it."""

from __future__ import annotations

import io

from PIL import Image, ImageDraw

from ..type.widths import typeface
from .marks import Artwork, Bar, Line, Mark, Modules


def draw(artwork: Artwork) -> Image.Image:
    """The artwork as a picture of mode "1", dot for dot."""
    picture = Image.new("1", (artwork.width, artwork.height), 1)
    for mark in artwork.marks:
        _ink(picture, ImageDraw.Draw(picture), mark)
    return picture


def png(artwork: Artwork) -> bytes:
    """A PNG file that carries its resolution; the same artwork gives the same bytes."""
    file = io.BytesIO()
    draw(artwork).save(file, "PNG", dpi=(artwork.dpi, artwork.dpi))
    return file.getvalue()


def _ink(picture: Image.Image, pen: ImageDraw.ImageDraw, mark: Mark) -> None:
    match mark:
        case Line():
            font = typeface(mark.weight, mark.size)
            pen.text((mark.left, mark.baseline), mark.text, fill=int(not mark.black), font=font, anchor="ls")
        case Modules():
            small = Image.new("1", (mark.code.side, mark.code.side))
            small.putdata([0 if dark else 1 for row in mark.code.rows for dark in row])
            picture.paste(small.resize((mark.size, mark.size), Image.Resampling.NEAREST), (mark.left, mark.top))
        case Bar():
            box = (mark.left, mark.top, mark.left + mark.width - 1, mark.top + mark.height - 1)   # Pillow counts the last dot in
            ink = int(not mark.black)
            pen.rounded_rectangle(box, mark.radius, None if mark.pen else ink, ink if mark.pen else None, mark.pen or 1)
