"""Takes a job and a language; gives the job with every text in that language, and says which texts lack it.

Which texts those are stands as marks on the records (texts.py); a page of notes is written whole in each language.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, is_dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeVar

from ..errors import Where
from .records import Job, JobFile
from .records.texts import Mark, Text, holds_texts, marks

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

T = TypeVar("T", bound="DataclassInstance")


@dataclass(frozen=True, slots=True)
class Untranslated:
    """A thing with texts that a language of the job lacks."""

    id: str                  # of the panel or point; the number of a circuit; the name of a note, room or file; the line of a visit
    what: str                # jobfile | panel | circuit | point | removed | note | roomplan
    keys: tuple[str, ...]
    language: str
    where: Where
    texts: tuple[str, ...] = ()     # in the first language; () of a note


def in_language(job: Job, language: str) -> Job:
    """Every text in one language. A text that lacks it keeps the first language's words, marked with that language."""
    first = job.file.languages[0]
    if language == first:
        return job
    notes = tuple(note.others.get(language) or replace(note, title=f"{note.title} [{first}]", language=first)
                  for note in job.notes)
    return replace(retold(job, lambda text, mark: _said(text, mark, language, first)), notes=notes)


Say = Callable[[str, Mark], str]     # a marked text as it shall be told


def retold(record: T, say: Say) -> T:
    """A record with its marked texts, and those of the records in it, told another way."""
    kind: type = type(record)
    found = marks(kind)
    values = {name: getattr(record, name) for name in holds_texts(kind)}
    told = {name: _value(value, found.get(name), say) for name, value in values.items()}
    changed = {name: value for name, value in told.items() if value is not values[name]}
    return replace(record, **changed) if changed else record


def _value(value: Any, mark: Mark | None, say: Say) -> Any:
    if isinstance(value, str):
        return say(value, mark) if mark else value
    if isinstance(value, tuple):
        return tuple(_value(part, mark, say) for part in value)
    if isinstance(value, Mapping):
        return MappingProxyType({key: _value(part, mark, say) for key, part in value.items()})
    return retold(value, say) if is_dataclass(value) and not isinstance(value, type) else value


def _said(text: str, mark: Mark, language: str, first: str) -> str:
    if has(text, language):
        return text.by_language[language] if isinstance(text, Text) else text
    return f"{text} [{first}]" if mark is Mark.SAID else text


def has(text: str, language: str) -> bool:
    """True where the text is written in this language. One without letters is the same in all."""
    if isinstance(text, Text):
        return language in text.by_language
    return not any(letter.isalpha() for letter in text)


def untranslated(job: Job) -> Iterator[Untranslated]:
    """Everything that a further language of the job lacks, in the order of the records."""
    for language in job.file.languages[1:]:
        yield from _lacking(job.file, job.file.where.file, "jobfile", language)
        for name in holds_texts(Job):
            for record in getattr(job, name) if name != "file" else ():
                id = next((getattr(record, key) for key in ("number", "id", "room") if hasattr(record, key)), str(record.where))
                yield from _lacking(record, id, type(record).__name__.casefold(), language)
        for note in job.notes:
            if language not in note.others:
                yield Untranslated(note.name, "note", (), language, note.where)


def _lacking(record: Any, id: str, what: str, language: str) -> Iterator[Untranslated]:
    """What a record lacks, and what the records in it do."""
    kind: type = type(record)
    said = [name for name, mark in marks(kind).items() if mark is Mark.SAID]
    lacks = tuple(name for name in said if (text := getattr(record, name)) and not has(text, language))
    if lacks:
        texts = (getattr(record, name) for name in lacks)
        where = record.line_of(*lacks) if isinstance(record, JobFile) else record.where
        yield Untranslated(id, what, lacks, language, where, tuple(text for text in texts if isinstance(text, str)))
    for name in holds_texts(kind):
        value = getattr(record, name)
        for part in value if isinstance(value, tuple) else (value,):
            if is_dataclass(part):
                yield from _lacking(part, id, what, language)
