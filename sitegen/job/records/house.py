"""The frozen records of the map and the tests, and the whole Job: every id named anywhere in it exists."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from types import MappingProxyType
from typing import Annotated

from ...errors import Where
from ..kinds import Kind
from .feed import Feed
from .job_file import JobFile
from .plans import Position, RoomPlan
from .texts import NOTHING, Apart, Mark, Noted, Said
from .visits import Visit

Day = date      # for the records that have a field `date`


@dataclass(frozen=True, slots=True)
class Main:
    """The main switch of a panel: what turns all of it off."""

    at: Said | None       # where it is, in words; None: in the panel itself, above or below its breakers
    amps: float | None    # A
    where: Where


@dataclass(frozen=True, slots=True)
class Panel:
    id: str
    at: Said      # where it hangs, in words: "Garage, by the side door"
    where: Where
    fed_from: str | None = None               # id of the feeder breaker that supplies it; None: the utility
    also_supplied_by: tuple[str, ...] = ()    # generator, battery, solar: power may be on without the utility
    room: Said | None = None                  # the room that it is in, where that is written apart from `at`
    drawn_at: Position | None = None          # where it is in the drawing of its room
    main: Main | None = None                  # None: nobody wrote what turns it off
    make: Noted | None = None                 # maker and model
    bonded: bool | None = None                # neutral and equipment ground are joined in it; None: not written
    numbering: str | None = None              # left | right: the side that space 1 is on, 2 across from it; None: not written
    spaces: int | None = None                 # how many breakers of one pole it has room for
    spare: tuple[int, ...] = ()               # spaces seen to be empty
    transfer: str | None = None               # what keeps a generator apart from the utility; "none"; None: not written

    @property
    def room_and_spot(self) -> tuple[str, str]:
        """("Garage", "by the side door"), of `at` alone or with `room` written beside it."""
        room, comma, spot = self.at.partition(", ")
        if self.room is None or self.room.casefold() == room.casefold():
            return room, spot
        return self.room, self.at


@dataclass(frozen=True, slots=True)
class Breaker:
    id: str
    kind: Kind
    space: str            # text: "5", "2/4", "13A"
    amps: float | None    # A
    poles: int
    where: Where
    was: tuple[str, ...] = ()   # ids that it had before
    both_poles: bool | None = None   # opens hot and neutral when it trips; None: not written
    tied: bool | None = None    # its handle moves with those of the circuits it shares a neutral with; None: not written
    device: Mapping[str, Noted] = field(default_factory=lambda: NOTHING)   # make, model, date code, ..., as of a point

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of the spaces that it sits in: 2 and 4 of "2/4", 13 of "13A"."""
        return tuple(map(int, re.findall(r"[0-9]+", self.space)))


@dataclass(frozen=True, slots=True)
class Wire:
    awg: str              # gauge, "12"
    metal: str            # copper | aluminum
    cable: str | None = None    # its kind as marked: "NM-B", "MC", "THHN in EMT"


@dataclass(frozen=True, slots=True)
class Circuit:
    key: str              # unique in the job: panel id and number
    number: str           # as written on the panel's directory
    panel: str            # id of the panel
    serves: Said          # what it serves, in words that people read
    breaker: str          # id of its breaker; two circuits may share one
    wire: Wire | None
    work: str | None      # new | extended | replaced | existing
    note: Noted | None
    where: Where
    shares_neutral_with: tuple[str, ...] = ()  # keys of the other circuits of a multiwire circuit
    neutral_parts_at: tuple[str, ...] = ()     # ids of its points behind which its cables have a neutral of their own


@dataclass(frozen=True, slots=True)
class Fill:
    """What is in a box. Conductors and yokes by gauge: ((count, "12"), ...)."""

    cu_in: float                                # volume of the box with its rings, cu in
    wires: tuple[tuple[int, str], ...]          # conductors that end or are spliced here, grounds apart
    grounds: tuple[tuple[int, str], ...] = ()   # equipment grounds that come in
    yokes: tuple[tuple[int, str], ...] = ()     # devices, each with the largest conductor that is connected to it
    clamps: bool = False                        # clamps inside
    set_back: float | None = None               # in, from the finished surface
    combustible: bool | None = None             # the surface around it


