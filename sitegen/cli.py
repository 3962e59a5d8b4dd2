"""The table of commands. Takes the words of the call, imports the command that is asked for, gives its exit code."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout
from importlib import import_module
from typing import Any, TextIO, cast

from .errors import SitegenError, plain

COMMANDS = {
    "check": ("read the job, hold it against its trip tests, list what to do", "elm-7"),
    "bind": ("write the binder: site, labels, reminders, paper", "elm-7 --draft"),
    "trace": ("what to press for an outlet, nearest first", "elm-7 garage freezer"),
    "press": ("the labels to be printed, remembered in the ledger", "elm-7 --date 2026-05-12 --only K1 K3"),
    "walk": ("the sheet that the trip tests are written on", "elm-7 --rounds"),
    "enter": ("what was tapped on the walk page, into the trip tests", "elm-7 elm-7-walk.csv"),
    "recover": ("the map that the trip tests alone support", "elm-7"),
    "isolate": ("for the technician: the boxes to open, in the order that finds a fault soonest, and what readings mean",
                "elm-7 K1 --symptom trips"),
    "plan": ("before trim-out: where the fewest and cheapest devices go, and what is made up on LINE and LOAD", "elm-7 --circuit 5"),
    "begin": ("a new job folder to fill in", "elm-7 --from points.csv"),
    "compare": ("what differs between two jobs, or two binders", "elm-7 elm-8"),
}     # what it does, and an example


_OURS = re.compile(r"(\x1b\[(?:0|1|1;3[124])m|\r\x1b\[K)")     # the colours of `check`, the line of `bind` that is written over


class _Plain:
    """A stream that people read: what a terminal would obey, but for our own, is shown in place of it."""

    def __init__(self, stream: TextIO) -> None:
        self.stream = stream

    def write(self, text: str) -> int:
        return self.stream.write("".join(piece if _OURS.fullmatch(piece) else plain(piece) for piece in _OURS.split(text)))

    def __getattr__(self, name: str) -> Any:
        return getattr(self.stream, name)


def main(words: Sequence[str] | None = None) -> int:
    """Run one command: 0 done or ready, 1 not ready, 2 cannot be read or was called wrongly."""
    with redirect_stdout(cast(TextIO, _Plain(sys.stdout))), redirect_stderr(cast(TextIO, _Plain(sys.stderr))):
        return _run(words)


def _run(words: Sequence[str] | None) -> int:
    words = sys.argv[1:] if words is None else words
    parser = argparse.ArgumentParser(prog="sitegen", description="From the as-built record of a job to its handover binder.")
    parsers = parser.add_subparsers(required=True, metavar="COMMAND")
    for name, (says, example) in COMMANDS.items():
        command = parsers.add_parser(name, help=says, description=says, epilog=f"example: sitegen {name} {example}")
        if words and words[0] == name:
            module = import_module(f".commands.{name}", __package__)
            module.options(command)
    call = parser.parse_args(words)
    try:
        code: int = module.run(call)
        return code
    except SitegenError as error:
        print(error, file=sys.stderr)
        return error.exit_code
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except OSError as error:    # of a file that no command looks after
        print(f"{error.filename or 'a file'}: {error.strerror or error}; see whether it is there and who may use it.", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("Stopped. What was being written stands as it was before.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
