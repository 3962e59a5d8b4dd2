"""Many job folders in; each binder written by itself on all cores, a line a job, and a list of them beside the binders."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path

from ...errors import SitegenError
from ...job.job_file import FILE, read_job_file
from ...job.read.files import text_of
from ...publish.theme import open_theme
from .listed import JobRow, write_jobs
from .one import Bound, bind_one

LIST = "jobs.html"
_TASKS = 20     # jobs a worker binds before all are ended and new ones begun: what they have kept by then goes away with them
STATES = ("READY", "NOT READY", "CANNOT BE BOUND")


def bind_many(given: Sequence[str], out: Path, draft: bool, theme: str) -> int:
    """The exit code of the worst. One that fails stops no other."""
    folders = list({Path(folder).resolve(): folder for folder in given}.values())
    taken = _taken(folders)
    done: list[tuple[str, Bound]] = []
    share = _cores() * _TASKS     # a pool a share: one that renews its workers itself stands still in Python 3.11 (seen)
    for some in (folders[start:start + share] for start in range(0, len(folders), share)):
        pool = ProcessPoolExecutor(min(_cores(), len(some)), get_context("spawn"))
        try:
            waiting = {folder: pool.submit(_bound, folder, out, draft, theme) for folder in some if folder not in taken}
            for folder in some:
                done.append((folder, taken[folder] if folder in taken else _result(waiting[folder], folder)))
                _tell(done, len(folders))
        finally:
            pool.shutdown(cancel_futures=True)
    if sys.stderr.isatty():
        print(file=sys.stderr)
    write_jobs([_row(folder, bound) for folder, bound in done], open_theme(theme), out / LIST)
    counts = [sum(_state(bound) == state for _, bound in done) for state in range(len(STATES))]
    print(f"{len(done)} jobs: " + ", ".join(f"{count} {state.lower()}" for state, count in zip(STATES, counts)) + f". The list is {out / LIST}.")
    return max(bound.code for _, bound in done)


def _cores() -> int:
    """What this process may use; Windows and macOS do not say."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _bound(folder: str, out: Path, draft: bool, theme: str) -> Bound:
    """In a worker: what became of one job, whatever it was."""
    try:
        file = read_job_file(text_of(Path(folder), FILE, []) or "", [])
        return bind_one(folder, out / (file.id if file else ""), draft, theme)
    except (SitegenError, OSError, MemoryError) as error:
        return _failed(folder, str(error) or type(error).__name__)


def _result(future: Future[Bound], folder: str) -> Bound:
    try:
        return future.result()
    except BrokenProcessPool:
        return _failed(folder, "its process was ended from outside; bind it by itself.")


def _failed(folder: str, why: str) -> Bound:
    return Bound(Path(folder).name, "", 2, why, tuple(why.splitlines()), Path())


def _taken(folders: Sequence[str]) -> dict[str, Bound]:
    """The folders whose job has the id of one before it: both would be written to one place."""
    first: dict[str, str] = {}
    taken: dict[str, Bound] = {}
    for folder in folders:
        file = read_job_file(text_of(Path(folder), FILE, []) or "", [])
        before = first.setdefault(file.id.casefold(), folder) if file and file.id else folder
        if before != folder:
            taken[folder] = _failed(folder, f"{FILE}:1: the id `{file.id if file else ''}` is that of {before}, which is bound in this "
                                            "call; expected an id of its own. Give one of the two another.")
    return taken


def _state(bound: Bound) -> int:
    return 2 if bound.code == 2 else 1 if bound.stops else 0


def _tell(done: Sequence[tuple[str, Bound]], all: int) -> None:
    """On a terminal one line that is written over; else a line a job. What cannot be read is told in full either way."""
    folder, bound = done[-1]
    told = "\n".join(_lines(folder, bound))
    if not sys.stderr.isatty():
        print(told, flush=True)
        return
    if bound.code == 2:
        print(f"\r\x1b[K{told}", file=sys.stderr)
    wrong = sum(_state(bound) > 0 for _, bound in done)
    print(f"\r\x1b[K{len(done)} of {all} jobs, {wrong} not ready", end="", file=sys.stderr, flush=True)


def _lines(folder: str, bound: Bound) -> Iterator[str]:
    state = STATES[_state(bound)]
    if bound.code == 2:
        yield f"{state} {folder}:"
        yield from (f"  {line}" for line in bound.said.splitlines())
    elif bound.stops:
        yield f"{state} {folder}: {len(bound.stops)} thing{'s' * (len(bound.stops) > 1)} to put right; `sitegen check {folder}`"
    else:
        yield f"{state} {folder}: {bound.out}"


def _row(folder: str, bound: Bound) -> JobRow:
    written = bound.code == 0
    return JobRow(bound.id, bound.title, folder, _state(bound) == 0, STATES[_state(bound)], bound.stops, f"{bound.out.name}/site/index.html" if written else "")
