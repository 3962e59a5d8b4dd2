"""Takes a character and a weight; gives its outline as an SVG path in units of the typeface, read from the font file.

Letters as outlines look the same in every program, also in those that know no embedded typeface. The tables are those
of the OpenType specification: cmap (format 12), loca, glyf.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from font_source_sans_pro import font_files_ttf

from .widths import WEIGHTS

UNITS = 1000        # to the size of the letters; `head` of all four files


class _Point(NamedTuple):
    """Of a contour; y counts upwards. Off the curve it is the control point of a quadratic arc."""

    x: float
    y: float
    on: bool


class _Font(NamedTuple):
    glyf: bytes
    at: tuple[int, ...]             # where each glyph begins in `glyf`, and where the last one ends
    glyph: dict[int, int]           # code point -> number of its glyph


@lru_cache(maxsize=None)
def outline(character: str, weight: str) -> str:
    """Its contours, y downwards from the baseline; "" for a blank. KeyError: the typeface lacks it (see `is_missing`)."""
    font = _font(weight)
    return "".join(map(_path, _contours(font, font.glyph[ord(character)])))


@lru_cache(maxsize=None)
def _font(weight: str) -> _Font:
    data = Path(font_files_ttf[WEIGHTS[weight]]).read_bytes()
    tables = {}
    for at in range(12, 12 + 16 * _word(data, 4), 16):
        tag, _, offset, length = struct.unpack_from(">4sLLL", data, at)
        tables[tag] = data[offset:offset + length]
    loca = tables[b"loca"]
    if _word(tables[b"head"], 50):
        places = struct.unpack(f">{len(loca) // 4}L", loca)
    else:
        places = tuple(2 * half for half in struct.unpack(f">{len(loca) // 2}H", loca))
    return _Font(tables[b"glyf"], places, _characters(tables[b"cmap"]))


def _word(data: bytes, at: int) -> int:
    return struct.unpack_from(">H", data, at)[0]


def _characters(cmap: bytes) -> dict[int, int]:
    """The table of format 12: groups of code points in a row, whose glyphs stand in a row."""
    starts = (struct.unpack_from(">L", cmap, 8 + 8 * number)[0] for number in range(_word(cmap, 2)))
    at = next(start for start in starts if _word(cmap, start) == 12)
    count = struct.unpack_from(">L", cmap, at + 12)[0]
    groups = (struct.unpack_from(">LLL", cmap, at + 16 + 12 * number) for number in range(count))
    return {point: glyph + point - first for first, last, glyph in groups for point in range(first, last + 1)}


def _contours(font: _Font, glyph: int) -> list[list[_Point]]:
    data = font.glyf[font.at[glyph]:font.at[glyph + 1]]
    if not data:
        return []
    count = struct.unpack_from(">h", data)[0]
    return _simple(data, count) if count >= 0 else list(_composite(font, data))


def _simple(data: bytes, count: int) -> list[list[_Point]]:
    ends = struct.unpack_from(f">{count}H", data, 10)
    at = 12 + 2 * count + _word(data, 10 + 2 * count)      # past the instructions
    flags: list[int] = []
    while len(flags) <= ends[-1]:
        flag, at = data[at], at + 1
        times = 1
        if flag & 8:
            times, at = data[at] + 1, at + 1
        flags += [flag] * times
    xs, at = _steps(data, at, flags, 2, 16)
    ys, at = _steps(data, at, flags, 4, 32)
    points = [_Point(x, y, bool(flag & 1)) for x, y, flag in zip(xs, ys, flags)]
    return [points[first + 1:last + 1] for first, last in pairwise((-1, *ends))]


def _steps(data: bytes, at: int, flags: list[int], short: int, same: int) -> tuple[list[int], int]:
    """One coordinate of every point, and where the next table begins. `same`: as before, or the sign of a short step."""
    value, values = 0, []
    for flag in flags:
        if flag & short:
            value += data[at] if flag & same else -data[at]
            at += 1
        elif not flag & same:
            value += struct.unpack_from(">h", data, at)[0]
            at += 2
        values.append(value)
    return values, at


def _composite(font: _Font, data: bytes) -> Iterator[list[_Point]]:
    """Contours of a letter made of others, such as one with its accent. Their parts are moved, never scaled."""
    at, more = 10, True
    while more:
        flags, glyph = struct.unpack_from(">HH", data, at)
        form, size = (">hh", 4) if flags & 1 else (">bb", 2)
        right, up = struct.unpack_from(form, data, at + 4)
        if flags & 0b11001000 or not flags & 2:
            raise NotImplementedError("a part of a letter that is scaled, or placed by a point")
        for contour in _contours(font, glyph):
            yield [_Point(x + right, y + up, on) for x, y, on in contour]
        at, more = at + 4 + size, bool(flags & 32)


def _path(contour: list[_Point]) -> str:
    """Between two control points in a row stands a point of the curve, halfway (TrueType)."""
    whole: list[_Point] = []
    for before, point in zip([contour[-1], *contour], contour):
        if not before.on and not point.on:
            whole.append(_Point((before.x + point.x) / 2, (before.y + point.y) / 2, True))
        whole.append(point)
    first = next(number for number, point in enumerate(whole) if point.on)
    whole = [*whole[first:], *whole[:first], whole[first]]
    here, at, parts = whole[0], 1, [f"M{whole[0].x:g} {-whole[0].y:g}"]
    while at < len(whole):
        points = whole[at:at + 2 - whole[at].on]    # a point of the curve, or a control point and the end of its arc
        steps = " ".join(f"{point.x - here.x:g} {here.y - point.y:g}" for point in points)
        parts.append(("l" if whole[at].on else "q") + steps)
        here, at = points[-1], at + len(points)
    return "".join((*parts, "z"))
