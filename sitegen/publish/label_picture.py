"""Takes a label with or without a code; gives its picture in black and white at its exact size, and the PNG file of it."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import NamedTuple

from PIL import Image, ImageDraw

from sitegen.binder.records import OutletLabel, SheetLabel

from .label_text import Box, LabelError, Line, check_characters, name_of, set_text, stock_scale
from .lettering import CAP_HEIGHT, DESCENT, ink, typeface
from .qr import QUIET, Code, make_code

DPI = 300
MARGIN_MM = 3.0         # from the cut to any text or code; 2 mm is the usual floor (common practice, no source)
BAR_MARGIN_MM = 2.0     # from the cut to the draft bar
GAP_MM = 3.0            # from the code to the text
COLUMN_MM = 20.0        # the text beside a code gets this width or more
CODE_MM = 20.0          # a phone reads 2 x 2 cm from 10 to 15 cm (as reported)
MODULE_MM = 0.5         # so that a cheap printer keeps a module square
MODULE_DOTS = 4         # printer dots a module needs (as reported)
BAR_MM = 4.6            # height of the black bar that says DRAFT
BAR_GAP_MM = 1.5        # from the text to the draft bar
OWN_POINTS = 8.0        # the own id of an outlet, in the corner

__all__ = ["LabelError", "LabelFacts", "draw_label", "label_png", "measure"]


@dataclass(frozen=True, slots=True)
class LabelFacts:
    """What is printed as the code of a label."""

    version: int
    level: str
    module_mm: float
    code_mm: float      # one side, without the quiet zone


class _Place(NamedTuple):
    """Where the code stands, in dots from the label's upper left corner; one module is `module` dots."""

    code: Code
    module: int
    left: int
    top: int

    @property
    def size(self) -> int:
        return self.code.side * self.module


class _Plan(NamedTuple):
    """The label in dots: its size, what a millimetre is, where the draft bar begins (or the height)."""

    width: int
    height: int
    mm: float
    floor: int


def draw_label(label: SheetLabel, dpi: int = DPI) -> Image.Image:
    """The label as a picture of mode "1", each side round(mm / 25.4 * dpi) dots.

    LabelError: the code is too dense for the stock, a text does not fit, a character cannot be drawn.
    """
    plan = _plan(label, dpi)
    place = _place_code(label, plan)
    lines = set_text(label, _text_box(label, plan, place), dpi)
    picture = Image.new("1", (plan.width, plan.height), 1)
    draw = ImageDraw.Draw(picture)
    if place:
        _draw_code(picture, place)
    for line in lines:
        draw_line(draw, line, 0)
    if isinstance(label, OutletLabel):
        draw_line(draw, _own_line(label, plan), 0)
    if label.draft:
        _draw_bar(draw, label, plan)
    return picture


def label_png(label: SheetLabel, dpi: int = DPI) -> bytes:
    """The label as a PNG file that carries its resolution; the same label gives the same bytes."""
    file = io.BytesIO()
    draw_label(label, dpi).save(file, "PNG", dpi=(dpi, dpi))
    return file.getvalue()


def measure(label: SheetLabel, dpi: int = DPI) -> LabelFacts | None:
    """Version, level and sizes of the code that `draw_label` prints; None for a label without a code."""
    plan = _plan(label, dpi)
    place = _place_code(label, plan)
    if place is None:
        return None
    return LabelFacts(place.code.version, place.code.level, place.module / plan.mm, place.size / plan.mm)


def _plan(label: SheetLabel, dpi: int) -> _Plan:
    mm = dpi / 25.4
    height = round(label.height_mm * mm)
    bar = round((BAR_MARGIN_MM + BAR_MM) * mm) if label.draft else 0
    return _Plan(round(label.width_mm * mm), height, mm, height - bar)


