"""Takes the composed binder; gives every file below print/labels: pictures, sheets, strips, calibration page, list."""

from __future__ import annotations

from ..binder.pages import Binder
from .label_list import where_text
from .label_picture import label_png
from .sheet_calibration import calibration_page
from .sheet_page import label_sheets, pdf, strip_sheets

FOLDER = "print/labels"


def label_files(binder: Binder) -> dict[str, bytes]:
    """Path below the output folder -> bytes. A picture for every device, whatever is wanted on sheets."""
    labels, stock = binder.labels, binder.frame.job.labels
    files = {f"{FOLDER}/{label.id}.png": label_png(label, stock.dpi) for label in labels.devices}
    if labels.sheet:
        files[f"{FOLDER}/sheet.pdf"] = pdf(label_sheets(labels.sheet, stock))
    if labels.strips:
        files[f"{FOLDER}/strips.pdf"] = pdf(strip_sheets(labels.strips, stock))
    files[f"{FOLDER}/calibration.pdf"] = pdf([calibration_page(stock, binder.words)])
    files[f"{FOLDER}/where.txt"] = where_text(binder).encode()
    return files
