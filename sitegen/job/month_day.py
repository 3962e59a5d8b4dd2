"""Takes the contractor's words for a day of the month; gives its first date and its RRULE (RFC 5545, 3.3.10)."""

from __future__ import annotations

from datetime import date, timedelta

from ..errors import DayRuleUnknown, nearest

WEEKDAYS = {
    "monday": "MO", "tuesday": "TU", "wednesday": "WE", "thursday": "TH",
    "friday": "FR", "saturday": "SA", "sunday": "SU",
}
PLACES = {"first": 1, "second": 2, "third": 3, "fourth": 4, "last": -1}
# No day 29 to 31 and no fifth weekday: a rule on them leaves out the months that lack it (RFC 5545, 3.3.10).
DAYS = range(1, 29)

# Every rule there is, as written in `reminders: {day: ...}`, with the part of the RRULE it stands for.
DAY_RULES: dict[str, str] = {
    **{
        f"{place} {weekday}": f"BYDAY={number}{code}"
        for place, number in PLACES.items()
        for weekday, code in WEEKDAYS.items()
    },
    **{f"day {day}": f"BYMONTHDAY={day}" for day in DAYS},
    "last day": "BYMONTHDAY=-1",
}


def rrule(day_rule: str) -> str:
    """The rule as the value of an RRULE.

    >>> rrule("first Saturday")
    'FREQ=MONTHLY;BYDAY=1SA'
    """
    return f"FREQ=MONTHLY;{DAY_RULES[_known(day_rule)]}"


def first_on_or_after(day_rule: str, earliest: date) -> date:
    """The first day of the rule that is not before `earliest`.

    >>> first_on_or_after("last day", date(2026, 2, 3))
    datetime.date(2026, 2, 28)
    """
    known = _known(day_rule)
    month = earliest.replace(day=1)
    day = _day_in(known, month)
    return day if day >= earliest else _day_in(known, _next_month(month))


def _known(day_rule: str) -> str:
    words = " ".join(day_rule.casefold().split())
    if words in DAY_RULES:
        return words
    near = nearest(words, DAY_RULES)
    raise DayRuleUnknown(
        f"`{day_rule}` is no day of the month; expected `first`, `second`, `third`, `fourth` or `last` and a "
        f"weekday, `day 1` to `day 28`, or `last day`.{f' Did you mean `{near}`?' if near else ''}"
    )


def _next_month(month: date) -> date:
    return (month + timedelta(days=31)).replace(day=1)


def _day_in(known: str, month: date) -> date:
    """The day of a known rule in the month whose first day is given."""
    last_day = _next_month(month) - timedelta(days=1)
    place, word = known.split()
    if known == "last day":
        return last_day
    if place == "day":
        return month.replace(day=int(word))
    weekday = list(WEEKDAYS).index(word)
    if place == "last":
        return last_day - timedelta(days=(last_day.weekday() - weekday) % 7)
    return month + timedelta(days=(weekday - month.weekday()) % 7 + 7 * (PLACES[place] - 1))
