"""Sheets of labels, measured on their pages as poppler paints them from the PDF; the lists that go with them."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from house import BASE
from PIL import ImageChops
from publish.labels.inked import binder_of, codes_in, dark, dots, draw_label, painted, part

from sitegen.binder.labels.records import OutletLabel
from sitegen.binder.site.records import Binder
from sitegen.cli import main
from sitegen.errors import LabelError
from sitegen.job.labels.purposes import PURPOSES
from sitegen.job.labels.stock import STOCKS
from sitegen.job.records import LabelStock
from sitegen.publish.labels.files import label_files
from sitegen.publish.labels.pdf import pdf
from sitegen.publish.labels.places import frames, label_place, strip_stock
from sitegen.publish.labels.sheets import label_sheets
from sitegen.publish.labels.where import label_report, where_text

pytestmark = pytest.mark.thorough

LETTER, A4 = (replace(STOCKS[name], wanted=tuple(PURPOSES)) for name in ("letter 4 x 2 in", "a4 63.5 x 38.1 mm"))
# Sizes and pitch (size + gap) of published sheets, as reported; mm.
PITCH = {"letter": (LETTER, 105.664, 50.8), "a4": (A4, 66.0, 38.1)}


def mm(dots: float, dpi: int = 300) -> float:
    return dots / dpi * 25.4


@pytest.fixture(scope="module")
def part_used() -> Binder:
    """The small job with every kind of label, from the fourth place of a sheet on."""
    return binder_of(BASE, replace(LETTER, start=4))


@pytest.fixture(scope="module")
def made(part_used: Binder) -> dict[str, bytes]:
    return dict(label_files(part_used))


@pytest.fixture(scope="module")
def sheet(made: dict[str, bytes]):
    return painted(made["print/labels/sheet.pdf"], 300)


def test_the_same_labels_give_the_same_bytes(made: dict[str, bytes]) -> None:
    assert made == dict(label_files(binder_of(BASE, replace(LETTER, start=4))))
    for name in ("sheet", "strips", "calibration"):
        assert b"Date" not in made[f"print/labels/{name}.pdf"]


@pytest.mark.parametrize("name", PITCH)
def test_every_label_stands_in_its_place(name: str) -> None:
    """Each place holds what the label alone shows; places lie a pitch apart, within 0.2 mm of the sums."""
    stock, across, down = PITCH[name]
    # The kind of label that says least: an outlet label has no code and room for any stock.
    label = OutletLabel("K2", "No power?", "RESET K1", "", "in PANTRY", "", "", "outlet K2", None, stock.width_mm,
                        stock.height_mm)
    count = stock.columns * stock.rows
    first, second = painted(pdf(label_sheets([label] * (count + 1), stock)), 300)
    alone = [mm(side, 600) for side in dark(draw_label(label, 600))]
    for number in range(count):
        row, column = divmod(number, stock.columns)
        left, top = stock.left_mm + column * across, stock.top_mm + row * down
        seen = [mm(side) for side in dark(part(first, (left, top, left + stock.width_mm, top + stock.height_mm), 300))]
        assert seen == pytest.approx(alone, abs=0.2) and seen[2] - seen[0] == pytest.approx(alone[2] - alone[0], abs=0.1)
    left, top, *_ = dark(second)
    assert (mm(left), mm(top)) == pytest.approx((stock.left_mm + alone[0], stock.top_mm + alone[1]), abs=0.2)


def test_nothing_is_printed_between_the_labels_nor_before_the_first_free_one(sheet) -> None:
    """2 mm inside each label are white, and so is all that is no label (common practice, no source). `start: 4`."""
    inked = []
    for picture in (page.copy() for page in sheet):
        for where in frames(LETTER):
            inner = (where.left_mm + 2, where.top_mm + 2, where.left_mm + 99.6, where.top_mm + 48.8)
            inked.append(part(picture, inner, 300).histogram()[0] > 0)
            picture.paste(255, tuple(dots(side, 300) for side in inner))
        assert picture.histogram()[0] == 0
    assert inked[:4] == [False, False, False, True]
    assert [label_place(replace(LETTER, start=4), number)[:3] for number in (0, 6, 7)] == [(1, 2, 2), (1, 5, 2), (2, 1, 1)]


def test_every_code_on_the_sheet_leads_to_its_own_page(part_used: Binder, sheet) -> None:
    """Outlet labels have none; a panel's door leads to the start page."""
    leads = {"device": "https://small.example/{}/", "door": "https://small.example/"}
    for number, label in enumerate(part_used.labels.sheet):
        where = label_place(replace(LETTER, start=4), number)
        box = (where.left_mm, where.top_mm, where.left_mm + 101.6, where.top_mm + 50.8)
        assert [seen.text for seen in codes_in(part(sheet[where.sheet - 1], box, 300), 300)] == (
            [leads[label.purpose].format(label.id)] if label.purpose in leads else [])
    assert len(part_used.labels.sheet) > 5


