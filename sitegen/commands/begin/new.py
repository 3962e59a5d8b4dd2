"""A folder's name and perhaps a spreadsheet of points in, a new job folder out that `check` reads: all of it, or nothing."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path

from ...errors import CallError, Fault
from ...job import job_file as jobfile, trips
from ...job.job_file import read_job_file
from ...job.map import read as protection_map
from ...job.read.files import decode
from ...publish.folder import beside
from .like import texts_like
from .spreadsheet import PAGE_HEADER, SheetMap, map_from_sheet

NEXT = ("Next: write job.yaml and protection_map.yaml over with your own and run `sitegen check`. Before trim-out, `sitegen "
        "plan` says where the devices go. After it, `sitegen walk --page` puts the tests on a phone, whose file `sitegen enter` "
        "takes in; `sitegen walk` prints the sheet, from which you type into trip_tests.csv.\n")


def begin_job(folder: Path, points: Path | None = None, like: Path | None = None) -> str:
    """Write a new job folder; what to tell about it.

    Raises CallError where `folder` exists and holds anything, or where no row of `points` can be placed; JobUnreadable where
    the job to begin it like cannot be read.
    """
    if points and like:
        raise CallError("--from and --like both bring a map; give one of them.")
    refuse_full(folder)
    texts = {name: (files(__package__) / "starter" / name).read_text("utf-8")
             for name in (jobfile.FILE, protection_map.FILE, trips.FILE)}
    told = ""
    if points:
        made = _from_sheet(points)
        texts[protection_map.FILE] = made.text
        told = made.told
    elif like:
        made_like, told = texts_like(like, texts[jobfile.FILE])
        texts |= made_like
    if points or like:
        texts[trips.FILE] = ",".join((*trips.COLUMNS, *trips.MORE)) + "\n"
    texts[jobfile.FILE] = _named(texts[jobfile.FILE], folder)
    file = read_job_file(texts[jobfile.FILE], [])
    assert file     # the starter, under an id that can be one
    texts[trips.FILE] = f"# {file.id}\n{texts[trips.FILE]}"
    _write(folder, texts)
    return f"{told}Job folder written to {folder}.\n{NEXT}"


def refuse_full(folder: Path) -> None:
    """Raise CallError where no new job folder can be made."""
    if folder.is_dir() and any(folder.iterdir()):
        raise CallError(f"{folder} is not empty and was left alone; name a new folder.")
    if folder.exists() and not folder.is_dir():
        raise CallError(f"{folder} is a file; name a new folder.")


def _named(text: str, folder: Path) -> str:
    """job.yaml with the folder's name as the id of the job, where it can be one."""
    own = text.replace("id: new-job", f"id: {job_name(folder)}", 1)
    faults: list[Fault] = []
    read_job_file(own, faults)
    return text if faults else own


def job_name(folder: Path) -> str:
    """The folder's name as an id of a job is written."""
    return re.sub(r"[^A-Za-z0-9.-]+", "-", folder.resolve().name).strip("-.") or "new-job"


def _from_sheet(points: Path) -> SheetMap:
    faults: list[Fault] = []
    try:
        data = points.read_bytes()
        text = decode(data, points.name, faults)
    except OSError as error:
        raise CallError(f"{points} cannot be opened ({error.strerror}); name a CSV file of points.") from None
    if data.startswith(PAGE_HEADER.encode()) and not data.endswith(b"\n"):
        raise CallError(f"{points} was cut off on its way from the phone: its last row has no end. Save it again and take that file. "
                        "Nothing was written.")
    made = map_from_sheet(text, points.name) if text is not None else None
    if made is None or not made.placed:
        why = made.told if made else "".join(f"{fault}\n" for fault in faults)
        raise CallError(f"{why}No point of {points.name} could be placed. Nothing was written.")
    return made


def _write(folder: Path, texts: Mapping[str, str]) -> None:
    """Every file beside the folder first, then all at once under its name."""
    target = folder.resolve()
    new = beside(target, "new")
    try:
        new.parent.mkdir(parents=True, exist_ok=True)
        shutil.rmtree(new, ignore_errors=True)
        new.mkdir()
        for name, text in texts.items():
            (new / name).write_text(text, "utf-8", newline="\n")
        if target.is_dir():  # the folder itself stays: someone may stand in it
            for name in texts:
                os.rename(new / name, target / name)
            new.rmdir()
        else:
            os.rename(new, target)
    except OSError as error:
        shutil.rmtree(new, ignore_errors=True)
        for name in texts:  # the folder was empty
            (target / name).unlink(missing_ok=True)
        raise CallError(f"the job folder cannot be written to {folder}: {error.strerror or error}; "
                        f"name another folder.") from None