@dataclass(frozen=True, slots=True)
class Point:
    """Anything on a circuit: outlet, switch, junction or device."""

    id: str
    kind: Kind
    circuit: str                      # key of its circuit
    room: Said
    at: Said                          # the exact spot in the room
    feed: Feed
    where: Where
    use: Said | None = None           # what is plugged in or wired here: toaster, refrigerator, ...
    place: str | None = None          # what rules ask: countertop, bathroom, garage, outdoor, ...
    looks: Said | None = None         # how to tell it from others
    height: Said | None = None
    behind: Said | None = None        # what stands in front of it
    switched_by: tuple[str, ...] = () # ids of wall switches that must be on
    works_by: str | None = None       # what it waits for, where that is no switch of the map: "dusk sensor", "thermostat", ...
    grounded: bool = True             # False: no equipment ground here
    needs: str | None = None          # "gfci": the contractor says that protection against shock is called for
    not_proved: Said | None = None    # the reason why it could not be proved
    label_at: Said | None = None      # where its label is stuck
    # rating, class, make, model, date code, installed
    device: Mapping[str, Noted] = field(default_factory=lambda: NOTHING)
    box: str | None = None
    photo: str | None = None          # a file in photos/
    note: Noted | None = None
    length_ft: float | None = None    # ft of cable from what feeds it
    yoke: str | None = None           # name shared by the two halves of a duplex
    half: str | None = None           # upper | lower
    voltage: float = 120.0            # V
    drawn_at: Position | None = None  # where `position` puts it in the drawing of its room
    was: tuple[str, ...] = ()         # ids that it had before; old labels lead to them
    share: str | None = None          # "alone": no other outlet behind the same device; "never": behind none
    may_hold: str | None = None       # receptacle | faceless | none: the device that its box has room for
    new_box: bool = False             # a box may go into the cable before it
    reach: int | None = None          # how dear its box is to open, in times an easy receptacle; None: not written
    feet_to_sink: float | None = None # ft, the shortest way of a cord
    feet_to_tub: float | None = None  # ft, to a bathtub or shower stall
    work: str | None = None           # new | moved | replaced | existing, where it is not as its circuit says
    finished: bool | None = None      # of a basement: made into a room to live in
    slots: int | None = None          # 2 or 3 at each half
    single: bool = False              # one contact device on its yoke, not a duplex
    marks: tuple[str, ...] | None = None  # what stands on it or its plate: "tr", "wr", ...; None: not written
    fill: Fill | None = None
    joint: str | None = None          # how what goes on is made up: pigtail | through device
    load_empty: bool = False          # nothing hangs on its load terminals, and that was looked at
    access: str | None = None         # its box: easy | behind | ladder | attic
    cables: int | None = None         # that come into its box
    both_poles: bool | None = None    # opens hot and neutral when it trips; None: not written


@dataclass(frozen=True, slots=True)
class TripTest:
    """One row of the walk-through."""

    row: int                          # order in the file, from 0
    date: date
    outlet: str                       # where it was pressed: a point; the device; the breaker; of a round all ids, sorted
    pressed: str                      # tester | device | breaker | round | none
    volts: float | None               # V before, hot to neutral
    wiring: str | None                # the tester's words, lower case; "correct" when all is right
    tripped: tuple[str, ...]          # ids of what opened; () is written "none"
    went_dead: tuple[str, ...]        # ids seen live just before and dead after
    stayed_live: tuple[str, ...]      # ids seen live after
    rest_live: str | None             # "circuit" or "house": stayed_live said rest of ...; see `rest_except`
    volts_after: float | None         # V after, the higher of hot to neutral and hot to ground
    reset: bool | None                # it came back and held; None: not written
    by: str | None
    note: str | None
    where: Where
    time: time | None = None          # of the press; asked only where a visit fell on the same day
    rest_except: tuple[str, ...] = () # ids that `rest of ... except` leaves out
    together: tuple[str, ...] = ()    # of a round: all that was open during the walk, as written
    page: str | None = None           # of a row that was tapped: the mark of the places that the walk page was made for

    @property
    def at(self) -> tuple[str, ...]:
        """The ids that stand under `outlet`."""
        return self.together or (self.outlet,)


