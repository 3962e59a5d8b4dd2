"""Line breaking as a law over any words, and missing characters against the typeface's own table."""

from __future__ import annotations

import struct

import pytest
from font_source_sans_pro import font_files_ttf
from hypothesis import given, strategies as st

from sitegen.publish.type.widths import WEIGHTS, break_lines, is_missing, typeface, words_of

FONT = typeface("regular", 34)
WORDS = st.lists(st.text("abcdeiwmW.,:é", min_size=1, max_size=12), min_size=1, max_size=12)


def characters_of(path: str) -> set[int]:
    """Code points of the font file's `cmap` subtable of format 4 (OpenType specification, cmap)."""
    with open(path, "rb") as file:
        data = file.read()
    tables = {data[12 + 16 * n:16 + 16 * n]: struct.unpack(">I", data[20 + 16 * n:24 + 16 * n])[0]
              for n in range(struct.unpack(">H", data[4:6])[0])}
    cmap = tables[b"cmap"]
    count = struct.unpack(">H", data[cmap + 2:cmap + 4])[0]
    starts = [cmap + struct.unpack(">HHI", data[cmap + 4 + 8 * n:cmap + 12 + 8 * n])[2] for n in range(count)]
    table = next(start for start in starts if struct.unpack(">H", data[start:start + 2])[0] == 4)
    segments = struct.unpack(">H", data[table + 6:table + 8])[0] // 2

    def column(number: int, extra: int, code: str = "H") -> tuple[int, ...]:
        at = table + 14 + 2 * segments * number + extra
        return struct.unpack(f">{segments}{code}", data[at:at + 2 * segments])

    ends, first, delta, offset = column(0, 0), column(1, 2), column(2, 2, "h"), column(3, 2)
    found = set()
    for n in range(segments):
        for point in range(first[n], ends[n] + 1):
            glyph = point + delta[n]
            if offset[n]:
                at = table + 16 + 2 * segments * 3 + 2 * n + offset[n] + 2 * (point - first[n])
                raw = struct.unpack(">H", data[at:at + 2])[0]
                glyph = raw + delta[n] if raw else 0
            if glyph % 65536:
                found.add(point)
    return found


@pytest.mark.parametrize("weight", WEIGHTS)
def test_missing_characters_are_those_the_font_file_lacks(weight: str) -> None:
    """Latin to Cyrillic, punctuation, arrows and some Han: the picture test agrees with the file's table."""
    has = characters_of(font_files_ttf[WEIGHTS[weight]])
    points = [*range(0x20, 0x7F), *range(0xA0, 0x0530), *range(0x1E00, 0x2300), *range(0x6F00, 0x6F40)]
    assert {point for point in points if is_missing(chr(point), weight)} == set(points) - has
    assert {ord(character) for character in "éñü¼½″×–—→Ω€°"} <= has


@given(WORDS, st.integers(100, 900))
def test_lines_keep_every_word_and_the_width(words: list[str], width: int) -> None:
    """All words in order, no line too wide, and no fewer lines are possible than greedy filling needs."""
    lines = break_lines(" ".join(words), FONT, width)
    if max(FONT.getlength(word) for word in words) > width:
        assert lines is None
        return
    assert lines is not None
    assert [word for line in lines for word in line.split(" ")] == words
    assert max(FONT.getlength(line) for line in lines) <= width
    greedy = 1
    line = words[0]
    for word in words[1:]:
        if FONT.getlength(f"{line} {word}") > width:
            greedy, line = greedy + 1, word
        else:
            line = f"{line} {word}"
    assert len(lines) == greedy


def test_lines_end_at_phrases_and_leave_no_word_alone() -> None:
    rule = "Press TEST every month, then RESET. Do not cover."
    assert break_lines(rule, FONT, 375) == ("Press TEST every month,", "then RESET. Do not cover.")
    assert break_lines("OFF, then ON resets 1 outlet and lamp", FONT, 245) == ("OFF, then ON", "resets 1 outlet", "and lamp")
    wide = FONT.getlength("Kitchen: coffee maker, ") + 5
    assert break_lines("Kitchen: coffee maker, toaster", FONT, wide) == ("Kitchen:", "coffee maker, toaster")


def test_no_break_space_holds_unless_it_cannot() -> None:
    wide = FONT.getlength("a then ON for") - 1
    assert break_lines("a then\u00a0ON\u00a0for", FONT, wide) == ("a", "then\u00a0ON\u00a0for")
    assert break_lines("a then\u00a0ON\u00a0for", FONT, FONT.getlength("then ON")) == ("a then", "ON for")


def test_words_end_at_blanks_and_line_ends() -> None:
    assert words_of("  left of\nthe\t sink\r\n") == ["left", "of", "the", "sink"]
    assert words_of("") == []
    assert break_lines("", FONT, 100) == ()
