"""Labels measured dot by dot in the picture, and read by two independent readers of QR codes."""

from __future__ import annotations

import io
import struct
import zlib
from dataclasses import replace

import pytest
import zxingcpp
from font_source_sans_pro import font_files_ttf
from hypothesis import given, settings, strategies as st
from PIL import Image, ImageFont
from publish.labels.inked import apart, draw_label, every_dpi, label_png
from pyzbar import pyzbar

from sitegen.binder.labels.records import DeviceLabel
from sitegen.errors import LabelError
from sitegen.publish.labels.code import code_facts
from sitegen.publish.labels.label import lay_out_label

LABEL = DeviceLabel(
    id="K1",
    room="Kitchen",
    act="RESETS",
    serves=("Kitchen: coffee maker, toaster", "Kitchen counter"),
    rule="Press TEST every month, then RESET. Do not cover.",
    code="https://binder.example/24-017/K1/",
    draft=None,
    width_mm=63.5,      # A4 stock, 21 a sheet, as reported
    height_mm=38.1,
)
LARGE = replace(LABEL, width_mm=101.6, height_mm=50.8)      # Letter stock, 10 a sheet: 4 x 2 in, as reported
DRAFT = replace(LABEL, draft="DRAFT")
BREAKER = replace(
    LABEL, id="B5", room="Garage", act="OFF, then ON for", serves=("Kitchen: dishwasher, disposer",),
    rule="Press TEST every month, then push OFF, then ON.",
)
SPANISH = replace(
    LABEL, room="Baño de niños", act="REACTIVA", serves=("Cocina: ½ encimera – cafetera, tostador",),
    rule="Presione TEST cada mes, luego RESET. No lo cubra.",
)
LONG = replace(
    LABEL, id="KITCHEN8", room="Laundry room",
    serves=("Kitchen: coffee maker, toaster, outlet right of the window; Dining: by the door, by the window",
            "Kitchen: 3 outlets; Dining: 2 outlets", "5 outlets in Kitchen, Dining"),
)
ALL = {
    "usual": LABEL, "large": LARGE, "draft": DRAFT, "breaker": BREAKER, "spanish": SPANISH, "long": LONG,
    "long draft": replace(LONG, draft="BORRADOR"), "large draft": replace(LARGE, draft="DRAFT"),
    "no host": replace(LABEL, code=None), "no host draft": replace(DRAFT, code=None),
    "no host large": replace(LARGE, code=None),
    "long url": replace(LABEL, code="https://handover.some-long-firm-name.example/binders/2026/24-017/K1/"),
}
every_label = pytest.mark.parametrize("label", ALL.values(), ids=ALL.keys())


def dots(mm: float, dpi: int = 300) -> float:
    return mm / 25.4 * dpi


def darkened(image: Image.Image) -> Image.Image:
    """Dark dots as white ones, so that getbbox finds the ink."""
    return Image.eval(image.convert("L"), lambda value: 255 - value)


def code_box(image: Image.Image, url: str) -> tuple[int, int, int, int]:
    """Where zxing-cpp sees the code: left, top, right, bottom in dots, to the dot before the edge."""
    [found] = zxingcpp.read_barcodes(image.convert("L"), formats=zxingcpp.BarcodeFormat.QRCode)
    assert found.text == url
    at = found.position
    return at.top_left.x, at.top_left.y, at.bottom_right.x, at.bottom_right.y


@every_label
@every_dpi
def test_size_is_the_stock_to_the_dot_and_never_larger(label: DeviceLabel, dpi: int) -> None:
    """1 in = 25.4 mm: 63.5 x 38.1 mm are 750 x 450 dots at 300 dpi; at 203 they are 507.5 dots, and 507 are printed."""
    image = draw_label(label, dpi)
    assert image.mode == "1"
    for asked, side in zip((label.width_mm, label.height_mm), image.size, strict=True):
        assert -1e-6 <= dots(asked, dpi) - side < 1
    if label.width_mm == 63.5 and dpi == 300:
        assert image.size == (750, 450)