@dataclass(frozen=True, slots=True)
class Note:
    """A page of the contractor's own, from notes/."""

    name: str                         # file name without .md: "care"
    title: str                        # its first heading, else its name
    text: str                         # Markdown
    where: Where
    others: Mapping[str, Note] = field(default_factory=lambda: NOTHING)  # the same page in further languages
    language: str = ""                # of its words, where it is not that of the pages around it


@dataclass(frozen=True, slots=True)
class Removed:
    """What the map no longer has, though a label of it may still be on a wall."""

    id: str
    note: Said | None     # what became of it, in words that people read
    see: str | None       # id of the point or breaker to look at now
    where: Where


@dataclass(frozen=True, slots=True)
class Says:
    """What a printed label says, as the ledger keeps it."""

    words: str                        # all that can be read on it, with one blank between two words
    leads_to: str | None = None       # of an outlet's label or strip: id of the device or breaker that it sends to
    devices: tuple[str, ...] = ()     # breakers and devices before its thing on the map of that day, the nearest (or itself) first
    outlets: tuple[str, ...] = ()     # of a device's label: the outlets that it says it turns off, in feed order
    phone: str | None = None          # the number to call that stands on it


@dataclass(frozen=True, slots=True)
class Printed:
    """One label that was printed, as the ledger has it."""

    id: str
    purpose: str          # of `PURPOSES` in purposes.py
    date: date
    place: Apart          # where its device, outlet or panel was, in the words of that day
    holds: Apart | None   # the text of its QR code; None: it has none
    where: Where
    says: Annotated[Says | None, Mark.APART] = None     # None: printed before the ledger kept it
    replaces: Day | None = None       # day of the label of the same thing and purpose that it takes the place of
    language: str = ""                # of a label of the second set; "": the first of the job
    made_of: str | None = None        # a sum over all that it was set from; None: printed before the ledger kept it


@dataclass(frozen=True, slots=True)
class Job:
    """The whole job folder, read and consistent: every id named anywhere exists."""

    file: JobFile
    panels: tuple[Panel, ...]
    breakers: tuple[Breaker, ...]
    circuits: tuple[Circuit, ...]     # in file order
    points: tuple[Point, ...]         # in file order
    tests: tuple[TripTest, ...]       # in file order
    notes: tuple[Note, ...] = ()      # in the order of their file names
    rooms: tuple[RoomPlan, ...] = ()  # those that are drawn, in file order
    removed: tuple[Removed, ...] = () # in file order
    printed: tuple[Printed, ...] = () # in the order of printing
    visits: tuple[Visit, ...] = ()    # the oldest first
    files_of: tuple[tuple[str, Where], ...] = ()    # the job that trip tests and ledger say they belong to, and where
    panel: Mapping[str, Panel] = field(init=False, repr=False, compare=False)
    breaker: Mapping[str, Breaker] = field(init=False, repr=False, compare=False)
    circuit: Mapping[str, Circuit] = field(init=False, repr=False, compare=False)
    point: Mapping[str, Point] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        by_id: dict[str, Mapping[str, object]] = {
            "panel": {panel.id: panel for panel in self.panels},
            "breaker": {breaker.id: breaker for breaker in self.breakers},
            "circuit": {circuit.key: circuit for circuit in self.circuits},
            "point": {point.id: point for point in self.points},
        }
        for name, table in by_id.items():
            object.__setattr__(self, name, MappingProxyType(table))
