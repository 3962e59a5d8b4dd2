"""Takes the desk; gives the monthly log: twelve days to tick."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from ..answer.places import Spot
from ..desk import Desk
from ..months import counted_from, rule_in_words
from .records import Log
from .where import where

MONTHS = 12


def log(desk: Desk, devices: Sequence[Spot]) -> Log:
    """The monthly log of the house."""
    days = monthly_days(desk)
    months = desk.words.get("print.months")
    heads = tuple((desk.words.text("print.log_day", day=day.day, month=months[day.month - 1]), str(day.year)) for day in days)
    return Log(rule_in_words(desk), tuple(desk.words.day(day) for day in days), heads,
               tuple((spot.id, where(desk, spot)) for spot in devices))


def monthly_days(desk: Desk) -> tuple[date, ...]:
    """The days of the next twelve monthly tests, the first strictly after the handover."""
    rule, day = desk.job.file.reminders.day, counted_from(desk)
    days: list[date] = []
    for _ in range(MONTHS):
        day = rule.on_or_after(day + timedelta(days=1))
        days.append(day)
    return tuple(days)
