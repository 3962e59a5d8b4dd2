"""Takes a one-line drawing; gives it as SVG: upright for a phone, each id a way to its row, or across a sheet of paper."""

from __future__ import annotations

from collections.abc import Callable

from markupsafe import Markup, escape

from ...binder.site.one_line import OneLine
from ..type.widths import break_lines, length
from .one_line import Group, Metrics, Sheet, across, upright
from .shapes import LINE, WIDE, Area, Line, Shape, Word
from .svg import SAFETY, measure

PAPER = 8.0          # pt, the size of words on paper; its typeface comes with the page
HIGHEST = 660.0      # pt of a drawing on paper in one piece: less than a page of either paper
_SLACK = 1.01        # what a browser's rounding may add to that


def on_paper(text: str, bold: bool) -> float:
    """How wide a word is on paper, in points."""
    return length(text, "bold" if bold else "regular", 100) * PAPER / 100 * _SLACK


def _wrap(scale: Callable[[bool], float]) -> Callable[[str, bool, float], tuple[str, ...]]:
    """Lines no wider than the room there is. `scale`: units of the drawing that a unit of the typeface takes."""
    def lines(text: str, bold: bool, room: float) -> tuple[str, ...]:
        weight, dots = "bold" if bold else "regular", room / scale(bold)
        found = break_lines(text, weight, 100, dots)
        while found is None:        # one word is wider: it goes on in the next line
            text = " ".join(part for word in text.split() for part in _cut(word, weight, dots))
            found = break_lines(text, weight, 100, dots)
        return found
    return lines


def _cut(word: str, weight: str, dots: float) -> list[str]:
    parts = [""]
    for letter in word:
        if parts[-1] and length(parts[-1] + letter, weight, 100) > dots:
            parts.append("")
        parts[-1] += letter
    return parts


PHONE = Metrics(WIDE, 24.0, 22.0, LINE, measure, _wrap(lambda bold: 0.14 * SAFETY["bold" if bold else "regular"]))
SHEET = Metrics(498.0, 17.0, 12.0, 9.5, on_paper, _wrap(lambda bold: PAPER / 100 * _SLACK))


def one_line_svg(drawing: OneLine, to: Callable[[str], str] | None = None) -> Markup:
    """What a template sets in. `to` leads to a folder of the site; None: on paper."""
    sheet = upright(drawing, PHONE) if to else across(drawing, SHEET)
    pieces = (_svg(sheet, drawing.says, to, *piece) for piece in sheet.pieces(HIGHEST))
    return Markup(f'<div class="one-line">{"".join(pieces)}</div>')


def _svg(sheet: Sheet, says: str, to: Callable[[str], str] | None, top: float, bottom: float) -> str:
    """What of the sheet stands between two heights; a line that goes on does so at the edge."""
    lines = "".join(_shape(line) for look in ("drawn", "shown") for line in sheet.lines
                    if line.look == look and line.points[0][1] < bottom and line.points[-1][1] >= top)
    groups = (group for group in sheet.groups if top <= min(shape.box.top for shape in group.shapes if not isinstance(shape, Line)) < bottom)
    return (f'<svg viewBox="0 {_n(top)} {_n(sheet.wide)} {_n(bottom - top)}" role="group" aria-label="{escape(says)}">'
            f'{lines}{"".join(_group(group, to) for group in groups)}</svg>')


def _n(number: float) -> str:
    return f"{round(number, 1):g}"


def _group(group: Group, to: Callable[[str], str] | None) -> str:
    inside = "".join(map(_shape, group.shapes))
    if not to or not group.href:
        return inside
    folder, hash, anchor = group.href.partition("#")
    return f'<a href="{escape((to(folder) if folder else "") + hash + anchor)}">{inside}</a>'


def _shape(shape: Shape) -> str:
    match shape:
        case Line():
            return f'<path class="{shape.look}" d="M{"L".join(f"{_n(x)} {_n(y)}" for x, y in shape.points)}"/>'
        case Area():
            box = shape.box
            corner = {"splice": box.high / 2, "dot": box.high / 2}.get(shape.look, box.high / 5)
            return (f'<rect class="{shape.look}" x="{_n(box.left)}" y="{_n(box.top)}" width="{_n(box.wide)}" height="{_n(box.high)}" '
                    f'rx="{_n(corner)}"/>')
        case Word():
            middle = shape.look.startswith("id") or shape.look == "joint"
            x = shape.box.middle[0] if middle else shape.box.left
            return f'<text class="{shape.look}" x="{_n(x)}" y="{_n(shape.box.top + 0.76 * shape.box.high)}">{escape(shape.text)}</text>'
        case _:
            return ""
