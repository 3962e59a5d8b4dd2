"""The way through this stage: takes the report and the words; gives every page, label and calendar as plain data."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from ..job.records import Note
from ..protection.examine import Report
from .address import page_url
from .answer import at_of, device_answer, outlet_answer, spot, tag
from .claims import Claims
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
from .site.service import by_space, circuit_sheet, device_record
from .words import Rich, Tag, Words


@dataclass(frozen=True)
class Desk:
    """What the composing functions work with."""

    claims: Claims
    words: Words
    further: str = ""         # the language, where it is not the job's first

    @property
    def report(self) -> Report:
        return self.claims.report

    def page(self, folder: str, template: str, title: str, data: Any) -> Page:
        """A page of the site."""
        return Page(f"site/{site_path(folder, self.further)}", template, title, data, folder)


def compose(report: Report, words: Words, draft: bool = False, further: Iterable[tuple[Report, Words]] = ()) -> Binder:
    """Say everything that may be said, in the job's first language and in each further one (the same job in it)."""
    desk = Desk(Claims(report), words)
    others = [Desk(Claims(other), said, said.language) for other, said in further]
    editions = [_edition(one, draft or not report.ready) for one in (desk, *others)]
    frame = editions[0].frame
    labels = compose_labels(desk.claims, words, frame.draft, frame.firm, frame.phone, frame.emergency,
                            [(one.claims, one.words) for one in others])
    return Binder(tuple(editions), labels, tuple(_device_row(desk, device) for device in report.tree.devices),
                  tuple(_outlet_row(desk, outlet) for outlet in report.tree.outlets), addresses(desk.claims))


def _edition(desk: Desk, draft: bool) -> Edition:
    report, words = desk.report, desk.words
    file = report.job.file
    phone = file.contractor.get("phone", "")
    made = max((row.date for row in report.job.tests), default=file.handover)
    frame = Frame(file, draft, file.contractor.get("firm") or words.text("no_phone"), phone,
                  re.sub(r"[^\d+]", "", phone), emergency_number(desk), words.day(made) if made else "",
                  words.join([panel.at for panel in report.job.panels if panel.fed_from is None]))
    calendars = [(device, device_calendar(desk.claims, words, device)) for device in report.tree.devices]
    calendars.append(("all", house_calendar(desk.claims, words)))
    below = f"{desk.further}/" if desk.further else ""
    return Edition(words, desk.further, frame, tuple(page for make in PAGES for page in make(desk)),
                   tuple((below + name, calendar) for name, calendar in calendars))


def emergency_number(desk: Desk) -> str:
    """The number to call for fire and shock: the home's own, else the one of the language."""
    return desk.report.job.file.home.get("emergency") or desk.words.text("emergency_number")


def circuit_path(key: str) -> str:
    """The folder of a circuit's service page, below site/."""
    return f"service-record/{re.sub(r'[^A-Za-z0-9-]', '-', key)}"


def _record_key(desk: Desk, id: str) -> str:
    job = desk.report.job
    if id in job.point:
        return job.point[id].circuit
    return next(circuit.key for circuit in job.circuits if circuit.breaker == id)


def place_page(desk: Desk, id: str) -> PlacePage:
    """The page of a device or of an outlet; a device receptacle has one page."""
    claims, words, tree = desk.claims, desk.words, desk.report.tree
    is_device = tree.kind(id).opens
    if is_device:
        answer = device_answer(claims, words, id, rooms_off(claims, words, id))
        target: str | None = id
    else:
        answer = outlet_answer(claims, words, id)
        target = cuts[0].device if (cuts := claims.cuts(id)) else None
    safe = words.many(f"keep_safe.{'breaker' if answer.spot and answer.spot.picture == 'breaker' else 'button'}",
                      id=Tag(target or id))
    return PlacePage(id, is_device, answer, words.rich("call.say", id=tag(claims, id)),
                     turns_off(claims, words, target) if target else None, _guard(desk, id),
                     monthly_test(claims, words, id) if is_device else None, safe, _record_key(desk, id),
                     _dated(desk, id), is_device, page_url(claims, id),
                     drawings(claims, words, id, answer.spot.id if answer.spot else None))


