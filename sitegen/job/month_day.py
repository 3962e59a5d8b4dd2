"""Takes the contractor's words for a day of the month, once, where job.yaml is read; gives its dates and its RRULE (RFC 5545,
3.3.10)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time, timedelta

WEEKDAYS = {
    "monday": "MO", "tuesday": "TU", "wednesday": "WE", "thursday": "TH",
    "friday": "FR", "saturday": "SA", "sunday": "SU",
}
PLACES = {"first": 1, "second": 2, "third": 3, "fourth": 4, "last": -1}
# No day 29 to 31 and no fifth weekday: a rule on them leaves out the months that lack it (RFC 5545, 3.3.10).
DAYS = range(1, 29)


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A weekday of the month by its place in it, or the day of that number; -1 is the last one."""

    place: int
    weekday: str = ""       # "saturday"; "" for a day by its number

    @property
    def rrule(self) -> str:
        """
        >>> MonthDay(1, "saturday").rrule
        'FREQ=MONTHLY;BYDAY=1SA'
        """
        return "FREQ=MONTHLY;" + (f"BYDAY={self.place}{WEEKDAYS[self.weekday]}" if self.weekday else f"BYMONTHDAY={self.place}")

    def on_or_after(self, earliest: date) -> date:
        """Its first date that is not before `earliest`.

        >>> MonthDay(-1).on_or_after(date(2026, 2, 3))
        datetime.date(2026, 2, 28)
        """
        month = earliest.replace(day=1)
        day = self._in(month)
        return day if day >= earliest else self._in(_next_month(month))

    def _in(self, month: date) -> date:
        """The day in the month whose first day is given."""
        last_day = _next_month(month) - timedelta(days=1)
        if not self.weekday:
            return last_day if self.place == -1 else month.replace(day=self.place)
        weekday = list(WEEKDAYS).index(self.weekday)
        if self.place == -1:
            return last_day - timedelta(days=(last_day.weekday() - weekday) % 7)
        return month + timedelta(days=(weekday - month.weekday()) % 7 + 7 * (self.place - 1))


@dataclass(frozen=True, slots=True)
class ReminderRule:
    """When the monthly test falls."""

    day: MonthDay
    at: time


# Every rule there is, as written in `reminders: {day: ...}`.
DAY_RULES: dict[str, MonthDay] = {
    **{f"{place} {weekday}": MonthDay(number, weekday) for place, number in PLACES.items() for weekday in WEEKDAYS},
    **{f"day {day}": MonthDay(day) for day in DAYS},
    "last day": MonthDay(-1),
}


def _next_month(month: date) -> date:
    return (month + timedelta(days=31)).replace(day=1)
