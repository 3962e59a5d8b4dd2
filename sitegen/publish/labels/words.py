"""Takes a label or strip; gives all that can be read on it once it is printed."""

from __future__ import annotations

from ...binder.labels.records import SheetLabel, Strip
from ..type.widths import NO_BREAK
from .label import lay_out_label
from .sheets import DPI
from .strip import lay_out_strip


def words_on(label: SheetLabel | Strip) -> str:
    """Every word from top to bottom as on the sheets, one blank between two, wherever the lines were broken."""
    laid_out = lay_out_strip(label, DPI) if isinstance(label, Strip) else lay_out_label(label, DPI)
    return " ".join(laid_out.words().replace(NO_BREAK, " ").split())
