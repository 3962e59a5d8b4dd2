"""`sitegen walk`: the sheet that the trip tests of the walk-through are written on."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..binder.desk import Desk
from ..binder.walk.sheet import walk_sheet
from ..publish.theme import open_theme
from ..publish.walk_file import write_csv, write_html
from . import report_of


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--out", metavar="FILE", help="where to write; default <job id>-walk.html, or .csv, in this folder")
    parser.add_argument("--missing", action="store_true", help="only what is not shown yet")
    parser.add_argument("--csv", action="store_true", help="rows of trip_tests.csv to fill in, what was seen left blank")


def run(call: argparse.Namespace) -> int:
    report, theme = report_of(call.job), open_theme()
    words = theme.words("en")  # the sheet is for the electrician
    sheet = walk_sheet(Desk(report, words), missing=call.missing)
    if not sheet.rows:
        print("Nothing is missing: all that the walk-through has to show was shown. Nothing was written.")
        return 0
    out = Path(call.out or f"{report.job.file.id}-walk.{'csv' if call.csv else 'html'}")
    if call.csv:
        write_csv(sheet, out)
    else:
        write_html(sheet, words, theme, out)
    presses = len(sheet.presses)
    print(f"{'Rows to fill in' if call.csv else 'Walk-through sheet'} written to {out}: "
          f"{len(sheet.rows) - presses - len(sheet.handles)} readings, {presses} presses on a walk through {sheet.doorways} "
          f"doorways, {len(sheet.handles)} breaker handles.")
    return 0
