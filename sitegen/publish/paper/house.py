"""Takes the binder on paper; gives what fits where: the folded sheet, the leaf of each device, the private notes, the large sheets.

The typeface stands in the file, so its widths are known here; a test lets a browser print the worst house we could think of.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.panel import Cell
from ...binder.paper.records import Directory, PrintBinder
from .back import Back, back_side
from .blocks import high, pack
from .fold import Folded, folded_sheets
from .front import Side, front_side, large_is_tight
from .record import Spread, pages_before, spreads
from .sizes import Paper


@dataclass(frozen=True, slots=True)
class Leaves:
    """What fits where."""

    folded: tuple[Folded, ...]
    sides: tuple[Side, ...]             # one a device sheet
    backs: tuple[Back, ...]
    pages: tuple[int, ...]              # the page its front stands on
    private: tuple[tuple[tuple[str, str], ...], ...]    # the private notes, page by page
    panel_backs: tuple[bool, ...]       # one a panel: an empty side follows its sheet, so that it can hang
    large_tight: tuple[bool, ...]       # one a device: its large print in the smaller of two types
    spreads: tuple[Spread, ...]         # of the service record
    own_page: bool                      # one for own notes before the record, so that its maps stand on left-hand pages


def lay_out(data: PrintBinder, paper: Paper) -> Leaves:
    """What begins a leaf begins on an odd page: the house, each button, the sheet of each panel, private notes, the round."""
    folded = folded_sheets(data, paper)
    first = 2 * len(folded) + 3     # the leaf of the house stands between
    sides = tuple(front_side(sheet, paper) for sheet in data.sheets)
    backs = tuple(back_side(sheet, side, paper) for sheet, side in zip(data.sheets, sides, strict=True))
    pages = tuple(first + sum(back.pages for back in backs[:index]) for index in range(len(backs)))
    return Leaves(folded, sides, backs, pages, _private_pages(data, paper),
                  tuple(_hang_pages(one, paper) % 2 == 1 for one in data.directories),
                  tuple(large_is_tight(sheet, paper) for sheet in (*data.sheets, *data.breakers)), spreads(data.circuits, paper),
                  pages_before(data, paper) % 2 == 0)


def _private_pages(data: PrintBinder, paper: Paper) -> tuple[tuple[tuple[str, str], ...], ...]:
    """The private notes dealt out to pages; () where there are none."""
    text, size, name_wide = paper.normal.text, paper.sizes["private"], paper.sizes["private-name"]
    times = paper.sizes["apart"]
    room = paper.high - paper.draft - 42 - high(paper.text("print.private_says"), text, times, paper.wide)

    def height(note: tuple[str, str], _: object) -> float:
        name, value = note
        return 11 + max(high(value, size, times, paper.wide - name_wide - 8), high(name, size, times, name_wide, "bold"))

    return tuple(map(tuple, pack(data.private, height, lambda page: room))) if data.private else ()


def _hang_pages(one: Directory, paper: Paper) -> int:
    """How many pages the sheet inside a panel's door takes."""
    sizes, face = paper.sizes, one.face
    wide = paper.wide / (2 if face.places else 1) - sizes["number"] - 16

    def tall(cell: Cell, share: int = 1) -> float:
        return max(sizes["space"], high(cell.serves, sizes["serves"], sizes["serves-apart"], wide / share, "bold") + 6)

    rows = [max(tall(cell, len(place.cells)) / place.rows for place in face.places if place.row <= row < place.row + place.rows
                for cell in place.cells) for row in range(face.rows)] or [tall(cell) for cell in face.cells]
    return 1 + int((paper.draft + 270 + 20 * len(one.power) + sum(rows)) // (paper.high + 12))
