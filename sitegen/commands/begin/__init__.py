"""`sitegen begin`: a new job folder that explains itself; its map from a spreadsheet of points or from another job; or the
rough-in page, on which such a spreadsheet is tapped."""

from __future__ import annotations

import argparse
from pathlib import Path

from ...errors import CallError
from .new import begin_job, job_name, refuse_full


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("dir", metavar="DIR", help="the folder to make; an empty one will do")
    parser.add_argument("--from", dest="points", metavar="FILE", help="a spreadsheet of points, saved as CSV, to make the map of")
    parser.add_argument("--like", metavar="JOB", help="a job folder whose map, firm and labels are taken, and nothing that was shown")
    parser.add_argument("--page", metavar="FILE", help="write the rough-in page to FILE and make no folder yet: a first map by taps, on a phone")


def run(call: argparse.Namespace) -> int:
    if call.page:
        return _page(call)
    print(begin_job(Path(call.dir), Path(call.points) if call.points else None, Path(call.like) if call.like else None), end="")
    return 0


def _page(call: argparse.Namespace) -> int:
    if call.points or call.like:
        raise CallError("--page writes the page on which a map is tapped; --from and --like make the folder. Give one of them.")
    from ...publish.theme import open_theme
    from .page import write_page

    refuse_full(Path(call.dir))
    name = job_name(Path(call.dir))
    write_page(name, open_theme(), Path(call.page))
    print(f"Rough-in page written to {call.page}. Put it on the phone, tap the map, and save its file, {name}-points.csv. Then:\n"
          f"  sitegen begin {call.dir} --from {name}-points.csv")
    return 0
