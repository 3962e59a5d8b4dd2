"""What is handed to publish for pages: plain data, every word already chosen."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ...job.records import JobFile, Note
from ...job.records.visits import Visit
from ..answer.answer import Answer
from ..answer.lists import TurnsOff
from ..answer.places import Spot
from ..desk.words import Rich, Words
from ..drawing import Drawings, RoomScene
from ..labels.records import LabelSet
from ..months import MonthlyTest
from ..panel import PanelFace
from ..reminders import Calendar
from .fault.records import FaultSheet


@dataclass(frozen=True, slots=True)
class Frame:
    """What every page shares."""

    job: JobFile
    draft: bool
    firm: str
    phone: str
    emergency: str
    made: str                 # the last day anything was seen
    main: str                 # what turns the whole house off, and where it is
    power: Rich               # what follows "the power company": ": 555-0142", or nothing
    heating: Rich             # the same of the heating company


@dataclass(frozen=True, slots=True)
class Page:
    path: str                 # below the output folder: "site/K1/index.html"
    template: str
    title: str
    data: Any
    folder: str = ""          # of a site page, the same in every language: "K1"; the start page has none
    alone: bool = False       # it stands there once, for all languages

    @property
    def up(self) -> str:
        """From this page back to the folder `site` or `print`."""
        return "../" * (self.path.count("/") - 1)


def site_path(folder: str, further: str = "") -> str:
    """Where a page of the site stands, below site/. `further`: a language after the first."""
    if further:
        return f"{folder or 'other-languages'}/{further}/index.html"
    return f"{folder}/index.html" if folder else "index.html"


def circuit_path(key: str) -> str:
    """The folder of a circuit's service page, below site/."""
    return f"service-record/{re.sub(r'[^A-Za-z0-9-]', '-', key)}"


def isolate_path(device: str, symptom: str) -> str:
    """The folder of a page about a fault, below site/. A circuit's key has a hyphen, so that none is called `isolate`."""
    return f"service-record/isolate/{device}/{symptom}"


def trade_path(id: str) -> str:
    """The folder of the technician's page of a breaker, device or panel, below site/."""
    return f"service-record/{id}"


def note_path(note: Note) -> str:
    """The folder of a page of the contractor's own, below site/."""
    return f"house-notes/{note.name}"


@dataclass(frozen=True, slots=True)
class PlacePage:
    """A device's or an outlet's page."""

    id: str
    button: bool                  # there is something to press: a device or breaker
    answer: Answer
    say: Rich
    turns_off: TurnsOff | None    # the device's own list; on an outlet page that of the device to press
    guard: tuple[Rich, ...]
    guard_heading: str
    monthly: MonthlyTest | None
    keep_safe: tuple[Rich, ...]
    record: str                   # key of the circuit's service page
    dated: str
    url: str | None
    drawings: Drawings
    panel: tuple[str, str] | None # folder and place of the panel, where the answer is a breaker
    renamed: Rich | None = None   # what the label says and what it is called now, on the page at its old address


Places = Mapping[str, PlacePage]  # every device and outlet, by its id


@dataclass(frozen=True, slots=True)
class PanelPage:
    """A panel as it stands, each space a link."""

    face: PanelFace
    folders: Mapping[str, str]    # of each breaker's page
    power: tuple[str, ...]        # where its power comes from, beside the utility
    twice: tuple[Rich, ...]       # which breakers may be pushed once more
    drawing: RoomScene | None     # the room that it is in


@dataclass(frozen=True, slots=True)
class Find:
    """What a search may lead to: an outlet of a room, a panel, a breaker."""

    folder: str                   # of its page
    name: str                     # what it is used for; else where it is, or what it is
    at: str                       # where it is, beside a use
    called: str                   # the words for what it is
    stands: str                   # the words for where it is


@dataclass(frozen=True, slots=True)
class Room:
    name: str
    outlets: tuple[Find, ...]


@dataclass(frozen=True, slots=True)
class ButtonRow:
    """A device and everything that was seen to go off with it, for who finds two things dead."""

    spot: Spot
    things: tuple[tuple[str, str], ...]           # room, what stopped there


