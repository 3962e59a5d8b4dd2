"""Takes a calendar of monthly reminders; gives the bytes of its .ics file (RFC 5545)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime

from ..binder.reminders import Calendar, Reminder
from ..errors import CalendarError

MOST_OCTETS = 75    # a line without its CRLF; RFC 5545, 3.1


def write_calendar(calendar: Calendar) -> bytes:
    """The file: UTF-8, every line folded and ended by CRLF. The same calendar gives the same bytes."""
    return b"".join(fold(line) for line in _lines(calendar))


def _lines(calendar: Calendar) -> Iterator[str]:
    yield "BEGIN:VCALENDAR"
    yield "VERSION:2.0"
    yield f"PRODID:-//sitegen//handover binder//{calendar.language.upper()}"
    yield "CALSCALE:GREGORIAN"
    yield _text("NAME", calendar.name, calendar.language)  # RFC 7986, 5.1
    yield _text("X-WR-CALNAME", calendar.name)             # what most programs show; no standard
    for event in calendar.events:
        yield from _event_lines(event, calendar.language)
    yield "END:VCALENDAR"


def _event_lines(event: Reminder, language: str) -> Iterator[str]:
    """One event; its start is floating: nine in the morning wherever the reader is (RFC 5545, 3.3.5)."""
    yield "BEGIN:VEVENT"
    yield _text("UID", event.uid)
    yield f"DTSTAMP:{_day(event.stamp)}T000000Z"
    if event.sequence:
        yield f"SEQUENCE:{event.sequence}"      # RFC 5545, 3.8.7.4
    yield f"DTSTART:{_floating(event.start)}"
    yield f"DURATION:PT{event.minutes}M"
    yield f"RRULE:{event.rule}"
    yield _text("SUMMARY", event.summary, language)
    yield _text("DESCRIPTION", event.description, language)
    if event.location:
        yield _text("LOCATION", event.location, language)
    if event.url:
        yield f"URL:{event.url}"
    yield "TRANSP:TRANSPARENT"      # a test of five minutes blocks nobody's hour
    yield "BEGIN:VALARM"
    yield "ACTION:DISPLAY"
    yield "TRIGGER:PT0S"
    yield _text("DESCRIPTION", event.alarm, language)
    yield "END:VALARM"
    yield "END:VEVENT"


def _day(day: date) -> str:
    return day.isoformat()[:10].replace("-", "")


def _floating(moment: datetime) -> str:
    return f"{_day(moment)}T{moment:%H%M%S}"


def _text(name: str, value: str, language: str = "") -> str:
    parameter = f";LANGUAGE={language}" if language else ""
    return f"{name}{parameter}:{escape(value)}"


def escape(value: str) -> str:
    r"""A value of type TEXT (RFC 5545, 3.3.11); colons and quotes stay as they are.

    >>> print(escape("TEST; then RESET,\nthen C:\\"))
    TEST\; then RESET\,\nthen C:\\
    """
    escaped = re.sub(r"([\\;,])", r"\\\1", value)
    return re.sub(r"\r\n|\r|\n", r"\\n", escaped)


def fold(line: str) -> bytes:
    """The line in pieces of at most 75 octets, never cut inside a character (RFC 5545, 3.1)."""
    if control := re.search(r"[\x00-\x08\x0a-\x1f\x7f]", line):
        raise CalendarError(
            f"a calendar cannot hold the control character U+{ord(control[0]):04X}, met in `{line[:60]!a}`; "
            "expected letters, digits and signs. Take it out of the text."
        )
    pieces: list[bytes] = []
    rest = line.encode("utf-8")
    space = b""     # a continuation line starts with one space, which counts
    while rest:
        cut = min(MOST_OCTETS - len(space), len(rest))
        while cut < len(rest) and rest[cut] & 0xC0 == 0x80:     # inside a UTF-8 sequence
            cut -= 1
        pieces.append(space + rest[:cut] + b"\r\n")
        rest, space = rest[cut:], b" "
    return b"".join(pieces)