def _dated(desk: Desk, id: str) -> str:
    day = desk.claims.day_of_device(id) if desk.report.tree.kind(id).opens else None
    return desk.words.text("dated", id=id, day=desk.words.day(day)) if day else ""


def _guard(desk: Desk, id: str) -> tuple[Rich, ...]:
    """What was shown of shock protection: pair by pair, with its days."""
    claims, words, tree = desk.claims, desk.words, desk.report.tree
    says: list[Rich] = []
    kind = tree.kind(id)
    if id in desk.report.job.point and tree.is_outlet(id):
        point = claims.point(id)
        for device in desk.report.proof.proved_by(id):
            says.append(words.rich("guard.shown", id=Tag(device), room=spot(claims, words, device).room,
                                   day=words.day(claims.day_shown(id, device)),
                                   tested=words.day(claims.day_of_device(device))))
        if point.not_proved:
            says.append(words.rich("guard.not_proved", reason=point.not_proved))
        elif not says and point.kind.has_face:
            says.append(words.rich("guard.none"))
    if kind.opens and not kind.stops_shock:
        says.append(words.rich("guard.arc" if kind.stops_arcs else "guard.equipment", id=Tag(id)))
    if kind.stops_shock:
        says.append(words.rich("guard.limits"))
    return tuple(says)


def _place_pages(desk: Desk) -> Iterator[Page]:
    ids = dict.fromkeys((*desk.report.tree.devices, *desk.report.tree.outlets))
    for id in ids:
        data = place_page(desk, id)
        title = f"{id} · {data.answer.headline.plain}"
        yield desk.page(id, "place.html.j2", title, data)


def _former_pages(desk: Desk) -> Iterator[Page]:
    """At an old address: the page of what the id is called now, or one that says that it is gone."""
    for id, now in former(desk.claims).items():
        if now:
            data = replace(place_page(desk, now), renamed=desk.words.rich("gone.renamed", id=Tag(id), now=Tag(now)))
            yield desk.page(id, "place.html.j2", f"{id} → {now} · {data.answer.headline.plain}", data)
        else:
            yield desk.page(id, "gone.html.j2", desk.words.text("gone.title", id=id), gone_page(desk.claims, desk.words, id))


def start_page(desk: Desk) -> StartPage:
    """Rooms, then outlets by place and use."""
    rooms: dict[str, list[RoomLink]] = {}
    for id in desk.report.tree.outlets:
        point = desk.claims.point(id)
        headline = place_headline(desk, id)
        rooms.setdefault(point.room, []).append(RoomLink(
            id, at_of(desk.claims, desk.words, id), point.use or "", headline, point.kind.opens, " ".join(known_as(desk.claims, desk.words, id))))
    return StartPage(tuple(Room(name, tuple(links)) for name, links in rooms.items()),
                     button_rows(desk),
                     tuple((note_path(note), note.title) for note in desk.report.job.notes),
                     " ".join(skipped(desk.words)))


def button_rows(desk: Desk) -> tuple[ButtonRow, ...]:
    """The first row that names all that stopped is the nearest device they share: what stands behind a device stands
    before it here. Only what was seen to go off is named."""
    claims = desk.claims
    devices = sorted(walking_order(claims), key=lambda id: (not claims.turns_off(id), len(claims.turns_off(id))))
    return tuple(ButtonRow(spot(claims, desk.words, id), _things(desk, id)) for id in devices)


def _things(desk: Desk, device: str) -> tuple[tuple[str, str], ...]:
    rooms: dict[str, list[str]] = {}
    for id in desk.claims.turns_off(device):
        point = desk.claims.point(id)
        rooms.setdefault(point.room, []).append(point.use or at_of(desk.claims, desk.words, id))
    return tuple((room, "; ".join(dict.fromkeys(things))) for room, things in rooms.items())


def note_path(note: Note) -> str:
    """The folder of a page of the contractor's own, below site/."""
    return f"house-notes/{note.name}"


def _notes(desk: Desk) -> Iterator[Page]:
    for note in desk.report.job.notes:
        yield desk.page(note_path(note), "note.html.j2", note.title, note)


