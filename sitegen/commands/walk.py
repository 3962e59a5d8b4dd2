"""`sitegen walk`: the sheet that the trip tests of the walk-through are written on."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from ..binder.desk import Desk
from ..binder.walk.phone import walk_data
from ..binder.walk.rounds import rounds_json
from ..binder.walk.sheet import WalkSheet, walk_sheet, walking_order
from ..binder.walking import doorways
from ..errors import CallError
from ..protection.rounds.report import Left
from ..publish.theme import open_theme
from ..publish.walk_file import write_csv, write_html, write_page
from . import report_of


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("--out", metavar="FILE", help="where to write; default <job id>-walk.html, or .csv, or "
                        "<job id>-walk-page.html, in this folder")
    parser.add_argument("--page", action="store_true", help="a page for the phone, on which the tests are entered by taps: those still missing")
    parser.add_argument("--all", action="store_true", help="with --page: every test")
    parser.add_argument("--missing", action="store_true", help="only what is not shown yet")
    parser.add_argument("--rounds", action="store_true", help="several devices and breakers open in one walk: the fewest walks")
    parser.add_argument("--double", action="store_true", help="with --rounds: two rounds behind each claim, so that one wrong look "
                        "cannot stay hidden")
    parser.add_argument("--csv", action="store_true", help="rows of trip_tests.csv to fill in, what was seen left blank")
    parser.add_argument("--json", action="store_true", help="with --rounds: print the plan as one JSON object")


def run(call: argparse.Namespace) -> int:
    _refuse_what_does_not_go_together(call)
    call.missing |= call.page and not call.all
    report, theme = report_of(call.job), open_theme()
    desk = Desk(report, theme.words("en"))  # the sheet is for the electrician
    left = Left(report.proof, 2 if call.double else 1)
    if call.json:
        made = left.plan if call.missing else left.whole
        print(json.dumps(rounds_json(made, walking_order(desk, made.look, doorways(desk.job))), indent=1))
        return 0
    sheet = walk_sheet(desk, call.missing, left if call.rounds else None)
    if not sheet.rows:
        print("Nothing is missing: all that the walk-through has to show was shown. Nothing was written.")
        return 0
    out = Path(call.out or f"{report.job.file.id}-walk{'-page' if call.page else ''}.{'csv' if call.csv else 'html'}")
    if call.page:
        data = walk_data(desk, sheet)
        write_page(data, desk.words, theme, out)
        print(f"Page for the phone written to {out}: {_some(len(data['tests']), 'test')}. What it saves there: `sitegen enter {call.job} FILE`.")
    elif call.csv:
        write_csv(sheet, out)
    else:
        write_html(sheet, desk.words, theme, out)
    if not call.page:
        print(f"{'Rows to fill in' if call.csv else 'Walk-through sheet'} written to {out}: {_told(sheet)}")
    walks = sum(press.pressed != "tester" for press in sheet.presses) + len(sheet.handles) + len(sheet.rounds)
    if not call.rounds and 0 < (made := left.plan if call.missing else left.whole).walks < walks:
        print(f"In rounds, several open at once, it takes {made.walks} walks in place of {walks}: "
              f"`sitegen walk {call.job} --rounds{_asked(call)}`.")
    return 0


def _refuse_what_does_not_go_together(call: argparse.Namespace) -> None:
    if (call.double or call.json) and not call.rounds:
        raise CallError(f"{'--double' if call.double else '--json'} belongs to --rounds; add it.")
    if call.csv and call.json:
        raise CallError("--csv and --json are two ways to write one plan; leave one of them out.")
    if call.all and not call.page:
        raise CallError("--all belongs to --page; the sheet has every test unless --missing is given.")
    if call.page and (call.csv or call.json or call.all and call.missing):
        raise CallError("--page is one file with the tests still missing, or with --all every test; leave the other option out.")


def _asked(call: argparse.Namespace) -> str:
    """The options of this call that a call with --rounds keeps."""
    return f" --page{' --all' * call.all}" if call.page else " --missing" * call.missing


def _told(sheet: WalkSheet) -> str:
    """What is on the sheet, counted."""
    presses, handles = sheet.presses, sheet.handles
    readings = len(sheet.rows) - len(presses) - len(handles) - len(sheet.rounds) - len(sheet.again) - bool(sheet.last)
    again = f"{_some(len(sheet.again), 'round')} to look at again, " if sheet.again else ""
    if not sheet.rounds:
        return (f"{again}{_some(readings, 'reading')}, {_some(len(presses), 'press', 'es')} on a walk through "
                f"{_some(sheet.doorways, 'doorway')}, {_some(len(handles), 'breaker handle')}.")
    tests, off = sum(len(one.tests) for one in sheet.rounds), sum(len(one.handles) for one in sheet.rounds)
    looks = sum(len(found) for rooms in (*(one.rooms for one in sheet.rounds), sheet.last) for _, found in rooms)
    last = " and a last walk with all on" if sheet.last else ""
    testers = sum(press.pressed == "tester" for press in presses)
    alone = len(presses) - testers + len(handles)
    return (f"{again}{_some(readings, 'reading')}; {_some(len(sheet.rounds), 'round')}{last}, with "
            f"{_some(tests, 'own-TEST press', 'es')}, {_some(off, 'handle')} and {_some(looks, 'look')}; "
            f"{_some(testers, 'tester press', 'es')}{f'; {alone} to be opened alone' if alone else ''}.")


def _some(count: int, name: str, more: str = "s") -> str:
    return f"{count} {name}{more if count != 1 else ''}"
