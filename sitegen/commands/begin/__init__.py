"""`sitegen begin`: a new job folder that explains itself; its map from a spreadsheet of points or from another job."""

from __future__ import annotations

import argparse
from pathlib import Path

from .new import begin_job


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("dir", metavar="DIR", help="the folder to make; an empty one will do")
    parser.add_argument("--from", dest="points", metavar="FILE", help="a spreadsheet of points, saved as CSV, to make the map of")
    parser.add_argument("--like", metavar="JOB", help="a job folder whose map, firm and labels are taken, and nothing that was shown")


def run(call: argparse.Namespace) -> int:
    print(begin_job(Path(call.dir), Path(call.points) if call.points else None, Path(call.like) if call.like else None), end="")
    return 0
