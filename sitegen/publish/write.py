"""The way through this stage: takes the composed binder and a theme; writes site, labels, calendars and binder.json."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

from ..binder.pages import Binder
from .calendar_file import write_calendar
from .folder import LIST, put_in_place, refuse_strangers
from .label_files import label_files
from .pages import render_pages
from .photos import Photo
from .theme import Theme


def write_binder(binder: Binder, theme: Theme, out: Path, photos: Mapping[str, Photo] | None = None) -> None:
    """Everything, or nothing: the folder changes only when all of it has been made. `photos`: by the id of their point."""
    refuse_strangers(out)
    put_in_place(out, make_files(binder, theme, photos or {}))


def make_files(binder: Binder, theme: Theme, photos: Mapping[str, Photo]) -> dict[str, bytes]:
    """Path below the output folder -> bytes."""
    files = dict(render_pages(binder, theme, photos))
    pages = sorted(files)
    files |= label_files(binder)
    files |= {f"site/{photo.path}": photo.content for photo in photos.values()}
    for name, calendar in binder.calendars:
        files[f"site/reminders/{name}.ics"] = write_calendar(calendar)
    made = {"job": binder.frame.job.id, "draft": binder.frame.draft, "devices": list(binder.devices),
            "outlets": list(binder.outlets), "pages": pages, "files": sorted(files)}
    files[LIST] = (json.dumps(made, indent=1, ensure_ascii=False) + "\n").encode()
    return files
