"""The table of commands. Takes the words of the call, imports the command that is asked for, gives its exit code."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout
from importlib import import_module
from typing import Any, TextIO, cast

from .errors import SitegenError, plain

COMMANDS = {
    "check": "read the job, hold it against its trip tests, list what to do",
    "bind": "write the binder: site, labels, reminders, paper",
    "trace": "what to press for an outlet, nearest first",
    "press": "the labels to be printed, remembered in the ledger",
    "walk": "the sheet that the trip tests are written on",
    "enter": "what was tapped on the walk page, into the trip tests",
    "recover": "the map that the trip tests alone support",
    "isolate": "for the technician: the boxes to open, in the order that finds a fault soonest, and what readings mean",
    "plan": "before trim-out: where the fewest and cheapest devices go, and what is made up on LINE and LOAD",
    "begin": "a new job folder to fill in",
    "compare": "what differs between two jobs, or two binders",
}


class _Plain:
    """A stream that people read: what a terminal would obey is shown in place of it."""

    def __init__(self, stream: TextIO) -> None:
        self.stream = stream

    def write(self, text: str) -> int:
        return self.stream.write(plain(text))

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
    for name, says in COMMANDS.items():
        command = parsers.add_parser(name, help=says, description=says)
        if words and words[0] == name:
            module = import_module(f".commands.{name}", __package__)
            module.options(command)
    call = parser.parse_args(words)
    try:
        return module.run(call)
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
        print("Stopped. What stood before stands as it was.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
