"""Takes the binder on paper; gives what fits where: cards, the leaf of each device, the private notes, the large sheets.

The typeface stands in the file, so its widths are known here; a test lets a browser print the worst house we could think of.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.paper.records import Directory, PrintBinder, Target
from ...binder.site.records import Frame
from ...binder.words import Words
from .back import Back, back_side
from .cards import deal_cards
from .front import Side, front_side
from .large import is_tight
from .measure import HEIGHT, SPARE, WIDTH, lines

CONTENTS_ROWS = 24      # of devices on the one page of the contents


@dataclass(frozen=True, slots=True)
class Layout:
    cards: tuple[tuple[Target, ...], ...]
    own_notes: bool                     # a page for them on the back of the contents: where those take one page
    sides: tuple[Side, ...]             # one a device sheet
    backs: tuple[Back, ...]
    pages: tuple[int, ...]              # the page its front stands on
    private: tuple[tuple[tuple[str, str], ...], ...]    # the private notes, page by page
    directory_backs: tuple[bool, ...]   # one a directory: an empty side follows, so that it can hang at the panel
    large_tight: tuple[bool, ...]       # one a device sheet: its large print in the smaller of two types


def lay_out(data: PrintBinder, frame: Frame, words: Words) -> Layout:
    """What begins a leaf begins on an odd page: contents, each device, private notes, each directory, the outlets."""
    cards = deal_cards(data, frame, words)
    first = len(cards) + len(cards) % 2 + 3     # a leaf with the contents stands between
    sides = tuple(front_side(sheet, frame, words) for sheet in data.sheets)
    backs = tuple(back_side(sheet, side, frame, words) for sheet, side in zip(data.sheets, sides, strict=True))
    pages = tuple(first + sum(back.pages for back in backs[:index]) for index in range(len(backs)))
    return Layout(cards, len(data.sheets) <= CONTENTS_ROWS, sides, backs, pages, _private_pages(data, frame, words),
                  tuple(_directory_pages(one, frame) % 2 == 1 for one in data.directories),
                  tuple(is_tight(sheet, frame, words) for sheet in data.sheets))


def _private_pages(data: PrintBinder, frame: Frame, words: Words) -> tuple[tuple[tuple[str, str], ...], ...]:
    """The private notes dealt out to pages; () where there are none."""
    head = (40 if frame.draft else 0) + 42 + lines(words.text("print.private_says"), 11.25, WIDTH) * 14
    pages: list[list[tuple[str, str]]] = []
    used = HEIGHT
    for name, value in data.private:
        high = 11 + 16.2 * max(lines(value, 13, WIDTH - 138), lines(name, 13, 130, "bold"))
        if used + high > HEIGHT - SPARE:
            pages.append([])
            used = head
        pages[-1].append((name, value))
        used += high
    return tuple(map(tuple, pages))


def _directory_pages(directory: Directory, frame: Frame) -> int:
    """How many pages a directory takes."""
    height = (40 if frame.draft else 0) + 150 + 20 * len(directory.power) + 18 * len(directory.legend) \
        + sum(max(18, lines(row.serves, 12, WIDTH - 190) * 14.4) + 5.75 for row in directory.rows)
    return 1 + int(height // HEIGHT)
