"""Takes the composed binder and a theme; gives every file below print/labels: labels, sheets, strips, calibration, list."""

from __future__ import annotations

from ..binder.page_records import Binder
from .label_list import where_text
from .label_picture import label_png, pdf
from .label_vector import label_svg
from .sheet_calibration import calibration_page
from .sheet_page import label_sheets, strip_sheets
from .sheet_vector import sheet_html
from .theme import Theme

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
