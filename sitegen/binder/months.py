"""Takes the claims; gives the monthly test of a device in steps, and the reminders that go with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from urllib.parse import urlsplit

from ..errors import CallError
from ..job.month_day import first_on_or_after, rrule
from .address import page_url
from .answer import place, spot, tag, takes_a_charger
from .claims import Claims
from .labels.records import Calendar, Reminder
from .lists import flatten, is_vital, turns_off, walking_order
from .words import Rich, Tag, Words


@dataclass(frozen=True, slots=True)
class MonthlyTest:
    device: str
    heading: Rich
    intro: str
    moment: Rich
    steps: tuple[Rich, ...]


def rule_in_words(claims: Claims, words: Words) -> str:
    """First Saturday of the month."""
    day = claims.report.job.file.reminders.day
    first, _, second = day.partition(" ")
    if day == "last day":
        return words.text("monthly.days.last_day")
    if first == "day":
        return words.text("monthly.days.day", number=second)
    return words.text(f"monthly.days.{first}", weekday=words.get(f"monthly.weekdays.{second}"))


def monthly_test(claims: Claims, words: Words, device: str) -> MonthlyTest:
    """The steps by kind: a lamp on, TEST, the power goes off, RESET, the power is back, the freezer is back."""
    tree, job = claims.report.tree, claims.report.job
    kind = tree.kind(device)
    values = {"id": Tag(device), "space": job.breaker[device].space if kind.is_breaker else "",
              "fails": words.rich("monthly.fails", id=Tag(device))}
    suffix = "_breaker" if kind.is_breaker else ""
    steps = [_lamp(claims, words, device), words.rich(f"monthly.test{suffix}", **values),
             words.rich(f"monthly.reset{suffix}", **values)]
    vital = [item.place for item in flatten(turns_off(claims, words, device).items) if is_vital(claims, words, item.id)]
    if vital:
        steps.append(words.rich("monthly.vital", things="; ".join(vital)))
    return MonthlyTest(device, words.rich("monthly.heading", id=Tag(device)),
                       words.text("monthly.intro", rule=rule_in_words(claims, words)),
                       words.rich("monthly.off_for_moment", id=Tag(device)), tuple(steps))


def _lamp(claims: Claims, words: Words, device: str) -> Rich:
    if claims.report.tree.kind(device).has_face:
        return words.rich("monthly.lamp_here", id=Tag(device))
    seen = claims.turns_off(device)
    slots = [id for id in seen if takes_a_charger(claims, words, id)]
    plain = [id for id in slots if not claims.point(id).kind.opens]
    if slots:
        lamp = (plain or slots)[0]
        return words.rich("monthly.lamp_there", id=tag(claims, lamp), place=place(claims, words, lamp))
    return words.rich("monthly.lamp_look", place=place(claims, words, seen[0]) if seen else "")


def counted_from(claims: Claims) -> date:
    """The day after which the monthly tests begin: the handover, else the last trip test. Raises CallError without either."""
    file = claims.report.job.file
    handed = file.handover or max((row.date for row in claims.report.job.tests), default=None)
    if handed is None:
        raise CallError(f"{file.where}: job.yaml gives no handover date, and there is no trip test to count the reminders "
                        f"from; expected one of the two. Write `handover: YYYY-MM-DD` in job.yaml, even for a draft.")
    return handed


def _first(claims: Claims) -> tuple[datetime, date]:
    """When the first test falls, strictly after the handover, and the day the handover counts from."""
    file, handed = claims.report.job.file, counted_from(claims)
    return datetime.combine(first_on_or_after(file.reminders.day, handed + timedelta(days=1)), file.reminders.at), handed


def _uid(claims: Claims, name: str) -> str:
    file = claims.report.job.file
    host = urlsplit(file.base_url).hostname if file.base_url else "binder.example"
    return f"{name.lower()}-monthly-test.{file.id.lower()}@{host}"


def _closing(claims: Claims, words: Words) -> list[str]:
    contractor = claims.report.job.file.contractor
    firm = contractor.get("firm") or words.text("no_phone")
    return [words.text("reminder.after", firm=firm, phone=contractor.get("phone", "")).replace(", .", "."),
            words.text("reminder.storm")]


def _numbered(steps: tuple[Rich, ...]) -> list[str]:
    return [f"{number}. {step.plain}" for number, step in enumerate(steps, 1)]


def device_calendar(claims: Claims, words: Words, device: str) -> Calendar:
    """The reminder of one device."""
    start, stamp = _first(claims)
    here = spot(claims, words, device)
    url = page_url(claims, device)
    lines = [words.text("reminder.where", room=here.room, at=here.at),
             *_numbered(monthly_test(claims, words, device).steps), *_closing(claims, words)]
    if url:
        lines.append(words.text("reminder.page", url=url))
    event = Reminder(_uid(claims, device), stamp, start, rrule(claims.report.job.file.reminders.day), 10,
                     words.text("reminder.summary", id=device, room=here.room), "\n".join(lines),
                     f"{here.room}, {here.at}", url, words.text("reminder.alarm", id=device, room=here.room, at=here.at))
    return Calendar(event.summary, words.language, (event,))


def house_calendar(claims: Claims, words: Words) -> Calendar:
    """One event a month for the whole house, the devices in walking order."""
    file = claims.report.job.file
    start, stamp = _first(claims)
    lines = [words.text("monthly.order")]
    for device in walking_order(claims):
        here = spot(claims, words, device)
        lines += [f"{device} · {here.room}, {here.at}",
                  *(f"   {line}" for line in _numbered(monthly_test(claims, words, device).steps))]
    url = f"{file.base_url}/monthly-test/" if file.base_url else None
    lines += _closing(claims, words) + ([words.text("reminder.page", url=url)] if url else [])
    event = Reminder(_uid(claims, "house"), stamp, start, rrule(file.reminders.day), 5 * len(claims.report.tree.devices),
                     words.text("reminder.summary_all", title=file.title), "\n".join(lines), file.title, url,
                     words.text("reminder.alarm_all"))
    return Calendar(words.text("reminder.calendar", title=file.title), words.language, (event,))
