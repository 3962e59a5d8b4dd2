"""Takes a character and a weight; gives its outline as a path of SVG or of PDF in units of the typeface.

Letters as outlines look the same in every program, also in those that know no embedded typeface.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import NamedTuple

from .font import Font, read_font, word


class _Point(NamedTuple):
    """Of a contour; y counts upwards. Off the curve it is the control point of a quadratic arc."""

    x: float
    y: float
    on: bool


@cache
def outline(character: str, weight: str) -> str:
    """Its contours as a path of SVG, y downwards from the baseline; "" for a blank. KeyError: the typeface lacks it."""
    return "".join(map(_svg_path, _curves(character, weight)))


@cache
def pdf_outline(character: str, weight: str) -> str:
    """The same as operators of PDF that make a path, to be filled."""
    return " ".join(map(_pdf_path, _curves(character, weight)))


def _curves(character: str, weight: str) -> Iterator[list[_Point]]:
    font = read_font(weight)
    return map(_whole, _contours(font, font.glyph[ord(character)]))


def _contours(font: Font, glyph: int) -> list[list[_Point]]:
    data = font.glyf[font.at[glyph]:font.at[glyph + 1]]
    if not data:
        return []
    count = struct.unpack_from(">h", data)[0]
    return _simple(data, count) if count >= 0 else list(_composite(font, data))


def _simple(data: bytes, count: int) -> list[list[_Point]]:
    ends = struct.unpack_from(f">{count}H", data, 10)
    at = 12 + 2 * count + word(data, 10 + 2 * count)      # past the instructions
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


def _composite(font: Font, data: bytes) -> Iterator[list[_Point]]:
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


def _whole(contour: list[_Point]) -> list[_Point]:
    """From a point of the curve around and back to it. Between two control points in a row stands a point of the curve,
    halfway (TrueType)."""
    whole: list[_Point] = []
    for before, point in zip([contour[-1], *contour], contour):
        if not before.on and not point.on:
            whole.append(_Point((before.x + point.x) / 2, (before.y + point.y) / 2, True))
        whole.append(point)
    first = next(number for number, point in enumerate(whole) if point.on)
    return [*whole[first:], *whole[:first], whole[first]]


def _pieces(whole: list[_Point]) -> Iterator[tuple[_Point, list[_Point]]]:
    """Where each piece begins, and its end; of an arc the control point and the end."""
    at = 1
    while at < len(whole):
        points = whole[at:at + 2 - whole[at].on]
        yield whole[at - 1], points
        at += len(points)


def _svg_path(whole: list[_Point]) -> str:
    parts = [f"M{whole[0].x:g} {-whole[0].y:g}"]
    for here, points in _pieces(whole):
        steps = " ".join(f"{point.x - here.x:g} {here.y - point.y:g}" for point in points)
        parts.append(("l" if len(points) == 1 else "q") + steps)
    return "".join((*parts, "z"))


def _pdf_path(whole: list[_Point]) -> str:
    """PDF knows cubic arcs alone (ISO 32000-1, 8.5.2): their control points lie two thirds of the way to the one of the
    quadratic arc."""
    parts = [f"{whole[0].x:g} {-whole[0].y:g} m"]
    for here, points in _pieces(whole):
        bend, end = points[0], points[-1]
        if len(points) == 2:
            parts += (f"{(one.x + 2 * bend.x) / 3:.5g} {-(one.y + 2 * bend.y) / 3:.5g}" for one in (here, end))
        parts.append(f"{end.x:g} {-end.y:g} {'l' if len(points) == 1 else 'c'}")
    return " ".join((*parts, "h"))
