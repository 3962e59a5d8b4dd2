"""Outlines read from the font file against what FreeType draws of the same file (through Pillow)."""

from __future__ import annotations

import re

import pytest
from PIL import Image, ImageChops, ImageDraw

from sitegen.publish.type.font import UNITS, WEIGHTS, is_missing
from sitegen.publish.type.outlines import outline, pdf_outline
from sitegen.publish.type.widths import typeface

pytestmark = pytest.mark.thorough

LATIN = [chr(point) for point in (*range(0x21, 0x7F), *range(0xA1, 0x17F), 0x2013, 0x2014, 0x2032, 0x2033, 0x20AC, 0x2192)]


def polygons(path: str) -> list[list[tuple[float, float]]]:
    """The contours of a path of M, l, q and z as points; an arc is cut into eight pieces (SVG 2, 9.3)."""
    found: list[list[tuple[float, float]]] = []
    for command, numbers in re.findall(r"([MlqzA-Za-z])([-0-9. e]*)", path):
        steps = [float(number) for number in numbers.split()]
        if command == "M":
            found.append([(steps[0], steps[1])])
        elif command in "lq":
            x, y = found[-1][-1]
            (cx, cy), (ex, ey) = steps[:2], steps[-2:]
            pieces = 1 if command == "l" else 8
            for t in (number / pieces for number in range(1, pieces + 1)):
                bent = 2 * t * (1 - t) if command == "q" else 0.0
                end = t * t if command == "q" else t
                found[-1].append((x + bent * cx + end * ex, y + bent * cy + end * ey))
        else:
            assert command == "z"
    return found


def drawn(path: str) -> Image.Image:
    """Filled where contours overlap an odd number of times; 5 units are a dot."""
    picture = Image.new("1", (400, 400), 0)
    for points in polygons(path):
        part = Image.new("1", picture.size, 0)
        ImageDraw.Draw(part).polygon([(100 + x / 5, 250 + y / 5) for x, y in points], fill=1)
        picture = ImageChops.logical_xor(picture, part)
    return picture


@pytest.mark.parametrize("weight", WEIGHTS)
def test_every_letter_is_the_one_that_freetype_draws(weight: str) -> None:
    """200 dots high; edges differ by about a dot (hinting moves them), places by no more than two."""
    font = typeface(weight, UNITS // 5)
    for letter in LATIN:
        assert not is_missing(letter, weight)
        known = Image.new("1", (400, 400), 0)
        ImageDraw.Draw(known).text((100, 250), letter, fill=1, font=font, anchor="ls")
        ours = drawn(outline(letter, weight))
        differ = ImageChops.logical_xor(known, ours).histogram()[-1]
        edge = sum(abs(x - a) + abs(y - b) for points in polygons(outline(letter, weight))
                   for (x, y), (a, b) in zip(points, [points[-1], *points])) / 5
        assert differ < 1.25 * edge, (letter, differ, edge)
        left, top, right, bottom = ours.getbbox()
        assert known.getbbox() == pytest.approx((left, top, right, bottom), abs=2), letter


def test_a_blank_has_no_outline() -> None:
    assert outline(" ", "bold") == outline("\u00a0", "black") == pdf_outline(" ", "bold") == ""
