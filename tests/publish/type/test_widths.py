"""Widths against FreeType's own of the whole text; line breaking as a law over any words."""

from __future__ import annotations

import pytest
from hypothesis import given, strategies as st
from PIL import Image, ImageDraw

from sitegen.publish.type.font import WEIGHTS
from sitegen.publish.type.widths import bearing, break_lines, count_lines, length, typeface, words_of

TYPE = "regular", 34
FONT = typeface(*TYPE)
WORDS = st.lists(st.text("abcdeiwmW.,:é", min_size=1, max_size=12), min_size=1, max_size=12)


@pytest.mark.parametrize("weight", WEIGHTS)
@given(st.text("AVTWLYKfijlyo.,: -éñ½″", max_size=20), st.integers(8, 400))
def test_widths_of_letters_add_up_to_that_of_the_text(weight: str, text: str, size: int) -> None:
    assert length(text, weight, size) == typeface(weight, size).getlength(text)


@pytest.mark.parametrize("weight", WEIGHTS)
def test_the_white_before_a_stem_is_that_of_the_picture(weight: str) -> None:
    for size in (20, 100, 333):
        picture = Image.new("1", (500, 500))
        ImageDraw.Draw(picture).text((100, 400), "H", fill=1, font=typeface(weight, size), anchor="ls")
        assert bearing(weight, size) == picture.getbbox()[0] - 100


@given(WORDS, st.integers(100, 900))
def test_lines_keep_every_word_and_the_width(words: list[str], width: int) -> None:
    """All words in order, no line too wide, and no fewer lines are possible than greedy filling needs."""
    lines = break_lines(" ".join(words), *TYPE, width)
    assert count_lines(" ".join(words), *TYPE, width) == (lines and len(lines))
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
    assert break_lines(rule, *TYPE, 375) == ("Press TEST every month,", "then RESET. Do not cover.")
    assert break_lines("OFF, then ON resets 1 outlet and lamp", *TYPE, 245) == ("OFF, then ON", "resets 1 outlet", "and lamp")
    wide = FONT.getlength("Kitchen: coffee maker, ") + 5
    assert break_lines("Kitchen: coffee maker, toaster", *TYPE, wide) == ("Kitchen:", "coffee maker, toaster")


def test_no_break_space_holds_unless_it_cannot() -> None:
    wide = FONT.getlength("a then ON for") - 1
    assert break_lines("a then\u00a0ON\u00a0for", *TYPE, wide) == ("a", "then\u00a0ON\u00a0for")
    assert break_lines("a then\u00a0ON\u00a0for", *TYPE, FONT.getlength("then ON")) == ("a then", "ON for")


def test_words_end_at_blanks_and_line_ends() -> None:
    assert words_of("  left of\nthe\t sink\r\n") == ["left", "of", "the", "sink"]
    assert words_of("") == []
    assert break_lines("", *TYPE, 100) == ()
