"""Takes artwork; gives it inked in lines: an SVG of its exact size that needs no typeface.

One unit is one dot of the artwork, so a module of a code is the same square as in the picture.
"""

from __future__ import annotations

from markupsafe import escape

from ..qr import modules_path
from ..type.font import UNITS
from ..type.outlines import outline
from .marks import Artwork, Bar, Line, Mark, Modules, pens


def svg(artwork: Artwork) -> bytes:
    """The artwork on white as a file of its own. Each letter stands in it once; lines refer to it."""
    width, height = artwork.size_mm
    used = sorted({(letter, line.weight) for line in artwork.marks if isinstance(line, Line) for letter in line.text})
    letters = "".join(f'<path id="{_name(*letter)}" d="{path}"/>' for letter in used if (path := outline(*letter)))
    inked = "".join(map(_ink, (Bar(0, 0, artwork.width, artwork.height, black=False), *artwork.marks)))
    return (f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
            f'viewBox="0 0 {artwork.width} {artwork.height}" width="{width}mm" height="{height}mm" role="img" '
            f'aria-label="{escape(artwork.words())}"><defs>{letters}</defs>{inked}</svg>\n').encode()


def _name(character: str, weight: str) -> str:
    return f"{weight}-{ord(character):x}"


def _ink(mark: Mark) -> str:
    match mark:
        case Line():
            return _line(mark)
        case Modules():
            return (f'<path shape-rendering="crispEdges" transform="translate({mark.left} {mark.top}) scale({mark.module})" '
                    f'd="{modules_path(mark.code)}"/>')
        case Bar():
            inset = mark.pen / 2
            look = f' fill="none" stroke="#000" stroke-width="{mark.pen}"' if mark.pen else _colour(mark.black)
            return (f'<rect x="{mark.left + inset:g}" y="{mark.top + inset:g}" width="{mark.width - mark.pen:g}" '
                    f'height="{mark.height - mark.pen:g}" rx="{max(0, mark.radius - inset):g}"{look}/>')
    raise TypeError(mark)


def _line(line: Line) -> str:
    placed = "".join(f'<use xlink:href="#{_name(letter, line.weight)}" x="{at:g}"/>' for letter, at in pens(line)
                     if outline(letter, line.weight))
    return (f'<g{_colour(line.black)} transform="translate({line.left} {line.baseline}) scale({line.size / UNITS:g})">'
            f'{placed}</g>')


def _colour(black: bool) -> str:
    return "" if black else ' fill="#fff"'
