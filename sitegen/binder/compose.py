"""The way through this stage: takes the report and the words; gives every page, label and calendar as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import Any

from ..protection.examine import Report
from .answer.places import main_switch
from .desk import Desk
from .desk.address import page_url
from .desk.words import Words
from .labels.compose import compose_labels
from .paper.compose import paper_pages
from .reminders import device_calendar, house_calendar
from .site.former import addresses
from .site.pages import PAGES
from .site.place import place_pages
from .site.records import Binder, Edition, Frame, Page, Pages
from .site.service import record_rows


def compose(report: Report, words: Words, draft: bool = False, further: Iterable[Words] = ()) -> Binder:
    """Say everything that may be said, in the words of the job's first language and of each further one."""
    desk = Desk(report, words, as_draft=draft)
    others = [Desk(report, said, said.language, draft) for said in further]
    return Binder(tuple(_edition(one) for one in (desk, *others)), compose_labels(desk, others),
                  tuple(_device_row(desk, device) for device in desk.tree.devices),
                  tuple(_outlet_row(desk, outlet) for outlet in desk.tree.outlets), addresses(desk))


def _edition(desk: Desk) -> Edition:
    job, words, file = desk.job, desk.words, desk.job.file
    made = max((*(row.date for row in job.tests), *(visit.date for visit in job.visits)), default=file.handover)
    frame = Frame(file, desk.draft, desk.firm, desk.phone, desk.emergency,
                  words.day(made) if made else "", main_switch(desk), desk.company("power company"), desk.company("heating company"))
    calendars = [(device, device_calendar(desk, device)) for device in desk.tree.devices]
    calendars.append(("all", house_calendar(desk)))
    below = f"{desk.further}/" if desk.further else ""
    return Edition(words, desk.further, frame, Pages(partial(_pages, desk)),
                   tuple((below + name, calendar) for name, calendar in calendars), record_rows(desk))


def _pages(desk: Desk) -> Iterator[Page]:
    places = place_pages(desk)
    return (page for make in (*PAGES, paper_pages) for page in make(desk, places))


def _device_row(desk: Desk, device: str) -> dict[str, Any]:
    return {"id": device, "kind": desk.tree.kind(device).name, "page": f"site/{device}/index.html",
            "url": page_url(desk, device), "label": f"print/labels/{device}.png",
            "reminder": f"site/reminders/{device}.ics", "protects": list(desk.claims.protects(device)),
            "goes_dead": list(desk.tree.goes_dead(device))}


def _outlet_row(desk: Desk, outlet: str) -> dict[str, Any]:
    return {"id": outlet, "page": f"site/{outlet}/index.html", "url": page_url(desk, outlet)}
