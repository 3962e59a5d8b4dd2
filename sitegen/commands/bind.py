"""`sitegen bind`: the binder, only when the job is ready; or a draft that says so throughout."""

from __future__ import annotations

import argparse
import shlex
import sys
from pathlib import Path

from ..protection.examine import Report
from ..publish.labels.where import label_report
from ..publish.photos import make_photos
from ..publish.theme import DEFAULT, Theme, open_theme
from ..publish.unchanged import note, stamp, told_of
from ..publish.write import write_binder
from . import report_of
from .check.sheet import print_check, verdict
from .composed import compose_all
from .pressed import label_findings, not_pressed
from .unprintable import refuse_unprintable

_JOB = "@JOB@"     # stands for the folder in what is noted


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
    theme, job = open_theme(call.theme), Path(call.job)
    out = Path(call.out) if call.out else Path("output") / report.job.file.id
    made_from = stamp(job, theme, "draft" if call.draft else "")
    told = told_of(out, made_from)
    if told is None:
        told = _write(report, theme, job, out, call.draft)
        if stamp(job, theme, "draft" if call.draft else "") == made_from:   # nobody wrote in a file meanwhile
            note(out, made_from, told)
        head = f"{'DRAFT binder' if call.draft else 'Binder'} written to {out}: "
    else:
        head = f"Nothing has changed since {out} was written, and it was left as it is: "
    print(f"{verdict(report)}\n{head}" + "\n".join(told).replace(_JOB, shlex.quote(call.job)))
    return 0


def _write(report: Report, theme: Theme, job: Path, out: Path, draft: bool) -> list[str]:
    """Write the binder; what to tell about it, line by line, with `_JOB` where the folder's name belongs."""
    binder = compose_all(report, theme, draft)
    refuse_unprintable(report.job, binder.labels)
    write_binder(binder, theme, out, make_photos(report.job, job))
    told = [f"{len(binder.pages)} pages, {len(binder.labels.devices)} device labels, {len(binder.calendars)} calendar files.",
            *label_report(binder)]
    if not binder.frame.draft:
        told += [*(finding.says for finding in label_findings(report.job, binder.labels, _JOB)),
                 *not_pressed(report.job, binder.labels, _JOB)]
    return told
