"""The day of the monthly test against Python's `calendar`, and against dateutil's reading of RFC 5545."""

from __future__ import annotations

import calendar
from datetime import date, datetime, timedelta

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, strategies as st

from sitegen.job.month_day import DAY_RULES

WEEKDAY_NUMBER = {name.lower(): number for number, name in enumerate(calendar.day_name)}


def days_by_calendar(day_rule: str, first_month: date, count: int) -> list[date]:
    """The day of the rule in `count` months, read off the weeks that `calendar` prints."""
    place, word = day_rule.split()
    days = []
    for offset in range(count):
        year, month = divmod(first_month.year * 12 + first_month.month - 1 + offset, 12)
        weeks = calendar.monthcalendar(year, month + 1)
        if day_rule == "last day":
            day = max(max(week) for week in weeks)
        elif place == "day":
            day = int(word)
        else:
            column = [week[WEEKDAY_NUMBER[word]] for week in weeks if week[WEEKDAY_NUMBER[word]]]
            day = column[-1] if place == "last" else column[("first", "second", "third", "fourth").index(place)]
        days.append(date(year, month + 1, day))
    return days


def test_rules_are_the_ones_the_format_promises() -> None:
    """Five places of seven weekdays, 28 days and the last day: 64 rules."""
    assert len(DAY_RULES) == 5 * 7 + 28 + 1
    assert {"first saturday", "last sunday", "day 1", "day 28", "last day"} <= set(DAY_RULES)


@pytest.mark.parametrize("day_rule", sorted(DAY_RULES))
def test_two_years_agree_with_calendar_and_dateutil(day_rule: str) -> None:
    """24 months from October 2027, over the 29th of February 2028: no month left out, every day right."""
    expected = days_by_calendar(day_rule, date(2027, 10, 1), 24)
    assert DAY_RULES[day_rule].on_or_after(date(2027, 10, 1)) == expected[0]
    start = datetime(expected[0].year, expected[0].month, expected[0].day, 9)
    read = rrulestr(f"RRULE:{DAY_RULES[day_rule].rrule}", dtstart=start)
    assert [moment.date() for moment, _ in zip(read, expected)] == expected
    # The next one is always reached from the day after the last one.
    walked = [expected[0]]
    while len(walked) < len(expected):
        walked.append(DAY_RULES[day_rule].on_or_after(walked[-1] + timedelta(days=1)))
    assert walked == expected


@given(st.sampled_from(sorted(DAY_RULES)), st.dates(date(1990, 1, 1), date(2090, 1, 1)))
def test_first_day_is_the_nearest_from_the_earliest_on(day_rule: str, earliest: date) -> None:
    """Any start: the first of the calendar's days that is not before it."""
    candidates = days_by_calendar(day_rule, earliest, 2)
    assert DAY_RULES[day_rule].on_or_after(earliest) == min(day for day in candidates if day >= earliest)


@pytest.mark.parametrize(
    ("day_rule", "start", "expected"),
    [
        # RFC 5545, 3.8.5.3: monthly on the first Friday, from 5 September 1997.
        ("first friday", date(1997, 9, 1),
         "1997-09-05 1997-10-03 1997-11-07 1997-12-05 1998-01-02 1998-02-06 1998-03-06 1998-04-03 1998-05-01 "
         "1998-06-05"),
        # RFC 5545, 3.8.5.3: monthly on the 2nd and 15th, from 2 September 1997; here each day by itself.
        ("day 2", date(1997, 9, 1), "1997-09-02 1997-10-02 1997-11-02 1997-12-02 1998-01-02"),
        ("day 15", date(1997, 9, 1), "1997-09-15 1997-10-15 1997-11-15 1997-12-15 1998-01-15"),
    ],
)
def test_examples_of_the_rfc(day_rule: str, start: date, expected: str) -> None:
    """The dates that RFC 5545 prints for its own monthly examples."""
    found = [DAY_RULES[day_rule].on_or_after(start)]
    dates = [date.fromisoformat(day) for day in expected.split()]
    while len(found) < len(dates):
        found.append(DAY_RULES[day_rule].on_or_after(found[-1] + timedelta(days=1)))
    assert found == dates
    read = rrulestr(f"RRULE:{DAY_RULES[day_rule].rrule}", dtstart=datetime(found[0].year, found[0].month, found[0].day, 9))
    assert [moment.date() for moment, _ in zip(read, dates)] == dates


@pytest.mark.parametrize("day_rule", ["day 29", "day 31", "day 0", "day 01", "fifth monday", "", "saturday"])
def test_rules_that_leave_months_out_are_not_known(day_rule: str) -> None:
    """RFC 5545, 3.3.10: days that a month lacks are skipped without a word."""
    assert day_rule not in DAY_RULES
