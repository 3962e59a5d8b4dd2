"""The commands: check, bind, press, trace, walk, recover, begin. Reads the words of the call, runs the stages, gives the exit code."""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from .binder.check_sheet import check_json, check_text, verdict
from .binder.pages import compose
from .binder.recover_sheet import recover_json, recover_text
from .binder.trace_sheet import trace_text
from .binder.walk_sheet import walk_sheet
from .binder.words import Words
from .job import read_job
from .job.begin import begin_job
from .job.faults import CallError, SitegenError
from .job.language import in_language
from .job.ledger import FILE as LEDGER
from .job.values import day, likely_day
from .protection.examine import Report, examine
from .protection.recover import recover as recover_map
from .publish.label_list import label_report
from .publish.photos import make_photos
from .publish.press import not_pressed, outdated, press as write_labels
from .publish.site_walk import not_served, served
from .publish.theme import DEFAULT, Theme, open_theme
from .publish.walk_file import write_csv, write_html
from .publish.write import write_binder


def main(words: Sequence[str] | None = None) -> int:
    """Run one command: 0 done or ready, 1 not ready, 2 cannot be read or was called wrongly."""
    call = _parser().parse_args(words)
    try:
        return begin(call) if call.run is begin else call.run(call, examine(read_job(Path(call.job))))
    except SitegenError as error:
        print(error, file=sys.stderr)
        return error.exit_code
    except BrokenPipeError:
        sys.stderr.close()
        return 0


def check(call: argparse.Namespace, report: Report) -> int:
    missing = tuple(not_served(report.job, Path(call.site))) if call.site else ()
    report = replace(report, findings=(*report.findings, *missing))
    if call.json:
        print(json.dumps(check_json(report), indent=1, ensure_ascii=False))
    else:
        _print_check(report)
        if call.site:
            print(f"\n{served(report.job, len(missing))}")
    return 0 if report.ready else 1


def _print_check(report: Report) -> None:
    """Whole lines and no colour when piped; on a terminal wrapped to it, in colour unless NO_COLOR is set."""
    terminal = sys.stdout.isatty()
    width = shutil.get_terminal_size().columns if terminal else None
    print(check_text(report, width, terminal and not os.environ.get("NO_COLOR")), end="")


def bind(call: argparse.Namespace, report: Report) -> int:
    if not report.ready and not call.draft:
        _print_check(report)
        print("Nothing was written.", file=sys.stderr)
        return 1
    theme = open_theme(call.theme)
    binder = compose(report, theme.words(report.job.file.languages[0]), call.draft, _further(report, theme))
    out = Path(call.out) if call.out else Path("output") / report.job.file.id
    write_binder(binder, theme, out, make_photos(report.job, Path(call.job)))
    print(verdict(report))
    print(f"{'DRAFT binder' if call.draft else 'Binder'} written to {out}: {len(binder.pages)} pages, "
          f"{len(binder.labels.devices)} device labels, {len(binder.calendars)} calendar files.")
    print("\n".join((*label_report(binder), *outdated(binder, report.job), *not_pressed(binder, report.job, call.job))))
    return 0


def _further(report: Report, theme: Theme) -> list[tuple[Report, Words]]:
    """The job in each language after the first, with that language's words."""
    return [(examine(in_language(report.job, language)), theme.words(language))
            for language in report.job.file.languages[1:]]


def press(call: argparse.Namespace, report: Report) -> int:
    when = day(call.date)
    if when is None:
        near = likely_day(call.date)
        raise CallError(f"--date {call.date} is not a date; write the day of printing as YYYY-MM-DD"
                        f"{f', such as {near}' if near else ''}.")
    if not report.ready:
        _print_check(report)
        print("Nothing was printed and nothing was written: labels of a job that is not ready stay drafts.", file=sys.stderr)
        return 1
    report = _starting_at(report, call.start)
    theme = open_theme(call.theme)
    binder = compose(report, theme.words(report.job.file.languages[0]), False, _further(report, theme))
    ids = [id.upper() for id in call.only]
    out = Path(call.out) if call.out else Path("output") / "-".join((report.job.file.id, "labels", *ids))
    new = write_labels(binder, theme, report.job, Path(call.job), out, when, ids)
    print(f"Labels written to {out}. " + (f"{LEDGER} remembers {len(new)} of them as printed on {when}." if new else
                                          f"{LEDGER} had them all as printed on {when}."))
    if not report.job.file.base_url:
        print("They carry no address, since `base_url` is not written.")
    print("Print them at actual size, 100 %. What is printed cannot be changed: keep the ledger with the job.")
    return 0


