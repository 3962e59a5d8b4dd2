"""What is handed to publish for the binder on paper: plain data, every word already chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ...job.records import Note
from ..desk.words import Rich
from ..panel import PanelFace
from ..round import MonthlyRound
from ..site.circuit import CircuitSheet
from ..site.records import Caution, PlacePage, ServiceIndex, VisitRecord


@dataclass(frozen=True, slots=True)
class Target:
    """What to press first, and for which outlets of one room: one entry of the folded sheet and of the large print."""

    room: str
    press: Rich                   # "Press RESET on K1"
    short: Rich                   # the same for the folded sheet: "RESET K1"
    where: str                    # where that is; "" for a breaker of the only panel
    things: str                   # "coffee maker, toaster"


@dataclass(frozen=True, slots=True)
class OutletRow:
    id: str
    at: str
    use: str
    press: Rich
    where: str                    # "" where the button is in the outlet itself
    guard: tuple[str, ...]        # "K1, 12 May 2026"; else what is known instead


@dataclass(frozen=True, slots=True)
class OutletRoom:
    name: str
    rows: tuple[OutletRow, ...]


@dataclass(frozen=True, slots=True)
class OffRow:
    """One outlet that goes off with a device."""

    id: str
    place: str
    depth: int                    # 0; behind a device of its own 1, 2, ...
    itself: bool
    own_button: bool
    vital: bool                   # look that it is back on


@dataclass(frozen=True, slots=True)
class DeviceSheet:
    """Both sides of the leaf of one device."""

    place: PlacePage
    where: str                    # "Pantry · right-hand wall"
    address: str                  # of its page, without the scheme; "" without a host
    seen: str                     # "Seen to go off with K1 on 12 May 2026."
    off: tuple[OffRow, ...]
    not_seen: tuple[str, ...]     # places that the map puts behind it
    not_on: tuple[tuple[str, str], ...]  # room, things seen live while it was open
    record: tuple[str, ...]       # for the electrician: one line a circuit
    feeds: tuple[str, ...]        # "B5 → K1 LINE. K1 LOAD → K2 → K3", one a circuit


@dataclass(frozen=True, slots=True)
class DirectoryRow:
    space: str
    serves: str
    kind: str                     # abbreviation
    amps: str
    twice: bool                   # it may be pushed twice, with all unplugged between
    off: tuple[tuple[str, str], ...]     # room, things seen to go off with it


@dataclass(frozen=True, slots=True)
class Directory:
    """One panel: the sheet inside its door, and the leaf of its breakers."""

    panel: str
    at: str
    face: PanelFace
    twice: tuple[Rich, ...]       # which breakers may be pushed once more
    power: tuple[str, ...]        # where its power comes from, beside the utility
    rule: str                     # first Saturday of the month
    months: tuple[str, ...]       # twelve to tick; () where no breaker of it has a TEST
    rows: tuple[DirectoryRow, ...]
    legend: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Log:
    """Twelve months to tick."""

    rule: str
    heads: tuple[tuple[str, str], ...]   # "6 Jun", "2026"
    rows: tuple[tuple[str, str], ...]      # of the round, in its order: id and place, or space and what the breaker feeds


@dataclass(frozen=True, slots=True)
class VisitSheet:
    """What one visit changed: a sheet to put into the binder, so that the rest need not be printed again."""

    record: VisitRecord
    rooms: tuple[OutletRoom, ...]  # the outlets of which the sheets of before are old
    leaves: str                   # ids of the buttons of whose leaves the same is true
    breakers: str                 # spaces of the breakers of which the sheets of the panel are old
    heads: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class InspectorSheet:
    """What an inspector looks for; rows are cells in the order of their columns."""

    facts: tuple[tuple[str, str], ...]
    circuits: tuple[tuple[str, ...], ...]      # space, serves, breaker, wire, work, outlets, handle
    devices: tuple[tuple[str, ...], ...]       # id, what and where, plate and torque, own TEST, outlets shown to go off
    rooms: tuple[tuple[str, tuple[tuple[str, ...], ...]], ...]   # id, what and where, GFCI, AFCI, shown, reading
    against: tuple[tuple[str, str, str, str], ...]     # level, what, source, why its level is another
    beside: tuple[tuple[str, str], ...]        # level, what tests and record have against it beside the rules
    exceptions: tuple[str, ...]
    not_proved: tuple[str, ...]
    latest: str                                # the edition by which receptacles without GFCI are listed
    counts: Mapping[str, int]                  # rules of the list: rules, judged, partly, nowhere, without, apart
    heads: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class House:
    """What a new owner asks first."""

    facts: tuple[tuple[str, str], ...]
    unguarded: tuple[tuple[str, str], ...]   # room, things without shown shock protection


@dataclass(frozen=True, slots=True)
class CircuitLeaf:
    """A circuit's map, and what stands on the page that faces it. Lines have a name and what is said of it."""

    sheet: CircuitSheet
    about: str
    live: tuple[tuple[str, str], ...]      # a device, what it opens and what stays live with it out
    points: tuple[tuple[str, str], ...]    # a point, where a GFCI was shown for it, and notes
    tests: tuple[tuple[str, str], ...]     # a test of its own; rounds stand apart


@dataclass(frozen=True, slots=True)
class PrintBinder:
    """Everything on paper."""

    address: str                  # of the site, without the scheme; "" without a host
    url: str | None
    heads: tuple[tuple[str, str], ...]   # name of a running head, its text
    contents: tuple[str, ...]     # what follows the device sheets, in order
    panel_at: str                 # where the only panel is; "" where there are several
    targets: tuple[Target, ...]
    stop_rules: tuple[Rich, ...]  # of the folded sheet: for RESET, for breakers
    breaker_rules: tuple[Rich, ...]
    sheets: tuple[DeviceSheet, ...]     # of the buttons: a leaf each
    breakers: tuple[DeviceSheet, ...]   # in large print alone
    house: House
    directories: tuple[Directory, ...]
    round: MonthlyRound
    log: Log
    cautions: tuple[Caution, ...]
    notes: tuple[Note, ...]
    index: ServiceIndex
    circuits: tuple[CircuitLeaf, ...]
    rounds: tuple[tuple[str, str], ...]
    private: tuple[tuple[str, str], ...]
