"""QR codes of addresses and of words, against published figures of ISO/IEC 18004 and two readers that are not ours."""

from __future__ import annotations

import pytest
import zxingcpp
from hypothesis import given, strategies as st
from PIL import Image
from pyzbar import pyzbar
from scan_damage import photo, printed

from sitegen.errors import CodeTooLong
from sitegen.publish.qr import SURE_MM, Code, capacity, choose, code_at, fits, make_code, smallest_version, too_many, words_code

pytestmark = pytest.mark.thorough

# Characters that versions 1 to 6 hold at L, M, Q, H: ISO/IEC 18004 Table 7. Byte as reported; the other two
# computed from the reported codewords and the bits each mode takes.
CAPACITY = {
    "byte": [(17, 14, 11, 7), (32, 26, 20, 14), (53, 42, 32, 24), (78, 62, 46, 34), (106, 84, 60, 44),
             (134, 106, 74, 58)],
    "alphanumeric": [(25, 20, 16, 10), (47, 38, 29, 20), (77, 61, 47, 35), (114, 90, 67, 50),
                     (154, 122, 87, 64), (195, 154, 108, 84)],
    "numeric": [(41, 34, 27, 17), (77, 63, 48, 34), (127, 101, 77, 58), (187, 149, 111, 82),
                (255, 202, 144, 106), (322, 255, 178, 139)],
}
LETTER = {"byte": "x", "alphanumeric": "X", "numeric": "7"}

# ISO/IEC 18004 Annex I: "01234567" as version 1, level M, mask 2; rows as hex, left module first (as reported).
ANNEX_I = (
    "1fcb7f 104f41 17505d 17585d 17575d 105141 1fd57f 001300 17c97c 02b52c 046a9f 01083c 03f290 0017cc 1fcd60 "
    "1057c5 17512c 175920 175694 104036 1fde94"
)

HOSTS = st.from_regex(r"[a-z][a-z0-9-]{0,20}\.example", fullmatch=True)
PATHS = st.from_regex(r"(/[A-Za-z0-9._~-]{1,12}){0,4}/[A-Z][A-Z0-9]{0,7}/", fullmatch=True)
URLS = st.builds("https://{}{}".format, HOSTS, PATHS)


def picture(code: Code, module: int = 6) -> Image.Image:
    """The code with its four modules of white, drawn without any code of the project."""
    image = Image.new("L", (code.side + 8, code.side + 8), 255)
    for y, row in enumerate(code.rows):
        for x, dark in enumerate(row):
            if dark:
                image.putpixel((x + 4, y + 4), 0)
    return image.resize((image.width * module, image.height * module), Image.Resampling.NEAREST)


def read_by_both(image: Image.Image) -> set[str]:
    by_zxing = {found.text for found in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)}
    by_zbar = {found.data.decode("utf-8") for found in pyzbar.decode(image, symbols=[pyzbar.ZBarSymbol.QRCODE])}
    assert by_zxing == by_zbar
    return by_zxing


def read_by_zxing(code: Code) -> tuple[str, str, int]:
    [found] = zxingcpp.read_barcodes(picture(code), formats=zxingcpp.BarcodeFormat.QRCode)
    return found.text, found.ec_level, int(found.extra["Version"])


def test_symbol_of_the_standard_module_by_module() -> None:
    """Annex I's symbol; the mask is forced, since a literal scoring of the masks picks another one."""
    code = code_at("01234567", 1, "M", mask_pattern=2)
    assert " ".join(f"{int(''.join('01'[dark] for dark in row), 2):06x}" for row in code.rows) == ANNEX_I
    assert sum(dark for row in code.rows for dark in row) == 216


def test_format_bits_of_level_m_and_mask_2() -> None:
    """Beside the upper left finder: 101111001111100 (computed; as reported in the annex)."""
    rows = code_at("01234567", 1, "M", mask_pattern=2).rows
    across = [rows[8][x] for x in (0, 1, 2, 3, 4, 5, 7, 8)]
    up = [rows[y][8] for y in (7, 5, 4, 3, 2, 1, 0)]
    assert "".join("01"[dark] for dark in across + up) == "101111001111100"


@pytest.mark.parametrize("mode", CAPACITY)
@pytest.mark.parametrize("version", range(1, 7))
def test_capacity_of_each_version_and_level(mode: str, version: int) -> None:
    """The most characters that fit, and one more goes up a version."""
    for level, most in zip("LMQH", CAPACITY[mode][version - 1], strict=True):
        assert smallest_version(LETTER[mode] * most, level) == version
        assert smallest_version(LETTER[mode] * (most + 1), level) == version + 1


@pytest.mark.parametrize("mode", CAPACITY)
@pytest.mark.parametrize("version", range(1, 7))
def test_level_is_the_highest_that_costs_no_version(mode: str, version: int) -> None:
    """The version is level M's; H, else Q, is taken where the table says that it still fits."""
    _, m, q, h = CAPACITY[mode][version - 1]
    below = CAPACITY[mode][version - 2][1] + 1 if version > 1 else 1
    for count in {below, h, h + 1, q, q + 1, m} & set(range(below, m + 1)):
        code = make_code(LETTER[mode] * count, mask_pattern=0)
        expected = "H" if count <= h else "Q" if count <= q else "M"
        assert (code.version, code.level) == (version, expected)


def side(version: int) -> int:
    return 17 + 4 * version     # ISO/IEC 18004