@dataclass(frozen=True, slots=True)
class StartPage:
    rooms: tuple[Room, ...]                       # the kitchen first
    panels: tuple[tuple[str, str], ...]           # folder of its page, where it is
    others: tuple[Find, ...]                      # panels, breakers and devices that are no outlets
    notes: tuple[tuple[str, str], ...]            # folder and title of the contractor's own pages
    lists: Mapping[str, str]                      # words that a search passes over, and those that bring up the stop box


@dataclass(frozen=True, slots=True)
class TogetherPage:
    """Several things stopped at once."""

    buttons: tuple[ButtonRow, ...]                # every device, from the fewest things to the most
    panels: tuple[tuple[str, str], ...]           # folder of its page, where it is


@dataclass(frozen=True, slots=True)
class Caution:
    level: str                    # danger | warning | caution | notice
    signal: str                   # the word
    head: str
    says: str


@dataclass(frozen=True, slots=True)
class DeviceRecord:
    id: str
    kind: str
    place: str
    state: str
    details: str     # rating, class, make, model, date code
    breaker: bool = False


@dataclass(frozen=True, slots=True)
class VisitRecord:
    """One visit in the words of the trade."""

    visit: Visit
    title: str                            # "Visit of 14 July 2026"
    facts: tuple[tuple[str, str], ...]    # why, found, cause, by whom, how long
    done: tuple[str, ...]
    readings: tuple[str, ...]
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FaultPage:
    """How to find what makes one device do this, for the electrician."""

    sheet: FaultSheet
    device: str
    symptom: str
    lists: tuple[tuple[str, tuple[str, ...]], ...]    # breaker and devices of its circuit, the symptoms that have a page
    circuit: tuple[str, str]      # folder and title of its circuit's page


@dataclass(frozen=True, slots=True)
class Entry:
    """What has an id or a number in the service record."""

    path: str        # folder below site/, and behind a # its row there
    name: str        # "K1", "Circuit 5"
    says: str
    known: str       # the words that it is found by


@dataclass(frozen=True, slots=True)
class ServiceIndex:
    facts: tuple[tuple[str, str], ...]
    circuits: tuple[tuple[str, str, str], ...]    # key, title, serves
    devices: tuple[DeviceRecord, ...]
    left: tuple[str, ...]
    visits: tuple[VisitRecord, ...]               # the newest first
    panels: tuple[tuple[str, str], ...]           # id, where it hangs
    entries: tuple[Entry, ...] = ()                  # everything that has an id; none on paper


@dataclass(frozen=True)
class Pages:
    """The pages of one language, each composed when its turn comes: memory is asked for one at a time."""

    make: Callable[[], Iterator[Page]]

    def __iter__(self) -> Iterator[Page]:
        return self.make()


@dataclass(frozen=True)
class Edition:
    """The binder in one language."""

    words: Words
    further: str              # the language, where it is not the job's first
    frame: Frame
    pages: Iterable[Page]
    calendars: tuple[tuple[str, Calendar], ...]   # path below reminders/ without .ics
    rows: Mapping[str, str]   # id -> folder and anchor of its row in the service record


@dataclass(frozen=True)
class Binder:
    """All that is handed to publish."""

    editions: tuple[Edition, ...]                 # the first language first
    labels: LabelSet
    devices: tuple[dict[str, Any], ...]           # the rows of binder.json
    outlets: tuple[dict[str, Any], ...]
    addresses: tuple[dict[str, str], ...]         # printed on labels: each must stay reachable

    @property
    def frame(self) -> Frame:
        return self.editions[0].frame

    @property
    def words(self) -> Words:
        return self.editions[0].words

    @property
    def pages(self) -> tuple[Page, ...]:
        return tuple(page for edition in self.editions for page in edition.pages)

    @property
    def calendars(self) -> tuple[tuple[str, Calendar], ...]:
        return tuple(calendar for edition in self.editions for calendar in edition.calendars)
