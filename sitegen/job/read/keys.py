"""The keys that one kind of map may have, a row each: its name, how it is read, whether it must stand, which field it fills.

Whether people read its text is marked on the record's field (texts.py). README and the starter are tested against these rows.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields
from types import MappingProxyType
from typing import Any, Protocol

from ..records.texts import Text, one_text_a_language
from .values import listed


class Entry(Protocol):
    """One map of a file, as `Fields` reads it."""

    def text(self, key: str) -> str | None: ...
    def flag(self, key: str) -> bool | None: ...
    def written(self, key: str) -> str | None: ...
    def word(self, key: str, choices: Mapping[str, Any]) -> Any: ...
    def number(self, key: str, unit: str, most: float, above_zero: bool = False) -> float | None: ...


Reader = Callable[[Any, str], Any]    # the entry, as `Entry` says or richer, and the key; gives its value


@dataclass(frozen=True, slots=True)
class Key:
    """One key, or one column of a file of rows."""

    name: str                   # as people write it
    read: Reader | None = None  # gives its value; None: the module of its map reads it, together with others
    must: bool = False
    into: str | None = ""       # the field that it fills, "" for one of its own name; None: it is checked and not kept


class Keys:
    """The table of one kind of map."""

    def __init__(self, of: str, record: type | None, *rows: Key, texts: bool = False, free: bool = False) -> None:
        """`of`: as a fault names the map, "this point". `record`: what it is read into; None where it has none of its own.
        `texts`: every value is a text that people read. `free`: that, and other keys are kept as they are written."""
        self.of = of
        self.rows = rows
        self.free = free
        self.required = tuple(row.name for row in rows if row.must)
        self.known = self.required + tuple(row.name for row in rows if not row.must)
        said = one_text_a_language(record) if record else frozenset()
        # Such a text may run on after a comma, and may be one text a language.
        self.texts = frozenset(row.name for row in rows if texts or free or (row.into or row.name) in said)
        self._has_default = {field.name for field in fields(record) if (field.default, field.default_factory)
                             != (MISSING, MISSING)} if record else set()

    @property
    def wanted(self) -> str:
        """What an entry without any is told to have: all that must stand, else one of those that there are."""
        return listed(self.required) if self.required else listed(self.known, "or")

    def read_by_people(self, key: str) -> bool:
        return self.free or key in self.texts

    def values(self, entry: Entry) -> dict[str, Any]:
        """What stands at every key that has a reader, by the fields it fills; a blank one leaves the field's default."""
        read = {row: row.read(entry, row.name) for row in self.rows if row.read}
        return {row.into or row.name: value for row, value in read.items()
                if row.into is not None and not (value is None and (row.into or row.name) in self._has_default)}


def text(entry: Entry, key: str) -> str | None:
    return entry.text(key)


def value(entry: Entry, key: str) -> str | None:
    """A place or a thing, which is set into sentences: without a full stop of its own."""
    said = entry.text(key)
    if not isinstance(said, Text):
        return said and _unstopped(said)
    bare = Text(_unstopped(said))
    bare.by_language = MappingProxyType({language: _unstopped(one) for language, one in said.by_language.items()})
    return bare


def _unstopped(text: str) -> str:
    return text if text.endswith("..") else text.removesuffix(".")


def small(entry: Entry, key: str) -> str | None:
    """A word for the tool, in small letters."""
    return (entry.text(key) or "").casefold() or None


def flag(entry: Entry, key: str) -> bool | None:
    return entry.flag(key)


def written(entry: Entry, key: str) -> str | None:
    return entry.written(key)


def word(choices: Mapping[str, Any]) -> Reader:
    return lambda entry, key: entry.word(key, choices)


def number(unit: str, most: float, above_zero: bool = False) -> Reader:
    return lambda entry, key: entry.number(key, unit, most, above_zero)