def _place_code(label: SheetLabel, plan: _Plan) -> _Place | None:
    """The code at the left, centred in height: as large as looks right, never under the three floors."""
    if not label.url:
        return None
    code = make_code(label.url)
    least = max(MODULE_DOTS, math.ceil(MODULE_MM * plan.mm), math.ceil(CODE_MM * plan.mm / code.side))
    wanted = min(0.6 * plan.height, 0.36 * plan.width) / code.side
    space = min(plan.floor, plan.width - (COLUMN_MM + MARGIN_MM) * plan.mm)
    room = space / (code.side + 2 * QUIET)
    if least > room:
        raise LabelError(_too_dense(label, code, least, space, plan))
    module = int(max(least, min(wanted, room)))
    left = max(round(MARGIN_MM * plan.mm), QUIET * module)
    return _Place(code, module, left, (plan.floor - code.side * module) // 2)


def _too_dense(label: SheetLabel, code: Code, least: int, space: float, plan: _Plan) -> str:
    needed = (code.side + 2 * QUIET) * least / plan.mm
    return (
        f"{name_of(label)}: the QR code of `{label.url}` ({len(label.url or '')} characters, {code.side} modules "
        f"a side) needs {needed:.1f} mm with its white border at {least / plan.mm:.2f} mm a module; a label of "
        f"{label.width_mm:g} x {label.height_mm:g} mm leaves {max(0, space) / plan.mm:.1f} mm. "
        "Shorten `base_url`, or choose a larger label."
    )


def _text_box(label: SheetLabel, plan: _Plan, place: _Place | None) -> Box:
    margin = math.ceil(MARGIN_MM * plan.mm)
    left = margin
    if place:
        # Round letters reach a little to the left of the stems: half a millimetre keeps them off the quiet zone.
        gap = max(GAP_MM * plan.mm, QUIET * place.module + 0.5 * plan.mm)
        left = place.left + place.size + math.ceil(gap)
    bottom = plan.floor - _below(label, plan)
    if isinstance(label, OutletLabel):
        bottom -= round(1.15 * _own_size(label, plan))
    return Box(left, margin, plan.width - margin, bottom)


def _below(label: SheetLabel, plan: _Plan) -> int:
    """From the text to the draft bar or to the cut."""
    return math.ceil((BAR_GAP_MM if label.draft else MARGIN_MM) * plan.mm)


def _own_size(label: OutletLabel, plan: _Plan) -> int:
    return math.ceil(OWN_POINTS * stock_scale(label) * plan.mm * 25.4 / 72)


def _own_line(label: OutletLabel, plan: _Plan) -> Line:
    """The outlet's own id, small, in the lower right corner: it must not be taken for the one to press."""
    check_characters(label, label.own, "regular")
    size, width = _own_size(label, plan), plan.width - 2 * MARGIN_MM * plan.mm
    length = typeface("regular", size).getlength(label.own)
    if length > width:
        raise LabelError(f"{name_of(label)}: the text `{label.own}` is too long for a label {label.width_mm:g} mm wide. "
                         "Choose a larger label.")
    baseline = plan.floor - _below(label, plan) - math.ceil(DESCENT * size)
    return Line(label.own, "regular", size, math.floor(plan.width - MARGIN_MM * plan.mm - length), baseline)


def _draw_code(picture: Image.Image, place: _Place) -> None:
    small = Image.new("1", (place.code.side, place.code.side))
    small.putdata([0 if dark else 1 for row in place.code.rows for dark in row])
    picture.paste(small.resize((place.size, place.size), Image.Resampling.NEAREST), (place.left, place.top))


def draw_line(draw: ImageDraw.ImageDraw, line: Line, fill: int) -> None:
    """One line, black (0) or white (1). Stems stand flush at `left`: H begins with one, so its white space before it is taken off."""
    font = typeface(line.weight, line.size)
    bearing = ink("H", font)[0]
    draw.text((line.left - bearing, line.baseline), line.text, fill=fill, font=font, anchor="ls")


def _draw_bar(draw: ImageDraw.ImageDraw, label: SheetLabel, plan: _Plan) -> None:
    """White letters on a black bar along the lower edge; three times, so that a thumb cannot hide it."""
    word = str(label.draft)
    check_characters(label, word, "black")
    margin, high = round(BAR_MARGIN_MM * plan.mm), round(BAR_MM * plan.mm)
    top, wide = plan.floor, plan.width - 2 * margin
    draw.rounded_rectangle(
        (margin, top, margin + wide - 1, top + high - 1), radius=round(0.8 * plan.mm), fill=0
    )
    size = round(0.8 * high)
    length = typeface("black", size).getlength(word)
    if length > 0.95 * wide:
        raise LabelError(f"{name_of(label)}: the mark `{word}` is too long for a label {label.width_mm:g} mm wide. "
                         "Choose a larger label.")
    times = 3 if 4 * length < wide else 1
    baseline = top + round((high + CAP_HEIGHT * size) / 2)
    for number in range(times):
        centre = margin + wide * (2 * number + 1) / (2 * times)
        draw_line(draw, Line(word, "black", size, round(centre - length / 2), baseline), 1)