def test_png_carries_its_resolution() -> None:
    """pHYs (PNG specification, 11.3.5.3): 300 dpi are 11811 dots a metre, so that the print has the size."""
    data = label_png(LABEL)
    at = data.index(b"pHYs")
    assert struct.unpack(">IIB", data[at + 4:at + 13]) == (11811, 11811, 1)
    assert struct.unpack(">I", data[at + 13:at + 17])[0] == zlib.crc32(data[at:at + 13])
    assert Image.open(io.BytesIO(data)).tobytes() == draw_label(LABEL).tobytes()


@every_label
def test_same_label_same_bytes(label: DeviceLabel) -> None:
    assert label_png(label) == label_png(label)


@every_label
def test_both_readers_read_the_code(label: DeviceLabel) -> None:
    """The draft's bar does not disturb it; without a host there is none."""
    image = draw_label(label).convert("L")
    expected = [label.code] if label.code else []
    assert [found.text for found in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)] == expected
    assert [found.data.decode() for found in pyzbar.decode(image)] == expected


@every_label
@every_dpi
def test_code_is_large_enough_and_in_whole_dots(label: DeviceLabel, dpi: int) -> None:
    """20 mm, 0.5 mm and four dots a module (as reported), and the quiet zone is white: all seen in the picture."""
    if not label.code:
        assert code_facts(label, dpi) is None
        return
    image = draw_label(label, dpi)
    facts = code_facts(label, dpi)
    assert facts
    side = 17 + 4 * facts.version
    assert facts.module_mm >= 0.5 and facts.code_mm >= 20
    module = round(dots(facts.module_mm, dpi))
    assert module >= 4 and module == pytest.approx(dots(facts.module_mm, dpi))
    assert facts.code_mm == pytest.approx(side * facts.module_mm)
    left, top, right, bottom = code_box(image, label.code)
    # The reader's corners are its estimate: the ink itself decides, within the box it found and a module around.
    ink = darkened(image).crop((0, top - 2 * module, right + 2 * module, bottom + 2 * module)).getbbox()
    assert ink and (ink[2] - ink[0], ink[3] - ink[1]) == (side * module, side * module)
    left, top = ink[0], ink[1] + top - 2 * module
    zone = (left - 4 * module, top - 4 * module, left + (side + 4) * module, top + (side + 4) * module)
    assert zone[0] >= 0 and zone[1] >= 0 and zone[2] <= image.width and zone[3] <= image.height
    around = darkened(image).crop(zone)
    assert around.getbbox() == (4 * module, 4 * module, (side + 4) * module, (side + 4) * module)


@every_label
def test_code_is_as_large_on_a_sheet_as_in_a_picture(label: DeviceLabel) -> None:
    """600 dots an inch show the size that 300 do, so that one number says both."""
    assert code_facts(label, 600) == code_facts(label, 300)


@every_label
def test_nothing_is_printed_within_two_millimetres_of_the_cut(label: DeviceLabel) -> None:
    """2 mm is the usual allowance for a printer's drift (common practice, no source)."""
    image = draw_label(label)
    left, top, right, bottom = darkened(image).getbbox() or (0, 0, 0, 0)
    assert min(left, top, image.width - right, image.height - bottom) >= round(dots(2))


def first_run(image: Image.Image, box: tuple[int, int, int, int]) -> int:
    """Height in dots of the uppermost run of rows with ink in the box: the letters of the id."""
    part = darkened(image).crop(box)
    rows = [part.crop((0, y, part.width, y + 1)).getbbox() is not None for y in range(part.height)]
    start = rows.index(True)
    return rows.index(False, start) - start


