"""Takes a label or strip; gives all that can be read on it once it is printed."""

from __future__ import annotations

from ...binder.labels.records import SheetLabel, Strip
from ...job.labels.purposes import PURPOSES
from ..type.widths import NO_BREAK
from .label import lay_out_label
from .sheets import DPI
from .strip import lay_out_strip


def words_on(label: SheetLabel | Strip) -> str:
    """Every word from top to bottom as on the sheets, one blank between two, wherever the lines were broken."""
    lay_out = lay_out_strip if PURPOSES[label.purpose].strip else lay_out_label
    return " ".join(lay_out(label, DPI).words().replace(NO_BREAK, " ").split())
