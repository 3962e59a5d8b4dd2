"""Takes texts, weights and sizes in dots; gives widths, and lines that fit."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from itertools import accumulate

from font_source_sans_pro import font_files_ttf
from PIL import ImageFont

from .font import WEIGHTS

NO_BREAK = "\u00a0"


@lru_cache(maxsize=16)     # a fit tries hundreds of sizes, and each holds a quarter of a megabyte
def typeface(weight: str, size: int) -> ImageFont.FreeTypeFont:
    """One weight at a size in dots. Basic layout: the other one depends on what the machine has installed."""
    return ImageFont.truetype(
        font_files_ttf[WEIGHTS[weight]], size, layout_engine=ImageFont.Layout.BASIC
    )


class Advances(dict[str, float]):
    """How far each letter moves the pen, in dots; measured once. Nothing is kerned, so that widths add up."""

    def __init__(self, weight: str, size: int) -> None:
        self.weight, self.size = weight, size

    def __missing__(self, letter: str) -> float:
        self[letter] = typeface(self.weight, self.size).getlength(letter)
        return self[letter]


advances = cache(Advances)


def length(text: str, weight: str, size: int) -> float:
    """How wide a text is in dots."""
    return sum(map(advances(weight, size).__getitem__, text))


@cache
def bearing(weight: str, size: int) -> int:
    """The white before the stem of an H, in dots."""
    mask, (across, _) = typeface(weight, size).getmask2("H", "1", anchor="ls")
    left, *_ = mask.getbbox()
    return int(left + across)


def words_of(text: str) -> list[str]:
    """The words between blanks and line ends; a no-break space makes one word of its neighbours."""
    return [word for word in re.split(r"[ \t\r\n]+", text) if word]


@cache
def count_lines(text: str, weight: str, size: int, width: float) -> int | None:
    """How many lines `break_lines` makes of the text, found by filling one after the other."""
    letters = advances(weight, size)
    space, count, used = letters[" "], 0, width + 1
    for word in words_of(text):
        wide = sum(map(letters.__getitem__, word))
        used += space + wide
        if used > width:
            count, used = count + 1, wide
            if wide > width:
                return count_lines(text.replace(NO_BREAK, " "), weight, size, width) if NO_BREAK in text else None
    return count


def break_lines(text: str, weight: str, size: int, width: float) -> tuple[str, ...] | None:
    """The text in as few lines as `width` dots allow; None if one word alone is wider.

    Among equally few lines those win that end at a punctuation mark and are more than a quarter
    full and do not part a number from its word, then the most even ones, so that no word is left
    alone and "coffee maker" stays together.
    A no-break space gives way only where its words together are wider than the line.
    """
    words, space = words_of(text), length(" ", weight, size)
    starts = list(accumulate((length(word, weight, size) + space for word in words), initial=0.0))
    # best[i]: (lines, poor lines, unevenness) of the words from i on, and where the first of these lines ends
    best: list[tuple[tuple[int, int, float], int] | None] = [None] * len(words) + [((0, 0, 0.0), 0)]
    for first in reversed(range(len(words))):
        for end in range(first + 1, len(words) + 1):
            spare = width - (starts[end] - space - starts[first])
            if spare < 0:
                break
            rest = best[end]
            if rest is None:
                continue
            count, poor, uneven = rest[0]
            if end < len(words):
                poor += (words[end - 1][-1] not in ",.:;\u00b7") + words[end - 1].isdigit()
            poor += spare > 0.75 * width
            found = ((count + 1, poor, uneven + spare**2), end)
            best[first] = min(best[first] or found, found)
    if best[0] is None:
        return break_lines(text.replace(NO_BREAK, " "), weight, size, width) if NO_BREAK in text else None
    lines, first = [], 0
    while first < len(words) and (line := best[first]):     # each on the way of the best has its own
        end = line[1]
        lines.append(" ".join(words[first:end]))
        first = end
    return tuple(lines)