@every_label
def test_id_is_the_biggest_thing(label: DeviceLabel) -> None:
    """Its letters stand 24 pt and more in the picture, an id of eight letters 14 pt and more."""
    image = draw_label(label)
    left = 0
    if label.code:
        left = code_box(image, label.code)[2] + 10
    height = first_run(image, (left, 0, image.width, image.height))
    cap = ImageFont.truetype(font_files_ttf["SourceSansProBlack"], 1000).getbbox("K", anchor="ls")
    points = height / (-cap[1] / 1000) / 300 * 72
    assert points >= (24 if len(label.id) < 5 else 14) - 0.5


@every_label
def test_texts_are_whole_apart_and_eight_points(label: DeviceLabel) -> None:
    """Every word of one offer is drawn, at 8 pt or more, no line over another, over the code or the edge."""
    artwork = lay_out_label(label, 300)
    mark = f" {label.draft}" if label.draft else ""
    assert artwork.words().replace("\u00a0", " ").removesuffix(mark * 3).removesuffix(mark) in {
        f"{label.id} {label.room} {label.act} {serves} {label.rule}" for serves in label.serves
    }
    boxes = apart(artwork)
    assert min(line.size for line in boxes) >= 8 * 300 / 72
    if label.code:
        right = code_box(draw_label(label), label.code)[2]
        assert min(box[0] for line, box in boxes.items() if line.text != label.draft) > right + dots(2)


def test_words_are_given_up_before_size() -> None:
    """Words that fit only in small type give way to fewer words; alone they are set small; larger stock keeps them."""
    most, few = "Kitchen: coffee maker, toaster, kettle, lamp, stand mixer", "5 outlets"
    [small] = {line.size for line in apart(lay_out_label(replace(LABEL, serves=(most,)), 300)) if "kettle" in line.text}
    assert 8 <= small / 300 * 72 < 8.8
    assert label_png(replace(LABEL, serves=(most, few))) == label_png(replace(LABEL, serves=(few,)))
    assert label_png(replace(LARGE, serves=(most, few))) == label_png(replace(LARGE, serves=(most,)))


def test_draft_differs_in_a_black_bar_as_wide_as_the_label() -> None:
    """The bar is there on every draft, off the code, over nine tenths of the width."""
    plain, draft = draw_label(LABEL), draw_label(DRAFT)
    longest = [max(image.crop((0, y, image.width, y + 1)).histogram()[0] for y in range(image.height)) / image.width
               for image in (plain, draft)]
    assert longest[1] > 0.9 > 0.6 > longest[0]


def test_accent_written_as_two_characters_is_the_same_label() -> None:
    assert label_png(replace(LABEL, room="Ban\u0303o")) == label_png(replace(LABEL, room="Baño"))


WORDS = st.lists(st.text("abcdefghijklmnopqrstuvwxyzéñü ABCDEF,:", min_size=1, max_size=14), min_size=1, max_size=8)


