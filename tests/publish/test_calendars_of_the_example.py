"""Every calendar file of the example, read by two libraries: 24 right dates."""

import calendar
from datetime import date, datetime

import icalendar
import recurring_ical_events
from dateutil.rrule import rrulestr


def first_saturdays(after: date, count: int) -> list[date]:
    """By the calendar module alone."""
    found, year, month = [], after.year, after.month
    while len(found) < count:
        day = next(week[calendar.SATURDAY] for week in calendar.monthcalendar(year, month) if week[calendar.SATURDAY])
        if date(year, month, day) > after:
            found.append(date(year, month, day))
        year, month = (year + month // 12, month % 12 + 1)
    return found


def test_every_file_gives_24_first_saturdays(bound):
    """The example asks for the first Saturday at 9:00; handed over on 12 May 2026, so June comes first."""
    expected = first_saturdays(date(2026, 5, 12), 24)
    files = sorted((bound / "site" / "reminders").glob("*.ics"))
    assert len(files) >= 9
    for path in files:
        parsed = icalendar.Calendar.from_ical(path.read_bytes())
        assert all(not part.errors for part in parsed.walk())
        [event] = parsed.walk("VEVENT")
        seen = recurring_ical_events.of(parsed).between(date(2026, 5, 1), date(2028, 12, 31))
        assert sorted(item["DTSTART"].dt for item in seen)[:24] == [datetime(d.year, d.month, d.day, 9) for d in expected]
        rule = rrulestr(event["RRULE"].to_ical().decode(), dtstart=event["DTSTART"].dt)
        assert [moment.date() for _, moment in zip(range(24), rule)] == expected
        assert len(event.walk("VALARM")) == 1
        assert "storm" in event["DESCRIPTION"]


def test_the_house_walks_the_far_one_of_a_series_first(bound):
    """K4 stands behind K1, and both behind breaker 5: they come in that order."""
    [event] = icalendar.Calendar.from_ical((bound / "site/reminders/all.ics").read_bytes()).walk("VEVENT")
    text = str(event["DESCRIPTION"])
    assert text.index("K4 ·") < text.index("K1 ·") < text.index("breaker 5 ·")
