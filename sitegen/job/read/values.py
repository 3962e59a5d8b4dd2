"""One written value in, what it means out; None where it does not mean such a thing (the caller knows the fault)."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from datetime import date, time

# A language code as BCP 47 builds it (from memory): a language of two or three letters, then parts of at most eight.
LANGUAGE = re.compile(r"[a-z]{2,3}(-[a-z0-9]{1,8})*")

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def fold(text: str) -> str:
    """The text on one line, each run of blanks as one.

    >>> fold(" gfci   receptacle ")
    'gfci receptacle'
    """
    return " ".join(text.split())


def quoted(text: str) -> str:
    """A double-quoted scalar of YAML; JSON's is one."""
    return json.dumps(text, ensure_ascii=False)


def listed(words: Iterable[str], last: str = "and") -> str:
    """Words as a sentence names them.

    >>> listed(["id", "is", "room"])
    '`id`, `is` and `room`'
    """
    *head, tail = [f"`{word}`" for word in words]
    return f"{', '.join(head)} {last} {tail}" if head else tail


def quantity(text: str, unit: str, most: float) -> float | None:
    """A number from 0 to `most`, alone or with its unit behind it.

    >>> quantity("20 A", "A", 1000)
    20.0
    """
    found = re.fullmatch(rf"([0-9]+(?:\.[0-9]+)?)\s*(?:{unit})?", text, re.IGNORECASE | re.ASCII)
    number = float(found[1]) if found else None
    return number if number is not None and number <= most else None


def day(text: str) -> date | None:
    """A real day written YYYY-MM-DD.

    >>> day("2026-02-30")
    """
    try:
        return date.fromisoformat(text) if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text) else None
    except ValueError:
        return None


def likely_day(text: str) -> str:
    """The one day that another form of date can mean, as YYYY-MM-DD; empty where it could be two, or none.

    >>> likely_day("5/13/2026"), likely_day("13 May 2026"), likely_day("12/5/2026")
    ('2026-05-13', '2026-05-13', '')
    """
    parts = re.findall(r"[0-9]+|[a-z]+", text.casefold())[:3]
    years = [part for part in parts if re.fullmatch(r"[0-9]{4}", part)]
    if len(parts) < 3 or len(years) != 1:
        return ""
    first, second = (part for part in parts if part != years[0])
    # Year, day, month is written nowhere; with the year last both orders are.
    orders = [(first, second)] if parts[0] == years[0] else [(first, second), (second, first)]
    found = {day(f"{years[0]}-{_month(month)}-{of_month:0>2}") for month, of_month in orders} - {None}
    return str(found.pop()) if len(found) == 1 else ""


def _month(written: str) -> str:
    named = written[:3] in _MONTHS
    return f"{_MONTHS.index(written[:3]) + 1 if named else written:0>2}"


def clock(text: str, seconds: bool = False) -> time | None:
    """A time of day on 24 hours; with `seconds` it may have them.

    >>> clock("9:00"), clock("09:00:05", seconds=True)
    (datetime.time(9, 0), datetime.time(9, 0, 5))
    """
    found = re.fullmatch(r"([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?", text)
    try:
        return time(int(found[1]), int(found[2]), int(found[3] or 0)) if found and (seconds or not found[3]) else None
    except ValueError:
        return None


def size_mm(text: str) -> tuple[float, float] | None:
    """Width and height in mm, written in mm or inches.

    >>> size_mm("2.5 x 1.5 in")
    (63.5, 38.1)
    """
    found = re.fullmatch(r"([0-9.]+)\s*[x\u00d7]\s*([0-9.]+)\s*(mm|in)", text, re.IGNORECASE)
    try:
        scale = 25.4 if found and found[3].casefold() == "in" else 1.0
        return (round(float(found[1]) * scale, 3), round(float(found[2]) * scale, 3)) if found else None
    except ValueError:
        return None