@settings(max_examples=settings.default.max_examples // 4)
@given(WORDS.map(" ".join), WORDS.map(" ".join), st.sampled_from([None, "DRAFT"]), st.booleans())
def test_any_text_is_drawn_whole_or_refused(room: str, serves: str, draft: str | None, host: bool) -> None:
    """No text whatever gets into the margin or the code; what cannot is told in words."""
    label = replace(LABEL, room=room, serves=(serves,), draft=draft, code=LABEL.code if host else None)
    try:
        image = draw_label(label)
    except LabelError as error:
        assert str(error).startswith("label K1: ") and str(error).lower().endswith("choose a larger label.")
        return
    left, top, right, bottom = darkened(image).getbbox() or (0, 0, 0, 0)
    assert min(left, top, image.width - right, image.height - bottom) >= round(dots(2))
    if label.code:
        code_box(image, label.code)


ERRORS = {
    "label K1: the QR code of `https://binder.example/" + "x" * 130 + "/K1/` (157 characters, 53 modules a side) "
    "needs 31.0 mm with its white border at 0.51 mm a module; a label of 63.5 x 25.4 mm leaves 25.4 mm. "
    "Shorten `base_url`, or choose a larger label.":
        replace(LABEL, code="https://binder.example/" + "x" * 130 + "/K1/", height_mm=25.4),
    "label K1: the character U+6F22 CJK UNIFIED IDEOGRAPH-6F22 `漢` in `漢 room` is not in the typeface of the labels; expected letters, "
    "digits and signs of a Latin, Greek or Cyrillic alphabet. Write it another way.":
        replace(LABEL, room="漢 room"),
    "label K1: the character U+0336 COMBINING LONG STROKE OVERLAY in `s<U+0336>` cannot be printed; expected letters, "
    "digits and signs of a Latin, Greek or Cyrillic alphabet. Remove it.":
        replace(LABEL, room="s\u0336"),
    "label K1: the character U+200B ZERO WIDTH SPACE in `left<U+200B>of the sink` cannot be printed; expected letters, "
    "digits and signs of a Latin, Greek or Cyrillic alphabet. Remove it.":
        replace(LABEL, room="left\u200bof the sink"),
}


@pytest.mark.parametrize("says", ERRORS)
def test_what_cannot_be_printed_is_told_in_whole_sentences(says: str) -> None:
    with pytest.raises(LabelError) as caught:
        draw_label(ERRORS[says])
    assert str(caught.value) == says


def told(label: DeviceLabel) -> str:
    with pytest.raises(LabelError) as caught:
        draw_label(label)
    return str(caught.value)


def test_number_of_characters_too_many_is_the_number_that_helps() -> None:
    """The sentence names the text and how many characters to take off; taking them off works, one fewer does not."""
    serves = "Kitchen: coffee maker, toaster, outlet right of the window; Dining: by the door, by the window, lamp"
    says = told(replace(LABEL, serves=(serves,)))
    assert says.startswith(f"label K1: the text `RESETS {serves}` is about ")
    assert says.endswith(
        " characters too long for a label of 63.5 x 38.1 mm with a QR code at 8 points. "
        "Shorten it, or choose a larger label."
    )
    over = int(says.split("` is about ")[1].split()[0])
    assert draw_label(replace(LABEL, serves=(serves[:-over],)))
    assert " is about 1 character too long " in told(replace(LABEL, serves=(serves[:1 - over],)))


def test_word_wider_than_the_label_is_named() -> None:
    assert told(replace(LABEL, room="Hauswirtschaftsraumwaschküche")) == (
        "label K1: the word `Hauswirtschaftsraumwaschküche` is about 8 characters too long for a label of "
        "63.5 x 38.1 mm with a QR code. Shorten it, or choose a larger label."
    )
    assert told(replace(LABEL, id="WWWWWWWW", draft="DRAFT")) == (
        "label WWWWWWWW: the word `WWWWWWWW` is about 1 character too long for a label of "
        "63.5 x 38.1 mm with a QR code and the mark `DRAFT`. Shorten it, or choose a larger label."
    )


def test_stock_too_small_for_any_text_is_told() -> None:
    assert told(replace(LABEL, code=None, height_mm=12.0)) == (
        "label K1: the texts `K1`, `Kitchen`, `RESETS Kitchen counter`, `Press TEST every month, then RESET. Do not "
        "cover.` do not fit on a label of 63.5 x 12 mm at 8 points, not even with one of them cut short. "
        "Choose a larger label."
    )


def test_mark_wider_than_the_label_is_told() -> None:
    assert told(replace(LABEL, draft="DRAFT, NOT TO BE USED IN A HOUSE")) == (
        "label K1: the mark `DRAFT, NOT TO BE USED IN A HOUSE` is about 2 characters too long for a label 63.5 mm wide. "
        "Shorten it, or choose a larger label."
    )
    assert draw_label(replace(LABEL, draft="DRAFT, NOT TO BE USED IN A HOU"))
