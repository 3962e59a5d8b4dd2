"""Takes sheets laid out; gives one HTML file that a browser prints at their exact size, a page each."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from ...binder.site.records import Binder
from ..templates import templates
from ..theme import POLICY, Theme, content_hash
from .marks import Layout
from .svg import letters, sheet_svg


def sheet_html(name: str, sheets: Sequence[Layout], binder: Binder, theme: Theme) -> bytes:
    """`name`: sheet, strips or calibration. All sheets have the size of the first: paper has one size a print-out."""
    width, height = sheets[0].size_mm
    style = f"@page{{size:{width}mm {height}mm;margin:0}}{theme.style('labels')}"
    return templates(theme).get_template("labels.html.j2").render(
        name=name, sheets=[sheet_svg(sheet) for sheet in sheets], letters=letters(sheets), frame=binder.frame,
        words=binder.words, w=binder.words.rich, style=Markup(style), policy=POLICY.format(hash=content_hash(style)),
    ).encode()
