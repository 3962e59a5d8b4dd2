"""`sitegen begin`: a new job folder that explains itself; its map from a spreadsheet of points, if there is one."""

from __future__ import annotations

import argparse
from pathlib import Path

from .new import begin_job


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("dir", metavar="DIR", help="the folder to make; an empty one will do")
    parser.add_argument("--from", dest="points", metavar="FILE", help="a spreadsheet of points, saved as CSV, to make the map of")


def run(call: argparse.Namespace) -> int:
    print(begin_job(Path(call.dir), Path(call.points) if call.points else None), end="")
    return 0
