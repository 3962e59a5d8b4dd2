"""Takes the desk; gives the monthly test of a device in steps, in which order they are tested, and from which day on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ..errors import CallError
from ..job.month_day import PLACES
from ..protection.rounds.monthly import cuts_medical
from .answer.lists import flatten, turns_off
from .answer.places import is_vital, place, tag
from .desk import Desk
from .desk.once import once
from .desk.words import Rich, Tag
from .watch import watch


@dataclass(frozen=True, slots=True)
class MonthlyTest:
    device: str
    heading: Rich
    intro: str
    moment: Rich
    steps: tuple[Rich, ...]


def rule_in_words(desk: Desk) -> str:
    """First Saturday of the month."""
    day = desk.job.file.reminders.day
    if day.weekday:
        place = next(name for name, number in PLACES.items() if number == day.place)
        return desk.words.text(f"monthly.days.{place}", weekday=desk.words.get(f"monthly.weekdays.{day.weekday}"))
    return desk.words.text("monthly.days.last_day") if day.place == -1 else desk.words.text("monthly.days.day", number=day.place)


@once
def monthly_test(desk: Desk, device: str) -> MonthlyTest:
    """The steps by kind: a lamp on, TEST, the power goes off, RESET, the power is back, the freezer is back. None is pressed that
    would cut medical equipment."""
    return MonthlyTest(device, desk.words.rich("monthly.heading", id=Tag(device)),
                       desk.words.text("monthly.intro", rule=rule_in_words(desk)),
                       desk.words.rich("monthly.off_for_moment", id=Tag(device)),
                       (desk.words.rich("monthly.medical", id=Tag(device)),) if cuts_medical(desk.tree, device) else _steps(desk, device))


def _steps(desk: Desk, device: str) -> tuple[Rich, ...]:
    kind = desk.tree.kind(device)
    values = {"id": Tag(device), "space": desk.job.breaker[device].space if kind.is_breaker else "",
              "fails": desk.words.rich(f"monthly.fails.{guards(desk, device)}", id=Tag(device))}
    suffix = "_breaker" if kind.is_breaker else ""
    steps = [_lamp(desk, device), desk.words.rich(f"monthly.test{suffix}", **values),
             desk.words.rich(f"monthly.reset{suffix}", **values)]
    vital = [item.place for item in flatten(turns_off(desk, device).items) if is_vital(desk, item.id)]
    if vital:
        steps.append(desk.words.rich("monthly.vital", things="; ".join(vital)))
    return tuple(steps)


def guards(desk: Desk, device: str) -> str:
    """Against what: shock | arcs | equipment."""
    kind = desk.tree.kind(device)
    return "shock" if kind.stops_shock else "arcs" if kind.stops_arcs else "equipment"


def _lamp(desk: Desk, device: str) -> Rich:
    seen = watch(desk, device)
    return desk.words.rich(f"monthly.lamp.{seen.how}", id=tag(desk, seen.outlet) if seen.outlet else "",
                           place=place(desk, seen.outlet) if seen.outlet else "")


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
