"""A job folder in; its binder written, or why not, out."""

from __future__ import annotations

import shlex
from dataclasses import dataclass
from pathlib import Path

from ...protection.examine import Report
from ...publish.labels.where import label_report
from ...publish.photos import make_photos
from ...publish.theme import Theme, open_theme
from ...publish.unchanged import note, stamp, told_of
from ...publish.write import write_binder
from .. import report_of
from ..check.sheet import printed_check, verdict
from ..composed import compose_all
from ..pressed import label_findings, not_pressed
from ..unprintable import refuse_unprintable

_JOB = "@JOB@"     # stands for the folder in what is noted


@dataclass(frozen=True, slots=True)
class Bound:
    """What became of one job."""

    id: str
    title: str
    code: int                   # 0: written; 1: not ready, nothing written
    said: str
    stops: tuple[str, ...]      # what is missing, a sentence each
    out: Path


def bind_one(folder: str, out: Path | None, draft: bool, theme_name: str) -> Bound:
    """`out`: default output/<job id>."""
    report, job = report_of(folder), Path(folder)
    file, stops = report.job.file, tuple(finding.says for finding in report.findings if finding.level == "stop")
    out = out or Path("output") / file.id
    if not report.ready and not draft:
        return Bound(file.id, str(file.title), 1, printed_check(report).rstrip("\n"), stops, out)
    theme = open_theme(theme_name)
    made_from = stamp(job, theme, "draft" if draft else "")
    told = told_of(out, made_from)
    if told is None:
        told = _write(report, theme, job, out, draft)
        if stamp(job, theme, "draft" if draft else "") == made_from:   # nobody wrote in a file meanwhile
            note(out, made_from, told)
        head = f"{'DRAFT binder' if draft else 'Binder'} written to {out}: "
    else:
        head = f"Nothing has changed since {out} was written, and it was left as it is: "
    said = f"{verdict(report)}\n{head}" + "\n".join(told).replace(_JOB, shlex.quote(folder))
    return Bound(file.id, str(file.title), 0, said, stops, out)


def _write(report: Report, theme: Theme, job: Path, out: Path, draft: bool) -> list[str]:
    """Write the binder; what to tell about it, line by line, with `_JOB` where the folder's name belongs."""
    binder = compose_all(report, theme, draft)
    refuse_unprintable(report.job, binder.labels)
    pages = write_binder(binder, theme, out, make_photos(report.job, job))
    told = [f"{pages} pages, {len(binder.labels.devices)} device labels, {len(binder.calendars)} calendar files.",
            *label_report(binder)]
    if not binder.frame.draft:
        told += [*(finding.says for finding in label_findings(report.job, binder.labels, _JOB)),
                 *not_pressed(report.job, binder.labels, _JOB)]
    return told
