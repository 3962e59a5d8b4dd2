"""Takes a scene; gives its drawing as SVG for a page, or its words where they do not fit round the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import atan2, cos, pi, sin

from markupsafe import Markup, escape

from ...binder.drawing import PanelScene, RoomScene, Scene
from ..type.widths import length
from .panel import panel_picture
from .room import room_picture
from .shapes import TEXT, Area, At, Line, Outlet, Picture, Shape, Word
from .wall import strip_picture

# A page takes the reader's own typeface. The widest that a system is likely to have is DejaVu Sans: set beside Source
# Sans, the words of both languages come to at most 1.27 of its width, in bold 1.35 (measured). Those of telephones are
# narrower (about 1.1, from memory).
SAFETY = {"regular": 1.27, "bold": 1.35}
_BASELINE = 0.35 * TEXT      # below the middle of a line of words
_CORNERS = {"tag main": 4, "here": 7, "thing": 2, "cell": 2, "cell marked": 2}
_BUTTONS = {"outlet": 0, "buttons": 2, "plate": 2, "fixed": 0}


@cache
def measure(text: str, bold: bool) -> float:
    """The widest that a word of a drawing may come out, in units of the picture."""
    weight = "bold" if bold else "regular"
    return length(text, weight, 100) * TEXT / 100 * SAFETY[weight]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A scene as a page takes it."""

    html: Markup            # in a frame of its own, or a paragraph that says the same
    high: float | None      # units; None where its words find no place and a paragraph says it


def picture_of(scene: Scene) -> Picture | None:
    """The scene as a picture; None where its words find no place."""
    match scene:
        case RoomScene():
            return room_picture(scene, measure)
        case PanelScene():
            return panel_picture(scene, measure)
        case _:
            return strip_picture(scene, measure)


@cache
def drawing(scene: Scene) -> Drawing:
    """Laid out once for the site and for paper."""
    if picture := picture_of(scene):
        return Drawing(drawing_svg(picture), picture.high)
    return Drawing(Markup('<p class="drawn">{}</p>').format(scene.says), None)


def draw(scene: Scene) -> Markup:
    """What a template sets in."""
    return drawing(scene).html


def drawing_svg(picture: Picture) -> Markup:
    """A picture as SVG; one unit is a pixel on the narrowest screen. A screen reader says its words."""
    return Markup(f'<div class="drawing"><svg viewBox="0 0 {_n(picture.wide)} {_n(picture.high)}" role="img" '
                  f'aria-label="{escape(picture.says)}">{"".join(map(_shape, picture.shapes))}</svg></div>')


def _n(number: float) -> str:
    """To half a unit, as short as it can be."""
    return f"{round(number * 2) / 2:g}"


def _shape(shape: Shape) -> str:
    match shape:
        case Line():
            path = "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in shape.points)
            return f'<path class="{shape.look}" d="{path}"/>' + (_head(*shape.points[-2:]) if shape.arrow else "")
        case Area():
            return _area(shape)
        case Outlet():
            return _outlet(shape)
        case Word():
            x, y = shape.box.middle
            look = f' class="{shape.look}"' if shape.look != "word" else ""
            return f'<text{look} x="{_n(x)}" y="{_n(y + _BASELINE)}">{escape(shape.text)}</text>'


def _rect(look: str, left: float, top: float, wide: float, high: float, round_by: float = 0) -> str:
    corner = f' rx="{_n(round_by)}"' if round_by else ""
    return f'<rect class="{look}" x="{_n(left)}" y="{_n(top)}" width="{_n(wide)}" height="{_n(high)}"{corner}/>'


def _area(area: Area) -> str:
    box = area.box
    drawn = _rect(area.look, box.left, box.top, box.wide, box.high, _CORNERS.get(area.look, 0))
    if area.look == "panel":    # a row of breakers
        across = box.wide > box.high
        side = box.wide if across else box.high
        lines = "".join(f"M{_n(box.left + at)} {_n(box.top)}v{_n(box.high)}" if across
                        else f"M{_n(box.left)} {_n(box.top + at)}h{_n(box.wide)}"
                        for at in (side / 4, side / 2, side * 3 / 4))
        drawn += f'<path class="rows" d="{lines}"/>'
    return drawn


def _head(before: At, end: At) -> str:
    """The head of an arrow."""
    turn = atan2(end[1] - before[1], end[0] - before[0])
    corners = [end, *((end[0] - 12 * cos(turn + side), end[1] - 12 * sin(turn + side)) for side in (pi / 7, -pi / 7))]
    return f'<path class="head" d="M{"L".join(f"{_n(x)} {_n(y)}" for x, y in corners)}z"/>'


def _outlet(outlet: Outlet) -> str:
    """Slots above and below, buttons between them; a plate has buttons alone, a fixed appliance a ring."""
    box = outlet.box
    x, y = box.middle
    drawn = _rect("plate", box.left, box.top, box.wide, box.high, 3)
    if outlet.sort in ("outlet", "buttons"):
        high = box.high / 6
        drawn += "".join(f'<path class="slots" d="M{_n(x - 3.5)} {_n(y + way * box.high * 0.3 - high / 2)}v{_n(high)}m7 0'
                         f'v-{_n(high)}"/>' for way in (-1, 1))
    if outlet.sort == "fixed":
        drawn += f'<circle class="slots" cx="{_n(x)}" cy="{_n(y)}" r="5"/>'
    if _BUTTONS[outlet.sort]:
        drawn += _rect("slot", x - 5, y - 4, 10, 3) + _rect("reset", x - 6, y, 12, 5, 1)
    return drawn