def test_adjusting_moves_places_and_leaves_labels_whole(part_used: Binder) -> None:
    """Half a millimetre right, 0.3 up, 100.4 %: the middle of each label moves by just that."""
    moved = replace(LETTER, right_mm=0.5, down_mm=-0.3, scale=1.004)
    for plain, other in zip(frames(LETTER), frames(moved), strict=True):
        assert other.left_mm + 50.8 == pytest.approx(0.5 + 1.004 * (plain.left_mm + 50.8))
        assert other.top_mm + 25.4 == pytest.approx(-0.3 + 1.004 * (plain.top_mm + 25.4))
    small = LabelStock(101.6, 50.8, (110.0, 70.0), 1, 1, 4.318, 12.7)
    [one], [other] = (painted(pdf(label_sheets(part_used.labels.sheet[:1], stock))) for stock in (
        small, replace(small, right_mm=0.5, down_mm=-0.3, scale=1.004)))
    assert ImageChops.difference(one.crop(dark(one)), other.crop(dark(other))).getbbox() is None


def test_a_frame_is_faint_and_as_large_as_the_label(part_used: Binder) -> None:
    stock = LabelStock(101.6, 50.8, (110.0, 70.0), 1, 1, 4.318, 12.7, frame=True)
    [page] = painted(pdf(label_sheets(part_used.labels.sheet[:1], stock)), 1200)
    left, top, right, bottom = dark(page)
    assert (mm(left, 1200), mm(top, 1200)) == pytest.approx((4.318, 12.7), abs=0.2)
    assert (mm(right - left, 1200), mm(bottom - top, 1200)) == pytest.approx((101.6, 50.8), abs=0.2)
    row = page.crop((left, top + 1, right, top + 2))
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
    assert len(painted(made["print/labels/strips.pdf"], 50)) == 2


def test_a_label_too_small_for_its_code_says_so() -> None:
    """The published 2.625 x 1 in stock holds no code of 20 mm with its white border and text beside it."""
    with pytest.raises(LabelError) as caught:
        dict(label_files(binder_of(BASE, STOCKS["letter 2.625 x 1 in"])))
    assert str(caught.value).startswith("label ") and "66.675 x 25.4 mm" in str(caught.value)
    assert str(caught.value).endswith("choose a larger label.")


def test_the_list_names_every_label_with_its_place(part_used: Binder) -> None:
    text, [first, *_] = where_text(part_used), part_used.labels.sheet
    assert text.count("[ ] ") == len(part_used.labels.sheet) + len(part_used.labels.strips)
    assert re.search(rf"\nKITCHEN\n{first.id}: .*\n  \[ \] device label \(sheet\.pdf page 1, row 2, column 2\): ", text)
    assert text.index("\nKITCHEN\n") < text.index("\nGARAGE\n")


def test_bind_tells_of_every_code(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Version and level as the other reader sees them; an address in capitals is offered where it makes a surer code:
    scheme and host may be written in any case (RFC 3986, 6.2.2.1), and capitals need fewer bits (ISO/IEC 18004)."""
    binder = binder_of(BASE, LETTER)
    lines, count = label_report(binder), len(binder.labels.devices)
    for label, line in zip(binder.labels.devices, lines):
        [seen] = codes_in(draw_label(label), 300)
        assert line.startswith(f"{label.id}: version {seen.version}, level {seen.level}, module ")
    shutil.copytree(BASE, tmp_path / "job")
    assert main(["bind", str(tmp_path / "job"), "--out", str(tmp_path / "out")]) == 0
    assert "\n".join(lines[:count]) in capsys.readouterr().out
    assert lines[count].startswith("door label P1: version ")
    assert lines[-1].startswith("Written as HTTPS://SMALL.EXAMPLE, `base_url` would give version ")
