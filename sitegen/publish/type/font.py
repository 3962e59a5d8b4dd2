"""Takes a weight; gives the tables of its font file: which glyph draws a character, and whether there is one at all.

The tables are those of the OpenType specification: cmap (format 12), loca, glyf.
"""

from __future__ import annotations

import struct
import unicodedata
from functools import cache
from pathlib import Path
from typing import NamedTuple

from font_source_sans_pro import font_files_ttf

WEIGHTS = {
    "regular": "SourceSansPro",
    "semibold": "SourceSansProSemibold",
    "bold": "SourceSansProBold",
    "black": "SourceSansProBlack",
}
UNITS = 1000        # to the size of the letters; `head` of all four files
CAP_HEIGHT = 0.66   # of the size; measured on H, all four weights 0.65 to 0.66
DESCENT = 0.225     # of the size; measured on g, all four weights 0.21 to 0.225


class Font(NamedTuple):
    glyf: bytes
    at: tuple[int, ...]             # where each glyph begins in `glyf`, and where the last one ends
    glyph: dict[int, int]           # code point -> number of its glyph


@cache
def read_font(weight: str) -> Font:
    data = Path(font_files_ttf[WEIGHTS[weight]]).read_bytes()
    tables = {}
    for at in range(12, 12 + 16 * word(data, 4), 16):
        tag, _, offset, length = struct.unpack_from(">4sLLL", data, at)
        tables[tag] = data[offset:offset + length]
    loca = tables[b"loca"]
    if word(tables[b"head"], 50):
        places = struct.unpack(f">{len(loca) // 4}L", loca)
    else:
        places = tuple(2 * half for half in struct.unpack(f">{len(loca) // 2}H", loca))
    return Font(tables[b"glyf"], places, _characters(tables[b"cmap"]))


def word(data: bytes, at: int) -> int:
    number: int = struct.unpack_from(">H", data, at)[0]
    return number


def _characters(cmap: bytes) -> dict[int, int]:
    """The table of format 12: groups of code points in a row, whose glyphs stand in a row."""
    starts = (struct.unpack_from(">L", cmap, 8 + 8 * number)[0] for number in range(word(cmap, 2)))
    at = next(start for start in starts if word(cmap, start) == 12)
    count = struct.unpack_from(">L", cmap, at + 12)[0]
    groups = (struct.unpack_from(">LLL", cmap, at + 16 + 12 * number) for number in range(count))
    return {point: glyph + point - first for first, last, glyph in groups for point in range(first, last + 1)}


def is_missing(character: str, weight: str) -> bool:
    """Whether the typeface draws the box of a missing character in its place."""
    return ord(character) not in read_font(weight).glyph


def unprintable(character: str) -> bool:
    """Whether it makes no mark of its own: control and format characters (no width, right to left), line and paragraph
    separators, private and unassigned code points, marks that combine with the letter before (Unicode, general category).

    >>> unprintable("\\u200b"), unprintable("\\u00bd"), unprintable("\\u00a0")
    (True, False, False)
    """
    category = unicodedata.category(character)
    return category[0] in "CM" or category in ("Zl", "Zp")


@cache
def unfit(text: str, weight: str) -> str:
    """The first character of a text that cannot be printed; "" where all can."""
    return next((character for character in text if unprintable(character) or is_missing(character, weight)), "")


def name_of_character(character: str) -> str:
    """
    >>> name_of_character("\\u200b"), name_of_character("\\u00bd")
    ('U+200B ZERO WIDTH SPACE', 'U+00BD VULGAR FRACTION ONE HALF `½`')
    """
    unnamed = "CONTROL CHARACTER" if unicodedata.category(character) == "Cc" else "WITHOUT A NAME"
    name = f"U+{ord(character):04X} {unicodedata.name(character, unnamed)}"
    return name if unprintable(character) else f"{name} `{character}`"
