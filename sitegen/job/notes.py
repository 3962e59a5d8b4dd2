"""The folder notes/ in, the contractor's own pages out, in the order of their file names."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from ..errors import Fault, Where
from .read.files import is_inside, text_of
from .read.ids import FILE_SYSTEM_NAMES
from .read.limits import NOTE, NOTES, beyond
from .records import Note

FOLDER = "notes"

_NAME = re.compile(r"[A-Za-z0-9-]+\.md", re.IGNORECASE)
_HEADING = re.compile(r" {0,3}#[ \t]+")
_FENCE = re.compile(r" {0,3}(`{3,}|~{3,})")


def read_notes(folder: Path, faults: list[Fault], languages: tuple[str, ...] = ()) -> list[Note]:
    """The pages of the job folder; whole only where no fault was found. Hidden files (`.name`) are a system's own.

    The same page in a further language of the job stands in a folder of that name: notes/care.md, notes/es/care.md.
    """
    notes = folder / FOLDER
    if not notes.exists():
        return []
    if not notes.is_dir() or not is_inside(folder, notes):
        faults.append(Fault(Where(FOLDER, 1), "`notes` is not a folder of the job", "a folder with pages such as care.md",
                            "make it a folder, or give the file another name"))
        return []
    further = [path for path in sorted(notes.iterdir()) if path.is_dir() and path.name in languages[1:]]
    pages = _pages(folder, FOLDER, further, faults)
    for path in further:
        said = {note.name: note for note in _pages(folder, f"{FOLDER}/{path.name}", [], faults)}
        for note in said.values():
            if note.name not in {page.name for page in pages}:
                faults.append(Fault(note.where, f"there is no {FOLDER}/{note.name}.md that this page says in `{path.name}`",
                                    f"a page of the same name in {FOLDER}/", "write that page, or give this one its name"))
        pages = [replace(page, others={**page.others, path.name: said[page.name]}) if page.name in said else page
                 for page in pages]
    return pages


def _pages(job: Path, name: str, leave: list[Path], faults: list[Fault]) -> list[Note]:
    """The pages of one folder in the order of their names; `leave` are folders of other languages in it."""
    found: dict[str, Note] = {}
    shown = [path for path in (job / name).iterdir() if not path.name.startswith(".") and path not in leave]
    if len(shown) > NOTES.most:
        faults.append(beyond(NOTES, Where(name, 1), len(shown), "put several of them into one"))
        return []
    for path in sorted(shown, key=lambda path: path.name):
        note = _read(job, Where(f"{name}/{path.name}", 1), faults)
        first = found.setdefault(note.name.casefold(), note) if note else None
        if note and first and first is not note:
            faults.append(Fault(note.where, f"{first.where.file} has the same name in other letters",
                                "names that differ in more than capitals", "give one of the two another name"))
    return list(found.values())


def _read(job: Path, where: Where, faults: list[Fault]) -> Note | None:
    path = job / where.file
    if path.is_dir() or not _NAME.fullmatch(path.name) or path.stem.upper() in FILE_SYSTEM_NAMES:
        what = "folder" if path.is_dir() else "file"
        faults.append(Fault(where, f"the {what} `{path.name}` is no page of notes",
                            "files of letters, digits and hyphens that end in .md, such as left-to-do.md",
                            "rename it, or move it out of notes/"))
        return None
    text = text_of(job, where.file, faults, ("the text of a page", "write it, or remove the file"))
    if text is None:
        return None
    if len(text) > NOTE.most:
        faults.append(beyond(NOTE, where, len(text), "part it into several pages"))
        return None
    title, rest = _split_title(text)
    named = path.stem.replace("-", " ").strip()
    return Note(path.stem, title or named[:1].upper() + named[1:], rest, where)


def _split_title(text: str) -> tuple[str | None, str]:
    """The first `# heading` outside of fenced text, and the text without it."""
    lines = text.split("\n")
    fence = ""
    for at, line in enumerate(lines):
        mark = _FENCE.match(line)
        if mark and not fence:
            fence = mark[1]
        elif mark and mark[1].startswith(fence):
            fence = ""
        heading = "" if fence or mark else _heading(line)
        if heading:
            return heading, "\n".join(lines[:at] + lines[at + 1:]).strip("\n") + "\n"
    return None, text.strip("\n") + "\n"


def _heading(line: str) -> str:
    """The words of a `# heading`, without the signs that may close it; empty where the line is none."""
    begun = _HEADING.match(line)
    words = line[begun.end():].strip(" \t") if begun else ""
    closed = words.rstrip("#")
    return closed.rstrip(" \t") if closed.endswith((" ", "\t")) or not closed else words
