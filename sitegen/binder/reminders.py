"""Takes the desk; gives the reminders: one for the round of the whole house, one for each device alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from urllib.parse import urlsplit

from .answer.places import spot
from .desk import Desk
from .desk.address import page_url
from .desk.words import Rich
from .months import counted_from, monthly_test
from .round import STEP, MonthlyRound, monthly_round


@dataclass(frozen=True, slots=True)
class Reminder:
    """One event that comes back every month."""

    uid: str              # stable: the same device in the same job gives the same
    stamp: date           # date of last revision: the handover, or the last visit
    start: datetime       # first time it falls, local time of whoever reads it
    rule: str             # RRULE: "FREQ=MONTHLY;BYDAY=1SA"
    minutes: int          # how long it takes
    summary: str
    description: str      # paragraphs parted by \n
    location: str
    url: str | None
    alarm: str            # what the alarm says
    sequence: int = 0     # how often it was revised: a calendar then puts the new one in the place of the old


@dataclass(frozen=True, slots=True)
class Calendar:
    """One .ics file."""

    name: str             # shown by calendar programs
    language: str         # "en"
    events: tuple[Reminder, ...]


def _first(desk: Desk) -> tuple[datetime, date]:
    """When the first test falls, strictly after the handover, and the day on which the reminder last changed."""
    file, handed = desk.job.file, counted_from(desk)
    revised = max((handed, *(visit.date for visit in desk.job.visits)))
    return datetime.combine(file.reminders.day.on_or_after(handed + timedelta(days=1)), file.reminders.at), revised


def _uid(desk: Desk, name: str) -> str:
    file = desk.job.file
    host = urlsplit(file.base_url).hostname if file.base_url else "binder.example"
    return f"{name.lower()}-monthly-test.{file.id.lower()}@{host}"


def _closing(desk: Desk) -> list[str]:
    return [desk.words.text("reminder.after", firm=desk.firm, phone=desk.phone).replace(", .", "."),
            desk.words.text("reminder.storm")]


def _numbered(steps: tuple[Rich, ...]) -> list[str]:
    return [f"{number}. {step.plain}" for number, step in enumerate(steps, 1)]


def device_calendar(desk: Desk, device: str) -> Calendar:
    """The reminder of one device."""
    start, stamp = _first(desk)
    here = spot(desk, device)
    url = page_url(desk, device)
    test = monthly_test(desk, device)
    lines = [desk.words.text("reminder.where", room=here.room, at=here.at), desk.words.text("reminder.takes", minutes=STEP),
             test.moment.plain, *_numbered(test.steps), *_closing(desk)]
    if url:
        lines.append(desk.words.text("reminder.page", url=url))
    event = Reminder(_uid(desk, device), stamp, start, desk.job.file.reminders.day.rrule, STEP,
                     desk.words.text("reminder.summary", id=device, room=here.room), "\n".join(lines),
                     f"{here.room}, {here.at}", url, desk.words.text("reminder.alarm", id=device, room=here.room, at=here.at),
                     len(desk.job.visits))
    return Calendar(event.summary, desk.words.language, (event,))


def house_calendar(desk: Desk) -> Calendar:
    """One event a month for the whole house: the round as on its page."""
    file, whole = desk.job.file, monthly_round(desk)
    start, stamp = _first(desk)
    url = f"{file.base_url}/monthly-test/" if file.base_url else None
    lines = [*_round(desk, whole), *_closing(desk), *([desk.words.text("reminder.page", url=url)] if url else [])]
    event = Reminder(_uid(desk, "house"), stamp, start, file.reminders.day.rrule, whole.minutes,
                     desk.words.text("reminder.summary_all", title=file.title), "\n".join(lines), file.title, url,
                     desk.words.text("reminder.alarm_all", minutes=whole.minutes), len(desk.job.visits))
    return Calendar(desk.words.text("reminder.calendar", title=file.title), desk.words.language, (event,))


def _round(desk: Desk, whole: MonthlyRound) -> Iterator[str]:
    words = desk.words
    yield f"{words.text('reminder.takes', minutes=whole.minutes)} {whole.basis}"
    yield words.text("round.short")
    yield from (text.plain for text in words.many("round.before"))
    if whole.buttons:
        yield f"{words.text('round.buttons')}. {words.text('round.buttons_how')}"
        yield from (f"{row.label} · {row.what}: {row.how}" for row in whole.buttons)
    if whole.visits:
        yield words.text("round.breakers")
    for visit in whole.visits:
        yield from [words.text("round.alone")] if visit.again else _numbered(words.many("round.visit", at=visit.at))
        yield from (f"{words.text('round.results.breakers', spaces=row.label)} · {row.what}: {row.how}" for row in visit.rows)
    if whole.held:
        yield f"{words.text('round.held')} {words.join([row.label for row in whole.held])}"
    yield from (f"{seen.plain}: {means.plain}" for seen, means in whole.results)
    if whole.last:
        yield f"{words.text('round.last')} {'; '.join(whole.last)}"
