"""`sitegen check`: is the job ready? The verdict first, then what to do, room by room; or the same as JSON."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import replace
from pathlib import Path

from ...job.records import Job
from ...job.records.texts import public_texts
from ...protection.examine import Report
from ...protection.finding import Finding
from .. import report_of
from .rules import rules_json, rules_text
from .served import not_served, served
from .sheet import check_json, printed_check
from .translate import write_sheet


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--rules", action="store_true", help="list every rule of the book: its source, what it needs, whether it was judged")
    parser.add_argument("--phrases", metavar="FILE", help="write a sheet for whoever translates what further languages lack")
    parser.add_argument("--site", metavar="DIR",
                        help="a built or downloaded copy of the site: does it serve every address that is on a printed label?")


def run(call: argparse.Namespace) -> int:
    report = report_of(call.job)
    if call.rules:
        print(json.dumps(rules_json(report), indent=1, ensure_ascii=False) if call.json else rules_text(report), end="\n" * call.json)
        return 0 if report.ready else 1
    if call.phrases:
        print(write_sheet(report.job, Path(call.job), Path(call.phrases)), file=sys.stderr)
    missing = tuple(not_served(report.job, Path(call.site))) if call.site else ()
    report = replace(report, findings=(*report.findings, *_labels(report, call.job), *missing))
    if call.json:
        print(json.dumps(check_json(report), indent=1, ensure_ascii=False))
    else:
        print(printed_check(report), end="")
        if call.site:
            print(f"\n{served(report.job, len(missing))}")
    return 0 if report.ready else 1


def _labels(report: Report, folder: str) -> tuple[Finding, ...]:
    """The labels that cannot be printed, and the printed ones that say what is no longer so; while a job is not ready nothing
    can be printed in their place."""
    job = report.job
    if not report.ready or not (job.printed or _may_lack_letters(job)):
        return ()
    from ...binder.desk import Desk
    from ...binder.labels.compose import compose_labels  # composing takes time that most checks do not need
    from ...publish.theme import open_theme
    from ..pressed import label_findings
    from ..unprintable import unprintable
    first, *further = job.file.languages
    theme = open_theme()
    labels = compose_labels(Desk(report, theme.words(first)), [Desk(report, theme.words(language), language) for language in further])
    return tuple(unprintable(job, labels)) or tuple(label_findings(job, labels, folder))


def _may_lack_letters(job: Job) -> bool:
    """Whether a text has a letter beyond Latin, Greek and Cyrillic: then it is worth setting the labels to see."""
    return any(ord(letter) > 0x52F and not letter.isspace() and not "\u2000" <= letter <= "\u22ff"
               for found in public_texts(job) for letter in found.text)
