"""`sitegen press`: the sheets of labels to be printed, and every label on them added to the ledger.

The ledger is written before the sheets: an entry without a label does no harm, a label without an entry does.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Collection, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from ..binder.compose import compose
from ..binder.labels.records import LabelSet, SheetLabel, Strip
from ..binder.site.records import Binder
from ..errors import CallError, Where, nearest
from ..job.ledger import FILE, pressing_text
from ..job.printed import is_address, latest, stands_at
from ..job.read.values import day as day_of, likely_day
from ..job.purposes import PURPOSES
from ..job.records import Job, Printed, Says
from ..protection.examine import Report
from ..protection.tree import Tree
from ..publish.folder import finish_swap, put_in_place, refuse_strangers
from ..publish.labels.files import FOLDER, label_files
from ..publish.labels.label import measure
from ..publish.labels.words import words_on
from ..publish.theme import DEFAULT, Theme, open_theme
from . import report_of
from .check import print_check


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--date", metavar="YYYY-MM-DD", required=True, help="the day of printing")
    parser.add_argument("--only", metavar="ID", nargs="+", default=[], help="the labels of these ids alone")
    parser.add_argument("--start", metavar="N", type=int,
                        help="the first free label of a part-used sheet; default as in job.yaml")
    parser.add_argument("--out", metavar="DIR",
                        help="where to write the sheets; default output/<job id>-labels, with the ids of --only")
    parser.add_argument("--theme", metavar="NAME", default=DEFAULT, help=f"default {DEFAULT}")


def run(call: argparse.Namespace) -> int:
    report, when = report_of(call.job), day_of(call.date)
    if when is None:
        near = likely_day(call.date)
        raise CallError(f"--date {call.date} is not a date; write the day of printing as YYYY-MM-DD"
                        f"{f', such as {near}' if near else ''}.")
    if not report.ready:
        print_check(report)
        print("Nothing was printed and nothing was written: labels of a job that is not ready stay drafts.", file=sys.stderr)
        return 1
    report = _starting_at(report, call.start)
    theme = open_theme(call.theme)
    binder = compose_all(report, theme)
    ids = [id.upper() for id in call.only]
    out = Path(call.out) if call.out else Path("output") / "-".join((report.job.file.id, "labels", *ids))
    new = press(binder, theme, report.job, Path(call.job), out, when, ids)
    print(f"Labels written to {out}. " + (f"{FILE} remembers {len(new)} of them as printed on {when}." if new else
                                          f"{FILE} had them all as printed on {when}."))
    if not report.job.file.base_url:
        print("They carry no address, since `base_url` is not written.")
    print("Print them at actual size, 100 %. What is printed cannot be changed: keep the ledger with the job.")
    return 0


def compose_all(report: Report, theme: Theme, draft: bool = False) -> Binder:
    """The binder in every language of the job."""
    first, *further = report.job.file.languages
    return compose(report, theme.words(first), draft, [theme.words(language) for language in further])


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


def press(binder: Binder, theme: Theme, job: Job, folder: Path, out: Path, when: date, ids: Collection[str] = ()) -> list[Printed]:
    """Write the sheets to `out` and add to the ledger in `folder`; gives what was added. `ids`: these alone, () for all.

    The same label of the same day is added once. CallError: an id without a label, a day before that of the last
    pressing, a folder that cannot be written. LabelError: a label that cannot be printed; then nothing is written at all.
    """
    labels = only(binder.labels, ids) if ids else binder.labels
    files = {name.removeprefix(f"{FOLDER}/"): content
             for name, content in label_files(replace(binder, labels=labels), theme).items()}
    files[LIST] = (json.dumps({"job": job.file.id, "date": str(when), "files": sorted(files)}, indent=1) + "\n").encode()
    finish_swap(out, LIST)
    refuse_strangers(out, LIST)
    new = remember(job, labels, folder, when)
    put_in_place(out, files, LIST)
    return new


def remember(job: Job, labels: LabelSet, folder: Path, when: date) -> list[Printed]:
    """Add the labels to the ledger in `folder`; gives those that it did not have of this day."""
    if job.printed and when < job.printed[-1].date:
        raise CallError(f"--date {when} is before the last pressing in {FILE}, {job.printed[-1].date}; write the day of this one.")
    known = {_as_printed(label) for label in job.printed if label.date == when}
    new = [label for label in _printed(job, labels, when) if _as_printed(label) not in known]
    if new:
        _add(folder / FILE, new)
    return new


def _as_printed(label: Printed) -> tuple[object, ...]:
    return label.id, label.purpose, label.place, label.holds, label.says and label.says.words


def only(labels: LabelSet, ids: Collection[str]) -> LabelSet:
    """The labels of these ids, their places counted anew."""
    known = {label.id for label in (*labels.devices, *labels.sheet, *labels.strips)}
    for id in ids:
        if id not in known:
            near = nearest(id, known)
            raise CallError(f"{id} has no label in this job.{f' Did you mean {near}?' if near else ''}")
    sheet = [number for number, label in enumerate(labels.sheet) if label.id in ids]
    strips = [number for number, strip in enumerate(labels.strips) if strip.id in ids]
    rooms = []
    for room, sticks in labels.rooms:
        kept = tuple(replace(stick, number=(strips if stick.on_strips else sheet).index(stick.number))
                     for stick in sticks if stick.number in (strips if stick.on_strips else sheet))
        rooms += [(room, kept)] if kept else []
    return LabelSet(tuple(label for label in labels.devices if label.id in ids), tuple(labels.sheet[n] for n in sheet),
                    tuple(labels.strips[n] for n in strips), tuple(rooms))


def _printed(job: Job, labels: LabelSet, when: date) -> Iterator[Printed]:
    """Every label of the set once: those of the devices, which stand as pictures too, and those of the sheets."""
    seen: set[tuple[str, str]] = set()
    last, tree = latest(job), Tree(job)
    for label in (*labels.devices, *labels.sheet, *labels.strips):
        key = label.id, label.purpose
        if key not in seen:
            seen.add(key)
            says = _says(job, tree, label)
            before = last.get(key)
            yield Printed(*key, when, stands_at(job, label.id), _holds(job, label), Where(FILE, 1), says,
                          before.date if before else None)


def _says(job: Job, tree: Tree, label: SheetLabel | Strip) -> Says:
    """What is to be read on the label as it is printed, and what it speaks of."""
    words, holds = words_on(label), _holds(job, label) or ""
    phone = job.file.contractor.get("phone")
    before = () if label.id in job.panel else tree.feeders(label.id) if label.id in job.breaker else tree.reset_order(label.id)
    return Says(words, getattr(label, "leads_to", "") or None, before[::-1], getattr(label, "outlets", ()),
                phone if phone and (phone in words or phone in holds) else None)


def _holds(job: Job, label: SheetLabel | Strip) -> str | None:
    """The text of the code as it is printed: of an answer in words, the one that fits."""
    facts = None if PURPOSES[label.purpose].strip else measure(label, job.file.labels.dpi)
    return facts.text if facts else None


def outdated(binder: Binder, job: Job) -> list[str]:
    """A line for each label on a wall whose code says, in words, what the binder no longer says."""
    last = latest(job)
    lines = []
    for label in dict.fromkeys((*binder.labels.devices, *binder.labels.sheet)):
        before, now = last.get((label.id, label.purpose)), _holds(job, label)
        if before and before.holds and not is_address(before.holds) and before.holds != now:
            lines.append(f"{label.id}: its {label.purpose} label of {before.date} holds other words than today's. Print it again, "
                         f"and take the old one off.")
    return lines


def not_pressed(binder: Binder, job: Job, folder: str) -> list[str]:
    """A line where labels with an address or words were never printed with `press`: nothing keeps their addresses alive."""
    labels = dict.fromkeys((*binder.labels.devices, *binder.labels.sheet))
    new = {label.id for label in labels if label.code and (label.id, label.purpose) not in latest(job)}
    if not new or binder.frame.draft:
        return []
    some = f"{len(new)} labels with a code are" if len(new) > 1 else f"The label of {min(new)} is"
    return [f"{some} not in {FILE}. Print with `sitegen press {folder} --date YYYY-MM-DD`: it remembers every address that "
            f"hangs on a wall."]


def _add(path: Path, labels: list[Printed]) -> None:
    """The ledger with one more pressing behind it, put in place at once."""
    try:
        before = path.read_text("utf-8") if path.exists() else ""
        new = path.with_name(f".{path.name}.new")
        with new.open("w", encoding="utf-8", newline="\n") as file:
            file.write(before + pressing_text(before, labels))
            file.flush()
            os.fsync(file.fileno())
        os.replace(new, path)
    except OSError as error:
        raise CallError(f"the ledger {path.name} cannot be written: {error.strerror or error}; nothing was printed. "
                        f"See who may write in the job folder.") from None
