"""Takes a label and a resolution; gives its measures in dots: its size, the room for a code, the box for the text beside it."""

from __future__ import annotations

import math
from typing import NamedTuple

from ...binder.labels.records import SheetLabel
from ..qr import QUIET, SURE_MM, Code
from .fit import Box, stock_scale
from .marks import Modules, whole_dots

MARGIN_MM = 3.0         # from the cut to any text or code; 2 mm is the usual floor (common practice, no source)
BAR_MARGIN_MM = 2.0     # from the cut to the draft bar
BAR_MM = 4.6            # height of the black bar that says DRAFT
BAR_GAP_MM = 1.5        # from the text to the draft bar
GAP_MM = 3.0            # from the code to the text
COLUMN_MM = 20.0        # the text beside a code gets this width or more
CODE_MM = 20.0          # a phone reads 2 x 2 cm from 10 to 15 cm (as reported)
MODULE_MM = 0.5         # so that a cheap printer keeps a module square
MODULE_DOTS = 4         # printer dots a module needs (as reported)
OWN_POINTS = 8.0        # the own id of an outlet, in the corner


class Plan(NamedTuple):
    """The label in dots: its size, how many an inch has, where the draft bar begins (or the height)."""

    width: int
    height: int
    dpi: int
    floor: int
    below: int      # from the text to the draft bar or to the cut
    own: int        # size of the own id in the corner; 0: none

    @property
    def mm(self) -> float:
        """Dots in a millimetre."""
        return self.dpi / 25.4

    @property
    def unit(self) -> int:
        """A module is so many dots or a multiple: a code is as large at 600 dots an inch as at 300."""
        return max(1, self.dpi // 300)

    @property
    def space(self) -> float:
        """The most that a code with its white may take."""
        return min(self.floor, self.width - (COLUMN_MM + MARGIN_MM) * self.mm)

    @property
    def wanted(self) -> float:
        """The size of a code that looks right."""
        return min(0.6 * self.height, 0.36 * self.width)

    @property
    def sure(self) -> int:
        """How many modules a side a code may have with each of them sure to be seen."""
        sure = self.unit * math.ceil(SURE_MM * self.mm / self.unit)
        return int(min(self.wanted // sure, self.space // sure - 2 * QUIET))

    def least(self, side: int) -> int:
        """The fewest dots a module may have in a code of so many modules a side."""
        return max(MODULE_DOTS, self.unit * math.ceil(max(MODULE_MM, CODE_MM / side) * self.mm / self.unit))

    def placed(self, code: Code, module: int) -> Modules:
        """The code at the left, centred in height."""
        left = max(round(MARGIN_MM * self.mm), QUIET * module)
        return Modules(code, module, left, (self.floor - code.side * module) // 2)

    def text_box(self, place: Modules | None) -> Box:
        left = margin = math.ceil(MARGIN_MM * self.mm)
        if place:
            # Round letters reach a little to the left of the stems: half a millimetre keeps them off the quiet zone.
            gap = max(GAP_MM * self.mm, QUIET * place.module + 0.5 * self.mm)
            left = place.left + place.size + math.ceil(gap)
        return Box(left, margin, self.width - margin, self.floor - self.below - round(1.15 * self.own))


def plan_of(label: SheetLabel, dpi: int) -> Plan:
    mm, height = dpi / 25.4, whole_dots(label.height_mm, dpi)
    bar = round((BAR_MARGIN_MM + BAR_MM) * dpi / 25.4) if label.draft else 0
    below = math.ceil((BAR_GAP_MM if label.draft else MARGIN_MM) * mm)
    own = math.ceil(OWN_POINTS * stock_scale(label) * mm * 25.4 / 72) if label.own else 0
    return Plan(whole_dots(label.width_mm, dpi), height, dpi, height - bar, below, own)
