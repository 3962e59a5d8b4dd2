"""Takes a layout; gives it inked in lines: an SVG of its exact size that needs no typeface.

One unit is one dot of the layout, so a module of a code is the same square as in the picture.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from markupsafe import Markup

from ...binder.labels.records import SheetLabel
from ..type.outlines import UNITS, outline
from ..type.widths import typeface
from .label import lay_out_label
from .marks import Bar, Dotted, Group, Layout, Line, Mark, Modules, lines

DPI = 600


def label_svg(label: SheetLabel) -> bytes:
    """One label on white as a file of its own. LabelError: as `lay_out_label` says."""
    layout = lay_out_label(label, DPI)
    white = Bar(0, 0, layout.width, layout.height, black=False)
    return f"{_svg(layout, (letters([layout]), ink(white), *map(ink, layout.marks)))}\n".encode()


def sheet_svg(layout: Layout) -> Markup:
    """One sheet for a page that holds the `letters` of all its sheets."""
    return _svg(layout, map(ink, layout.marks))


def _svg(layout: Layout, inside: Iterable[Markup]) -> Markup:
    width, height = layout.size_mm
    return Markup('<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 {} {}" '
                  'width="{}mm" height="{}mm" role="img" aria-label="{}">{}</svg>').format(
                      layout.width, layout.height, width, height, layout.words(), Markup("").join(inside))


def letters(layouts: Iterable[Layout]) -> Markup:
    """Each letter once, in units of the typeface; lines refer to them."""
    used = {(character, line.weight) for layout in layouts for line in lines(layout.marks) for character in line.text}
    drawn = ((_name(*letter), path) for letter in sorted(used) if (path := outline(*letter)))
    paths = (Markup('<path id="{}" d="{}"/>').format(name, path) for name, path in drawn)
    return Markup("<defs>{}</defs>").format(Markup("").join(paths))


def _name(character: str, weight: str) -> str:
    return f"{weight}-{ord(character):x}"


def ink(mark: Mark) -> Markup:
    """One mark."""
    match mark:
        case Group():
            inside = Markup("").join(map(ink, mark.marks))
            return Markup('<g transform="translate({} {})">{}</g>').format(mark.left, mark.top, inside)
        case Line():
            return _line(mark)
        case Modules():
            return Markup('<path shape-rendering="crispEdges" transform="translate({} {}) scale({})" d="{}"/>').format(
                mark.left, mark.top, mark.module, modules_path(mark.code.rows))
        case Bar():
            return _bar(mark)
        case Dotted():
            return _dotted(mark)


def modules_path(rows: tuple[tuple[bool, ...], ...]) -> str:
    """The dark modules, one unit each; a run of them in a row is one rectangle.

    >>> modules_path(((True, True, False), (False, False, True)))
    'M0 0h2v1h-2zM2 1h1v1h-1z'
    """
    runs = []
    for y, row in enumerate(rows):
        x = 0
        for dark, run in groupby(row):
            wide = len(list(run))
            if dark:
                runs.append(f"M{x} {y}h{wide}v1h-{wide}z")
            x += wide
    return "".join(runs)


def _line(line: Line) -> Markup:
    """Letters stand where the picture has them: at whole dots, measured at their size."""
    font, at, placed = typeface(line.weight, line.size), 0.0, []
    for character in line.text:
        if outline(character, line.weight):
            placed.append(Markup('<use xlink:href="#{}" x="{:g}"/>').format(_name(character, line.weight),
                                                                           round(at * UNITS / line.size, 1)))
        at += font.getlength(character)
    return Markup('<g{} transform="translate({} {}) scale({:g})">{}</g>').format(
        _colour(line.black), line.left, line.baseline, line.size / UNITS, Markup("").join(placed))


def _bar(bar: Bar) -> Markup:
    inset = bar.pen / 2
    look = Markup(' fill="none" stroke="#000" stroke-width="{}"').format(bar.pen) if bar.pen else _colour(bar.black)
    return Markup('<rect x="{:g}" y="{:g}" width="{:g}" height="{:g}" rx="{:g}"{}/>').format(
        bar.left + inset, bar.top + inset, bar.width - bar.pen, bar.height - bar.pen, max(0, bar.radius - inset), look)


def _dotted(frame: Dotted) -> Markup:
    """A stroke one dot wide lies half a dot to either side of its path, so the path runs through the middle of its dots."""
    corners = (frame.left + 0.5, frame.top + 0.5, frame.left + frame.width - 0.5, frame.top + frame.height - 0.5)
    return Markup('<path fill="none" stroke="#000" stroke-dasharray="1 {}" d="M{} {}H{}M{} {}H{}M{} {}V{}M{} {}V{}"/>').format(
        frame.dash - 1, frame.left, corners[1], corners[2], frame.left, corners[3], corners[2],
        corners[0], frame.top, corners[3], corners[2], frame.top, corners[3])


def _colour(black: bool) -> Markup:
    return Markup("") if black else Markup(' fill="#fff"')
