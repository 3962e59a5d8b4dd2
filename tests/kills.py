"""Calls that are ended at a random moment: `bind`, `press` and `enter` in turn, each on a job that has an old state. By hand:

    python tests/kills.py 200

After each kill the old state or the new one is whole, no row is lost, and the next call leaves the new one and nothing else.
"""

from __future__ import annotations

import csv
import io
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from house import edit, small_job

from sitegen.binder.walk.mark import mark, places_line
from sitegen.commands.enter.saved import PAGE_COLUMNS
from sitegen.job import read_job

ROW = {"date": "2026-05-20", "outlet": "K2", "pressed": "tester", "volts": "121", "wiring": "correct", "tripped": "K1",
       "went_dead": "K2", "volts_after": "0", "reset": "yes", "by": "A. Fern", "time": "09:00:00"}


@dataclass(frozen=True)
class Case:
    """A folder in its old state, the call that makes it new, and what to look at."""

    words: list[str]
    state: Callable[[], object]     # what a reader of the folder finds; raises where it is not whole


def files_below(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def _call(words: list[str]) -> list[str]:
    return [sys.executable, "-m", "sitegen", *words]


def _bind(place: Path) -> Case:
    job, out = small_job(place / "job"), place / "out" / "binder"
    subprocess.run(_call(["bind", str(job), "--out", str(out)]), check=True, capture_output=True)
    edit(job, "job.yaml", "A small kitchen", "Another title")

    def state() -> object:
        names = [out, out.with_name(".binder.new"), out.with_name(".binder.old")]
        whole = [files_below(name) for name in names if (name / "binder.json").is_file()]
        return whole[0] if out.exists() else whole[-1]      # what the next call finds
    return Case(["bind", str(job), "--out", str(out)], state)


def _press(place: Path) -> Case:
    job, out = small_job(place / "job"), place / "out" / "labels"
    subprocess.run(_call(["press", str(job), "--date", "2026-05-12", "--out", str(out), "--only", "K1"]), check=True, capture_output=True)
    return Case(["press", str(job), "--date", "2026-05-13", "--out", str(out), "--only", "K3"],
                lambda: [(label.id, label.purpose, label.date) for label in read_job(job).printed])


def saved_walk(job: Path) -> str:
    """What the walk page of a job saves: one test."""
    made_for, out = read_job(job), io.StringIO()
    writer = csv.DictWriter(out, PAGE_COLUMNS, restval="", lineterminator="\n")
    writer.writerow(ROW | {"page": mark(made_for)})
    return f"# {made_for.file.id}\n{places_line(made_for)}\n{','.join(PAGE_COLUMNS)}\n{out.getvalue()}"


def _enter(place: Path) -> Case:
    job, saved = small_job(place / "job"), place / "saved.csv"
    saved.write_text(saved_walk(job), "utf-8")
    return Case(["enter", str(job), str(saved)], lambda: [str(test) for test in read_job(job).tests])


MAKERS = (_bind, _press, _enter)


def after_a_kill(maker: Callable[[Path], Case], rng: random.Random, signalled: int = signal.SIGKILL) -> str:
    """What was wrong, or an empty text."""
    with tempfile.TemporaryDirectory() as folder:
        whole, cut = maker(Path(folder) / "whole"), maker(Path(folder) / "cut")
        old, start = cut.state(), time.time()
        subprocess.run(_call(whole.words), check=True, capture_output=True)
        new, took = whole.state(), time.time() - start
        running = subprocess.Popen(_call(cut.words), stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        time.sleep(took * rng.uniform(0.3, 1.05))
        running.send_signal(signalled)
        running.communicate()
        if cut.state() not in (old, new):
            return "neither the old state nor the new one"
        again = subprocess.run(_call(cut.words), capture_output=True, text=True)
        if again.returncode or cut.state() != new:
            return f"the next call does not mend it: {again.stdout[-300:]}{again.stderr[-300:]}"
        left = [path.name for path in Path(folder, "cut").rglob(".*") if path.suffix in (".new", ".old", ".lock")]
        return f"left {left}" if left else ""


if __name__ == "__main__":
    wrong, rng = 0, random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 0)
    for number in range(int(sys.argv[1])):
        maker = MAKERS[number % len(MAKERS)]
        said = after_a_kill(maker, rng, signal.SIGINT if number % 7 == 6 else signal.SIGKILL)
        if said:
            wrong += 1
            print(f"{number} {maker.__name__}: {said}", flush=True)
    print(f"{sys.argv[1]} kills, {wrong} wrong")
    sys.exit(wrong > 0)
