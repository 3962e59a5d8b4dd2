"""The commands, one file each: its options, what it does, and the words it prints. `cli.py` imports one when it is called.

Every file has `options(parser)` and `run(call)`, which gives the exit code.
"""

from __future__ import annotations

from pathlib import Path

from ..job import read_job
from ..protection.examine import Report, examine


def report_of(folder: str) -> Report:
    """The job folder read and examined."""
    return examine(read_job(Path(folder)))
