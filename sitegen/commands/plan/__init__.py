"""`sitegen plan`: before trim-out, where the fewest and cheapest devices go, and what is made up on LINE and on LOAD."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from ...errors import CallError, nearest
from ...job import read_job
from ...job.map.read import FILE
from ...job.map.rewrite import rewrite
from ...job.read.files import text_of
from ...job.records import Job
from ...protection.evidence import Evidence
from ...protection.plan import CircuitPlan, needed, plan
from ...protection.plan.made_up import made_up
from ...protection.proof import Proof
from ...protection.rules.code.judge import needs_by_book
from ...protection.tree import Tree
from .sheet import plan_json, plan_text


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--circuit", metavar="N", help="this circuit alone, by its number; default every one with a need")
    parser.add_argument("--most", metavar="N", type=int, help="no new device turns off more outlets than this")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--out", metavar="FILE", help="write the map with the devices in it; a file that is not there yet")


def run(call: argparse.Namespace) -> int:
    if call.most is not None and call.most < 1:
        raise CallError(f"--most {call.most} leaves no outlet; write a number from 1.")
    if call.out and Path(call.out).exists():
        raise CallError(f"{call.out} is there already and was left alone; name a new file.")
    job = read_job(Path(call.job))
    tree = Tree(job)
    every = plan(tree, needed(tree) | needs_by_book(Proof(Evidence(tree))), call.most)
    plans = _asked(job, every, call.circuit) if call.circuit else tuple(found for found in every if found.needs)
    if call.json:
        print(json.dumps(plan_json(job, plans), indent=1, ensure_ascii=False))
    else:
        print(plan_text(job, plans), end="")
    can = all(found.plan for found in plans)
    if call.out:
        told = _written(job, plans, call) if can else "No map was written."
        print(f"\n{told}", file=sys.stderr if call.json else sys.stdout)
    return 0 if can else 1


def _asked(job: Job, plans: tuple[CircuitPlan, ...], number: str) -> tuple[CircuitPlan, ...]:
    """The plans of a circuit: by its number, in every panel; by panel and number as in P1-5."""
    wanted = number.strip().casefold()
    found = tuple(one for one in plans if any(wanted in (c.number.casefold(), c.key.casefold()) for c in one.circuits))
    if not found:
        known = [circuit.number for one in plans for circuit in one.circuits]
        near = nearest(number, known)
        raise CallError(f"no circuit `{number}` with points in job `{job.file.id}`."
                        + (f" Did you mean `{near}`?" if near else "") + " Write its number as the map does.")
    return found


def _written(job: Job, plans: tuple[CircuitPlan, ...], call: argparse.Namespace) -> str:
    changes, out = made_up(job, plans), Path(call.out)
    text = text_of(Path(call.job), FILE, []) or ""
    try:
        with out.open("x", encoding="utf-8", newline="\n") as file:
            file.write(rewrite(text, changes))
    except OSError as error:
        raise CallError(f"{out} cannot be written ({error.strerror}); name another file.") from None
    new = "".join(f" {point.id} is the new faceless GFCI {point.at}." for point in changes.new_points)
    return (f"The map with these devices is written to {out}; comments and all else stand as they were.{new} When the devices "
            f"are in, put it in place of {FILE}, and test.")
