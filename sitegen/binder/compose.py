"""The way through this stage: takes the report and the words; gives every page, label and calendar as plain data."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Any

from ..job.records import Note
from ..protection.examine import Report
from .address import page_url
from .answer import at_of, device_answer, outlet_answer, spot, tag
from .desk import Desk
from .drawing import drawings
from .labels.compose import compose_labels
from .lists import rooms_off, turns_off, walking_order
from .months import device_calendar, house_calendar, monthly_test, rule_in_words
from .paper.compose import print_binder
from .search import known_as, skipped
from .site.former import addresses, former, gone_page
from .site.records import (
    Binder,
    ButtonRow,
    Caution,
    Edition,
    Frame,
    MonthlyPage,
    Page,
    PlacePage,
    Room,
    RoomLink,
    ServiceIndex,
    StartPage,
    site_path,
)
from .site.service import circuit_sheet, device_record
from .words import Rich, Tag, Words


def compose(report: Report, words: Words, draft: bool = False, further: Iterable[Words] = ()) -> Binder:
    """Say everything that may be said, in the words of the job's first language and of each further one."""
    desk = Desk(report, words, as_draft=draft)
    others = [Desk(report, said, said.language, draft) for said in further]
    return Binder(tuple(_edition(one) for one in (desk, *others)), compose_labels(desk, others),
                  tuple(_device_row(desk, device) for device in desk.tree.devices),
                  tuple(_outlet_row(desk, outlet) for outlet in desk.tree.outlets), addresses(desk))


def _edition(desk: Desk) -> Edition:
    job, words, file = desk.job, desk.words, desk.job.file
    made = max((row.date for row in job.tests), default=file.handover)
    frame = Frame(file, desk.draft, desk.firm, desk.phone, re.sub(r"[^\d+]", "", desk.phone), desk.emergency,
                  words.day(made) if made else "", words.join([panel.at for panel in job.panels if panel.fed_from is None]))
    calendars = [(device, device_calendar(desk, device)) for device in desk.tree.devices]
    calendars.append(("all", house_calendar(desk)))
    below = f"{desk.further}/" if desk.further else ""
    return Edition(words, desk.further, frame, tuple(page for make in PAGES for page in make(desk)),
                   tuple((below + name, calendar) for name, calendar in calendars))


def _page(desk: Desk, folder: str, template: str, title: str, data: Any) -> Page:
    """A page of the site."""
    return Page(f"site/{site_path(folder, desk.further)}", template, title, data, folder)


def circuit_path(key: str) -> str:
    """The folder of a circuit's service page, below site/."""
    return f"service-record/{re.sub(r'[^A-Za-z0-9-]', '-', key)}"


def _record_key(desk: Desk, id: str) -> str:
    job = desk.job
    if id in job.point:
        return job.point[id].circuit
    return next(circuit.key for circuit in job.circuits if circuit.breaker == id)


def place_page(desk: Desk, id: str) -> PlacePage:
    """The page of a device or of an outlet; a device receptacle has one page."""
    tree = desk.tree
    is_device = tree.kind(id).opens
    if is_device:
        answer = device_answer(desk, id, rooms_off(desk, id))
        target: str | None = id
    else:
        answer = outlet_answer(desk, id)
        target = cuts[0].device if (cuts := desk.claims.cuts(id)) else None
    safe = desk.words.many(f"keep_safe.{'breaker' if answer.spot.picture == 'breaker' else 'button'}",
                      id=Tag(target or id))
    return PlacePage(id, is_device, answer, desk.words.rich("call.say", id=tag(desk, id)),
                     turns_off(desk, target) if target else None, _guard(desk, id),
                     monthly_test(desk, id) if is_device else None, safe, _record_key(desk, id),
                     _dated(desk, id), is_device, page_url(desk, id),
                     drawings(desk, id, answer.spot.id))


