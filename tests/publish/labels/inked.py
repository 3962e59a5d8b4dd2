"""Labels and sheets as a reader or a printer gets them: pictures, pages of a PDF painted by poppler, codes read by two readers."""

from __future__ import annotations

import subprocess
import tempfile
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest
import zxingcpp
from PIL import Image, ImageChops, ImageFilter
from pyzbar import pyzbar

from sitegen.binder.compose import compose
from sitegen.binder.labels.records import SheetLabel
from sitegen.binder.site.records import Binder
from sitegen.job import read_job
from sitegen.job.records import LabelStock
from sitegen.protection.examine import examine
from sitegen.publish.labels.label import lay_out_label
from sitegen.publish.labels.marks import Artwork, Line
from sitegen.publish.labels.png import draw, png
from sitegen.publish.labels.svg import svg
from sitegen.publish.theme import open_theme
from sitegen.publish.type.widths import typeface

Box = tuple[int, int, int, int]
thorough = pytest.mark.thorough
every_dpi = pytest.mark.parametrize("dpi", [pytest.param(203, marks=thorough), 300, pytest.param(600, marks=thorough)])


@cache
def binder_of(path: Path, stock: LabelStock, draft: bool = False) -> Binder:
    """A job with the labels it wants on this stock; without the panel door's where it is small, whose words need more room."""
    job = read_job(path)
    kinds = tuple(kind for kind in stock.wanted if kind != "door" or stock.height_mm > 40)
    job = replace(job, file=replace(job.file, labels=replace(stock, wanted=kinds)))
    return compose(examine(job), open_theme().words("en"), draft)


def draw_label(label: SheetLabel, dpi: int = 300) -> Image.Image:
    return draw(lay_out_label(label, dpi))


def label_png(label: SheetLabel, dpi: int = 300) -> bytes:
    return png(lay_out_label(label, dpi))


def label_svg(label: SheetLabel) -> bytes:
    return svg(lay_out_label(label, 600))


def painted(data: bytes, dpi: int = 600) -> list[Image.Image]:
    """Every page of a PDF in black (0) and white (255), a dot black where ink covers half of it or more."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "-", f"{folder}/page"], input=data, check=True)
        return [Image.open(file).point(lambda value: 0 if value < 128 else 255) for file in sorted(Path(folder).iterdir())]


def dots(mm: float, dpi: int = 600) -> int:
    return round(mm / 25.4 * dpi)


def part(picture: Image.Image, box_mm: tuple[float, ...], dpi: int = 600) -> Image.Image:
    return picture.crop(tuple(dots(side, dpi) for side in box_mm))


def dark(picture: Image.Image) -> Box:
    """The box of what is darker than the middle."""
    return ImageChops.invert(picture.convert("L")).point(lambda value: 255 if value > 127 else 0).getbbox() or (0, 0, 0, 0)


def apart(artwork: Artwork, edge: int = 1) -> dict[Line, Box]:
    """Every line of text with the box of its ink, drawn alone with room around it; each so far from the edge, none over
    another."""
    boxes: dict[Line, Box] = {}
    for line in (mark for mark in artwork.marks if isinstance(mark, Line)):
        room, wide = 2 * line.size, typeface(line.weight, line.size).getlength(line.text)
        alone = replace(artwork, width=round(wide) + 2 * room, height=2 * room,
                        marks=(line._replace(left=room, baseline=room, black=True),))
        ink = dark(draw(alone))
        box = (ink[0] - room + line.left, ink[1] - room + line.baseline, ink[2] - room + line.left, ink[3] - room + line.baseline)
        assert edge <= box[0] < box[2] <= artwork.width - edge and edge <= box[1] < box[3] <= artwork.height - edge, line
        for other in boxes.values():
            assert box[0] >= other[2] or other[0] >= box[2] or box[1] >= other[3] or other[1] >= box[3], line
        boxes[line] = box
    return boxes


def dark_alone(first: Image.Image, second: Image.Image) -> int:
    """How many dots of the first are dark where the second has nothing but white within a dot around."""
    near = second.filter(ImageFilter.MinFilter(3)).point(lambda value: 255 if value < 200 else 0)
    black = first.point(lambda value: 255 if value < 64 else 0)
    return ImageChops.subtract(black, near).histogram()[255]


class Seen(NamedTuple):
    """A code as it is found in a picture."""

    text: str
    version: int
    level: str
    box_mm: tuple[float, ...]     # of its dark modules


def codes_in(picture: Image.Image, dpi: float) -> list[Seen]:
    """What zxing-cpp reads in all of it, once pyzbar, held over each code and four modules around, reads the same there.

    The box is that of the ink, not the reader's estimate: two modules around the code are white.
    """
    seen, picture = [], picture.convert("L")
    for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode):
        at, version = code.position, int(code.extra["Version"])
        module = (at.bottom_right.x - at.top_left.x) / (17 + 4 * version)

        def around(more: int) -> Box:
            return (round(at.top_left.x - more * module), round(at.top_left.y - more * module),
                    round(at.bottom_right.x + more * module), round(at.bottom_right.y + more * module))

        small = picture.crop(around(4)).reduce(max(1, round(dpi / 300)))
        assert [other.data.decode() for other in pyzbar.decode(small, symbols=[pyzbar.ZBarSymbol.QRCODE])] == [code.text]
        left, top, *_ = around(2)
        ink = dark(picture.crop(around(2)))
        seen.append(Seen(code.text, version, code.ec_level, tuple(
            side / dpi * 25.4 for side in (ink[0] + left, ink[1] + top, ink[2] + left, ink[3] + top))))
    return seen
