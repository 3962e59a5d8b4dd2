"""`sitegen press`: the sheets of labels to be printed, and every label on them added to the ledger.

The ledger is written before the sheets: an entry without a label does no harm, a label without an entry does.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Collection
from dataclasses import replace
from datetime import date
from pathlib import Path

from ..binder.labels.records import LabelSet
from ..binder.site.records import Binder
from ..errors import CallError, nearest
from ..job.labels.ledger import FILE, pressing_text
from ..job.read.values import day as day_of, likely_day
from ..job.records import Job, Printed
from ..protection.examine import Report
from ..publish.folder import alone, finish_swap, put_in_place, refuse_strangers, replace_file
from ..publish.labels.files import FOLDER, label_files
from ..publish.theme import DEFAULT, open_theme
from . import report_of
from .check.sheet import printed_check
from .composed import compose_all
from .pressed import as_printed
from .unprintable import refuse_unprintable


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--date", metavar="YYYY-MM-DD", required=True, help="the day of printing")
    parser.add_argument("--only", metavar="ID", nargs="+", default=[], help="the labels of these ids alone; `K1:plate`: of K1 that one alone")
    parser.add_argument("--start", metavar="N", type=int,
                        help="the first free label of a part-used sheet; default as in job.yaml")
    parser.add_argument("--out", metavar="DIR",
                        help="where to write the sheets; default output/<job id>-labels, with the ids of --only")
    parser.add_argument("--theme", metavar="NAME", default=DEFAULT, help=f"default {DEFAULT}")


def run(call: argparse.Namespace) -> int:
    with alone(Path(call.job) / FILE):      # from reading the ledger until it is written
        return _run(call)


def _run(call: argparse.Namespace) -> int:
    report, when = report_of(call.job), day_of(call.date)
    if when is None:
        near = likely_day(call.date)
        raise CallError(f"--date {call.date} is not a date; write the day of printing as YYYY-MM-DD"
                        f"{f', such as {near}' if near else ''}.")
    if not report.ready:
        print(printed_check(report), end="")
        print("Nothing was printed and nothing was written: labels of a job that is not ready stay drafts.", file=sys.stderr)
        return 1
    report = _starting_at(report, call.start)
    theme = open_theme(call.theme)
    binder = compose_all(report, theme)
    ids = [id.upper() for id in call.only]
    out = Path(call.out) if call.out else Path("output") / _folder(report.job, ids)
    new = press(binder, report.job, Path(call.job), out, when, ids)
    print(f"Labels written to {out}. " + (f"{FILE} remembers {len(new)} of them as printed on {when}." if new else
                                          f"{FILE} had them all as printed on {when}."))
    if old := dict.fromkeys(label.id for label in new if label.replaces):
        print(f"Take the labels off that they replace, of {' '.join(old)}: of two labels a wrong one may be read.")
    if not report.job.file.base_url:
        print("They carry no address, since `base_url` is not written.")
    print("Print them at actual size, 100 %. What is printed cannot be changed: keep the ledger with the job.")
    return 0


def _folder(job: Job, ids: list[str]) -> str:
    named = ids if len(ids) <= MOST_NAMED else [*ids[:MOST_NAMED], f"and-{len(ids) - MOST_NAMED}-more"]
    return "-".join((job.file.id, "labels", *named)).replace(":", "-")


def _starting_at(report: Report, start: int | None) -> Report:
    """The job with its labels from another place of a part-used sheet on."""
    file = report.job.file
    most = file.labels.columns * file.labels.rows
    if start is None:
        return report
    if not 1 <= start <= most:
        raise CallError(f"--start {start} is no place of a sheet with {most} labels; count them along the rows, from 1.")
    return replace(report, job=replace(report.job, file=replace(file, labels=replace(file.labels, start=start))))

LIST = "labels.json"
MOST_NAMED = 8      # ids in the name of a folder


def press(binder: Binder, job: Job, folder: Path, out: Path, when: date, ids: Collection[str] = ()) -> list[Printed]:
    """Write the sheets to `out` and add to the ledger in `folder`; gives what was added. `ids`: these alone, () for all.

    The same label of the same day is added once. CallError: an id without a label, a day before that of the last
    pressing, a folder that cannot be written. LabelError: a label that cannot be printed; then nothing is written at all.
    """
    labels = only(binder.labels, ids) if ids else binder.labels
    refuse_unprintable(job, labels)
    files = {name.removeprefix(f"{FOLDER}/"): content
             for name, content in label_files(replace(binder, labels=labels))}
    files[LIST] = (json.dumps({"job": job.file.id, "date": str(when), "files": sorted(files)}, indent=1) + "\n").encode()
    finish_swap(out, LIST)
    refuse_strangers(out, LIST)
    new = remember(job, labels, folder, when)
    put_in_place(out, files.items(), LIST)
    return new


def remember(job: Job, labels: LabelSet, folder: Path, when: date) -> list[Printed]:
    """Add the labels to the ledger in `folder`; gives those that it did not have of this day."""
    if job.printed and when < job.printed[-1].date:
        raise CallError(f"--date {when} is before the last pressing in {FILE}, {job.printed[-1].date}; write the day of this one.")
    known = {_as_printed(label) for label in job.printed if label.date == when}
    new = [label for label in as_printed(job, labels, when) if _as_printed(label) not in known]
    if new:
        _add(folder / FILE, new, job.file.id)
    return new


def _as_printed(label: Printed) -> tuple[object, ...]:
    return label.id, label.purpose, label.language, label.place, label.holds, label.says and label.says.words, label.made_of


def only(labels: LabelSet, ids: Collection[str]) -> LabelSet:
    """The labels of these ids (`K1`, or `K1:plate` for that one alone), their places counted anew."""
    known = {(label.id, label.purpose) for label in (*labels.devices, *labels.sheet, *labels.strips)}
    asked = {id: {(one, purpose) for one, purpose in known if id in (one, f"{one}:{purpose.upper()}")} for id in ids}
    for id, found in asked.items():
        if not found:
            near = nearest(id, {one for one, _ in known} | {f"{one}:{purpose}" for one, purpose in known})
            raise CallError(f"{id} has no label in this job.{f' Did you mean {near}?' if near else ''}")
    wanted = set().union(*asked.values())
    sheet = [number for number, label in enumerate(labels.sheet) if (label.id, label.purpose) in wanted]
    strips = [number for number, strip in enumerate(labels.strips) if (strip.id, strip.purpose) in wanted]
    rooms = []
    for room, sticks in labels.rooms:
        kept = tuple(replace(stick, number=(strips if stick.on_strips else sheet).index(stick.number))
                     for stick in sticks if stick.number in (strips if stick.on_strips else sheet))
        rooms += [(room, kept)] if kept else []
    return LabelSet(tuple(label for label in labels.devices if (label.id, label.purpose) in wanted), tuple(labels.sheet[n] for n in sheet),
                    tuple(labels.strips[n] for n in strips), tuple(rooms))


def _add(path: Path, labels: list[Printed], job: str) -> None:
    """The ledger with one more pressing behind it, put in place at once."""
    try:
        before = path.read_text("utf-8") if path.exists() else ""
        replace_file(path, (before + pressing_text(before, labels, job)).encode())
    except OSError as error:
        raise CallError(f"the ledger {path.name} cannot be written: {error.strerror or error}; nothing was printed. "
                        f"See who may write in the job folder.") from None