@pytest.mark.parametrize("mode", CAPACITY)
@pytest.mark.parametrize("room", [0, 20, 21, 24, 25, 29, 33, 36, 37, 41])
def test_level_is_the_highest_that_the_room_or_the_smallest_code_allows(mode: str, room: int) -> None:
    """By the table: the smallest version of H, else Q, within the room or no larger than that of M; else M's."""
    for count in range(1, CAPACITY[mode][4][1] + 1, 3):
        least = {level: next((v for v, row in enumerate(CAPACITY[mode], 1) if count <= row["LMQH".index(level)]), 99)
                 for level in "HQM"}
        level = next(level for level in "HQM" if side(least[level]) <= max(room, side(least["M"])))
        code = make_code(LETTER[mode] * count, 0, room)
        assert (code.version, code.level) == (least[level], level)


def test_capitals_and_room_make_the_code_of_a_label() -> None:
    """25 characters by hand: v2 holds 26 bytes at M, 29 capitals at Q; v3 holds 35 capitals at H (ISO/IEC 18004 Table 7)."""
    url = "HTTPS://BHE.EXAMPLE/7/K1/"
    found = [make_code(url.lower()), make_code(url), make_code(url, room=28), make_code(url, room=29)]
    assert [(code.version, code.level) for code in found] == [(2, "M"), (2, "Q"), (2, "Q"), (3, "H")]


def test_level_h_at_its_module_reads_what_the_plain_code_does_not() -> None:
    """The same patches over 15 % of the data, in 32 mm at 300 dots an inch; figures of all damage: tests/bench_scan.py."""
    url, read = "HTTPS://BHE.EXAMPLE/7/K1/", {}
    for text, code in ((url, make_code(url, room=29)), (url.lower(), make_code(url.lower()))):
        label = printed(code, 32, 300)
        assert label.module >= SURE_MM
        seen = [zxingcpp.read_barcodes(photo(label, "data covered 15 %", number), formats=zxingcpp.BarcodeFormat.QRCode)
                for number in range(20)]
        read[text] = sum([one.text for one in found] == [text] for found in seen)
    assert read[url] >= 19 and read[url.lower()] <= 10


@given(URLS, st.sampled_from([0, 29, 33, 37]))
def test_any_url_is_read_back_by_both_readers(url: str, room: int) -> None:
    code = make_code(url, room=room)
    assert code.side == 17 + 4 * code.version
    assert {len(row) for row in code.rows} == {code.side}
    assert read_by_both(picture(code)) == {url} and read_by_zxing(code) == (url, code.level, code.version)


@pytest.mark.parametrize("mask", range(8))
def test_each_mask_is_read(mask: int) -> None:
    url = "https://binder.example/24-017/K1/"
    assert read_by_both(picture(make_code(url, mask))) == {url}


def test_damage_up_to_the_level_is_repaired() -> None:
    """A blot over about a tenth of the modules, off the finders: level Q recovers it."""
    url = "https://binder.example/247/K1/"
    code = make_code(url)
    assert code.level == "Q"
    image = picture(code)
    middle, half = image.width // 2, round(image.width * 0.13)
    image.paste(128, (middle - half, middle - half, middle + half, middle + half))
    assert [found.text for found in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)] == [url]


def test_too_long_a_text_is_refused_in_words() -> None:
    """Version 40 at M holds 2331 bytes (ISO/IEC 18004, from memory: sure)."""
    assert smallest_version("x" * 2331, "M") == 40
    with pytest.raises(CodeTooLong) as caught:
        make_code("x" * 2332)
    assert str(caught.value) == (
        f"`{'x' * 40}...` has 2332 characters; expected a text that fits a QR code "
        "(about 2300 characters at most). Shorten `base_url`."
    )


# --- words

WORDS = [
    "K1: Pantry. No power? Press RESET hard until it clicks.",
    "K1: Pantry, 4\u00bd ft up.",
    "K1: Cocina, al lado del ba\u00f1o. Presione RESET con fuerza. Caf\u00e9",
    "\u00e9", "\u00f1", "\u00bd", "\u00bfSalta otra vez?",
    "K1: Despensa, ba\u00f1o: \u00bfNo hay corriente? Presione RESET con fuerza hasta que haga clic. " * 3,
    "\u00d6l, \u00fcber, stra\u00dfe", "\u041a\u0443\u0445\u043d\u044f \u00f1", "\u53f0\u6240 \u00bd",
]


@pytest.mark.parametrize("text", WORDS)
def test_both_readers_read_the_words_letter_for_letter(text: str) -> None:
    """Without the mark of UTF-8 zbar reads the n with tilde as a Chinese character."""
    _, code = choose([text], range(1, 41)) or pytest.fail("does not fit")
    assert read_by_both(picture(code)) == {text}


@pytest.mark.thorough
@pytest.mark.parametrize("level", ["M", "Q", "H"])
@pytest.mark.parametrize("version", [1, 9, 10, 26, 27, 40])
@pytest.mark.parametrize("letter", ["a", "\u00f1"])
def test_full_to_the_last_byte_it_is_read(letter: str, version: int, level: str) -> None:
    """The count of bytes takes 8 bits up to version 9, then 16 (ISO/IEC 18004, as reported)."""
    text = letter
    while fits(text + letter, version, level):
        text += letter
    assert read_by_zxing(words_code(text, version, level)) == (text, level, version)


@given(st.text(st.characters(exclude_categories=["C", "Z", "M"]), min_size=1, max_size=60))
def test_any_text_is_read(text: str) -> None:
    _, code = choose([text], range(1, 41)) or pytest.fail("does not fit")
    assert read_by_zxing(code)[0] == text


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
