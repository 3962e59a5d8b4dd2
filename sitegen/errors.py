"""Everything that can be wrong: faults of a job folder with their file and line, and the errors that end a command."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Where:
    """A line of a file of the job folder, counted from 1."""

    file: str
    line: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that keeps a file from being read."""

    where: Where
    met: str        # what was met: "unknown point `K22`"
    expected: str   # what was expected: "a point or the breaker of circuit 5"
    do: str         # the next step: "write one of them, or add the point"
    near: str = ""  # the near match, if there is one: "K2"

    def __str__(self) -> str:
        near = f" Did you mean `{self.near}`?" if self.near else ""
        said = f"{self.where}: {self.met}; expected {self.expected}.{near} {self.do[:1].upper()}{self.do[1:]}."
        return plain(said.replace("\n", " "))     # of a cell that is quoted over lines: a fault is one line


# Signs that a terminal obeys, or that turn the order of what stands around them, in place of showing them.
_OBEYED = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")


def plain(text: str) -> str:
    r"""The text with every such sign written as its number.

    >>> plain("\x1b[2J K1")
    'U+001B[2J K1'
    """
    return _OBEYED.sub(lambda found: f"U+{ord(found[0]):04X}", text)


class SitegenError(Exception):
    """Base of all that the commands report; the exit code lives on the class."""

    exit_code = 2


class JobUnreadable(SitegenError):
    """The job folder cannot be read; carries every fault of every file."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(set(faults), key=lambda fault: (fault.where, fault.met)))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class CallError(SitegenError):
    """The command was called with something that cannot be used."""


class MissingWord(SitegenError):
    """The theme lacks a word, or a sentence lacks a value."""


class ThemeError(SitegenError):
    """A file of the theme cannot be used."""


class CodeTooLong(SitegenError):
    """A text that no QR code holds at level M."""


class LabelError(SitegenError):
    """A label that cannot be printed as asked."""


class CalendarError(SitegenError):
    """A value that no line of a calendar may hold."""


def nearest(word: str, known: Iterable[str], cutoff: float = 0.6) -> str:
    """The known word most like this one (difflib's ratio, at least `cutoff`), or an empty text.

    >>> nearest("receptcle", ["receptacle", "light"])
    'receptacle'
    """
    table = {name.casefold(): name for name in known}
    match = difflib.get_close_matches(word.casefold(), table, n=1, cutoff=cutoff) if table else ()
    return table[match[0]] if match else ""