def place_headline(desk: Desk, id: str) -> Rich:
    """The headline of an outlet's page, with the room of what to press."""
    if desk.report.tree.kind(id).opens:
        return device_answer(desk.claims, desk.words, id, "").headline
    return outlet_answer(desk.claims, desk.words, id).headline


def _start(desk: Desk) -> Iterator[Page]:
    yield desk.page("", "start.html.j2", desk.words.text("start.title"), start_page(desk))


def monthly_page(desk: Desk) -> MonthlyPage:
    return MonthlyPage(desk.words.text("monthly.intro", rule=rule_in_words(desk.claims, desk.words)),
                       tuple((monthly_test(desk.claims, desk.words, id), spot(desk.claims, desk.words, id))
                             for id in walking_order(desk.claims)))


def _monthly(desk: Desk) -> Iterator[Page]:
    yield desk.page("monthly-test", "monthly.html.j2", desk.words.text("monthly.page_title"), monthly_page(desk))


def cautions(desk: Desk) -> tuple[Caution, ...]:
    """Every caution with its signal word (ANSI Z535.4: the word goes by how bad the harm can be)."""
    number = emergency_number(desk)
    return tuple(Caution(row["signal"], desk.words.text(f"cautions.signal.{row['signal']}"), row["head"],
                         desk.words.fill(row["says"], "cautions.list", {"number": number}).plain)
                 for row in desk.words.get("cautions.list"))


def _cautions(desk: Desk) -> Iterator[Page]:
    yield desk.page("safety-cautions", "cautions.html.j2", desk.words.text("cautions.title"), cautions(desk))


def service_index(desk: Desk) -> ServiceIndex:
    job, words = desk.report.job, desk.words
    book = " ".join(filter(None, (job.file.code.book, job.file.code.edition)))
    code = "; ".join(filter(None, (book, job.file.code.amendments)))
    firm = [f"{key}: {value}" for key, value in job.file.contractor.items()]
    facts = [(words.text("service.code"), code)] if code else []
    facts.append((words.text("service.contractor"), "; ".join(firm)))
    return ServiceIndex(tuple(facts), tuple((c.key, words.text("service.circuit", number=c.number), c.serves)
                                            for c in by_space(job)),
                        tuple(device_record(desk.claims, words, id) for id in desk.report.tree.devices),
                        job.file.punch_list)


def _service(desk: Desk) -> Iterator[Page]:
    yield desk.page("service-record", "service.html.j2", desk.words.text("service.title"), service_index(desk))
    for circuit in desk.report.job.circuits:
        sheet = circuit_sheet(desk.claims, desk.words, circuit)
        yield desk.page(circuit_path(circuit.key), "circuit.html.j2", sheet.title, sheet)


def _paper(desk: Desk) -> Iterator[Page]:
    claims, words = desk.claims, desk.words
    data = print_binder(claims, words, tuple(place_page(desk, id) for id in walking_order(claims)),
                        tuple(place_page(desk, id) for id in desk.report.tree.outlets), monthly_page(desk).tests,
                        cautions(desk), service_index(desk))
    title = desk.report.job.file.title
    ending = f"-{desk.further}" if desk.further else ""
    yield Page(f"print/binder{ending}.html", "paper.html.j2", title, data)
    yield Page(f"print/large-print{ending}.html", "large_print.html.j2", title, data)


PAGES: tuple[Callable[[Desk], Iterator[Page]], ...] = (_start, _place_pages, _former_pages, _monthly, _cautions, _notes, _service, _paper)


def _device_row(desk: Desk, device: str) -> dict[str, Any]:
    return {"id": device, "kind": desk.report.tree.kind(device).name, "page": f"site/{device}/index.html",
            "url": page_url(desk.claims, device), "label": f"print/labels/{device}.png",
            "reminder": f"site/reminders/{device}.ics", "protects": list(desk.claims.protects(device)),
            "goes_dead": list(desk.report.tree.goes_dead(device))}


def _outlet_row(desk: Desk, outlet: str) -> dict[str, Any]:
    return {"id": outlet, "page": f"site/{outlet}/index.html", "url": page_url(desk.claims, outlet)}


