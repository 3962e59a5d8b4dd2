"""Takes the desk and the pages already composed; gives the whole binder on paper as plain data.

What fits on which side is not decided here: publish measures the text. What is said, and in which order, is.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

from ...job.month_day import first_on_or_after
from ...job.records import Circuit, Panel
from ..answer import Answer, Spot, at_of
from ..desk import Desk
from ..lists import Item, flatten, turns_off
from ..months import MonthlyTest, counted_from, rule_in_words
from ..site.records import Caution, PlacePage, ServiceIndex
from ..site.service import circuit_sheet, feed_line
from ..words import Rich, Words
from .records import DeviceSheet, Directory, DirectoryRow, Log, OffRow, OutletRoom, OutletRow, PrintBinder, Target

MONTHS = 12

# Running head -> the word it shows.
HEADS = {"contents": "print.title", "own": "print.own", "outlets": "print.outlets", "directory": "print.directory",
         "monthly": "print.monthly", "log": "print.log", "cautions": "cautions.title", "notes": "print.notes",
         "private": "print.for_you", "service": "service.title", "circuits": "service.circuits_heading",
         "large": "print.large_title"}


def print_binder(desk: Desk, devices: tuple[PlacePage, ...], outlets: tuple[PlacePage, ...],
                 tests: tuple[tuple[MonthlyTest, Spot], ...], cautions: tuple[Caution, ...],
                 index: ServiceIndex) -> PrintBinder:
    """The binder on paper. `devices` are the device pages in walking order, `outlets` those of every outlet."""
    job = desk.job
    url = f"{job.file.base_url}/" if job.file.base_url else None
    sheets = tuple(device_sheet(desk, page) for page in devices)
    return PrintBinder(bare(url), url, heads(desk.words, sheets), contents(desk), only_panel(desk),
                       targets(desk, outlets), sheets,
                       outlet_rooms(desk, outlets),
                       tuple(directory(desk, panel) for panel in job.panels),
                       tuple((test, where(desk, spot)) for test, spot in tests),
                       log(desk, tuple(spot for _, spot in tests)), cautions, job.notes, index,
                       tuple(circuit_sheet(desk, circuit) for circuit in desk.by_space()),
                       private(desk))


def heads(words: Words, sheets: tuple[DeviceSheet, ...]) -> tuple[tuple[str, str], ...]:
    """What stands at the top right of every page of a sheet."""
    return (*((name, words.text(text)) for name, text in HEADS.items()),
            *((sheet.place.id, words.get("part_mark").join((sheet.place.id, sheet.where))) for sheet in sheets))


def contents(desk: Desk) -> tuple[str, ...]:
    """The sheets behind those of the devices, in order."""
    notes = [note.title for note in desk.job.notes]
    private_one = [desk.words.text(HEADS["private"])] if private(desk) else []
    names = ("directory", "outlets", "monthly", "log", "cautions")
    return (*private_one, *(desk.words.text(HEADS[name]) for name in names), *notes, desk.words.text(HEADS["service"]))


def bare(url: str | None) -> str:
    """An address as it is typed: without scheme and last slash, the host in small letters (RFC 3986, 6.2.2.1)."""
    host, slash, path = re.sub(r"(?i)^https?://|/$", "", url or "").partition("/")
    return host.lower() + slash + path


def only_panel(desk: Desk) -> str:
    """Where the breaker panel is; "" in a house with several."""
    panels = desk.job.panels
    return panels[0].at if len(panels) == 1 else ""


def where(desk: Desk, spot: Spot) -> str:
    """Where a device is, in one value; of a breaker: its panel and its space."""
    breaker = desk.job.breaker.get(spot.id)
    if breaker:
        return desk.words.text("print.breaker_at", at=desk.panel_of(spot.id).at, space=breaker.space)
    return desk.words.get("part_mark").join((spot.room, spot.at))


def _beside_headline(desk: Desk, answer: Answer) -> str:
    """The same beside a headline: without the breaker's space where the headline names it."""
    named = any(run.look == "tag" for run in answer.headline)
    if named and answer.spot.id in desk.job.breaker:
        return desk.panel_of(answer.spot.id).at
    return where(desk, answer.spot)


def targets(desk: Desk, outlets: tuple[PlacePage, ...]) -> tuple[Target, ...]:
    """Room by room, what to press first; the outlets of one room with one answer stand together."""
    rooms: dict[str, dict[tuple[str, str], list[str]]] = {}
    says: dict[tuple[str, str], tuple[Rich, str]] = {}
    for page in outlets:
        point = desk.point(page.id)
        key = (page.answer.headline.plain, page.answer.spot.id)
        at = _beside_headline(desk, page.answer)
        says[key] = (page.answer.headline, "" if at == only_panel(desk) else at)
        rooms.setdefault(point.room, {}).setdefault(key, []).append(point.use or at_of(desk, page.id))
    return tuple(Target(room, *says[key], in_a_row(desk.words, things))
                 for room, groups in rooms.items() for key, things in groups.items())


def in_a_row(words: Words, things: list[str]) -> str:
    """Each thing once, one after the other; where one has a comma in it, a clearer mark stands between them."""
    once = list(dict.fromkeys(things))
    return words.get("part_mark").join(once) if any("," in thing for thing in once) else words.join(once)


def outlet_rooms(desk: Desk, outlets: tuple[PlacePage, ...]) -> tuple[OutletRoom, ...]:
    """Every outlet, with what to press first and what was shown to guard it."""
    rooms: dict[str, list[OutletRow]] = {}
    for page in outlets:
        point = desk.point(page.id)
        there = "" if page.answer.spot.id == page.id else _beside_headline(desk, page.answer)
        rooms.setdefault(point.room, []).append(OutletRow(page.id, at_of(desk, page.id), point.use or "",
                                                          page.answer.headline, there, _guard(desk, page.id)))
    return tuple(OutletRoom(name, tuple(rows)) for name, rows in rooms.items())


