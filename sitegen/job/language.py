"""Takes a job and a language; gives the job with every text in that language, and says which texts lack it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from ..errors import Where
from .records import Circuit, Door, Job, Panel, Point, Removed, Run, Text, Thing

# The texts that a homeowner reads; notes and the punch list are between electricians.
PANEL = ("at",)
CIRCUIT = ("serves",)
POINT = ("room", "at", "use", "looks", "height", "behind", "not_proved", "label_at")
# What a drawing says; the room itself is named by its points.
DOOR, NAMED = ("leads_to",), ("name",)
REMOVED = ("note",)

T = TypeVar("T", Panel, Circuit, Point, Removed, Door, Thing, Run)


@dataclass(frozen=True, slots=True)
class Untranslated:
    """A thing with texts that a language of the job lacks."""

    id: str                  # of the panel or point; the number of a circuit, the name of a note or room
    what: str                # panel | circuit | point | removed | note | room
    keys: tuple[str, ...]
    language: str
    where: Where


def in_language(job: Job, language: str) -> Job:
    """Every text in one language. A text that lacks it keeps the first language's words, marked with that language."""
    first = job.file.languages[0]
    if language == first:
        return job

    def said(record: T, keys: tuple[str, ...]) -> T:
        return replace(record, **{key: _in(getattr(record, key), language, first) for key in keys})

    return replace(job, file=replace(job.file, title=_in(job.file.title, language, first) or job.file.title),
                   panels=tuple(said(panel, PANEL) for panel in job.panels),
                   circuits=tuple(said(circuit, CIRCUIT) for circuit in job.circuits),
                   points=tuple(said(point, POINT) for point in job.points),
                   notes=tuple(note.others.get(language) or replace(note, title=f"{note.title} [{first}]", language=first)
                               for note in job.notes),
                   removed=tuple(said(gone, REMOVED) for gone in job.removed),
                   rooms=tuple(replace(plan, doors=tuple(said(door, DOOR) for door in plan.doors),
                                       things=tuple(said(thing, NAMED) for thing in plan.things),
                                       runs=tuple(said(run, NAMED) for run in plan.runs)) for plan in job.rooms))


def _in(text: str | None, language: str, first: str) -> str | None:
    if text is None:
        return None
    if has(text, language):
        return text.by_language[language] if isinstance(text, Text) else text
    return f"{text} [{first}]"


def has(text: str, language: str) -> bool:
    """True where the text is written in this language. One without letters is the same in all."""
    if isinstance(text, Text):
        return language in text.by_language
    return not any(letter.isalpha() for letter in text)


def untranslated(job: Job) -> Iterator[Untranslated]:
    """Everything that a further language of the job lacks, in file order, the drawings last."""
    for language in job.file.languages[1:]:
        for what, records, keys in (("panel", job.panels, PANEL), ("circuit", job.circuits, CIRCUIT),
                                    ("point", job.points, POINT), ("removed", job.removed, REMOVED)):
            for record in records:
                lacks = tuple(key for key in keys if (text := getattr(record, key)) and not has(text, language))
                if lacks:
                    id = record.number if isinstance(record, Circuit) else record.id
                    yield Untranslated(id, what, lacks, language, record.where)
        for note in job.notes:
            if language not in note.others:
                yield Untranslated(note.name, "note", (), language, note.where)
        for plan in job.rooms:
            for part, keys in (*((door, DOOR) for door in plan.doors), *((part, NAMED) for part in (*plan.things, *plan.runs))):
                if (text := getattr(part, keys[0])) and not has(text, language):
                    yield Untranslated(plan.room, "room", keys, language, part.where)
