"""`sitegen bind`: the binder of a job, only when it is ready, or a draft that says so throughout; or those of many jobs."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ...publish.theme import DEFAULT
from .many import bind_many
from .one import bind_one


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("jobs", metavar="JOB", nargs="+", help="the job folder; of several each gets its binder")
    parser.add_argument("--out", metavar="DIR", help="where to write; default output/<job id>. Of several jobs: the folder "
                        "that holds their binders, default output, with a list of them in jobs.html")
    parser.add_argument("--draft", action="store_true", help="write it though not ready, marked DRAFT throughout")
    parser.add_argument("--theme", metavar="NAME", default=DEFAULT, help=f"default {DEFAULT}")


def run(call: argparse.Namespace) -> int:
    if len(call.jobs) > 1:
        return bind_many(call.jobs, Path(call.out or "output"), call.draft, call.theme)
    bound = bind_one(call.jobs[0], Path(call.out) if call.out else None, call.draft, call.theme)
    print(bound.said)
    if bound.code:
        print("Nothing was written.", file=sys.stderr)
    return bound.code
