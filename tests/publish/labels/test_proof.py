"""Every label of the example house, as it is printed: read by two readers of QR codes, and measured in the picture.

PNG files at 203, 300 and 600 dots an inch; the PDF of all sheets; the HTML of all sheets, printed by Chromium and made a
picture by poppler. Sizes are held against what `bind` prints.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import pypdf
import pytest
import zxingcpp
from PIL import Image, ImageChops, ImageFilter
from pyzbar import pyzbar

from sitegen.binder.compose import compose
from sitegen.binder.labels.records import DeviceLabel, SheetLabel
from sitegen.binder.site.records import Binder
from sitegen.job import read_job
from sitegen.job.label_stock import STOCKS
from sitegen.job.records import LabelStock
from sitegen.protection.examine import examine
from sitegen.publish.labels.files import label_files
from sitegen.publish.labels.label import measure
from sitegen.publish.labels.places import place
from sitegen.publish.labels.png import label_png
from sitegen.publish.labels.where import label_report
from sitegen.publish.theme import open_theme

LETTER = STOCKS["letter 4 x 2 in"]
A4 = replace(STOCKS["a4 63.5 x 38.1 mm"], frame=True, start=5, dpi=203)
# Points: 8.5 x 11 in; ISO 216.
STOCK = {"letter": (LETTER, (612.0, 792.0)), "a4": (A4, (595.28, 841.89)),
         "words": (replace(LETTER, qr="text", outlet_qr=True), (612.0, 792.0))}
every_stock = pytest.mark.parametrize("name", STOCK)
Box = tuple[float, float, float, float]


class Seen(NamedTuple):
    """A code as it is found in a picture."""

    text: str
    modules: int    # a side
    box_mm: Box     # of its dark modules


def example_binder(example: Path, stock: LabelStock, draft: bool = False) -> Binder:
    job = read_job(example)
    kinds = tuple(kind for kind in job.file.labels.wanted if kind != "door" or stock.height_mm > 40)
    job = replace(job, file=replace(job.file, labels=replace(stock, wanted=kinds)))
    return compose(examine(job), open_theme().words("en"), draft)


@pytest.fixture(scope="module")
def made(example: Path) -> dict[str, tuple[Binder, dict[str, bytes]]]:
    binders = {name: example_binder(example, stock) for name, (stock, _) in STOCK.items()}
    return {name: (binder, label_files(binder, open_theme())) for name, binder in binders.items()}


def codes_in(picture: Image.Image, dpi: float) -> list[Seen]:
    """What zxing-cpp reads in all of it, once pyzbar, held over each code and four modules around, reads the same there.

    The box is that of the ink, not the reader's estimate: two modules around the code are white.
    """
    seen = []
    for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode):
        at, version = code.position, int(code.extra["Version"])
        modules = 17 + 4 * version
        module = (at.bottom_right.x - at.top_left.x) / modules

        def around(more: int) -> tuple[int, ...]:
            return tuple(round(side) for side in (at.top_left.x - more * module, at.top_left.y - more * module,
                                                  at.bottom_right.x + more * module, at.bottom_right.y + more * module))

        part = picture.crop(around(4)).reduce(max(1, round(dpi / 300)))
        assert [other.data.decode() for other in pyzbar.decode(part, symbols=[pyzbar.ZBarSymbol.QRCODE])] == [code.text]
        left, top, *_ = around(2)
        ink = ImageChops.invert(picture.crop(around(2))).point(lambda value: 255 if value > 127 else 0).getbbox()
        assert ink
        seen.append(Seen(code.text, modules, tuple(side / dpi * 25.4 for side in (
            ink[0] + left, ink[1] + top, ink[2] + left, ink[3] + top))))
    return seen


def printed_sizes(binder: Binder, sheets: bool) -> dict[str, float]:
    """Id of a device -> millimetres of its code in its picture, or on the sheets, as `bind` prints them."""
    found = (re.match(r"(\S+): version .* code ([0-9.]+) mm, reads from about \d+ cm\.(?: On the sheets: code ([0-9.]+) mm\.)?$",
                      line) for line in label_report(binder))
    return {match[1]: float(match[3] if sheets and match[3] else match[2]) for match in found if match}


def asked_mm(label: SheetLabel, modules: int) -> float:
    """No code is larger than 0.6 of the height and 0.36 of the width, but where it needs 20 mm, or half a millimetre a
    module (as decided here), rounded up to whole dots of the coarsest printer."""
    return max(min(0.6 * label.height_mm, 0.36 * label.width_mm), max(20, 0.5 * modules) + 25.4 / 203 * modules)


def check_size(label: SheetLabel, seen: Seen, printed: float) -> None:
    left, top, right, bottom = seen.box_mm
    for side in (right - left, bottom - top):
        assert side == pytest.approx(printed, abs=0.2)
        assert side <= asked_mm(label, seen.modules)


@pytest.mark.parametrize("dpi", [203, 300, 600])
@every_stock
def test_every_picture_is_read_and_has_the_size_that_bind_prints(example: Path, name: str, dpi: int) -> None:
    """All labels with a code; those of panel doors and outlets as a roll printer would get them."""
    binder = example_binder(example, replace(STOCK[name][0], dpi=dpi))
    sizes = printed_sizes(binder, sheets=False)
    assert len(binder.labels.devices) == len(sizes) == 18
    for label in dict.fromkeys((*binder.labels.devices, *binder.labels.sheet)):
        if not label.code:
            continue
        file, facts = Image.open(io.BytesIO(label_png(label, dpi))), measure(label, dpi)
        assert file.info["dpi"] == pytest.approx((dpi, dpi), abs=0.01)
        for side, asked in zip(file.size, (label.width_mm, label.height_mm), strict=True):
            assert asked - 25.4 / dpi < side / dpi * 25.4 <= asked + 1e-6
        [seen] = codes_in(file.convert("L"), dpi)
        assert seen.text == facts.text == (facts.text if label.shorter else label.code)
        check_size(label, seen, sizes[label.id] if isinstance(label, DeviceLabel) else facts.code_mm)


def test_the_files_are_these_pictures(made) -> None:
    for binder, files in made.values():
        for label in binder.labels.devices:
            assert files[f"print/labels/{label.id}.png"] == label_png(label, binder.frame.job.labels.dpi)


def sheets_of_pdf(data: bytes) -> Iterator[tuple[Image.Image, float]]:
    """The one picture of each page; it fills the page, so its dots an inch come from the size of the page."""
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        [picture] = page.images
        yield picture.image.convert("L"), picture.image.width / float(page.mediabox.width) * 72


@pytest.fixture(scope="module")
def browser_sheets(made, chromium, tmp_path_factory) -> dict[tuple[str, str], Path]:
    """(stock, sheet | strips | calibration) -> what Chromium prints of the HTML file."""
    folder, printed = tmp_path_factory.mktemp("sheets"), {}
    page, said = chromium.new_page(), []
    page.on("request", lambda request: said.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    for name, (_, files) in made.items():
        for sheet in ("sheet", "strips", "calibration"):
            html = folder / f"{name}-{sheet}.html"
            html.write_bytes(files[f"print/labels/{sheet}.html"])
            page.goto(html.as_uri())
            printed[name, sheet] = html.with_suffix(".pdf")
            page.pdf(path=printed[name, sheet], prefer_css_page_size=True)
    page.close()
    assert [text for text in said if not re.fullmatch(r"file:///.*\.html|data:,", text)] == []
    return printed


def pictures_of(path: Path, dpi: int = 300) -> list[Image.Image]:
    folder = path.with_name(f"{path.stem}-at-{dpi}")
    folder.mkdir()
    subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", path, folder / "page"], check=True)
    return [Image.open(file).convert("L") for file in sorted(folder.iterdir())]


def check_sheets(binder: Binder, stock: LabelStock, pages: list[tuple[Image.Image, float]]) -> None:
    """Each label with a code has exactly that one, in its own place, as large as it should be; nothing else has one."""
    found: dict[int, list[Seen]] = {number: codes_in(picture, dpi) for number, (picture, dpi) in enumerate(pages, 1)}
    sizes = printed_sizes(binder, sheets=True)
    for number, label in enumerate(binder.labels.sheet):
        where, facts = place(stock, number), measure(label, 600)
        box = (where.left_mm, where.top_mm, where.left_mm + stock.width_mm, where.top_mm + stock.height_mm)
        here = [seen for seen in found[where.sheet] if box[0] < seen.box_mm[0] < box[2] and box[1] < seen.box_mm[1] < box[3]]
        assert [seen.text for seen in here] == ([facts.text] if facts else []), label.id
        for seen in here:
            check_size(label, seen, sizes[label.id] if isinstance(label, DeviceLabel) else facts.code_mm)
            edges = [abs(side - edge) for side, edge in zip(seen.box_mm, box, strict=True)]
            assert min(edges) >= max(2, 4 * facts.module_mm) - 0.1      # the quiet zone is on the label: ISO/IEC 18004
    wanted = sum(label.code is not None for label in binder.labels.sheet)
    assert sum(map(len, found.values())) == wanted >= 18


@every_stock
def test_every_code_of_the_pdf_is_read_in_its_place(made, name: str) -> None:
    binder, files = made[name]
    check_sheets(binder, STOCK[name][0], list(sheets_of_pdf(files["print/labels/sheet.pdf"])))


@pytest.mark.browser
@every_stock
def test_every_code_that_a_browser_prints_is_read_in_its_place(made, browser_sheets, name: str) -> None:
    check_sheets(made[name][0], STOCK[name][0], [(picture, 300) for picture in pictures_of(browser_sheets[name, "sheet"])])


@pytest.mark.browser
@pytest.mark.parametrize("sheet", ["sheet", "strips", "calibration"])
@every_stock
def test_a_browser_prints_what_the_pdf_shows(made, browser_sheets, name: str, sheet: str) -> None:
    """As many pages, of the same size; no dark dot of one is further than 0.2 mm from a dark dot of the other."""
    known = pypdf.PdfReader(io.BytesIO(made[name][1][f"print/labels/{sheet}.pdf"]))
    printed = pypdf.PdfReader(browser_sheets[name, sheet])
    assert len(known.pages) == len(printed.pages)
    for page in (*known.pages, *printed.pages):
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(STOCK[name][1], abs=0.5)
    pdf = browser_sheets[name, sheet].with_name(f"{name}-{sheet}-known.pdf")
    pdf.write_bytes(made[name][1][f"print/labels/{sheet}.pdf"])
    for one, other in zip(pictures_of(pdf, 150), pictures_of(browser_sheets[name, sheet], 150), strict=True):
        one, other = (picture.crop((0, 0, 1237, 1650)) for picture in (one, other))
        for first, second in ((one, other), (other, one)):
            assert dark_alone(first, second) == 0


def dark_alone(first: Image.Image, second: Image.Image) -> int:
    """How many dots of the first are dark where the second has nothing but white within a dot around, 0.17 mm."""
    near = second.filter(ImageFilter.MinFilter(3)).point(lambda value: 255 if value < 200 else 0)
    dark = first.point(lambda value: 255 if value < 64 else 0)
    return ImageChops.subtract(dark, near).histogram()[255]
