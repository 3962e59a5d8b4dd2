"""Takes a label; gives the texts that may be printed on it, from the most words to the fewest, and how each is set."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from typing import NamedTuple

from ...binder.labels.records import DeviceLabel, DoorLabel, OutletLabel, SheetLabel
from ..type.font import CAP_HEIGHT
from ..type.widths import NO_BREAK, words_of

Texts = tuple[tuple[str, str], ...]     # (name of a style, text), from top to bottom


class Style(NamedTuple):
    """How one part of a label is set."""

    points: float
    weight: str
    drop: float           # from the baseline above to its first one, as a part of the size
    more: float           # from one of its lines to the next
    whole: bool = False   # may not be broken, so it shrinks alone where it is wide
    least: float = 8.0    # points; no text is smaller than 8 (page design)


STYLES = {
    "id": Style(36.0, "black", CAP_HEIGHT, 1.0, True, 14.0),
    "room": Style(12.0, "semibold", 1.24, 1.12),
    "serves": Style(11.0, "bold", 1.55, 1.15),
    "now": Style(12.0, "black", 1.45, 1.1),
    "then": Style(10.0, "semibold", 1.5, 1.15),
    "stop": Style(9.4, "bold", 1.6, 1.15),
    "wet": Style(9.4, "bold", 1.6, 1.15),
    "order": Style(10.0, "semibold", 1.25, 1.15),
    "first": Style(10.5, "semibold", CAP_HEIGHT, 1.1),
    "rule": Style(8.4, "regular", 1.7, 1.17),
    # the outlet label: where to go is the biggest, its room next
    "ask": Style(11.0, "semibold", CAP_HEIGHT, 1.1),
    "ask below": Style(11.0, "semibold", 1.5, 1.1),
    "act": Style(30.0, "black", 0.95, 0.95, True, 14.0),
    "how": Style(14.0, "bold", 1.3, 1.1),
    "where": Style(15.0, "bold", 1.35, 1.1),
    "at": Style(10.5, "semibold", 1.35, 1.15),
    "doubt": Style(8.4, "regular", 1.5, 1.15),
    # the label of a panel's door
    "shock": Style(10.6, "black", CAP_HEIGHT, 1.08),
    "head": Style(10.6, "black", 1.55, 1.05),
    "danger": Style(8.2, "bold", 1.5, 1.12),
    "door rule": Style(8.0, "regular", 1.5, 1.12),
    "call": Style(10.0, "black", 1.5, 1.1),
}
# Words of the theme: the last to be shortened.
OURS = ("ask", "first", "now", "stop", "wet", "rule", "shock", "how", "doubt", "head", "danger", "door rule")


def texts_of(label: SheetLabel) -> tuple[Texts, ...]:
    """What may be printed, from the most words to the fewest."""
    return SORTS[label.purpose].texts(label)


def _device_texts(label: DeviceLabel) -> tuple[Texts, ...]:
    """With the order of the hour before what it serves, then with the rule of the month alone."""
    top = (("id", label.id), ("room", label.room))
    served = label.serves or ("",)
    stop, wet = ("stop", label.stop), ("wet", label.wet)
    urgent = [_tidy(*top, ("now", label.now), ("then", f"{NO_BREAK.join(words_of(label.then))} {serves}"), ("order", order), *more,
                    ("rule", label.rule))
              for more in ((stop, wet), (stop,), ()) for serves in served for order in label.order or ("",) if label.now]
    act = NO_BREAK.join(words_of(label.act))
    return (*urgent, *(_tidy(*top, ("serves", f"{act} {serves}"), ("rule", label.rule)) for serves in served))


def _outlet_texts(label: OutletLabel) -> tuple[Texts, ...]:
    return tuple(_tidy(("first", first), ("ask below" if first else "ask", label.ask), ("act", NO_BREAK.join(words_of(label.act))),
                       ("how", label.how), ("where", label.where), ("at", label.at), ("doubt", label.doubt), ("stop", stop))
                 for first, stop in dict.fromkeys(((label.first, label.stop), ("", label.stop), ("", ""))))


def _door_texts(label: DoorLabel) -> tuple[Texts, ...]:
    """On small stock the door and whom to call stay; how to push a breaker stands on its page."""
    head, call = ("head", label.head), ("call", label.call)
    shock, *others = [("danger", text) for text in label.danger]
    shock = ("shock", shock[1])
    rules = [("door rule", text) for text in label.rules]
    return (_tidy(shock, *others, head, *rules, call), _tidy(shock, *others, head, *rules[:1], call),
            _tidy(shock, *others, *rules[:1], call), _tidy(shock, *rules[:1], call),
            _tidy(("shock", label.fewest or shock[1]), *rules[:1], call))


def _tidy(*texts: tuple[str, str]) -> Texts:
    """Blank texts left out; accents composed, so that a letter and its accent are one character; no line begins with
    the mark between two rooms."""
    folded = ((part, unicodedata.normalize("NFC", " ".join(words_of(text))).replace(" \u00b7", f"{NO_BREAK}\u00b7"))
              for part, text in texts)
    return tuple((part, text) for part, text in folded if text)


class Sort(NamedTuple):
    """How the labels of one purpose are set, and what an error says of them."""

    texts: Callable[..., tuple[Texts, ...]]
    words_first: bool = False   # what is to be done is not for fewer words: its type shrinks before words are given up
    without: str = "write `qr: none` under `labels`"    # where the code has no room
    shorten: str = "Shorten it, or choose a larger label."


_NO_DOOR = "leave `door` out of `wanted`"     # its words are ours

SORTS = {
    "device": Sort(_device_texts),
    "outlet": Sort(_outlet_texts, True, without="remove `outlet_qr` from `labels`"),
    "door": Sort(_door_texts, True, _NO_DOOR, f"Choose a larger label, or {_NO_DOOR}."),
}
