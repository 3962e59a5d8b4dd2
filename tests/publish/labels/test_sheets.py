"""Sheets of labels, measured in the picture inside the PDF (pypdf), their codes read by two readers of QR codes."""

from __future__ import annotations

import io
import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
import zxingcpp
from house import BASE
from PIL import Image, ImageChops
from pyzbar import pyzbar

from sitegen.binder.compose import compose
from sitegen.binder.labels.records import DeviceLabel, DoorLabel, OutletLabel
from sitegen.binder.site.records import Binder
from sitegen.errors import LabelError
from sitegen.job import read_job
from sitegen.job.label_stock import STOCKS
from sitegen.job.purposes import PURPOSES
from sitegen.job.records import LabelStock
from sitegen.protection.examine import examine
from sitegen.publish.labels.files import label_files as write_files
from sitegen.publish.labels.places import frames, place, strip_stock
from sitegen.publish.labels.png import draw_label, pdf
from sitegen.publish.labels.sheets import label_sheets
from sitegen.publish.labels.where import label_report, where_text
from sitegen.publish.theme import open_theme

LETTER, A4 = STOCKS["letter 4 x 2 in"], STOCKS["a4 63.5 x 38.1 mm"]
# Sizes and pitch (size + gap) of published sheets, as reported; mm.
PITCH = {"letter": (LETTER, 105.664, 50.8), "a4": (A4, 66.0, 38.1)}


def binder_with(stock: LabelStock) -> Binder:
    """The small job with every kind of label; on small stock without the panel door's, whose words need more room."""
    job = read_job(BASE)
    wanted = tuple(kind for kind in PURPOSES if kind != "door" or stock.height_mm > 40)
    job = replace(job, file=replace(job.file, labels=replace(stock, wanted=wanted)))
    return compose(examine(job), open_theme().words("en"))


def label_files(binder: Binder) -> dict[str, bytes]:
    return write_files(binder, open_theme())


def pictures(data: bytes) -> Iterator[Image.Image]:
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        [picture] = page.images
        yield picture.image.convert("L")


def mm(dots: float) -> float:
    return dots / 600 * 25.4


def dark(picture: Image.Image) -> tuple[int, int, int, int]:
    return ImageChops.invert(picture).getbbox() or (0, 0, 0, 0)


@pytest.fixture(scope="module")
def made() -> dict[str, bytes]:
    return label_files(binder_with(replace(LETTER, start=4)))


@pytest.mark.parametrize(("stock", "points"), [(LETTER, (612, 792)), (A4, (595.28, 841.89)),
                                               (LabelStock(101.6, 50.8, None, left_mm=0, top_mm=0), (288, 144))],
                         ids=["letter", "a4", "roll"])
def test_pages_have_the_size_of_the_sheet(stock: LabelStock, points: tuple[float, float]) -> None:
    """Letter is 612 x 792, A4 595.28 x 841.89 points (ISO 216), within half a point; one picture, one bit, 600 dpi."""
    files = label_files(binder_with(stock))
    for name in ("sheet", "calibration"):
        for page in pypdf.PdfReader(io.BytesIO(files[f"print/labels/{name}.pdf"])).pages:
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(points, abs=0.5)
            [picture] = page["/Resources"]["/XObject"].values()
            assert picture["/BitsPerComponent"] == 1
            assert picture["/Width"] / points[0] * 72 == pytest.approx(600, abs=0.5)


def test_the_same_labels_give_the_same_bytes(made: dict[str, bytes]) -> None:
    again = label_files(binder_with(replace(LETTER, start=4)))
    assert made == again
    for name in ("sheet", "strips", "calibration"):
        assert b"Date" not in made[f"print/labels/{name}.pdf"]


@pytest.mark.parametrize("name", PITCH)
def test_every_label_stands_in_its_place(name: str) -> None:
    """Each place holds what the label alone shows, to the dot; places lie a pitch apart, within 0.2 mm of the sums."""
    stock, across, down = PITCH[name]
    # The kind of label that says least: an outlet label has no code and room for any stock.
    label = OutletLabel("K2", "No power?", "RESET K1", "", "in PANTRY", "", "", "outlet K2", None, stock.width_mm,
                        stock.height_mm)
    count = stock.columns * stock.rows + 1
    pages = list(pictures(pdf(label_sheets([label] * count, stock))))
    assert len(pages) == 2
    alone = dark(draw_label(label, 600).convert("L"))
    for number in range(count - 1):
        row, column = divmod(number, stock.columns)
        left, top = stock.left_mm + column * across, stock.top_mm + row * down
        box = tuple(round(side / 25.4 * 600) for side in (left, top, left + stock.width_mm, top + stock.height_mm))
        seen = dark(pages[0].crop(box))
        assert mm(seen[0]) == pytest.approx(mm(alone[0]), abs=0.2) and mm(seen[1]) == pytest.approx(mm(alone[1]), abs=0.2)
        assert mm(seen[2] - seen[0]) == pytest.approx(mm(alone[2] - alone[0]), abs=0.05)
    first = dark(pages[1])
    assert mm(first[0]) == pytest.approx(stock.left_mm + mm(alone[0]), abs=0.2)
    assert mm(first[1]) == pytest.approx(stock.top_mm + mm(alone[1]), abs=0.2)


