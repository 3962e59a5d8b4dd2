"""Takes the desk and a panel; gives the panel as it stands: its main switch, every space in its column, and where in it a breaker is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..job.records import Breaker, Panel
from .desk import Desk
from .desk.once import once
from .desk.words import Rich


@dataclass(frozen=True, slots=True)
class Cell:
    """One breaker, or one space without."""

    space: str            # as it stands beside the handle
    breaker: str          # its id; "" where there is none
    serves: str           # or what is known of the empty space
    twice: bool = False   # it may be pushed once more, with all unplugged


@dataclass(frozen=True, slots=True)
class Place:
    """One place in a column: a breaker over one space or more, or those that share a space."""

    left: bool
    row: int              # from the top, from 0
    rows: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class PanelFace:
    id: str
    room: str
    at: str                       # "by the side door"; "" where that is not written
    main: str                     # what stands at its main switch; "" where that is not in the panel
    cells: tuple[Cell, ...]       # in the order of their numbers
    places: tuple[Place, ...]     # row by row; () where nobody wrote how the spaces are numbered

    @property
    def rows(self) -> int:
        return max((place.row + place.rows for place in self.places), default=0)


@once
def panel_face(desk: Desk, panel: str) -> PanelFace:
    """A panel of this house, by its id."""
    of = desk.job.panel[panel]
    known = of.numbering and of.spaces and all(breaker.numbers for breaker in _breakers(desk, of))
    places = sorted(_places(desk, of), key=lambda place: (place.row, not place.left)) if known else ()
    cells = tuple(_cell(desk, breaker) for breaker in _breakers(desk, of))
    room, at = of.room_and_spot
    main = "" if of.main is None or of.main.at else desk.words.text("panel.main_part" if of.fed_from else "panel.main_all")
    return PanelFace(of.id, room, at, main, cells, tuple(places))


def pushed_twice(desk: Desk, *panels: str) -> tuple[Rich, ...]:
    """Which breakers of these panels may be pushed once more, unplugged: only those that guard people."""
    spaces = [cell.space for panel in panels for cell in panel_face(desk, panel).cells if cell.twice]
    return (desk.words.rich("panel.twice", spaces=desk.words.join(spaces)),) if spaces else ()


def _breakers(desk: Desk, panel: Panel) -> list[Breaker]:
    ids = dict.fromkeys(circuit.breaker for circuit in desk.by_space() if circuit.panel == panel.id)
    return [desk.job.breaker[id] for id in ids]


def _cell(desk: Desk, breaker: Breaker) -> Cell:
    serves = dict.fromkeys(circuit.serves for circuit in desk.job.circuits if circuit.breaker == breaker.id)
    return Cell(breaker.space, breaker.id, "; ".join(serves), breaker.kind.stops_shock)


def _places(desk: Desk, panel: Panel) -> Iterator[Place]:
    """Column by column as they end; odd numbers stand on the side that numbering starts on."""
    held = {number: [breaker for breaker in _breakers(desk, panel) if number in breaker.numbers]
            for number in range(1, (panel.spaces or 0) + 1)}
    last: dict[bool, Place] = {}
    for number, breakers in held.items():
        cells = tuple(_cell(desk, breaker) for breaker in breakers)
        empty = desk.words.text("panel.spare" if number in panel.spare else "panel.unknown")
        left, row = (number % 2 == 1) == (panel.numbering == "left"), (number - 1) // 2
        above = last.get(left)
        if above and above.cells == cells and len(cells) == 1:
            last[left] = replace(above, rows=above.rows + 1)
        else:
            if above:
                yield above
            last[left] = Place(left, row, 1, cells or (Cell(str(number), "", empty),))
    yield from last.values()


def place_of(desk: Desk, breaker: str) -> Place | None:
    """Where a breaker stands in its panel; None where nobody wrote how the spaces are numbered."""
    places = panel_face(desk, desk.tree.panel_of[breaker]).places
    return next((place for place in places if any(cell.breaker == breaker for cell in place.cells)), None)


def place_in_words(desk: Desk, breaker: str) -> str:
    """Right column, third down; "" where that is not known."""
    place = place_of(desk, breaker)
    if place is None:
        return ""
    ordinals = desk.words.get("panel.ordinals")
    which = ordinals[place.row] if place.row < len(ordinals) else desk.words.text("panel.ordinal", number=place.row + 1)
    return desk.words.text("panel.left" if place.left else "panel.right", which=which)
