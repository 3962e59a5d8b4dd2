"""The commands: `check`, `bind`, `trace`. Reads the words of the call, runs the four stages, gives the exit code."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from .binder.check_sheet import check_json, check_text, verdict
from .binder.pages import compose
from .binder.trace_sheet import trace_text
from .job import read_job
from .job.faults import SitegenError
from .protection.examine import Report, examine
from .publish.theme import DEFAULT, open_theme
from .publish.write import write_binder


def main(words: Sequence[str] | None = None) -> int:
    """Run one command: 0 done or ready, 1 not ready, 2 cannot be read or was called wrongly."""
    call = _parser().parse_args(words)
    try:
        return call.run(call, examine(read_job(Path(call.job))))
    except SitegenError as error:
        print(error, file=sys.stderr)
        return error.exit_code
    except BrokenPipeError:
        sys.stderr.close()
        return 0


def check(call: argparse.Namespace, report: Report) -> int:
    if call.json:
        print(json.dumps(check_json(report), indent=1, ensure_ascii=False))
    else:
        print(check_text(report), end="")
    return 0 if report.ready else 1


def bind(call: argparse.Namespace, report: Report) -> int:
    if not report.ready and not call.draft:
        print(check_text(report), end="")
        print("Nothing was written.", file=sys.stderr)
        return 1
    theme = open_theme(call.theme)
    binder = compose(report, theme.words(report.job.file.languages[0]), draft=call.draft)
    out = Path(call.out) if call.out else Path("output") / report.job.file.id
    write_binder(binder, theme, out)
    print(verdict(report))
    print(f"{'DRAFT binder' if call.draft else 'Binder'} written to {out}: {len(binder.pages)} pages, "
          f"{len(binder.labels)} labels, {len(binder.calendars)} calendar files.")
    return 0


def trace(call: argparse.Namespace, report: Report) -> int:
    words = open_theme().words(report.job.file.languages[0])
    print(trace_text(report, words, " ".join(call.words)), end="")
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
        elif run is bind:
            command.add_argument("--out", metavar="DIR", help="where to write; default output/<job id>")
            command.add_argument("--draft", action="store_true", help="write it though not ready, marked DRAFT throughout")
            command.add_argument("--theme", metavar="NAME", default=DEFAULT, help=f"default {DEFAULT}")
        else:
            command.add_argument("words", metavar="WORDS", nargs="+", help="the id of an outlet or device")
    return parser


if __name__ == "__main__":
    sys.exit(main())