def _starting_at(report: Report, start: int | None) -> Report:
    """The job with its labels from another place of a part-used sheet on."""
    file = report.job.file
    most = file.labels.columns * file.labels.rows
    if start is None:
        return report
    if not 1 <= start <= most:
        raise CallError(f"--start {start} is no place of a sheet with {most} labels; count them along the rows, from 1.")
    return replace(report, job=replace(report.job, file=replace(file, labels=replace(file.labels, start=start))))


def trace(call: argparse.Namespace, report: Report) -> int:
    words = open_theme().words(report.job.file.languages[0])
    print(trace_text(report, words, " ".join(call.words)), end="")
    return 0


def walk(call: argparse.Namespace, report: Report) -> int:
    theme = open_theme()
    words = theme.words("en")  # the sheet is for the electrician
    sheet = walk_sheet(report, words, missing=call.missing)
    if not sheet.rows:
        print("Nothing is missing: all that the walk-through has to show was shown. Nothing was written.")
        return 0
    out = Path(call.out or f"{report.job.file.id}-walk.{'csv' if call.csv else 'html'}")
    if call.csv:
        write_csv(sheet, out)
    else:
        write_html(sheet, words, theme, out)
    presses = len(sheet.presses)
    print(f"{'Rows to fill in' if call.csv else 'Walk-through sheet'} written to {out}: "
          f"{len(sheet.rows) - presses - len(sheet.handles)} readings, {presses} presses on a walk through {sheet.doorways} "
          f"doorways, {len(sheet.handles)} breaker handles.")
    return 0


def recover(call: argparse.Namespace, report: Report) -> int:
    found = recover_map(report.job)
    if call.json:
        print(json.dumps(recover_json(report.job, found), indent=1, ensure_ascii=False))
    else:
        print(recover_text(report.job, found), end="")
    return 0


def begin(call: argparse.Namespace) -> int:
    print(begin_job(Path(call.dir), Path(call.points) if call.points else None), end="")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="sitegen", description="From the as-built record of a job to its handover binder.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for run, says in ((check, "read the job, hold it against its trip tests, list what to do"),
                      (bind, "write the binder: site, labels, reminders, paper"),
                      (trace, "what to press for an outlet, nearest first")):
        command = commands.add_parser(run.__name__, help=says, description=says)
        command.add_argument("job", metavar="JOB", help="the job folder")
        command.set_defaults(run=run)
        if run is check:
            command.add_argument("--json", action="store_true", help="print one JSON object")
            command.add_argument("--site", metavar="DIR", help="a built or downloaded copy of the site: does it serve every "
                                 "address that is on a printed label?")
        elif run is bind:
            command.add_argument("--out", metavar="DIR", help="where to write; default output/<job id>")
            command.add_argument("--draft", action="store_true", help="write it though not ready, marked DRAFT throughout")
            command.add_argument("--theme", metavar="NAME", default=DEFAULT, help=f"default {DEFAULT}")
        else:
            command.add_argument("words", metavar="WORDS", nargs="+", help="the id of an outlet or device")
    command = commands.add_parser("press", help="the labels to be printed, remembered in the ledger")
    command.add_argument("job", metavar="JOB", help="the job folder")
    command.add_argument("--date", metavar="YYYY-MM-DD", required=True, help="the day of printing")
    command.add_argument("--only", metavar="ID", nargs="+", default=[], help="the labels of these ids alone")
    command.add_argument("--start", metavar="N", type=int, help="the first free label of a part-used sheet; default as in job.yaml")
    command.add_argument("--out", metavar="DIR", help="where to write the sheets; default output/<job id>-labels, with the ids of --only")
    command.add_argument("--theme", metavar="NAME", default=DEFAULT, help=f"default {DEFAULT}")
    command.set_defaults(run=press)
    command = commands.add_parser("walk", help="the sheet that the trip tests are written on")
    command.add_argument("job", metavar="JOB", help="the job folder")
    command.add_argument("--out", metavar="FILE", help="where to write; default <job id>-walk.html, or .csv, in this folder")
    command.add_argument("--missing", action="store_true", help="only what is not shown yet")
    command.add_argument("--csv", action="store_true", help="rows of trip_tests.csv to fill in, what was seen left blank")
    command.set_defaults(run=walk)
    command = commands.add_parser("recover", help="the map that the trip tests alone support")
    command.add_argument("job", metavar="JOB", help="the job folder")
    command.add_argument("--json", action="store_true", help="print one JSON object")
    command.set_defaults(run=recover)
    command = commands.add_parser("begin", help="a new job folder to fill in")
    command.add_argument("dir", metavar="DIR", help="the folder to make; an empty one will do")
    command.add_argument("--from", dest="points", metavar="FILE", help="a spreadsheet of points, saved as CSV, to make the map of")
    command.set_defaults(run=begin)
    return parser


if __name__ == "__main__":
    sys.exit(main())