def test_nothing_is_printed_between_the_labels(made: dict[str, bytes]) -> None:
    """2 mm inside each label are white, and so is all that is no label (common practice, no source)."""
    for picture in pictures(made["print/labels/sheet.pdf"]):
        for where in frames(LETTER):
            inner = (where.left_mm + 2, where.top_mm + 2, where.left_mm + 99.6, where.top_mm + 48.8)
            picture.paste(255, tuple(round(side / 25.4 * 600) for side in inner))
        assert ImageChops.invert(picture).getbbox() is None


@pytest.mark.parametrize("stock", [LETTER, A4], ids=["letter", "a4"])
def test_both_readers_read_every_code_on_the_sheet(stock: LabelStock) -> None:
    """Each code in its own place leads to its own page, ISO/IEC 18004; outlet labels have none."""
    binder = binder_with(stock)
    pages = list(pictures(label_files(binder)["print/labels/sheet.pdf"]))
    urls = 0
    for number, label in enumerate(binder.labels.sheet):
        where = place(stock, number)
        box = (where.left_mm, where.top_mm, where.left_mm + stock.width_mm, where.top_mm + stock.height_mm)
        part = pages[where.sheet - 1].crop(tuple(round(side / 25.4 * 600) for side in box))
        part = part.resize((part.width // 2, part.height // 2))
        url = {DeviceLabel: f"https://small.example/{label.id}/", DoorLabel: "https://small.example/"}.get(type(label))
        assert [found.text for found in zxingcpp.read_barcodes(part, formats=zxingcpp.BarcodeFormat.QRCode)] == ([url] if url else [])
        assert [found.data.decode() for found in pyzbar.decode(part)] == ([url] if url else [])
        urls += bool(url)
    assert urls >= 4


def test_a_part_used_sheet_begins_at_its_first_free_label(made: dict[str, bytes]) -> None:
    """`start: 4`: the first three places are white, and the next sheet begins at its first."""
    [first, *_] = pictures(made["print/labels/sheet.pdf"])
    inked = []
    for where in frames(LETTER):
        box = (where.left_mm, where.top_mm, where.left_mm + 101.6, where.top_mm + 50.8)
        inked.append(ImageChops.invert(first.crop(tuple(round(side / 25.4 * 600) for side in box))).getbbox() is not None)
    assert inked[:4] == [False, False, False, True]
    assert [place(replace(LETTER, start=4), number)[:3] for number in (0, 6, 7)] == [(1, 2, 2), (1, 5, 2), (2, 1, 1)]


def test_adjusting_moves_places_and_leaves_labels_whole() -> None:
    """Half a millimetre right, 0.3 up, 100.4 %: the middle of each label moves by just that."""
    moved = replace(LETTER, right_mm=0.5, down_mm=-0.3, scale=1.004)
    for plain, other in zip(frames(LETTER), frames(moved), strict=True):
        assert other.left_mm + 50.8 == pytest.approx(0.5 + 1.004 * (plain.left_mm + 50.8))
        assert other.top_mm + 25.4 == pytest.approx(-0.3 + 1.004 * (plain.top_mm + 25.4))
    label = binder_with(LETTER).labels.sheet[0]
    [one], [other] = (list(pictures(pdf(label_sheets([label], stock)))) for stock in (LETTER, moved))
    assert one.crop(dark(one)).tobytes() == other.crop(dark(other)).tobytes()


def test_a_frame_is_faint_and_as_large_as_the_label() -> None:
    label = binder_with(LETTER).labels.sheet[0]
    [page] = pictures(pdf(label_sheets([label], replace(LETTER, frame=True))))
    left, top, right, bottom = dark(page)
    assert (mm(left), mm(top)) == pytest.approx((4.318, 12.7), abs=0.2)
    assert (mm(right - left), mm(bottom - top)) == pytest.approx((101.6, 50.8), abs=0.2)
    row = page.crop((left, top, right, top + 1))
    assert 0.05 < row.histogram()[0] / row.width < 0.2


@pytest.mark.parametrize("size", [(66.0, 7.0), (90.0, 9.0)])
@pytest.mark.parametrize("stock", [LETTER, A4, LabelStock(101.6, 50.8, None)], ids=["letter", "a4", "roll"])
def test_strips_stay_on_the_sheet_and_apart(stock: LabelStock, size: tuple[float, float]) -> None:
    """With 20 mm for the id before each, and 5 mm on every side (as decided here) to cut in."""
    plain = strip_stock(stock, size)
    boxes = [(at.left_mm - 20, at.top_mm, at.left_mm + size[0], at.top_mm + size[1]) for at in frames(plain)]
    assert len(boxes) >= 15
    for number, (left, top, right, bottom) in enumerate(boxes):
        assert left >= 5 and top >= 5 and right <= plain.page_mm[0] - 5 and bottom <= plain.page_mm[1] - 5
        for other in boxes[number + 1:]:
            assert right + 5 <= other[0] + 0.01 or bottom + 5 <= other[1] + 0.01 or other[2] + 5 <= left + 0.01


def test_strips_of_another_size_begin_another_sheet(made: dict[str, bytes]) -> None:
    assert len(list(pictures(made["print/labels/strips.pdf"]))) == 2


def test_the_calibration_page_measures_true() -> None:
    """The line across is 190 mm; its ticks are a millimetre and an eighth of an inch apart: counted in the picture."""
    [page] = pictures(label_files(binder_with(LETTER))["print/labels/calibration.pdf"])
    middle = round(279.4 / 2 / 25.4 * 600)
    between = range(round(9 / 25.4 * 600), round(205 / 25.4 * 600))    # the frames of the outer labels stand beyond
    row = [x for x in between if page.getpixel((x, middle)) == 0]
    assert mm(min(row)) == pytest.approx(10, abs=0.2) and mm(max(row) - min(row)) == pytest.approx(190, abs=0.2)
    # Ticks of a millimetre above the line, of an eighth of an inch below it.
    for beside, step in ((-0.8, 1.0), (0.8, 25.4 / 8)):
        y = middle + round(beside / 25.4 * 600)
        ticks = [x for x in range(round(12 / 25.4 * 600), round(90 / 25.4 * 600))
                 if page.getpixel((x, y)) == 0 and page.getpixel((x - 1, y)) != 0]
        assert mm(ticks[-1] - ticks[0]) == pytest.approx(step * (len(ticks) - 1), abs=0.1)


def test_a_label_too_small_for_its_code_says_so() -> None:
    """The published 2.625 x 1 in stock holds no code of 20 mm with its white border and text beside it."""
    with pytest.raises(LabelError) as caught:
        label_files(binder_with(STOCKS["letter 2.625 x 1 in"]))
    assert str(caught.value).startswith("label ") and "66.675 x 25.4 mm" in str(caught.value)
    assert str(caught.value).endswith("choose a larger label.")


def test_the_list_names_every_label_with_its_place() -> None:
    binder = binder_with(replace(LETTER, start=4))
    text = where_text(binder)
    assert text.count("[ ] ") == len(binder.labels.sheet) + len(binder.labels.strips)
    first = binder.labels.sheet[0]
    assert re.search(rf"\nKITCHEN\n{first.id}: .*\n  \[ \] device label \(sheet\.pdf page 1, row 2, column 2\): ", text)
    assert text.index("\nKITCHEN\n") < text.index("\nGARAGE\n")


def test_bind_tells_of_every_code(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Version and level as the other reader sees them; a phone reads from ten times the width (common practice)."""
    binder = binder_with(LETTER)
    lines = label_report(binder)
    for label, line in zip(binder.labels.devices, lines):
        [found] = zxingcpp.read_barcodes(draw_label(label).convert("L"), formats=zxingcpp.BarcodeFormat.QRCode)
        assert line.startswith(f"{label.id}: version {found.extra['Version']}, level {found.ec_level}, module ")
    from sitegen.cli import main
    shutil.copytree(BASE, tmp_path / "job")
    assert main(["bind", str(tmp_path / "job"), "--out", str(tmp_path / "out")]) == 0
    assert "\n".join(lines[:len(binder.labels.devices)]) in capsys.readouterr().out
    assert lines[len(binder.labels.devices)].startswith("door label P1: version ")


def test_an_address_in_capitals_is_offered_where_it_makes_a_surer_code() -> None:
    """Scheme and host may be written in any case (RFC 3986, 6.2.2.1); alphanumeric mode needs fewer bits (ISO/IEC 18004)."""
    assert label_report(binder_with(LETTER))[-1].startswith("Written as HTTPS://SMALL.EXAMPLE, `base_url` would give version ")
