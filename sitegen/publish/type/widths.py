"""Takes texts, weights and sizes in dots; gives widths, lines that fit, and what the typeface lacks."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from font_source_sans_pro import font_files_ttf
from PIL import ImageFont

WEIGHTS = {
    "regular": "SourceSansPro",
    "semibold": "SourceSansProSemibold",
    "bold": "SourceSansProBold",
    "black": "SourceSansProBlack",
}
CAP_HEIGHT = 0.66   # of the size, Source Sans; measured on H, all four weights 0.65 to 0.66
DESCENT = 0.225     # of the size, Source Sans; measured on g, all four weights 0.21 to 0.225
NO_BREAK = "\u00a0"
ABSENT = "\U0010fffd"   # a private code point that no typeface draws: shows the picture of "missing"


@lru_cache(maxsize=None)
def typeface(weight: str, size: int) -> ImageFont.FreeTypeFont:
    """One weight at a size in dots. Basic layout: the other one depends on what the machine has installed."""
    return ImageFont.truetype(
        font_files_ttf[WEIGHTS[weight]], size, layout_engine=ImageFont.Layout.BASIC
    )


@lru_cache(maxsize=None)
def is_missing(character: str, weight: str) -> bool:
    """Whether the typeface draws the box of a missing character in its place."""
    font = typeface(weight, 40)
    mask, absent = font.getmask(character), font.getmask(ABSENT)
    return mask.size == absent.size and bytes(mask) == bytes(absent)


def unprintable(character: str) -> bool:
    """Whether it makes no mark of its own: control and format characters (no width, right to left), line and paragraph
    separators, private and unassigned code points, marks that combine with the letter before (Unicode, general category).

    >>> unprintable("\\u200b"), unprintable("\\u00bd"), unprintable("\\u00a0")
    (True, False, False)
    """
    category = unicodedata.category(character)
    return category[0] in "CM" or category in ("Zl", "Zp")


def name_of_character(character: str) -> str:
    """
    >>> name_of_character("\\u200b"), name_of_character("\\u00bd")
    ('U+200B ZERO WIDTH SPACE', 'U+00BD VULGAR FRACTION ONE HALF `½`')
    """
    unnamed = "CONTROL CHARACTER" if unicodedata.category(character) == "Cc" else "WITHOUT A NAME"
    name = f"U+{ord(character):04X} {unicodedata.name(character, unnamed)}"
    return name if unprintable(character) else f"{name} `{character}`"


def words_of(text: str) -> list[str]:
    """The words between blanks and line ends; a no-break space makes one word of its neighbours."""
    return [word for word in re.split(r"[ \t\r\n]+", text) if word]


def ink(text: str, font: ImageFont.FreeTypeFont) -> tuple[int, int, int, int]:
    """Left, top, right, bottom of what is blackened, in dots from the start of the baseline."""
    mask, (across, down) = font.getmask2(text, "1", anchor="ls")
    left, top, right, bottom = mask.getbbox() or (0, 0, 0, 0)
    return left + across, top + down, right + across, bottom + down


def break_lines(text: str, font: ImageFont.FreeTypeFont, width: float) -> tuple[str, ...] | None:
    """The text in as few lines as `width` dots allow; None if one word alone is wider.

    Among equally few lines those win that end at a punctuation mark and are more than a quarter
    full and do not part a number from its word, then the most even ones, so that no word is left
    alone and "coffee maker" stays together.
    A no-break space gives way only where its words together are wider than the line.
    """
    words = words_of(text)
    # best[i]: (lines, poor lines, unevenness) of the words from i on, and their lines
    best: list[tuple[tuple[int, int, float], tuple[str, ...]] | None]
    best = [None] * len(words) + [((0, 0, 0.0), ())]
    for first in reversed(range(len(words))):
        for end in range(first + 1, len(words) + 1):
            line = " ".join(words[first:end])
            spare = width - font.getlength(line)
            if spare < 0:
                break
            rest = best[end]
            if rest is None:
                continue
            (count, poor, uneven), lines = rest
            if end < len(words):
                poor += (line[-1] not in ",.:;\u00b7") + words[end - 1].isdigit()
            poor += spare > 0.75 * width
            found = ((count + 1, poor, uneven + spare**2), (line, *lines))
            best[first] = min(best[first] or found, found)
    if best[0] is None:
        return break_lines(text.replace(NO_BREAK, " "), font, width) if NO_BREAK in text else None
    return best[0][1]
