"""Takes the words of one language; gives sentences with values set in, as pieces of plain, strong and tagged text.

A sentence in the words file may hold ``**strong**`` and ``{name}``. A value that is a Tag (an id) keeps its look.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from ...errors import MissingWord

_PIECES = re.compile(r"\*\*(.+?)\*\*|\{(\w+)\}")


class Tag(str):
    """An id of the contractor's, set apart from the words around it."""


class Name(Tag):
    """The id of an outlet: nothing there is to be pressed."""


@dataclass(frozen=True, slots=True)
class Piece:
    text: str
    look: str = "plain"  # plain | strong | tag | name | phone, below: links on a page


class Rich(tuple[Piece, ...]):
    """A sentence as pieces."""

    @property
    def plain(self) -> str:
        return "".join(run.text for run in self)

    def __str__(self) -> str:
        return self.plain


def in_two(one: str, two: str) -> str:
    """A text in two languages; once where they say it alike."""
    return one if one == two else f"{one}\u00a0/ {two}"


@cache
def _pieces(sentence: str) -> tuple[tuple[str, str | None, str | None], ...]:
    """Plain text, then a strong text or the name of a value; at the end plain text alone."""
    matches = list(_PIECES.finditer(sentence))
    starts = (0, *(match.end() for match in matches))
    return (*((sentence[start:match.start()], match[1], match[2]) for start, match in zip(starts, matches)),
            (sentence[starts[-1]:], None, None))


def _stops_once(pieces: list[Piece]) -> Iterator[Piece]:
    """A value that ends in a full stop brings the one of its sentence along."""
    for number, piece in enumerate(pieces):
        stops = number and piece.text.startswith(".") and pieces[number - 1].text.endswith(".")
        if text := piece.text[1:] if stops else piece.text:
            yield Piece(text, piece.look)


@dataclass(frozen=True)
class Words:
    """The words of one language, by dotted name."""

    language: str                 # "en"
    table: Mapping[str, Any]

    def get(self, name: str) -> Any:
        """Whatever stands under a dotted name: a sentence, a list, a map."""
        node: Any = self.table
        for part in name.split("."):
            if not isinstance(node, Mapping) or part not in node:
                raise MissingWord(f"the words of language `{self.language}` have no `{name}`; add it below "
                                  f"words/{self.language}/ of the theme.")
            node = node[part]
        return node

    def has(self, name: str) -> bool:
        try:
            self.get(name)
        except MissingWord:
            return False
        return True

    def rich(self, name: str, **values: object) -> Rich:
        """One sentence."""
        return self.fill(str(self.get(name)), name, values)

    def text(self, name: str, **values: object) -> str:
        """One sentence without looks."""
        return self.rich(name, **values).plain

    def many(self, name: str, **values: object) -> tuple[Rich, ...]:
        """A list of sentences."""
        return tuple(self.fill(sentence, name, values) for sentence in self.get(name))

    def fill(self, sentence: str, name: str, values: Mapping[str, object], look: str = "plain") -> Rich:
        """Set values into a sentence; markup inside a value stays text."""
        pieces: list[Piece] = []
        for before, strong, key in _pieces(sentence):
            pieces.append(Piece(before, look))
            if strong:
                pieces.extend(self.fill(strong, name, values, "strong"))
            elif not key:
                break
            elif key not in values:
                raise MissingWord(f"`{name}` of language `{self.language}` wants a value `{key}` that the page "
                                  f"does not have; mend words/{self.language}/ of the theme.")
            elif isinstance(value := values[key], Rich):
                pieces.extend(value)
            else:
                pieces.append(Piece(str(value), "name" if isinstance(value, Name) else "tag" if isinstance(value, Tag) else look))
        return Rich(_stops_once([run for run in pieces if run.text]))

    def day(self, when: date) -> str:
        """A date in words: 12 May 2026."""
        return self.text("date", day=when.day, month=self.get("months")[when.month - 1], year=when.year)

    def join(self, texts: list[str] | tuple[str, ...]) -> str:
        """A list in words."""
        return str(self.get("list_mark")).join(texts)

    def parts(self, texts: Iterable[str | None]) -> str:
        """What stands side by side on a line; blank ones left out."""
        return str(self.get("part_mark")).join(filter(None, texts))
