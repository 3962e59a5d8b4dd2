"""`sitegen enter`: what was tapped on the walk page, into trip_tests.csv: all new rows of all files, or nothing."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from ...binder.walk.mark import changed, mark_of
from ...errors import CallError, Fault, JobUnreadable, Where
from ...job import read_job
from ...job.read.files import decode
from ...job.read.values import listed
from ...job.records import Job
from ...job.trips import FILE
from ...publish.folder import alone, replace_file
from .merged import Entered, moved, new_rows, with_rows
from .saved import AGAIN, Saved, read_saved


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("files", metavar="FILE", nargs="+", help="what the walk page saved")
    parser.add_argument("--places-checked", action="store_true",
                        help="go on though places changed since the page was made: each row still speaks of the right one")


def run(call: argparse.Namespace) -> int:
    with alone(Path(call.job) / FILE):      # from reading the tests until they are written
        return _run(call)


def _run(call: argparse.Namespace) -> int:
    folder = Path(call.job)
    faults: list[Fault] = []
    job = read_job(folder)
    files = [saved for name in dict.fromkeys(call.files) if (saved := _saved(name, job, faults))]
    read = [_rows(folder, saved, faults) for saved in files]
    new = new_rows(job.tests, read, faults) if not faults else []
    if faults:
        raise JobUnreadable(faults)
    if not new:
        print(f"Nothing new: {FILE} has {_some(sum(map(len, read)))} of {'this file' if len(files) == 1 else 'these files'} already.")
        return 0
    if not call.places_checked:
        _stop_at_changed_places(job, files)
    more = _enter(folder, job, new)
    print(f"{_some(len(new))} entered into {FILE}" + (f", {known} had been there." if (known := len(
        {row.test.where for rows in read for row in rows}) - len(new)) else "."))
    if more:
        print(f"Its header got {listed(more)}; no row that stood there was touched.")
    print(f"Next: `sitegen check {call.job}`.")
    return 0


def _saved(name: str, job: Job, faults: list[Fault]) -> Saved | None:
    """The file, where it is whole and of this job."""
    try:
        saved = read_saved(Path(name).read_bytes(), name, faults)
    except OSError as error:
        raise CallError(f"{name} cannot be opened ({error.strerror}); name a file that the walk page saved. Nothing was written.") from None
    if saved and saved.job.casefold() != job.file.id.casefold():
        faults.append(Fault(Where(name, 1), f"this was tapped for the job `{saved.job}`", f"`{job.file.id}`, as in job.yaml",
                            "enter it in the folder of that job"))
        return None
    other = next((line for line, cells in saved.cells.items() if cells["page"] != mark_of(saved.places)), None) if saved else None
    if other:
        faults.append(Fault(Where(name, other), "this row was tapped for other places than line 2 lists", "one page a file", AGAIN))
    return saved


def _rows(folder: Path, saved: Saved, faults: list[Fault]) -> list[Entered]:
    """Its rows, as the reader of trip tests takes them."""
    try:
        return [Entered(test, saved.cells[test.where.line]) for test in read_job(folder, (saved.name, saved.text)).tests]
    except JobUnreadable as unreadable:
        faults += unreadable.faults
        return []


def _stop_at_changed_places(job: Job, files: Sequence[Saved]) -> None:
    lines = []
    for saved in files:
        for id in changed(saved.places, job):
            point, breaker = job.point.get(id), job.breaker.get(id)
            now = (f"now a {point.kind.name}, {point.room}, {point.at}" if point else
                   f"now a {breaker.kind.name} breaker in space {breaker.space}" if breaker else "no longer in the map")
            lines.append(f"  {saved.name}: {id} is {now}")
    if lines:
        raise CallError("These are not what or where they were when the page was made:\n" + "\n".join(lines) + "\nSee that what was "
                        "tapped still speaks of the right ones, then enter with --places-checked. Nothing was written.")


def _enter(folder: Path, job: Job, new: Sequence[Entered]) -> tuple[str, ...]:
    """Write the file anew, at once; the columns that its header got."""
    try:
        data, more = with_rows((folder / FILE).read_bytes(), job.tests, new)
        found = read_job(folder, (FILE, decode(data, FILE, []) or "")).tests
        if spoilt := moved(job.tests, new, found):
            raise JobUnreadable([Fault(spoilt.where, "this row leaves `date` or `by` blank, and a tapped row goes in above it",
                                       "both written", "write them into this row, then enter again")])
        replace_file(folder / FILE, data)
    except OSError as error:
        raise CallError(f"{FILE} cannot be written: {error.strerror or error}; nothing was written. "
                        "See who may write in the job folder.") from None
    return more


def _some(count: int) -> str:
    return f"{count} row{'s' if count != 1 else ''}"
