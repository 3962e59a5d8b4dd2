"""Takes a label with or without a code; gives its layout: where code, lines and draft bar stand, in dots."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from ...binder.labels.records import DeviceLabel, DoorLabel, OutletLabel, SheetLabel
from ...errors import LabelError
from ..qr import QUIET, SURE_MM, Code, make_code
from ..qr_words import capacity, choose, too_many
from ..type.widths import CAP_HEIGHT, DESCENT, typeface
from .fit import Box, characters, check_characters, name_of, over_by, set_text, stock_scale
from .marks import Bar, Layout, Line, Mark, Modules, flush, whole_dots

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
_WITHOUT = {OutletLabel: "remove `outlet_qr` from `labels`", DoorLabel: "leave `door` out of `wanted`"}
PRINTED = (203, 300, 600)   # dots an inch of pictures and sheets: the words of a code are the same in all


@dataclass(frozen=True, slots=True)
class LabelFacts:
    """What is printed as the code of a label."""

    version: int
    level: str
    module_mm: float
    code_mm: float      # one side, without the quiet zone
    text: str
    holds: int | None   # letters that fit at this size of label; None of an address


class _Plan(NamedTuple):
    """The label in dots: its size, how many an inch has, where the draft bar begins (or the height)."""

    width: int
    height: int
    dpi: int
    floor: int

    @property
    def mm(self) -> float:
        """Dots in a millimetre."""
        return self.dpi / 25.4

    @property
    def unit(self) -> int:
        """A module is so many dots or a multiple: a code is as large at 600 dots an inch as at 300."""
        return max(1, self.dpi // 300)


@lru_cache(maxsize=None)
def lay_out_label(label: SheetLabel, dpi: int) -> Layout:
    """The label in as many whole dots as its size has room for.

    LabelError: the code is too dense for the stock, a text does not fit, a character cannot be drawn.
    """
    plan = _plan(label, dpi)
    code = _place_code(label, plan)
    marks: list[Mark] = [code] if code else []
    try:
        marks += map(flush, set_text(label, _text_box(label, plan, code), dpi))
    except LabelError as error:
        if isinstance(label, DoorLabel) or not label.two_languages:
            raise
        raise LabelError(f"{error} Or print it in one language: remove `languages` from `labels`.") from None
    if isinstance(label, OutletLabel):
        marks.append(_own_line(label, plan))
    if label.draft:
        marks += _draft_bar(label, plan)
    return Layout(plan.width, plan.height, dpi, tuple(marks))


def measure(label: SheetLabel, dpi: int) -> LabelFacts | None:
    """Version, level and sizes of the code in the layout; None for a label without a code."""
    plan = _plan(label, dpi)
    place = _place_code(label, plan)
    if place is None:
        return None
    text, holds = str(label.code), None
    if label.shorter:
        text, holds = _words(label)[0], capacity(_versions(label)[-1])
    return LabelFacts(place.code.version, place.code.level, place.module / plan.mm, place.size / plan.mm, text, holds)


def _plan(label: SheetLabel, dpi: int) -> _Plan:
    height = whole_dots(label.height_mm, dpi)
    bar = round((BAR_MARGIN_MM + BAR_MM) * dpi / 25.4) if label.draft else 0
    return _Plan(whole_dots(label.width_mm, dpi), height, dpi, height - bar)


def _place_code(label: SheetLabel, plan: _Plan) -> Modules | None:
    """The code at the left, centred in height: as large as looks right, never under the three floors."""
    if not label.code:
        return None
    code = _words(label)[1] if label.shorter else make_code(label.code, room=_sure(plan))
    least, room = _least(code.side, plan), _space(plan) / (code.side + 2 * QUIET)
    if least > room:
        raise LabelError(_too_dense(label, code, least, _space(plan), plan))
    return _placed(code, int(max(least, min(_wanted(plan) / code.side, room)) / plan.unit) * plan.unit, plan)


def _least(side: int, plan: _Plan) -> int:
    """The fewest dots a module may have in a code of so many modules a side."""
    return max(MODULE_DOTS, plan.unit * math.ceil(max(MODULE_MM, CODE_MM / side) * plan.mm / plan.unit))


def _sure(plan: _Plan) -> int:
    """How many modules a side a code may have with each of them sure to be seen."""
    sure = plan.unit * math.ceil(SURE_MM * plan.mm / plan.unit)
    return int(min(_wanted(plan) // sure, _space(plan) // sure - 2 * QUIET))


def _space(plan: _Plan) -> float:
    return min(plan.floor, plan.width - (COLUMN_MM + MARGIN_MM) * plan.mm)


def _wanted(plan: _Plan) -> float:
    return min(0.6 * plan.height, 0.36 * plan.width)


def _placed(code: Code, module: int, plan: _Plan) -> Modules:
    left = max(round(MARGIN_MM * plan.mm), QUIET * module)
    return Modules(code, module, left, (plan.floor - code.side * module) // 2)


@lru_cache(maxsize=None)
def _words(label: SheetLabel) -> tuple[str, Code]:
    """The most words that the code of the label holds while its printed words still fit, and the code of them."""
    texts = (str(label.code), *label.shorter)
    versions = _versions(label)
    if found := choose(texts, versions):
        return found
    place = (f"a label of {label.width_mm:g} x {label.height_mm:g} mm"
             + (f" with the mark `{label.draft}`" if label.draft else ""))
    do = f"Choose a larger label, or {_WITHOUT.get(type(label), 'write `qr: none` under `labels`')}."
    if not versions:
        raise LabelError(f"{name_of(label)}: {place} has no room for a QR code beside its words. {do}")
    over = characters(too_many(texts[-1], versions[-1]))
    raise LabelError(f"{name_of(label)}: the QR code of `{texts[-1]}`, the fewest words, is {over} too long for {place}, "
                     f"which holds about {characters(capacity(versions[-1]))}. {do}")


@lru_cache(maxsize=None)
def _versions(label: SheetLabel) -> tuple[int, ...]:
    """The versions of a code of words that fit at every resolution, its modules at their floor, beside the printed words."""
    fitting = [version for version in range(1, 41)
               if all(_least(17 + 4 * version, plan) * (17 + 4 * version + 2 * QUIET) <= _space(plan)
                      for plan in (_plan(label, dpi) for dpi in PRINTED))]
    while fitting and not all(_leaves_room(label, fitting[-1], dpi) for dpi in PRINTED):
        fitting.pop()
    return tuple(fitting)


def _leaves_room(label: SheetLabel, version: int, dpi: int) -> bool:
    """Whether the printed words fit beside a code of this version at its smallest."""
    if isinstance(label, DeviceLabel):
        label = replace(label, serves=label.serves[-1:])    # the fewest: when these do not fit, none do
    plan, side = _plan(label, dpi), 17 + 4 * version
    blank = Code(tuple((False,) * side for _ in range(side)), version, "M")
    try:
        set_text(label, _text_box(label, plan, _placed(blank, _least(side, plan), plan)), dpi)
    except LabelError:
        return False
    return True


def _too_dense(label: SheetLabel, code: Code, least: int, space: float, plan: _Plan) -> str:
    needed = (code.side + 2 * QUIET) * least / plan.mm
    or_without = f", or {_WITHOUT[OutletLabel]}" if isinstance(label, OutletLabel) else ""
    return (
        f"{name_of(label)}: the QR code of `{label.code}` ({len(label.code or '')} characters, {code.side} modules "
        f"a side) needs {needed:.1f} mm with its white border at {least / plan.mm:.2f} mm a module; a label of "
        f"{label.width_mm:g} x {label.height_mm:g} mm leaves {max(0, space) / plan.mm:.1f} mm. "
        f"Shorten `base_url`, or choose a larger label{or_without}."
    )


def _text_box(label: SheetLabel, plan: _Plan, place: Modules | None) -> Box:
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
    size, width = _own_size(label, plan), plan.width - 2 * MARGIN_MM * plan.mm
    length = _fitting(label, "text", label.own, "regular", size, width)
    baseline = plan.floor - _below(label, plan) - math.ceil(DESCENT * size)
    return flush(Line(label.own, "regular", size, math.floor(plan.width - MARGIN_MM * plan.mm - length), baseline))


def _draft_bar(label: SheetLabel, plan: _Plan) -> list[Mark]:
    """White letters on a black bar along the lower edge; three times, so that a thumb cannot hide it."""
    word = str(label.draft)
    margin, high = round(BAR_MARGIN_MM * plan.mm), round(BAR_MM * plan.mm)
    wide, size = plan.width - 2 * margin, round(0.8 * high)
    length = _fitting(label, "mark", word, "black", size, 0.95 * wide)
    times = 3 if 4 * length < wide else 1
    baseline = plan.floor + round((high + CAP_HEIGHT * size) / 2)
    centres = (margin + wide * (2 * number + 1) / (2 * times) for number in range(times))
    return [Bar(margin, plan.floor, wide, high, round(0.8 * plan.mm)),
            *(flush(Line(word, "black", size, round(centre - length / 2), baseline, False)) for centre in centres)]


def _fitting(label: SheetLabel, name: str, text: str, weight: str, size: int, width: float) -> float:
    """The length in dots of a text that stands on one line at one size; LabelError where that is too long."""
    check_characters(label, text, weight)
    length = typeface(weight, size).getlength(text)
    if length > width:
        over = characters(over_by(text, typeface(weight, size), width))
        raise LabelError(f"{name_of(label)}: the {name} `{text}` is about {over} too long for a label "
                         f"{label.width_mm:g} mm wide. Shorten it, or choose a larger label.")
    return length