def _dated(desk: Desk, id: str) -> str:
    day = desk.claims.day_of_device(id) if desk.tree.kind(id).opens else None
    return desk.words.text("dated", id=id, day=desk.words.day(day)) if day else ""


def _guard(desk: Desk, id: str) -> tuple[Rich, ...]:
    """What was shown of shock protection: pair by pair, with its days."""
    tree = desk.tree
    says: list[Rich] = []
    kind = tree.kind(id)
    if id in desk.job.point and tree.is_outlet(id):
        point = desk.point(id)
        for device in desk.proof.proved_by(id):
            says.append(desk.words.rich("guard.shown", id=Tag(device), room=spot(desk, device).room,
                                   day=desk.words.day(desk.claims.day_shown(id, device)),
                                   tested=desk.words.day(desk.claims.day_of_device(device))))
        if point.not_proved:
            says.append(desk.words.rich("guard.not_proved", reason=point.not_proved))
        elif not says and point.kind.has_face:
            says.append(desk.words.rich("guard.none"))
    if kind.opens and not kind.stops_shock:
        says.append(desk.words.rich("guard.arc" if kind.stops_arcs else "guard.equipment", id=Tag(id)))
    if kind.stops_shock:
        says.append(desk.words.rich("guard.limits"))
    return tuple(says)


def _place_pages(desk: Desk) -> Iterator[Page]:
    ids = dict.fromkeys((*desk.tree.devices, *desk.tree.outlets))
    for id in ids:
        data = place_page(desk, id)
        title = f"{id} · {data.answer.headline.plain}"
        yield _page(desk, id, "place.html.j2", title, data)


def _former_pages(desk: Desk) -> Iterator[Page]:
    """At an old address: the page of what the id is called now, or one that says that it is gone."""
    for id, now in former(desk).items():
        if now:
            data = replace(place_page(desk, now), renamed=desk.words.rich("gone.renamed", id=Tag(id), now=Tag(now)))
            yield _page(desk, id, "place.html.j2", f"{id} → {now} · {data.answer.headline.plain}", data)
        else:
            yield _page(desk, id, "gone.html.j2", desk.words.text("gone.title", id=id), gone_page(desk, id))


def start_page(desk: Desk) -> StartPage:
    """Rooms, then outlets by place and use."""
    rooms: dict[str, list[RoomLink]] = {}
    for id in desk.tree.outlets:
        point = desk.point(id)
        headline = place_headline(desk, id)
        rooms.setdefault(point.room, []).append(RoomLink(
            id, at_of(desk, id), point.use or "", headline, point.kind.opens, " ".join(known_as(desk, id))))
    return StartPage(tuple(Room(name, tuple(links)) for name, links in rooms.items()),
                     button_rows(desk),
                     tuple((note_path(note), note.title) for note in desk.job.notes),
                     " ".join(skipped(desk.words)))


def button_rows(desk: Desk) -> tuple[ButtonRow, ...]:
    """The first row that names all that stopped is the nearest device they share: what stands behind a device stands
    before it here. Only what was seen to go off is named."""
    devices = sorted(walking_order(desk), key=lambda id: (not desk.claims.turns_off(id), len(desk.claims.turns_off(id))))
    return tuple(ButtonRow(spot(desk, id), _things(desk, id)) for id in devices)


def _things(desk: Desk, device: str) -> tuple[tuple[str, str], ...]:
    rooms: dict[str, list[str]] = {}
    for id in desk.claims.turns_off(device):
        point = desk.point(id)
        rooms.setdefault(point.room, []).append(point.use or at_of(desk, id))
    return tuple((room, "; ".join(dict.fromkeys(things))) for room, things in rooms.items())


def note_path(note: Note) -> str:
    """The folder of a page of the contractor's own, below site/."""
    return f"house-notes/{note.name}"


def _notes(desk: Desk) -> Iterator[Page]:
    for note in desk.job.notes:
        yield _page(desk, note_path(note), "note.html.j2", note.title, note)


