"""Takes a label with or without a code; gives it laid out: where code, lines and draft bar stand, in dots."""

from __future__ import annotations

import math
from functools import cache

from ...binder.labels.records import SheetLabel
from ...errors import LabelError
from ..type.font import CAP_HEIGHT, DESCENT
from ..type.widths import length
from .code import place_code
from .fit import characters, check_characters, name_of, over_by, set_text
from .marks import Artwork, Bar, Line, Mark, flush
from .plan import BAR_MARGIN_MM, BAR_MM, MARGIN_MM, Plan, plan_of


@cache
def lay_out_label(label: SheetLabel, dpi: int) -> Artwork:
    """The label in as many whole dots as its size has room for.

    LabelError: the code is too dense for the stock, a text does not fit, a character cannot be drawn.
    """
    plan, code = plan_of(label, dpi), place_code(label, dpi)
    marks: list[Mark] = [code] if code else []
    try:
        marks += map(flush, set_text(label, plan.text_box(code), dpi))
    except LabelError as error:
        if not label.two_languages:
            raise
        raise LabelError(f"{error} Or print it in one language: remove `languages` from `labels`.") from None
    if label.own:
        marks.append(_own_line(label, plan))
    if label.draft:
        marks += _draft_bar(label, plan)
    return Artwork(plan.width, plan.height, dpi, tuple(marks))


def _own_line(label: SheetLabel, plan: Plan) -> Line:
    """The outlet's own id, small, in the lower right corner: it must not be taken for the one to press."""
    size, width = plan.own, plan.width - 2 * MARGIN_MM * plan.mm
    long = _fitting(label, "text", label.own, "regular", size, width)
    baseline = plan.floor - plan.below - math.ceil(DESCENT * size)
    return flush(Line(label.own, "regular", size, math.floor(plan.width - MARGIN_MM * plan.mm - long), baseline))


def _draft_bar(label: SheetLabel, plan: Plan) -> list[Mark]:
    """White letters on a black bar along the lower edge; three times, so that a thumb cannot hide it."""
    word = str(label.draft)
    margin, high = round(BAR_MARGIN_MM * plan.mm), round(BAR_MM * plan.mm)
    wide, size = plan.width - 2 * margin, round(0.8 * high)
    long = _fitting(label, "mark", word, "black", size, 0.95 * wide)
    times = 3 if 4 * long < wide else 1
    baseline = plan.floor + round((high + CAP_HEIGHT * size) / 2)
    centres = (margin + wide * (2 * number + 1) / (2 * times) for number in range(times))
    return [Bar(margin, plan.floor, wide, high, round(0.8 * plan.mm)),
            *(flush(Line(word, "black", size, round(centre - long / 2), baseline, False)) for centre in centres)]


def _fitting(label: SheetLabel, name: str, text: str, weight: str, size: int, width: float) -> float:
    """The length in dots of a text that stands on one line at one size; LabelError where that is too long."""
    check_characters(label, text, weight)
    long = length(text, weight, size)
    if long > width:
        over = characters(over_by(text, weight, size, width))
        raise LabelError(f"{name_of(label)}: the {name} `{text}` is about {over} too long for a label "
                         f"{label.width_mm:g} mm wide. Shorten it, or choose a larger label.")
    return long
