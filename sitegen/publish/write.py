"""The way through this stage: takes the composed binder and a theme; writes site, labels, calendars and binder.json."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from itertools import chain
from pathlib import Path
from typing import Any

from ..binder.site.records import Binder
from ..errors import CallError
from ..job.labels.ledger import FILE as LEDGER
from .calendar import write_calendar
from .folder import LIST, put_in_place, refuse_strangers
from .html import render_pages
from .labels.code import code_facts
from .labels.files import label_files
from .photos import Photo
from .theme import Theme


def write_binder(binder: Binder, theme: Theme, out: Path, photos: Mapping[str, Photo] | None = None) -> int:
    """How many pages it has. Everything, or nothing: the folder changes only when all of it has been made. `photos`: by the id of
    their point."""
    refuse_strangers(out)
    _refuse_loss(binder, out)
    made: list[str] = []
    put_in_place(out, _make_files(binder, theme, photos or {}, made))
    return len(_pages(made))


def _devices(binder: Binder) -> list[dict[str, Any]]:
    """The rows of the devices, each with the text of its code as printed: its address, or an answer in words."""
    facts = {label.id: code_facts(label, binder.frame.job.labels.dpi) for label in binder.labels.devices}
    return [{**row, "qr": found.text if (found := facts[row["id"]]) else None} for row in binder.devices]


def _refuse_loss(binder: Binder, out: Path) -> None:
    """Raise CallError where the binder in `out` keeps printed addresses that this one does not: the ledger was lost."""
    try:
        before = json.loads((out / LIST).read_text("utf-8"))
        printed = {row["url"]: row["id"] for row in before.get("addresses", ())} if before["job"] == binder.frame.job.id else {}
    except (OSError, ValueError, KeyError, TypeError):
        return
    lost = [id for url, id in printed.items() if url not in {row["url"] for row in binder.addresses}]
    if lost:
        raise CallError(f"the binder in {out} keeps the printed address of {lost[0]}{' and others' if len(lost) > 1 else ''}, "
                        f"and this job knows nothing of it. Put {LEDGER} back into the job folder; nothing was written.")


def _make_files(binder: Binder, theme: Theme, photos: Mapping[str, Photo], made: list[str]) -> Iterator[tuple[str, bytes]]:
    """(path below the output folder, bytes) of every file, one after the other; the list of them, `made`, comes last."""
    for name, content in chain(render_pages(binder, theme, photos), label_files(binder),
                               ((f"site/{photo.path}", photo.content) for photo in photos.values()),
                               ((f"site/reminders/{name}.ics", write_calendar(calendar)) for name, calendar in binder.calendars)):
        made.append(name)
        yield name, content
    listed = {"job": binder.frame.job.id, "draft": binder.frame.draft, "devices": _devices(binder),
              "outlets": list(binder.outlets), "pages": sorted(_pages(made)), "addresses": list(binder.addresses), "files": sorted(made)}
    yield LIST, (json.dumps(listed, indent=1, ensure_ascii=False) + "\n").encode()


def _pages(made: list[str]) -> list[str]:
    return [name for name in made if name.endswith(".html")]