def _guard(desk: Desk, outlet: str) -> tuple[str, ...]:
    point = desk.point(outlet)
    shown = [desk.words.text("print.guard.shown", id=device, day=desk.words.day(day))
             for device in desk.proof.proved_by(outlet) if (day := desk.claims.day_shown(outlet, device))]
    if point.not_proved:
        shown.append(desk.words.text("print.guard.not_proved", reason=point.not_proved))
    return tuple(shown) or (desk.words.text("print.guard.none"),)


def device_sheet(desk: Desk, page: PlacePage) -> DeviceSheet:
    """What the leaf of a device says beside its page."""
    listed = turns_off(desk, page.id)
    seen = desk.words.text("turns_off.seen", id=page.id, day=desk.words.day(listed.days[-1])) if listed.days \
        else desk.words.text("turns_off.nothing")
    not_on: dict[str, list[str]] = {}
    for item in listed.not_on:
        point = desk.point(item.id)
        not_on.setdefault(point.room, []).append(point.use or point.at)
    circuits = _circuits_of(desk, page.id)
    return DeviceSheet(page, where(desk, page.answer.spot), bare(page.url), seen, _off_rows(listed.items, 0),
                       tuple(item.place for item in flatten(listed.not_seen)),
                       tuple((room, in_a_row(desk.words, things)) for room, things in not_on.items()),
                       tuple(_record_line(desk, circuit) for circuit in circuits),
                       tuple(feed_line(desk, circuit) for circuit in circuits))


def _off_rows(items: tuple[Item, ...], depth: int) -> tuple[OffRow, ...]:
    rows: list[OffRow] = []
    for item in items:
        vital = item.vital and not item.children
        rows.append(OffRow(item.id, item.place, depth, item.itself, bool(item.children), vital))
        rows += _off_rows(item.children, depth + 1)
    return tuple(rows)


def _circuits_of(desk: Desk, device: str) -> tuple[Circuit, ...]:
    job = desk.job
    if device in job.breaker:
        return tuple(circuit for circuit in job.circuits if circuit.breaker == device)
    return (job.circuit[job.point[device].circuit],)


def _record_line(desk: Desk, circuit: Circuit) -> str:
    breaker = desk.job.breaker[circuit.breaker]
    parts = [desk.words.text("service.circuit", number=circuit.number), desk.words.text("print.panel", id=circuit.panel),
             desk.words.text("print.space", space=breaker.space), f"{breaker.amps:g} A" if breaker.amps else "",
             breaker.kind.name, f"{circuit.wire.awg} AWG {circuit.wire.metal}" if circuit.wire else ""]
    return desk.words.join([part for part in parts if part])


def directory(desk: Desk, panel: Panel) -> Directory:
    """Every circuit of a panel by space.

    NEC 408.4(A), as reported: each circuit by its clear, evident and specific purpose, told apart from all others. A
    spare is described where the map names it as a circuit; an abbreviation is explained (2023, as reported).
    """
    job = desk.job
    rows, kinds = [], []
    for circuit in (circuit for circuit in desk.by_space() if circuit.panel == panel.id):
        breaker = job.breaker[circuit.breaker]
        kinds.append(breaker.kind.name)
        poles = desk.words.text("print.poles", poles=breaker.poles) if breaker.poles > 1 else ""
        rows.append(DirectoryRow(breaker.space, circuit.serves,
                                 " ".join(filter(None, (desk.words.get(f"kinds.breakers.{breaker.kind.name}.short"), poles))),
                                 f"{breaker.amps:g}" if breaker.amps else ""))
    power = [desk.words.text("print.supplied_by", space=job.breaker[panel.fed_from].space,
                        at=desk.panel_of(panel.fed_from).at)] if panel.fed_from else []
    power += [desk.words.text("print.also_supplied_by", source=desk.words.get(f"answer.sources.{source}"))
              for source in panel.also_supplied_by]
    legend = tuple((desk.words.get(f"kinds.breakers.{kind}.short"), desk.words.get(f"kinds.breakers.{kind}.long"))
                   for kind in dict.fromkeys(kinds))
    return Directory(panel.id, panel.at, tuple(power), tuple(rows), legend)


def monthly_days(desk: Desk) -> tuple[date, ...]:
    """The days of the next twelve monthly tests, the first strictly after the handover."""
    rule, day = desk.job.file.reminders.day, counted_from(desk)
    days: list[date] = []
    for _ in range(MONTHS):
        day = first_on_or_after(rule, day + timedelta(days=1))
        days.append(day)
    return tuple(days)


def log(desk: Desk, devices: tuple[Spot, ...]) -> Log:
    """The monthly log of the house."""
    days = monthly_days(desk)
    months = desk.words.get("print.months")
    heads = tuple((desk.words.text("print.log_day", day=day.day, month=months[day.month - 1]), str(day.year)) for day in days)
    return Log(rule_in_words(desk), tuple(desk.words.day(day) for day in days), heads,
               tuple((spot.id, where(desk, spot)) for spot in devices))


def private(desk: Desk) -> tuple[tuple[str, str], ...]:
    """The home's own entries and the private ones: the only place where they are printed."""
    file = desk.job.file
    known = desk.words.get("print.private_names")
    return tuple((known.get(name, name), value) for name, value in (*file.home.items(), *file.private.items()))
