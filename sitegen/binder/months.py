"""Takes the desk; gives the monthly test of a device in steps, and the reminders that go with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from urllib.parse import urlsplit

from ..errors import CallError
from ..job.month_day import PLACES
from .answer.lists import flatten, turns_off
from .answer.places import is_vital, place, spot, tag, takes_a_charger
from .desk import Desk
from .desk.address import page_url
from .desk.once import once
from .desk.words import Rich, Tag


@dataclass(frozen=True, slots=True)
class MonthlyTest:
    device: str
    heading: Rich
    intro: str
    moment: Rich
    steps: tuple[Rich, ...]


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


def rule_in_words(desk: Desk) -> str:
    """First Saturday of the month."""
    day = desk.job.file.reminders.day
    if day.weekday:
        place = next(name for name, number in PLACES.items() if number == day.place)
        return desk.words.text(f"monthly.days.{place}", weekday=desk.words.get(f"monthly.weekdays.{day.weekday}"))
    return desk.words.text("monthly.days.last_day") if day.place == -1 else desk.words.text("monthly.days.day", number=day.place)


@once
def monthly_test(desk: Desk, device: str) -> MonthlyTest:
    """The steps by kind: a lamp on, TEST, the power goes off, RESET, the power is back, the freezer is back."""
    tree, job = desk.tree, desk.job
    kind = tree.kind(device)
    values = {"id": Tag(device), "space": job.breaker[device].space if kind.is_breaker else "",
              "fails": desk.words.rich("monthly.fails", id=Tag(device))}
    suffix = "_breaker" if kind.is_breaker else ""
    steps = [_lamp(desk, device), desk.words.rich(f"monthly.test{suffix}", **values),
             desk.words.rich(f"monthly.reset{suffix}", **values)]
    vital = [item.place for item in flatten(turns_off(desk, device).items) if is_vital(desk, item.id)]
    if vital:
        steps.append(desk.words.rich("monthly.vital", things="; ".join(vital)))
    return MonthlyTest(device, desk.words.rich("monthly.heading", id=Tag(device)),
                       desk.words.text("monthly.intro", rule=rule_in_words(desk)),
                       desk.words.rich("monthly.off_for_moment", id=Tag(device)), tuple(steps))


def _lamp(desk: Desk, device: str) -> Rich:
    if desk.tree.kind(device).has_face:
        return desk.words.rich("monthly.lamp_here", id=Tag(device))
    seen = desk.claims.turns_off(device)
    slots = [id for id in seen if takes_a_charger(desk, id)]
    plain = [id for id in slots if not desk.point(id).kind.opens]
    if slots:
        lamp = (plain or slots)[0]
        return desk.words.rich("monthly.lamp_there", id=tag(desk, lamp), place=place(desk, lamp))
    return desk.words.rich("monthly.lamp_look", place=place(desk, seen[0])) if seen else desk.words.rich("monthly.lamp_none")


@once
def testing_order(desk: Desk) -> tuple[str, ...]:
    """Every device, room by room in the order of the map, the farthest of a series before the one that feeds it."""
    tree = desk.tree
    rooms: dict[str, int] = {}
    for id in tree.order:
        rooms.setdefault(desk.point(id).room, len(rooms))
    panel = len(rooms)  # the breakers come last: each stands before all that was walked already
    room = {id: panel if id in desk.job.breaker else rooms[desk.point(id).room] for id in tree.devices}
    outer = {id: desk.claims.outer(id) for id in tree.devices}
    waiting, walked = list(tree.devices), []
    here = 0
    while waiting:
        before = {outer[id] for id in waiting}
        free = [id for id in waiting if id not in before]
        same = [id for id in free if room[id] == here]
        next_one = same[0] if same else min(free, key=lambda id: room[id])
        here = room[next_one]
        walked.append(next_one)
        waiting.remove(next_one)
    return tuple(walked)


def counted_from(desk: Desk) -> date:
    """The day after which the monthly tests begin: the handover, else the last test of the first walk; no visit moves it.

    Raises CallError without either.
    """
    file, visits = desk.job.file, desk.job.visits
    handed = file.handover or max((row.date for row in desk.job.tests if not visits or row.date < visits[0].date), default=None)
    if handed is None:
        raise CallError(f"{file.line_of('handover')}: job.yaml gives no handover date, and there is no trip test to count the reminders "
                        f"from; expected one of the two. Write `handover: YYYY-MM-DD` in job.yaml, even for a draft.")
    return handed


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
    lines = [desk.words.text("reminder.where", room=here.room, at=here.at),
             *_numbered(monthly_test(desk, device).steps), *_closing(desk)]
    if url:
        lines.append(desk.words.text("reminder.page", url=url))
    event = Reminder(_uid(desk, device), stamp, start, desk.job.file.reminders.day.rrule, 10,
                     desk.words.text("reminder.summary", id=device, room=here.room), "\n".join(lines),
                     f"{here.room}, {here.at}", url, desk.words.text("reminder.alarm", id=device, room=here.room, at=here.at),
                     len(desk.job.visits))
    return Calendar(event.summary, desk.words.language, (event,))


def house_calendar(desk: Desk) -> Calendar:
    """One event a month for the whole house, the devices in walking order."""
    file = desk.job.file
    start, stamp = _first(desk)
    lines = [desk.words.text("monthly.order")]
    for device in testing_order(desk):
        here = spot(desk, device)
        lines += [f"{device} · {here.room}, {here.at}",
                  *(f"   {line}" for line in _numbered(monthly_test(desk, device).steps))]
    url = f"{file.base_url}/monthly-test/" if file.base_url else None
    lines += _closing(desk) + ([desk.words.text("reminder.page", url=url)] if url else [])
    event = Reminder(_uid(desk, "house"), stamp, start, file.reminders.day.rrule, 5 * len(desk.tree.devices),
                     desk.words.text("reminder.summary_all", title=file.title), "\n".join(lines), file.title, url,
                     desk.words.text("reminder.alarm_all"), len(desk.job.visits))
    return Calendar(desk.words.text("reminder.calendar", title=file.title), desk.words.language, (event,))
