"""Takes a text or sentence, a size and a width in points; gives how many lines it takes in the binder's typeface.

The sizes are those of print.css, in points; heights err on the high side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from ...binder.words import Rich
from ..type.widths import length, words_of

WIDTH = 500.0           # of A4 between the margins; Letter is wider
HEIGHT = 712.0          # of Letter between the margins; A4 is higher
COLUMN = (WIDTH - 16) / 2
SPARE = 12.0            # kept free on every side


@dataclass(frozen=True, slots=True)
class Sizes:
    """The type of a side of a leaf, as print.css has it."""

    text: float
    leading: float
    row: float          # leading of a row of the list
    padding: float      # above and below a row, with its rule
    step: float
    headline: float
    picture: float


NORMAL = Sizes(11.25, 14.0, 12.6, 4.75, 14, 28, 72)
TIGHT = Sizes(9.75, 11.6, 11.3, 2.75, 12, 24, 60)


@lru_cache(maxsize=None)
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
