"""The commands, one file each: its options, what it does, and the words it prints. `cli.py` imports one when it is called.

Every file has `options(parser)` and `run(call)`, which gives the exit code.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from pathlib import Path

from ..job import read_job
from ..protection.examine import Report, examine

COLUMNS = 100


def report_of(folder: str) -> Report:
    """The job folder read and examined."""
    return examine(read_job(Path(folder)))


def wrapped(lines: Iterable[str]) -> str:
    """Every line broken at blanks, but not inside the words of a command; what follows a break stands further in."""
    return "\n".join(piece for line in lines for piece in _pieces(line)) + "\n"


def _pieces(line: str) -> list[str]:
    blanks = len(line) - len(line.lstrip())
    pieces = textwrap.wrap(line.replace("`sitegen ", "`sitegen\u00a0"), COLUMNS, break_long_words=False, break_on_hyphens=False,
                           subsequent_indent=" " * (blanks + 2 if blanks else 0))
    return [piece.replace("\u00a0", " ") for piece in pieces] or [""]
