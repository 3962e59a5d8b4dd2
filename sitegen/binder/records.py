"""What is handed to publish for labels and calendars: plain data, every word already chosen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class DeviceLabel:
    """The label stuck beside one protective device."""

    id: str               # "K1", the biggest thing on it
    room: str             # where the device is: "Pantry"
    act: str              # "RESETS" or, for a breaker, "OFF, then ON for"
    serves: tuple[str, ...]  # from the most words to the fewest; the first that fits is printed
    rule: str             # "Press TEST every month, then RESET. Do not cover."
    url: str | None       # text of the QR; None: no host, no QR
    draft: str | None     # the word that marks a draft, printed across it
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Reminder:
    """One event that comes back every month."""

    uid: str              # stable: the same device in the same job gives the same
    stamp: date           # date of last revision (the handover)
    start: datetime       # first time it falls, local time of whoever reads it
    rule: str             # RRULE: "FREQ=MONTHLY;BYDAY=1SA"
    minutes: int          # how long it takes
    summary: str
    description: str      # paragraphs parted by \n
    location: str
    url: str | None
    alarm: str            # what the alarm says


@dataclass(frozen=True, slots=True)
class Calendar:
    """One .ics file."""

    name: str             # shown by calendar programs
    language: str         # "en"
    events: tuple[Reminder, ...]
