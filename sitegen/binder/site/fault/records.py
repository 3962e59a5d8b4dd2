"""What is said of finding a fault, as plain data: the command prints it and the site has it as a page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    text: str
    mark: str = "-"                # before it: "-", the number of a step, or nothing
    under: tuple[str, ...] = ()    # what each cable that is read there leads to


@dataclass(frozen=True, slots=True)
class Part:
    head: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class FaultSheet:
    title: str
    parts: tuple[Part, ...]


def bullets(lines: Iterable[str]) -> tuple[Line, ...]:
    return tuple(map(Line, lines))


def plain(lines: Iterable[str]) -> tuple[Line, ...]:
    return tuple(Line(line, "") for line in lines)


def numbered(lines: Iterable[str]) -> tuple[Line, ...]:
    return tuple(Line(line, f"{number}.") for number, line in enumerate(lines, 1))
