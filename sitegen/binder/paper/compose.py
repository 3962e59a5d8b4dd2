"""Takes the desk and the pages of places; gives the whole binder on paper as plain data.

What fits on which side is not decided here: publish measures the text. What is said, and in which order, is.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..desk import Desk
from ..desk.words import Words
from ..months import testing_order
from ..round import monthly_round
from ..site.pages import cautions
from ..site.records import Page, Places
from ..site.service import service_index
from .device import device_sheet
from .directory import directory
from .fold import breaker_rules, stop_rules
from .house import this_house
from .inspector import inspector_sheet
from .log import log
from .outlets import targets
from .records import DeviceSheet, PrintBinder
from .service import circuit_leaf, rounds
from .visit import visit_sheets
from .where import bare, only_panel

# Running head -> the word it shows.
HEADS = {"contents": "print.title", "house": "house.title", "own": "print.own", "directory": "print.directory", "breakers": "print.breakers",
         "monthly": "round.title", "log": "print.log", "cautions": "cautions.title", "notes": "print.notes",
         "private": "print.for_you", "service": "service.title", "circuits": "service.circuits_heading", "tests": "service.tests_heading",
         "large": "print.large_title"}


def paper_pages(desk: Desk, places: Places) -> Iterator[Page]:
    """The print-outs with their templates: the binder, what it says in large print, one sheet for the inspector and one a visit."""
    data, title = print_binder(desk, places), desk.job.file.title
    ending = f"-{desk.further}" if desk.further else ""
    yield Page(f"print/binder{ending}.html", "paper.html.j2", title, data)
    yield Page(f"print/large-print{ending}.html", "large_print.html.j2", title, data)
    if not desk.further:
        yield Page("print/inspector.html", "inspector.html.j2", title, inspector_sheet(desk))
    for name, sheet in visit_sheets(desk, places):
        yield Page(f"print/{name}{ending}.html", "visit.html.j2", sheet.record.title, sheet)


def print_binder(desk: Desk, places: Places) -> PrintBinder:
    job = desk.job
    url = f"{job.file.base_url}/" if job.file.base_url else None
    outlets = [places[id] for id in desk.tree.outlets]
    sheets, breakers = (tuple(device_sheet(desk, places[id]) for id in testing_order(desk) if (id in job.breaker) is at_panel)
                        for at_panel in (False, True))
    return PrintBinder(bare(url), url, heads(desk.words, (*sheets, *breakers)), contents(desk), only_panel(desk), targets(desk, outlets),
                       stop_rules(desk), breaker_rules(desk), sheets, breakers,
                       this_house(desk), tuple(directory(desk, panel) for panel in job.panels),
                       monthly_round(desk), log(desk), cautions(desk), job.notes, service_index(desk),
                       tuple(circuit_leaf(desk, circuit) for circuit in desk.by_space()), rounds(desk), private(desk))


def heads(words: Words, sheets: tuple[DeviceSheet, ...]) -> tuple[tuple[str, str], ...]:
    """What stands at the top right of every page of a sheet."""
    return (*((name, words.text(text)) for name, text in HEADS.items()),
            *((sheet.place.id, words.parts((sheet.place.id, sheet.where))) for sheet in sheets))


def contents(desk: Desk) -> tuple[str, ...]:
    """The sheets behind those of the devices, in order."""
    notes = [note.title for note in desk.job.notes]
    names = ("directory", *(("private",) if private(desk) else ()), "monthly", "log", "breakers", "cautions")
    return (*(desk.words.text(HEADS[name]) for name in names), *notes, desk.words.text(HEADS["service"]))


def private(desk: Desk) -> tuple[tuple[str, str], ...]:
    """The home's own entries and the private ones: the only place where they are printed."""
    file = desk.job.file
    known = desk.words.get("print.private_names")
    return tuple((known.get(name, name), value) for name, value in (*file.home.items(), *file.private.items()))
