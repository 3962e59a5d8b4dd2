"""The job folder in, one consistent Job out, or every fault of every file at once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ..errors import Fault, JobUnreadable, Where
from . import job_file as jobfile, trips, visits
from .labels import ledger
from .map import read as protection_map
from .notes import read_notes
from .phrases import FILE as PHRASES, Phrases, read_phrases as phrases_of, with_phrases
from .read.files import is_inside, text_of
from .read.ids import unknown_once
from .records import Job


def read_job(folder: Path, rows: tuple[str, str] | None = None) -> Job:
    """Read job.yaml, protection_map.yaml, trip_tests.csv, notes/, and the visits and the ledger of printed labels where there
    are any; whatever else the folder holds is left alone. `rows`: name and text of what is read in place of trip_tests.csv.

    Raises JobUnreadable with all faults of these files, each with its file and line.
    """
    faults: list[Fault] = []
    if not folder.is_dir():
        raise JobUnreadable([Fault(Where(jobfile.FILE, 1), f"there is no job folder `{folder.name}`",
                                   "a folder with job.yaml, protection_map.yaml and trip_tests.csv",
                                   "check the name, or make one with `sitegen begin`")])
    file_text, map_text, trips_text = (
        rows[1] if rows and name == trips.FILE else text_of(folder, name, faults)
        for name in (jobfile.FILE, protection_map.FILE, trips.FILE))
    file = None if file_text is None else jobfile.read_job_file(file_text, faults)
    languages = file.languages if file else ()
    photos = _photos(folder)
    read = protection_map.read_map(map_text, faults, languages, photos)
    names = visits.with_gone(read.names, read.removed)
    tests = [] if trips_text is None else trips.read_trips(trips_text, names, faults, rows[0] if rows else trips.FILE)
    notes = read_notes(folder, faults, languages)
    visits_text = text_of(folder, visits.FILE, faults) if (folder / visits.FILE).exists() else None
    came = visits.read_visits(visits_text, names, file, read.points, photos, notes, faults) if visits_text else []
    visits.after_removal(came, tests, faults)
    printed_text = _ledger(folder, faults) if (folder / ledger.FILE).exists() else None
    printed = ledger.read_ledger(printed_text, faults) if printed_text else ledger.Ledger()
    phrases = read_phrases(folder, languages, faults)
    if faults or file is None:
        raise JobUnreadable(unknown_once(faults, protection_map.FILE))
    return with_phrases(Job(file, tuple(read.panels), tuple(read.breakers), tuple(read.circuits), tuple(read.points), tuple(tests),
               tuple(notes), tuple(read.rooms),
               tuple(read.removed), printed.labels, tuple(came), tuple(_files_of(trips_text or "", printed))), phrases)


def read_phrases(folder: Path, languages: tuple[str, ...], faults: list[Fault]) -> Phrases:
    """The list of phrases, where there is one."""
    text = text_of(folder, PHRASES, faults) if (folder / PHRASES).exists() else None
    return phrases_of(text, languages, faults) if text else {}


def _files_of(trips_text: str, printed: ledger.Ledger) -> Iterator[tuple[str, Where]]:
    """The job that tests and ledger name, where they do."""
    named = trips.job_line(trips_text)[0]
    if named:
        yield named, Where(trips.FILE, 1)
    if printed.job:
        yield printed.job, printed.where


def _photos(folder: Path) -> list[str]:
    """The files in photos/ as the map names them."""
    photos = folder / "photos"
    return sorted(path.relative_to(photos).as_posix() for path in photos.rglob("*") if path.is_file() and is_inside(folder, path))


def _ledger(folder: Path, faults: list[Fault]) -> str | None:
    """The text of the ledger; an emptied one is a loss, not a start."""
    found: list[Fault] = []
    text = text_of(folder, ledger.FILE, found)
    empty = not found and text is None or any("empty" in fault.met for fault in found)
    faults += [Fault(Where(ledger.FILE, 1), "the ledger of printed labels is empty", "every label that was ever printed",
                     ledger.MEND)] if empty else found
    return text
