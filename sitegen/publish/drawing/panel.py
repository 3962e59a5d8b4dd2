"""Takes a panel's scene and a measure of words; gives the panel as it stands, small, with one breaker marked."""

from __future__ import annotations

from ...binder.drawing import PanelScene
from ...binder.panel import Place
from .shapes import WIDE, Area, Box, Line, Measure, Picture, Shape, picture, words_at

_CELL = (84.0, 18.0)    # units, of one space
_GAP = 3.0              # between two
_ARROW = 34.0           # of the arrow that points at the breaker


def panel_picture(scene: PanelScene, measure: Measure) -> Picture:
    """Numbers alone: what each serves stands on the panel's page."""
    wide = 2 * _CELL[0] + 3 * _GAP
    left = (WIDE - wide) / 2
    top = _CELL[1] + 2 * _GAP if scene.face.main else _GAP
    shapes: list[Shape] = [Area(Box(left, 0, wide, top + scene.face.rows * (_CELL[1] + _GAP)), "thing")]
    if scene.face.main:
        main = Box(left + _GAP, _GAP, wide - 2 * _GAP, _CELL[1])
        shapes += [Area(main, "cell"), *words_at(main.middle, ("MAIN",), measure)]
    marked: list[Shape] = []
    for place in scene.face.places:
        box = _box(place, left, top)
        here = place == scene.here
        cells = place.cells
        for at, cell in enumerate(cells):
            part = Box(box.left + box.wide * at / len(cells), box.top, box.wide / len(cells), box.high)
            this = here and cell.breaker == scene.breaker
            (marked if this else shapes).append(Area(part, "cell marked" if this else "cell"))
            (marked if this else shapes).extend(words_at(part.middle, (cell.space,), measure, "strong" if this else "word"))
    return picture([*shapes, *marked, _arrow(scene.here, _box(scene.here, left, top))], scene.says)


def _box(place: Place, left: float, top: float) -> Box:
    step = _CELL[1] + _GAP
    return Box(left + _GAP + (0 if place.left else _CELL[0] + _GAP), top + place.row * step, _CELL[0], place.rows * step - _GAP)


def _arrow(place: Place, box: Box) -> Line:
    """From outside the panel to the side of the breaker."""
    y = box.middle[1]
    tip = box.left - 2 * _GAP if place.left else box.right + 2 * _GAP
    return Line(((tip - _ARROW if place.left else tip + _ARROW, y), (tip, y)), "bracket main", arrow=True)
