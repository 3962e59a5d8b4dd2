"""Takes the report; gives what `check` prints: the verdict, then rooms, in a room the stops first; and its JSON."""

from __future__ import annotations

import os
import shutil
import sys
import textwrap
from collections.abc import Iterator
from typing import Any

from ...protection.examine import Report
from ...protection.finding import Finding
from ...protection.maps.missing import MissingTest, missing_tests
from ...protection.rounds.report import Left
from ...protection.say import place
from .translate import told_once
from .untested import SETTLED, nothing_pressed, walk_lines


def printed_check(report: Report) -> str:
    """Whole lines and no colour when piped; for a terminal wrapped to it, in colour unless NO_COLOR is set."""
    terminal = sys.stdout.isatty()
    width = shutil.get_terminal_size().columns if terminal else None
    return check_text(report, width, terminal and not os.environ.get("NO_COLOR"))


OF_MANY_ROOMS = {"label-outdated", "label-left-over", "label-unprinted", "not-lit-again"}
NEAR, LISTED = 4, 5  # what is opened at one outlet to settle a disagreement, before rounds tell more; such outlets told one by one
PLANNED = 24         # breakers and devices: of more, to count the rounds that are left takes longer than all else that check does
LEVELS = {"stop": "STOP", "fix": "FIX ", "know": "KNOW"}


def verdict(report: Report) -> str:
    """One line: ready or not, and why."""
    stops = sum(finding.level == "stop" for finding in report.findings)
    if stops:
        return f"NOT READY: {stops} thing{'s' if stops != 1 else ''} to put right before the handover."
    devices = report.proof.devices
    proved = sum(report.proof.outlet(id) == "proved" for id in report.tree.outlets)
    return (f"READY: {len(devices)} protective device{'s' if len(devices) != 1 else ''} proved, "
            f"{proved} outlet{'s' if proved != 1 else ''} shown to be guarded against shock.")


def is_advice(finding: Finding) -> bool:
    return finding.kind.startswith("advice-")


def room_of(report: Report, finding: Finding) -> str:
    """The room a finding is listed under; what concerns many rooms stands under the job."""
    if is_advice(finding):
        return "Advice that is no rule"
    if finding.kind in OF_MANY_ROOMS:
        return "The job"
    first = finding.points[0] if finding.points else ""
    if first in report.job.point:
        return report.job.point[first].room
    if first in report.job.breaker:
        return "Breaker panel"
    return "The job"


def check_text(report: Report, width: int | None = None, colour: bool = False) -> str:
    """What a tired person reads: verdict, then rooms; in a room the stops come first.

    `width`: columns of the terminal to wrap to, None for whole lines. Colour only adds to the words.
    """
    lines = list(_lines(report))
    if width:
        lines = [piece for line in lines for piece in _wrap(line, max(40, width - 1))]
    if colour:
        lines = [_paint(line) for line in lines]
    return "\n".join(lines) + "\n"


def _wrap(line: str, width: int) -> list[str]:
    level = any(line.startswith(f"  {word} ") for word in LEVELS.values())
    indent = " " * (7 if level else len(line) - len(line.lstrip()))
    return textwrap.wrap(line, width, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False) or [""]


def _paint(line: str) -> str:
    for start, code in (("READY", "1;32"), ("NOT READY", "1;31"), ("  STOP", "1;31"), ("  FIX ", "1;33"), ("  KNOW", "1;34")):
        if line.startswith(start):
            return f"\x1b[{code}m{start}\x1b[0m{line[len(start):]}"
    return line if line.startswith(" ") or not line else f"\x1b[1m{line}\x1b[0m"


