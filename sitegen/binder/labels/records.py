"""What is handed to publish for labels: plain data, every word already chosen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..desk.words import Rich


@dataclass(frozen=True, slots=True)
class DeviceLabel:
    """The label stuck beside one protective device."""

    purpose: ClassVar[str] = "device"     # of `PURPOSES` in job/purposes.py
    own: ClassVar[str] = ""

    id: str               # "K1", the biggest thing on it
    room: str             # where the device is: "Pantry"
    act: str              # "RESETS" or, for a breaker, "OFF, then ON for"
    serves: tuple[str, ...]  # from the most words to the fewest; the first that fits is printed
    rule: str             # "Press TEST every month, then RESET. Do not cover."
    code: str | None      # the text of the QR; None: no QR
    draft: str | None     # the word that marks a draft, printed across it
    width_mm: float
    height_mm: float
    shorter: tuple[str, ...] = ()   # `code` said in fewer and fewer words, for where it does not fit; () of an address
    two_languages: bool = False
    now: str = ""         # what to do at once: "No power? Press RESET."; printed where there is room, then with `then`
    then: str = ""        # what that does, in place of `act`: "RESETS"
    stop: str = ""        # when not to go on: "Pops out again? Stop. Call 555-0100."
    outlets: tuple[str, ...] = ()   # ids of what `serves` speaks of
    order: tuple[str, ...] = ()     # which button comes first, for all of it or a part ("K4 first for: kettle"); from the most words to the fewest
    wet: str = ""         # when to touch nothing: "Wet, hot, burnt smell? Touch nothing."
    language: str = ""    # of a label of the second set; "": the job's first


@dataclass(frozen=True, slots=True)
class OutletLabel:
    """The label stuck beside an outlet: where to go when it has no power."""

    purpose: ClassVar[str] = "outlet"
    serves: ClassVar[tuple[str, ...]] = ()

    id: str               # the outlet's own id, for errors and lists
    ask: str              # "No power?"; with a code or in two languages "No power? RESET", and `act` is the id alone
    act: str              # "RESET K1", "Try K1" where nobody saw it, "Breaker 7", "Breaker marked 7"
    how: str              # "OFF, then ON" for a breaker, else ""
    where: str            # "in PANTRY", "GARAGE panel"
    at: str               # the exact spot: "above the work shelf", or ""
    doubt: str            # said where nobody saw the outlet go off with it, else ""
    own: str              # small, in the corner: "outlet K4"
    draft: str | None
    width_mm: float
    height_mm: float
    code: str | None = None
    shorter: tuple[str, ...] = ()
    two_languages: bool = False
    leads_to: str = ""    # id of the device or breaker that it sends to
    first: str = ""       # the cheap look before the walk: "Its switch? Its bulb?"; left out where it has no room
    stop: str = ""        # when to go no further: "Pops out again? Wet, hot, burnt smell? Leave it. Call 555-0100."; given up last
    language: str = ""


@dataclass(frozen=True, slots=True)
class DoorLabel:
    """The label inside the door of a panel: what to do in an emergency, whom to call, QR of the start page."""

    purpose: ClassVar[str] = "door"
    serves: ClassVar[tuple[str, ...]] = ()
    own: ClassVar[str] = ""
    two_languages: ClassVar[bool] = False

    id: str               # the panel's
    head: str
    danger: tuple[str, ...]  # someone being shocked, fire
    rules: tuple[str, ...]   # the door yes, the cover never
    call: str             # "Call Firm, 555-0100"
    code: str | None
    draft: str | None
    width_mm: float
    height_mm: float
    shorter: tuple[str, ...] = ()
    fewest: str = ""      # the first of `danger` in fewer words, for small stock; "" where it must be said whole
    language: str = ""


SheetLabel = DeviceLabel | OutletLabel | DoorLabel


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip of text without a code: for an outlet's plate, for a panel's directory, or a mark that a code demands."""

    code: ClassVar[None] = None

    purpose: str          # plate | breaker | ground
    id: str               # of the outlet or breaker
    caption: str          # printed beside it, to know it by before it is cut out
    lead: str             # large at the left: the breaker's space, else ""
    # From the most words to the fewest, each one line or two; the first that fits is printed; a tag gets a frame.
    offers: tuple[tuple[Rich, ...], ...]
    mark: str             # in a frame at the right: "AFCI", else ""
    draft: str | None
    width_mm: float
    height_mm: float
    leads_to: str = ""    # id of the device or breaker that a plate sends to
    language: str = ""


@dataclass(frozen=True, slots=True)
class Stick:
    """One line of the list for the person who sticks the labels."""

    on_strips: bool       # on the sheets of strips, else on the sheets of labels
    number: int           # which of them, from 0
    id: str               # of what it belongs to; all of one id stand together
    at: str               # the spot of that
    name: str             # "device label"
    where: str            # where it is stuck


@dataclass(frozen=True, slots=True)
class LabelSet:
    """All labels of a house."""

    devices: tuple[DeviceLabel, ...]   # one a device, in feed order: the pictures
    sheet: tuple[SheetLabel, ...]      # what is wanted, in the order of the sheets
    strips: tuple[Strip, ...]
    rooms: tuple[tuple[str, tuple[Stick, ...]], ...]  # (room, what is stuck there, thing by thing), as one walks
