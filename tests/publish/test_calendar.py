"""The .ics files against the rules of RFC 5545 for bytes, and against two libraries that read them."""

from __future__ import annotations

import calendar
import re
from datetime import date, datetime, time, timedelta

import icalendar
import pytest
import recurring_ical_events
from dateutil.rrule import rrulestr
from hypothesis import given, strategies as st

from sitegen.binder.reminders import Calendar, Reminder
from sitegen.errors import CalendarError
from sitegen.job.month_day import DAY_RULES
from sitegen.publish.calendar import escape, fold, write_calendar

# Any text but control characters, which RFC 5545, 3.1 bars, and halves of surrogate pairs.
TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc"), include_characters="\n,;:\\\"é漢😀"), max_size=300)


def reminder(**changes: object) -> Reminder:
    fields: dict[str, object] = {
        "uid": "K1.24-017@binder.example",
        "stamp": date(2026, 5, 12),
        "start": datetime(2026, 6, 6, 9, 0),
        "rule": "FREQ=MONTHLY;BYDAY=1SA",
        "minutes": 5,
        "summary": "Test K1 (Kitchen): press TEST, then RESET",
        "description": "Plug in a lamp; it is on.\nPress TEST: click, lamp off.\nPress RESET: lamp on.",
        "location": "Kitchen, left of the sink",
        "url": "https://binder.example/24-017/K1/",
        "alarm": "Test K1 today",
    }
    return Reminder(**(fields | changes))  # type: ignore[arg-type]


def written(*events: Reminder, name: str = "Monthly tests", language: str = "en") -> bytes:
    return write_calendar(Calendar(name, language, events))


def faults_of_bytes(data: bytes) -> list[str]:
    """What RFC 5545, 3.1 forbids: bare CR or LF, lines over 75 octets, characters cut in two."""
    faults = [] if data.endswith(b"\r\n") else ["no CRLF at the end"]
    for line in data.removesuffix(b"\r\n").split(b"\r\n"):
        if b"\r" in line or b"\n" in line:
            faults.append(f"bare CR or LF in {line!r}")
        if len(line) > 75:
            faults.append(f"{len(line)} octets in {line!r}")
        try:
            line.decode("utf-8")
        except UnicodeDecodeError:
            faults.append(f"cut character in {line!r}")
        if not line:
            faults.append("an empty line")
    return faults


def parsed(data: bytes) -> icalendar.Calendar:
    """The file as icalendar reads it; that library only notes errors, so they are looked at here."""
    read = icalendar.Calendar.from_ical(data)
    assert all(not component.errors for component in read.walk())
    return read


@pytest.mark.parametrize(
    "bad", [b"A:b\n", b"A:b", b"A:" + b"x" * 74 + b"\r\n", "A:é".encode()[:-1] + b"\r\n", b"A:b\rc\r\n", b"A\r\n\r\n"]
)
def test_the_checker_of_bytes_finds_what_it_is_for(bad: bytes) -> None:
    assert faults_of_bytes(bad)


def test_whole_file_word_for_word() -> None:
    """One event, every line: the properties RFC 5545, 3.6 asks for, each once."""
    assert written(reminder(description="Press TEST;\nthen RESET.", summary="Test K1")).decode() == "\r\n".join((
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//sitegen//handover binder//EN",
        "CALSCALE:GREGORIAN",
        "NAME;LANGUAGE=en:Monthly tests",
        "X-WR-CALNAME:Monthly tests",
        "BEGIN:VEVENT",
        "UID:K1.24-017@binder.example",
        "DTSTAMP:20260512T000000Z",
        "DTSTART:20260606T090000",
        "DURATION:PT5M",
        "RRULE:FREQ=MONTHLY;BYDAY=1SA",
        "SUMMARY;LANGUAGE=en:Test K1",
        "DESCRIPTION;LANGUAGE=en:Press TEST\\;\\nthen RESET.",
        "LOCATION;LANGUAGE=en:Kitchen\\, left of the sink",
        "URL:https://binder.example/24-017/K1/",
        "TRANSP:TRANSPARENT",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        "TRIGGER:PT0S",
        "DESCRIPTION;LANGUAGE=en:Test K1 today",
        "END:VALARM",
        "END:VEVENT",
        "END:VCALENDAR",
        "",
    ))


def test_url_and_location_are_left_out_where_there_are_none() -> None:
    lines = written(reminder(url=None, location="")).decode().split("\r\n")
    assert not [line for line in lines if line.startswith(("URL", "LOCATION"))]


def test_fold_unfolds_to_the_sentence_of_the_rfc() -> None:
    """RFC 5545, 3.1: its folded example and our folding of the same line unfold alike."""
    of_the_rfc = b"DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line."
    line = "DESCRIPTION:This is a long description that exists on a long line."
    assert re.sub(b"\r\n[ \t]", b"", of_the_rfc) == line.encode()
    twice = f"{line} {line}"
    assert re.sub(b"\r\n[ \t]", b"", fold(twice)) == twice.encode() + b"\r\n"
    assert fold(twice).count(b"\r\n") == 2


