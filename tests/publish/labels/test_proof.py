"""Every label of the example house, as it is printed: read by two readers of QR codes, and measured.

The picture of each label; the PDF of all sheets, painted by poppler. Sizes are held against what `bind` prints, and what the
PDF shows against the pictures, which FreeType inked.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdf
import pytest
from PIL import Image
from publish.labels.inked import Seen, binder_of, codes_in, dark_alone, label_png, painted, part, thorough

from sitegen.binder.labels.records import SheetLabel
from sitegen.binder.site.records import Binder
from sitegen.job.labels.stock import STOCKS
from sitegen.job.records import LabelStock
from sitegen.publish.labels.code import code_facts
from sitegen.publish.labels.files import label_files
from sitegen.publish.labels.label import lay_out_label
from sitegen.publish.labels.places import label_place
from sitegen.publish.labels.png import draw
from sitegen.publish.labels.sheets import strip_places
from sitegen.publish.labels.strip import lay_out_strip
from sitegen.publish.labels.where import label_report

pytestmark = pytest.mark.thorough

WANTED = ("device", "outlet", "plate", "breaker", "door", "ground")
LETTER = replace(STOCKS["letter 4 x 2 in"], wanted=WANTED)
A4 = replace(STOCKS["a4 63.5 x 38.1 mm"], frame=True, start=5, dpi=203, wanted=WANTED)
# Points: 8.5 x 11 in; ISO 216.
STOCK = {"letter": (LETTER, (612.0, 792.0)), "a4": (A4, (595.28, 841.89)),
         "words": (replace(LETTER, qr="text", outlet_qr=True), (612.0, 792.0))}
every_stock = pytest.mark.parametrize("name", ["letter", pytest.param("a4", marks=thorough), pytest.param("words", marks=thorough)])


@pytest.fixture(scope="module")
def made(example: Path) -> Callable[[str], tuple[Binder, dict[str, bytes]]]:
    """The name of a stock -> the example on it, and its files."""
    @cache
    def make(name: str) -> tuple[Binder, dict[str, bytes]]:
        binder = binder_of(example, STOCK[name][0])
        return binder, dict(label_files(binder))
    return make


def printed_sizes(binder: Binder, sheets: bool) -> dict[str, float]:
    """Id of a device -> millimetres of its code in its picture, or on the sheets, as `bind` prints them."""
    found = (re.match(r"(\S+): version .* code ([0-9.]+) mm, reads from about \d+ cm\.(?: On the sheets: code ([0-9.]+) mm\.)?$",
                      line) for line in label_report(binder))
    return {match[1]: float(match[3] if sheets and match[3] else match[2]) for match in found if match}


def check_size(label: SheetLabel, seen: Seen, printed: float) -> None:
    """As printed; no code is larger than 0.6 of the height and 0.36 of the width, but where it needs 20 mm, or half a
    millimetre a module (as decided here), rounded up to whole dots of the coarsest printer."""
    left, top, right, bottom = seen.box_mm
    modules = 17 + 4 * seen.version
    for side in (right - left, bottom - top):
        assert side == pytest.approx(printed, abs=0.2)
        assert side <= max(min(0.6 * label.height_mm, 0.36 * label.width_mm), max(20, 0.5 * modules) + 25.4 / 203 * modules)


@pytest.mark.parametrize(("name", "dpi"), [("letter", 300), *(pytest.param(name, dpi, marks=thorough) for name, dpi in (("letter", 600), ("a4", 203), ("words", 300)))])
def test_every_picture_is_read_and_has_the_size_that_bind_prints(example: Path, name: str, dpi: int) -> None:
    binder = binder_of(example, replace(STOCK[name][0], dpi=dpi))
    sizes = printed_sizes(binder, sheets=False)
    assert len(binder.labels.devices) == len(sizes) == 18
    for label in binder.labels.devices:
        file, facts = Image.open(io.BytesIO(label_png(label, dpi))), code_facts(label, dpi)
        assert file.info["dpi"] == pytest.approx((dpi, dpi), abs=0.01)
        for side, asked in zip(file.size, (label.width_mm, label.height_mm), strict=True):
            assert asked - 25.4 / dpi < side / dpi * 25.4 <= asked + 1e-6
        [seen] = codes_in(file, dpi)
        assert seen.text == facts.text == (facts.text if label.shorter else label.code)
        check_size(label, seen, sizes[label.id])


@every_stock
def test_the_files_are_these_pictures(made, name: str) -> None:
    binder, files = made(name)
    for label in binder.labels.devices:
        assert files[f"print/labels/{label.id}.png"] == label_png(label, binder.frame.job.labels.dpi)


@every_stock
def test_every_code_of_the_pdf_is_read_in_its_place(made, name: str) -> None:
    """At 300 dots an inch: each label with a code has exactly that one, in its own place, as large as it should be; nothing
    else has one."""
    (binder, files), (stock, _) = made(name), STOCK[name]
    found = [codes_in(page, 300) for page in painted(files["print/labels/sheet.pdf"], 300)]
    sizes = printed_sizes(binder, sheets=True)
    for number, label in enumerate(binder.labels.sheet):
        where, facts = label_place(stock, number), code_facts(label, 600)
        box = (where.left_mm, where.top_mm, where.left_mm + stock.width_mm, where.top_mm + stock.height_mm)
        here = [seen for seen in found[where.sheet - 1] if box[0] < seen.box_mm[0] < box[2] and box[1] < seen.box_mm[1] < box[3]]
        assert [seen.text for seen in here] == ([facts.text] if facts else []), label.id
        for seen in here:
            check_size(label, seen, sizes[label.id] if label.purpose == "device" else facts.code_mm)
            edges = [abs(side - edge) for side, edge in zip(seen.box_mm, box, strict=True)]
            assert min(edges) >= max(2, 4 * facts.module_mm) - 0.1      # the quiet zone is on the label: ISO/IEC 18004
    assert sum(map(len, found)) == sum(label.code is not None for label in binder.labels.sheet) >= 8


@every_stock
def test_pages_are_as_large_as_their_paper(made, name: str) -> None:
    """To a hundredth of a point, and viewers are asked to print at actual size (ISO 32000-1, table 150)."""
    for sheet in ("sheet", "strips", "calibration"):
        reader = pypdf.PdfReader(io.BytesIO(made(name)[1][f"print/labels/{sheet}.pdf"]), strict=True)
        assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
        for page in reader.pages:
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(STOCK[name][1], abs=0.01)


@thorough
def test_outlines_show_what_the_pictures_show(made) -> None:
    """Every fourth label and strip at 300 dots an inch: no dark dot of the one is further than a dot from one of the other."""
    binder, files = made("letter")
    labels, strips = binder.labels.sheet, binder.labels.strips
    places = [label_place(LETTER, number) for number in range(len(labels))]
    for name, things, where, lay_out in (("sheet", labels, places, lay_out_label),
                                         ("strips", strips, strip_places(binder.labels, LETTER), lay_out_strip)):
        pages = painted(files[f"print/labels/{name}.pdf"], 300)
        for thing, at in list(zip(things, where, strict=True))[::4]:
            known = draw(lay_out(thing, 600)).convert("L").reduce(2)
            inner = (3, 3, known.width - 3, known.height - 3)       # off the frame to cut along
            ours = part(pages[at.sheet - 1], (at.left_mm, at.top_mm, at.left_mm + 102, at.top_mm + 51), 300).crop(inner)
            known = known.crop(inner)
            assert dark_alone(known, ours) == dark_alone(ours, known) == 0, thing.id
        assert len(things) > 20 and dark_alone(known, pages[0].crop((0, 0, *known.size))) > 20     # the comparison can fail


@thorough
def test_a_draft_says_so_on_every_label_of_its_sheets(example: Path) -> None:
    """A roll: each label a page, with a bar over nine tenths of its width."""
    binder = binder_of(example, LabelStock(101.6, 50.8, None, 1, 1, 0.0, 0.0), draft=True)
    pages = painted(dict(label_files(binder))["print/labels/sheet.pdf"], 75)
    assert len(pages) == len(binder.labels.sheet)
    for page in pages:
        row = page.crop((0, page.height - 18, page.width, page.height - 17))
        assert row.histogram()[0] > 0.9 * page.width
