"""`sitegen bind`: the binder, only when the job is ready; or a draft that says so throughout."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ..publish.labels.where import label_report
from ..publish.photos import make_photos
from ..publish.theme import DEFAULT, open_theme
from ..publish.write import write_binder
from . import report_of
from .check import print_check, verdict
from .press import compose_all
from .pressed import not_pressed, outdated


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--out", metavar="DIR", help="where to write; default output/<job id>")
    parser.add_argument("--draft", action="store_true", help="write it though not ready, marked DRAFT throughout")
    parser.add_argument("--theme", metavar="NAME", default=DEFAULT, help=f"default {DEFAULT}")


def run(call: argparse.Namespace) -> int:
    report = report_of(call.job)
    if not report.ready and not call.draft:
        print_check(report)
        print("Nothing was written.", file=sys.stderr)
        return 1
    theme = open_theme(call.theme)
    binder = compose_all(report, theme, call.draft)
    out = Path(call.out) if call.out else Path("output") / report.job.file.id
    write_binder(binder, theme, out, make_photos(report.job, Path(call.job)))
    print(verdict(report))
    print(f"{'DRAFT binder' if call.draft else 'Binder'} written to {out}: {len(binder.pages)} pages, "
          f"{len(binder.labels.devices)} device labels, {len(binder.calendars)} calendar files.")
    told = label_report(binder)
    if not binder.frame.draft:
        told = [*told, *(finding.says for finding in outdated(report.job, binder.labels, call.job)),
                *not_pressed(report.job, binder.labels, call.job)]
    print("\n".join(told))
    return 0