def test_fold_at_75_octets_exactly() -> None:
    """The break does not count, the space of a continuation does; RFC 5545, 3.1."""
    assert fold("x" * 75) == b"x" * 75 + b"\r\n"
    assert fold("x" * 76) == b"x" * 75 + b"\r\n x\r\n"
    assert fold("x" * 150) == b"x" * 75 + b"\r\n " + b"x" * 74 + b"\r\n x\r\n"
    assert fold("x" * 74 + "é") == b"x" * 74 + b"\r\n \xc3\xa9\r\n"


def test_text_of_the_rfc() -> None:
    """RFC 5545, 3.3.11: its three lines become one value; a colon and a quote stay."""
    text = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    assert escape(text) == r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    assert escape('a\\b;c,d:e"f') == r'a\\b\;c\,d:e"f'
    assert escape("a\r\nb\rc") == r"a\nb\nc"


@given(TEXTS, TEXTS, TEXTS)
def test_any_text_comes_back(summary: str, description: str, name: str) -> None:
    """icalendar reads the very texts that went in, and the bytes keep the rules."""
    data = written(reminder(summary=summary, description=description, alarm=summary), name=name)
    assert faults_of_bytes(data) == []
    event = parsed(data).walk("VEVENT")[0]
    assert str(event["SUMMARY"]) == summary
    assert str(event["DESCRIPTION"]) == description
    assert str(event.walk("VALARM")[0]["DESCRIPTION"]) == summary


@given(st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=400))
def test_any_line_folds_and_unfolds(line: str) -> None:
    folded = fold(line)
    assert faults_of_bytes(folded) == []
    assert folded.replace(b"\r\n ", b"").removesuffix(b"\r\n") == line.encode()


def test_control_character_is_refused() -> None:
    """RFC 5545, 3.1 bars control characters; a break in a uid or url would start a line of its own."""
    with pytest.raises(CalendarError) as caught:
        written(reminder(url="https://binder.example/\r\nATTENDEE:x"))
    assert str(caught.value) == (
        "a calendar cannot hold the control character U+000D, met in "
        "`'URL:https://binder.example/\\r\\nATTENDEE:x'`; expected letters, digits and signs. Take it out of the text."
    )
    with pytest.raises(CalendarError):
        written(reminder(summary="bell \x07"))


def test_alarm_rings_at_the_start_in_local_time() -> None:
    """icalendar: a display alarm at zero; a floating start has no zone (RFC 5545, 3.3.5)."""
    event = parsed(written(reminder())).walk("VEVENT")[0]
    alarm = event.walk("VALARM")[0]
    assert (alarm["ACTION"], alarm["TRIGGER"].dt) == ("DISPLAY", timedelta(0))
    assert event["DTSTART"].dt == datetime(2026, 6, 6, 9, 0)
    assert event["DTSTART"].dt.tzinfo is None
    assert event["DTSTAMP"].dt.isoformat() == "2026-05-12T00:00:00+00:00"
    assert event["DURATION"].dt == timedelta(minutes=5)


def test_several_events_stand_in_order_and_bytes_repeat() -> None:
    events = tuple(reminder(uid=f"K{number}@binder.example") for number in range(1, 6))
    assert [str(event["UID"]) for event in parsed(written(*events)).walk("VEVENT")] == [
        event.uid for event in events
    ]
    assert written(*events) == written(*events)


@pytest.mark.parametrize("day_rule", sorted(DAY_RULES))
def test_24_dates_in_two_libraries(day_rule: str) -> None:
    """Every rule from a handover on 30 January 2028: both readers and `calendar` name the same 24 days."""
    earliest = date(2028, 1, 31)
    expected = [day for day in _days_by_calendar(day_rule, 2028, 26) if day >= earliest][:24]
    start = datetime.combine(DAY_RULES[day_rule].on_or_after(earliest), time(9, 0))
    read = parsed(written(reminder(start=start, rule=DAY_RULES[day_rule].rrule)))
    event = read.walk("VEVENT")[0]
    expanded = recurring_ical_events.of(read).between(start, datetime.combine(expected[-1], time(23, 59)))
    assert sorted(one["DTSTART"].dt for one in expanded) == [datetime.combine(day, time(9)) for day in expected]
    rule_text = event["RRULE"].to_ical().decode()
    by_dateutil = rrulestr(f"RRULE:{rule_text}", dtstart=event["DTSTART"].dt)
    assert [moment.date() for moment, _ in zip(by_dateutil, expected)] == expected


def _days_by_calendar(day_rule: str, year: int, months: int) -> list[date]:
    """The day of the rule in `months` months from January of `year`, counted day by day."""
    place, word = day_rule.split()
    found = []
    for offset in range(months):
        then, month = year + offset // 12, offset % 12 + 1
        days = [date(then, month, day) for day in range(1, calendar.monthrange(then, month)[1] + 1)]
        if day_rule == "last day":
            found.append(days[-1])
        elif place == "day":
            found.append(days[int(word) - 1])
        else:
            same = [day for day in days if calendar.day_name[day.weekday()].lower() == word]
            found.append(same[{"first": 0, "second": 1, "third": 2, "fourth": 3, "last": -1}[place]])
    return found
