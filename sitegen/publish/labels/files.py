"""Takes the composed binder; gives every file below print/labels: labels, sheets, strips, calibration, list."""

from __future__ import annotations

from collections.abc import Iterator

from ...binder.site.records import Binder
from .calibration import calibration_page
from .label import lay_out_label
from .pdf import pdf
from .png import png
from .sheets import DPI, label_sheets, strip_sheets
from .svg import svg
from .where import where_text

FOLDER = "print/labels"
# Ending -> how the label of a device alone is inked, and at how many dots an inch; 0: as the job says. Sheets are PDF.
WRITERS = {"png": (png, 0), "svg": (svg, DPI)}


def label_files(binder: Binder) -> Iterator[tuple[str, bytes]]:
    """(path below the output folder, bytes). Every device has its label alone, whatever is wanted on sheets."""
    labels, stock = binder.labels, binder.frame.job.labels
    for ending, (write, dpi) in WRITERS.items():
        yield from ((f"{FOLDER}/{label.id}.{ending}", write(lay_out_label(label, dpi or stock.dpi))) for label in labels.devices)
    sheets = {"sheet": label_sheets(labels.sheet, stock), "strips": strip_sheets(labels.strips, stock),
              "calibration": [calibration_page(stock, binder.words)]}
    for name, pages in sheets.items():
        if pages:
            yield f"{FOLDER}/{name}.pdf", pdf(pages)
    yield f"{FOLDER}/where.txt", where_text(binder).encode()
