"""What a text of the job is for, marked once on the field of its record: takes a record, gives its marked fields and all its texts.

Which keys may be one text a language, which texts a further language lacks, what the privacy rule looks through: all of it
follows from these marks. A text without a mark is a word of the format (an id, a number, a name); it may stand on the site too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from functools import cache
from types import MappingProxyType
from typing import Annotated, Any, Never, get_args, get_origin, get_type_hints

from ...errors import Where
from ..kinds import Kind


class Mark(Enum):
    SAID = "what a homeowner reads: every language of the job has it"
    NOTED = "between electricians: it may be one text a language"
    APART = "never on the site: on paper, or in the job folder alone"


Said = Annotated[str, Mark.SAID]
Noted = Annotated[str, Mark.NOTED]
Apart = Annotated[str, Mark.APART]

NOTHING: Mapping[str, Never] = MappingProxyType({})     # an empty one, whatever it might hold


class Text(str):
    """A text that people read: itself in the job's first language, and in the others where they are written."""

    by_language: Mapping[str, str] = NOTHING

    @classmethod
    def of(cls, by_language: Mapping[str, str], first: str) -> Text:
        """A text written once a language; `first` is the job's first language."""
        text = cls(by_language.get(first) or next(iter(by_language.values())))
        text.by_language = MappingProxyType(dict(by_language))
        return text


@dataclass(frozen=True, slots=True)
class PublicText:
    """A text that may stand on the site."""

    owner: Any            # the record that has it, or has what has it: one with a line of its own
    field: str
    text: str
    language: str = ""    # where it is one text a language


@cache
def marks(record: type) -> Mapping[str, Mark]:
    """The marked fields of a record, in their order."""
    found = {name: _mark(hint) for name, hint in get_type_hints(record, include_extras=True).items()}
    return MappingProxyType({name: mark for name, mark in found.items() if mark})


def _mark(hint: Any) -> Mark | None:
    """Of `Said`, `Said | None`, `tuple[Said, ...]`, `Mapping[str, Said]`."""
    for part in get_args(hint):
        found = part if isinstance(part, Mark) else _mark(part)
        if found:
            return found
    return None


@cache
def holds_texts(record: type) -> tuple[str, ...]:
    """The fields of a record that are marked, or hold records with such fields."""
    hints = get_type_hints(record, include_extras=True)
    return tuple(field.name for field in fields(record) if field.init and (field.name in marks(record) or any(
        part is not record and holds_texts(part) for part in _records_in(hints[field.name]))))


def _records_in(hint: Any) -> Iterator[type]:
    if isinstance(hint, type) and is_dataclass(hint):
        yield hint
    for part in get_args(hint):
        yield from _records_in(part)


@cache
def one_text_a_language(record: type) -> frozenset[str]:
    """The fields of a record that are one text, which may be written once a language."""
    hints = get_type_hints(record, include_extras=True)
    return frozenset(name for name, mark in marks(record).items() if mark is not Mark.APART
                     and get_origin(hints[name]) not in (tuple, Mapping))


def public_texts(record: Any, outer: Any = None) -> Iterator[PublicText]:
    """Every text below a record that is not marked `Apart`.

    A field that no one thought of is public: what it holds is looked through all the same.
    """
    owner = record if hasattr(record, "where") else outer
    kind: type = type(record)
    apart = [name for name, mark in marks(kind).items() if mark is Mark.APART]
    for field in fields(record):
        value = getattr(record, field.name) if field.init and field.name not in apart else None
        if value and not isinstance(value, (int, float)):
            yield from _texts(owner, field.name, value)


def _texts(owner: Any, name: str, value: Any) -> Iterator[PublicText]:
    if isinstance(value, Text) and value.by_language:
        yield from (PublicText(owner, name, text, language) for language, text in value.by_language.items())
    elif isinstance(value, str):
        yield PublicText(owner, name, value)
    elif isinstance(value, Mapping):
        yield from (PublicText(owner, name, str(key)) for key in value)
        for part in value.values():
            yield from _texts(owner, name, part)
    elif isinstance(value, tuple):
        for part in value:
            yield from _texts(owner, name, part)
    elif is_dataclass(value) and not isinstance(value, (Where, Kind)):
        yield from public_texts(value, owner)
