"""Takes texts and sentences, a size and a width in points; gives the lines they take in the binder's typeface, and packs
blocks of a height into columns and pages. Heights err on the high side.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from typing import TypeVar

from ...binder.desk.words import Rich
from ..type.widths import length, words_of

T = TypeVar("T")

BAR = 27.0      # a heading with its rule


@cache
def lines(text: str | Rich, size: float, width: float, weight: str = "regular") -> int:
    """How many lines a text takes; the strong and tagged runs of a sentence are bold."""
    count, used = 1, 0.0
    space = wide(" ", "bold", size)
    for word, look in _words(text, weight):
        long = wide(word, look, size)
        if used and used + space + long > width * 0.985:
            count, used = count + 1, long
        else:
            used += long + (space if used else 0)
        while used > width:                     # one word wider than the line is broken
            count, used = count + 1, used - width
    return count


def high(text: str | Rich, size: float, times: float, width: float, weight: str = "regular") -> float:
    """How high a text is whose lines are so many times its size apart."""
    return lines(text, size, width, weight) * apart(size, times)


def apart(size: float, times: float) -> float:
    """How far lines are apart, a little on the high side: to a tenth of a point upwards.

    >>> apart(11.25, 1.24), apart(10.5, 1.2)
    (14.0, 12.6)
    """
    return math.ceil(round(size * times * 10, 6)) / 10


def wide(text: str, weight: str, size: float) -> float:
    return length(text, weight, 100) * size / 100


def _words(text: str | Rich, weight: str) -> Iterator[tuple[str, str]]:
    if isinstance(text, str):
        yield from ((word, weight) for word in words_of(text))
        return
    for run in text:
        frame = "n" if run.look in ("tag", "name") else ""    # the frame of an id is about as wide as a letter
        yield from ((word + frame, weight if run.look == "plain" else "bold") for word in words_of(run.text))


def columns(heights: Sequence[float]) -> float:
    """Height of blocks set in two columns, none of them split: the best place to break."""
    return min((max(sum(heights[:n]), sum(heights[n:])) for n in range(len(heights) + 1)), default=0.0)


def pack(things: Iterable[T], height: Callable[[T, T | None], float], room: Callable[[int], float]) -> list[list[T]]:
    """Things dealt out to pages or columns in their order, one too high for any alone. `height`: of a thing below the one
    before it, None at the top; `room`: on the page of this number, from 0, where the first two may have less."""
    pages: list[list[T]] = [[]]
    used = 0.0
    for thing in things:
        high = height(thing, pages[-1][-1] if pages[-1] else None)
        while used + high > room(len(pages) - 1) and (pages[-1] or room(len(pages) + 1) > room(len(pages) - 1)):
            pages.append([])
            used, high = 0.0, height(thing, None)
        used += high
        pages[-1].append(thing)
    return pages
