"""Takes the composed binder and a theme; gives every file below print/labels: labels, sheets, strips, calibration, list."""

from __future__ import annotations

from ...binder.site.records import Binder
from ..theme import Theme
from .calibration import calibration_page
from .png import label_png, pdf
from .sheet_html import sheet_html
from .sheets import label_sheets, strip_sheets
from .svg import label_svg
from .where import where_text

FOLDER = "print/labels"


def label_files(binder: Binder, theme: Theme) -> dict[str, bytes]:
    """Path below the output folder -> bytes. Every device has its label alone, whatever is wanted on sheets."""
    labels, stock = binder.labels, binder.frame.job.labels
    files = {f"{FOLDER}/{label.id}.png": label_png(label, stock.dpi) for label in labels.devices}
    files |= {f"{FOLDER}/{label.id}.svg": label_svg(label) for label in labels.devices}
    sheets = {"sheet": label_sheets(labels.sheet, stock), "strips": strip_sheets(labels.strips, stock),
              "calibration": [calibration_page(stock, binder.words)]}
    for name, pages in sheets.items():
        if pages:
            files |= {f"{FOLDER}/{name}.pdf": pdf(pages), f"{FOLDER}/{name}.html": sheet_html(name, pages, binder, theme)}
    files[f"{FOLDER}/where.txt"] = where_text(binder).encode()
    return files
