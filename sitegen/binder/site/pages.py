"""Takes the desk and the pages of places; gives every page of the site with its template: one function a sort of page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from ..answer.places import main_switch, page_folder
from ..desk import Desk
from ..desk.words import Tag
from ..round import monthly_round
from .circuit import circuit_sheet
from .former import former, gone_page
from .isolate import isolate_pages
from .panel import panel_page, panel_title
from .records import Caution, Page, Places, circuit_path, note_path, site_path, trade_path
from .service import service_index
from .start import start_page, together_page
from .trade.device import trade_device
from .trade.index import index
from .trade.panel import trade_panel


def _start(desk: Desk, places: Places) -> Iterator[Page]:
    yield _page(desk, "", "start.html.j2", desk.words.text("start.title"), start_page(desk, places))


def _together(desk: Desk, places: Places) -> Iterator[Page]:
    yield _page(desk, "stopped-together", "together.html.j2", desk.words.text("together.title"), together_page(desk))


def _place_pages(desk: Desk, places: Places) -> Iterator[Page]:
    for id, data in places.items():
        yield _page(desk, page_folder(desk, id), "place.html.j2", f"{id} · {data.answer.headline.plain}", data)


def _panels(desk: Desk, places: Places) -> Iterator[Page]:
    for panel in desk.job.panels:
        yield _page(desk, page_folder(desk, panel.id), "panel.html.j2", panel_title(desk, panel), panel_page(desk, panel))


def _former_pages(desk: Desk, places: Places) -> Iterator[Page]:
    """At an old address: the page of what the id is called now, or one that says that it is gone."""
    for id, now in former(desk).items():
        if now:
            data = replace(places[now], renamed=desk.words.rich("gone.renamed", id=Tag(id), now=Tag(now)))
            yield _page(desk, id, "place.html.j2", f"{id} → {now} · {data.answer.headline.plain}", data)
        else:
            yield _page(desk, id, "gone.html.j2", desk.words.text("gone.title", id=id), gone_page(desk, id))


def _monthly(desk: Desk, places: Places) -> Iterator[Page]:
    yield _page(desk, "monthly-test", "monthly.html.j2", desk.words.text("round.title"), monthly_round(desk))


def cautions(desk: Desk) -> tuple[Caution, ...]:
    """Every caution with its signal word (ANSI Z535.4: the word goes by how bad the harm can be)."""
    return tuple(Caution(row["signal"], desk.words.text(f"cautions.signal.{row['signal']}"), row["head"],
                         desk.words.fill(row["says"], "cautions.list", {"number": desk.emergency, "main": main_switch(desk),
                                                                            "power": desk.company("power company")}).plain)
                 for row in desk.words.get("cautions.list"))


def _cautions(desk: Desk, places: Places) -> Iterator[Page]:
    yield _page(desk, "safety-cautions", "cautions.html.j2", desk.words.text("cautions.title"), cautions(desk))


def _notes(desk: Desk, places: Places) -> Iterator[Page]:
    for note in desk.job.notes:
        yield _page(desk, note_path(note), "note.html.j2", note.title, note)


def _service(desk: Desk, places: Places) -> Iterator[Page]:
    yield _page(desk, "service-record", "service.html.j2", desk.words.text("service.title"),
                replace(service_index(desk), entries=index(desk)))
    for circuit in desk.job.circuits:
        sheet = circuit_sheet(desk, circuit)
        yield _page(desk, circuit_path(circuit.key), "circuit.html.j2", sheet.title, sheet)
    for id in dict.fromkeys((*desk.tree.breakers, *desk.tree.devices)):
        device = trade_device(desk, id)
        yield _page(desk, trade_path(id), "trade_device.html.j2", device.title, device)
    for panel in desk.job.panels:
        yield _page(desk, trade_path(panel.id), "trade_panel.html.j2", desk.words.text("service.trade.panel", id=panel.id),
                    trade_panel(desk, panel))


def _page(desk: Desk, folder: str, template: str, title: str, data: Any) -> Page:
    """A page of the site."""
    return Page(f"site/{site_path(folder, desk.further)}", template, title, data, folder)


PAGES: tuple[Callable[[Desk, Places], Iterator[Page]], ...] = (
    _start, _together, _place_pages, _panels, _former_pages, _monthly, _cautions, _notes, _service, isolate_pages)