def place_headline(desk: Desk, id: str) -> Rich:
    """The headline of an outlet's page, with the room of what to press."""
    if desk.tree.kind(id).opens:
        return device_answer(desk, id, "").headline
    return outlet_answer(desk, id).headline


def _start(desk: Desk) -> Iterator[Page]:
    yield _page(desk, "", "start.html.j2", desk.words.text("start.title"), start_page(desk))


def monthly_page(desk: Desk) -> MonthlyPage:
    return MonthlyPage(desk.words.text("monthly.intro", rule=rule_in_words(desk)),
                       tuple((monthly_test(desk, id), spot(desk, id))
                             for id in walking_order(desk)))


def _monthly(desk: Desk) -> Iterator[Page]:
    yield _page(desk, "monthly-test", "monthly.html.j2", desk.words.text("monthly.page_title"), monthly_page(desk))


def cautions(desk: Desk) -> tuple[Caution, ...]:
    """Every caution with its signal word (ANSI Z535.4: the word goes by how bad the harm can be)."""
    number = desk.emergency
    return tuple(Caution(row["signal"], desk.words.text(f"cautions.signal.{row['signal']}"), row["head"],
                         desk.words.fill(row["says"], "cautions.list", {"number": number}).plain)
                 for row in desk.words.get("cautions.list"))


def _cautions(desk: Desk) -> Iterator[Page]:
    yield _page(desk, "safety-cautions", "cautions.html.j2", desk.words.text("cautions.title"), cautions(desk))


def service_index(desk: Desk) -> ServiceIndex:
    job = desk.job
    book = " ".join(filter(None, (job.file.code.book, job.file.code.edition)))
    code = "; ".join(filter(None, (book, job.file.code.amendments)))
    firm = [f"{key}: {value}" for key, value in job.file.contractor.items()]
    facts = [(desk.words.text("service.code"), code)] if code else []
    facts.append((desk.words.text("service.contractor"), "; ".join(firm)))
    return ServiceIndex(tuple(facts), tuple((c.key, desk.words.text("service.circuit", number=c.number), c.serves)
                                            for c in desk.by_space()),
                        tuple(device_record(desk, id) for id in desk.tree.devices),
                        job.file.punch_list)


def _service(desk: Desk) -> Iterator[Page]:
    yield _page(desk, "service-record", "service.html.j2", desk.words.text("service.title"), service_index(desk))
    for circuit in desk.job.circuits:
        sheet = circuit_sheet(desk, circuit)
        yield _page(desk, circuit_path(circuit.key), "circuit.html.j2", sheet.title, sheet)


def _paper(desk: Desk) -> Iterator[Page]:
    data = print_binder(desk, tuple(place_page(desk, id) for id in walking_order(desk)),
                        tuple(place_page(desk, id) for id in desk.tree.outlets), monthly_page(desk).tests,
                        cautions(desk), service_index(desk))
    title = desk.job.file.title
    ending = f"-{desk.further}" if desk.further else ""
    yield Page(f"print/binder{ending}.html", "paper.html.j2", title, data)
    yield Page(f"print/large-print{ending}.html", "large_print.html.j2", title, data)


PAGES: tuple[Callable[[Desk], Iterator[Page]], ...] = (
    _start, _place_pages, _former_pages, _monthly, _cautions, _notes, _service, _paper)


def _device_row(desk: Desk, device: str) -> dict[str, Any]:
    return {"id": device, "kind": desk.tree.kind(device).name, "page": f"site/{device}/index.html",
            "url": page_url(desk, device), "label": f"print/labels/{device}.png",
            "reminder": f"site/reminders/{device}.ics", "protects": list(desk.claims.protects(device)),
            "goes_dead": list(desk.tree.goes_dead(device))}


def _outlet_row(desk: Desk, outlet: str) -> dict[str, Any]:
    return {"id": outlet, "page": f"site/{outlet}/index.html", "url": page_url(desk, outlet)}