def _lines(report: Report) -> Iterator[str]:
    yield verdict(report)
    untested = nothing_pressed(report)
    if untested:
        yield from ("", *walk_lines(report))
    told = [finding for finding in report.findings if not untested or finding.kind not in SETTLED and not is_advice(finding)]
    advice = sum(map(is_advice, report.findings)) if untested else 0
    told, lacks = told_once(report, told)
    rooms: dict[str, list[Finding]] = {}
    for finding in sorted(told, key=lambda finding: (is_advice(finding), list(LEVELS).index(finding.level))):
        rooms.setdefault(room_of(report, finding), []).append(finding)
    for room, findings in rooms.items():
        yield ""
        yield room
        for finding in findings:
            yield f"  {LEVELS[finding.level]} {finding.says}"
            yield f"       {finding.where}"
    if advice:
        yield f"       Advice that is no rule ({advice}) is told from the first press on; `check --json` has it now."
    if lacks:
        yield from ("", "Other languages", *lacks)
    tests = missing_tests(report.proof)
    if tests and not untested:
        yield ""
        yield f"Still to be tested ({len(tests)} press{'es' if len(tests) != 1 else ''}):"
        yield from (f"  {_walk_line(report, test)}" for test in tests)
    if not report.ready:
        yield ""
        yield from _far(report)
        yield "Put right what says STOP, then run check again. `bind --draft` shows the binder as it stands."
    elif report.job.printed:
        yield ""
        yield ("Was anything `replaced`, `refed`, `opened`, `added` or `removed` since the last visit? Say it in visits.yaml before you test, as "
               "in `- {date: YYYY-MM-DD, done: [{replaced: K1}]}`: then check says what has to be shown again.")


def _far(report: Report) -> Iterator[str]:
    """How far the proof is, where to stand, and how many rounds are left."""
    left = Left(report.proof)
    moved = bool(report.proof.asked)     # the visit comes first: it voids what is at odds
    near = [] if moved else [stand for stand in left.stands if len(stand.contacts) <= NEAR]
    first = "Still at odds after looking again: stand" if report.evidence.in_rounds else "Stand"
    for stand in near[:LISTED]:
        yield (f"{first} at {stand.outlet} and have {', '.join(stand.contacts)} opened, one at a time: no walk, a row for each, with a "
               f"look at what it turns off itself too.")
    if len(near) > LISTED:
        yield f"The same at {', '.join(stand.outlet for stand in near[LISTED:])}: `sitegen walk JOB --rounds --missing` has them all."
    if not left.pairs:
        return
    if len(report.evidence.contacts) > PLANNED:
        more = "; the rounds that are left: `sitegen walk JOB --rounds --missing`"
    else:
        rounds, alone = len(left.plan.rounds), len(left.plan.alone)
        walks = f"{rounds} round{'s' if rounds != 1 else ''} left" + (f" and {alone} to be pressed alone" if alone else "")
        more = f"; {walks}: `sitegen walk JOB --rounds --missing`" if rounds + alone else ""
    yield f"{left.shown} of {len(left.pairs)} pairs of an outlet and what turns it off are shown{more}."


def _walk_line(report: Report, test: MissingTest) -> str:
    """One press with the places to look at, as they are walked."""
    job, spot = report.job, place(report.job, test.outlet)
    looks = [f"{id} itself" if id == test.outlet else place(job, id) for id in test.look_at]
    if test.pressed == "device":
        return f"Press TEST on {spot} and look at: {', '.join(looks)}."
    seen = " and see it dead" if looks else ""
    return f"Plug the tester in at {spot}, read it and press its button{seen}."


def check_json(report: Report) -> dict[str, Any]:
    """The object that `check --json` prints."""
    tree, proof = report.tree, report.proof
    points = {id: {"protected_by": list(tree.protected_by(id)), "proved_by": list(proof.proved_by(id)),
                   "reset_order": list(tree.reset_order(id)), "proof": proof.outlet(id)} for id in tree.order}
    devices = {id: {"protects": list(tree.protects(id)), "goes_dead": list(tree.goes_dead(id)),
                    "proof": proof.devices[id]} for id in tree.devices}
    findings = [{"kind": f.kind, "level": f.level, "where": str(f.where), "points": list(f.points), "says": f.says,
                 **({"changes": [change.as_json() for change in f.changes]} if f.changes else {})}
                for f in report.findings]
    return {"job": report.job.file.id, "ready": report.ready, "points": points, "devices": devices,
            "findings": findings, "missing_tests": [test.as_json() for test in missing_tests(proof)]}
