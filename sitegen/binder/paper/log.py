"""Takes the desk; gives the monthly log: the presses of the round, and the days of its first twelve."""

from __future__ import annotations

from datetime import date, timedelta

from ..desk import Desk
from ..months import counted_from, rule_in_words
from ..round import monthly_round
from .records import Log

MONTHS = 12


def log(desk: Desk) -> Log:
    """The monthly log of the house."""
    months = desk.words.get("print.months")
    heads = tuple((desk.words.text("print.log_day", day=day.day, month=months[day.month - 1]), str(day.year)) for day in monthly_days(desk))
    return Log(rule_in_words(desk), heads, tuple((row.label, row.what) for row in monthly_round(desk).presses))


def monthly_days(desk: Desk) -> tuple[date, ...]:
    """The days of the next twelve monthly tests, the first strictly after the handover."""
    rule, day = desk.job.file.reminders.day, counted_from(desk)
    days: list[date] = []
    for _ in range(MONTHS):
        day = rule.on_or_after(day + timedelta(days=1))
        days.append(day)
    return tuple(days)
