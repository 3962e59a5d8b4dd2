"""Words in QR codes, read back by two readers that are not ours (zxing-cpp and zbar)."""

from __future__ import annotations

import pytest
import zxingcpp
from hypothesis import given, settings, strategies as st
from PIL import Image
from pyzbar import pyzbar

from sitegen.publish.qr import QUIET, Code
from sitegen.publish.qr_words import capacity, choose, fits, too_many, words_code

WORDS = [
    "K1: Pantry. No power? Press RESET hard until it clicks.",
    "K1: Pantry, 4\u00bd ft up.",
    "K1: Cocina, al lado del ba\u00f1o. Presione RESET con fuerza. Caf\u00e9",
    "\u00e9", "\u00f1", "\u00bd", "\u00bfSalta otra vez?",
    "K1: Despensa, ba\u00f1o: \u00bfNo hay corriente? Presione RESET con fuerza hasta que haga clic. " * 3,
    "\u00d6l, \u00fcber, stra\u00dfe", "\u041a\u0443\u0445\u043d\u044f \u00f1", "\u53f0\u6240 \u00bd",
]


def picture(code: Code) -> Image.Image:
    side = code.side + 2 * QUIET
    image = Image.new("L", (side, side), 255)
    for row, darks in enumerate(code.rows):
        for column, dark in enumerate(darks):
            if dark:
                image.putpixel((QUIET + column, QUIET + row), 0)
    return image.resize((6 * side, 6 * side), Image.Resampling.NEAREST)


def read_by_both(code: Code) -> tuple[list[str], list[str]]:
    image = picture(code)
    zbar = pyzbar.decode(image, symbols=[pyzbar.ZBarSymbol.QRCODE])
    return [found.text for found in zxingcpp.read_barcodes(image)], [found.data.decode("utf-8") for found in zbar]


@pytest.mark.parametrize("text", WORDS)
def test_both_readers_read_the_words_letter_for_letter(text: str) -> None:
    """Without the mark of UTF-8 zbar reads the n with tilde as a Chinese character."""
    _, code = choose([text], range(1, 41)) or pytest.fail("does not fit")
    assert read_by_both(code) == ([text], [text])


@pytest.mark.parametrize("level", ["M", "Q", "H"])
@pytest.mark.parametrize("version", [1, 9, 10, 26, 27, 40])
@pytest.mark.parametrize("letter", ["a", "\u00f1"])
def test_full_to_the_last_byte_it_is_read(letter: str, version: int, level: str) -> None:
    """The count of bytes takes 8 bits up to version 9, then 16 (ISO/IEC 18004, as reported)."""
    text = letter
    while fits(text + letter, version, level):
        text += letter
    code = words_code(text, version, level)
    [found] = zxingcpp.read_barcodes(picture(code))
    assert found.text == text and found.ec_level == level and int(found.extra["Version"]) == version


@given(st.text(st.characters(exclude_categories=["C", "Z", "M"]), min_size=1, max_size=60))
@settings(max_examples=60, deadline=None)
def test_any_text_is_read(text: str) -> None:
    _, code = choose([text], range(1, 41)) or pytest.fail("does not fit")
    assert zxingcpp.read_barcodes(picture(code))[0].text == text


# ISO/IEC 18004, table 7, byte mode, level M (as reported).
LETTERS = {1: 14, 2: 26, 3: 42, 4: 62, 5: 84, 6: 106, 7: 122, 8: 152, 9: 180, 10: 213, 11: 251, 12: 287, 15: 412, 20: 666,
           40: 2331}


def test_capacity_is_the_published_one() -> None:
    assert {version: capacity(version) for version in LETTERS} == LETTERS


def test_the_first_text_that_fits_is_taken_at_the_smallest_version_and_the_highest_level() -> None:
    long, middle, short = "a" * 100, "b" * 60, "c" * 10
    assert choose([long, middle, short], [1, 3]) == (short, words_code(short, 1, "Q"))   # 1-Q holds 11 bytes
    text, code = choose([long, middle, short], [2, 4, 5]) or pytest.fail("does not fit")
    assert (text, code.version, code.level) == (middle, 4, "M")
    assert choose([short], [3]) == (short, words_code(short, 3, "H"))
    assert choose([long], [1, 2, 3]) is None


def test_too_many_counts_characters_not_bytes() -> None:
    assert too_many("a" * 20, 1) == 6 and too_many("a" * 14, 1) == 0
    assert too_many("\u00f1" * 10, 1) == 4      # 12 bits for the mark leave 12 bytes: 6 letters of two
