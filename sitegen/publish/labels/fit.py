"""Takes the texts of a label and the box left for them; gives lines that fit, each with its size and place."""

from __future__ import annotations

import math
import unicodedata
from typing import NamedTuple

from PIL import ImageFont

from ...binder.labels.records import DeviceLabel, DoorLabel, OutletLabel, SheetLabel, Strip
from ...errors import LabelError
from ...job.purposes import PURPOSES
from ..type.widths import (
    CAP_HEIGHT,
    DESCENT,
    NO_BREAK,
    break_lines,
    is_missing,
    name_of_character,
    typeface,
    unprintable,
    words_of,
)
from .marks import Line

STOCK_MM = (63.5, 38.1)  # the stock that the sizes below are chosen for; larger stock gets larger type


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
    "rule": Style(8.4, "regular", 1.7, 1.17),
    # the outlet label: where to go is the biggest, its room next
    "ask": Style(11.0, "semibold", CAP_HEIGHT, 1.1),
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
GOOD = 0.86             # of the sizes above, 9.5 points for `serves`: below this, fewer words beat smaller ones
LEAST = 8.0 / 12.0      # at this scale all but the biggest stand at their 8 points
WITHOUT_CODE = 1.3      # of the sizes above, when no code stands beside the text
OURS = ("ask", "now", "stop", "rule", "shock", "how", "doubt", "head", "danger", "door rule")    # words of the theme: the last to be shortened
STEP = 0.03             # how finely sizes are tried

Texts = tuple[tuple[str, str], ...]     # (name of a style, text), from top to bottom


class Box(NamedTuple):
    """The place for text, in dots from the label's upper left corner."""

    left: int
    top: int
    right: int
    bottom: int


def name_of(label: SheetLabel | Strip) -> str:
    """A label as an error names it.

    >>> name_of(Strip("plate", "K2", "K2", "", (), "", None, 66, 7))
    'plate strip K2'
    """
    return f"{PURPOSES[label.purpose].title} {label.id}"


def texts_of(label: SheetLabel) -> tuple[Texts, ...]:
    """What may be printed, from the most words to the fewest."""
    match label:
        case DeviceLabel():
            return _device_texts(label)
        case OutletLabel():
            return (_tidy(("ask", label.ask), ("act", NO_BREAK.join(words_of(label.act))), ("how", label.how),
                          ("where", label.where), ("at", label.at), ("doubt", label.doubt)),)
        case _:
            head, call = ("head", label.head), ("call", label.call)
            danger = [("danger", text) for text in label.danger]
            rules = [("door rule", text) for text in label.rules]
            # On small stock the door and whom to call stay; how to push a breaker stands on its page.
            shock, *others = danger
            shock = ("shock", shock[1])
            return (_tidy(shock, *others, head, *rules, call), _tidy(shock, *others, head, *rules[:1], call),
                    _tidy(shock, *others, *rules[:1], call), _tidy(shock, *rules[:1], call),
                    _tidy(("shock", label.fewest or shock[1]), *rules[:1], call))


def _device_texts(label: DeviceLabel) -> tuple[Texts, ...]:
    """With the order of the hour before what it serves, then with the rule of the month alone."""
    top = (("id", label.id), ("room", label.room))
    served = label.serves or ("",)
    urgent = [_tidy(*top, ("now", label.now), ("then", f"{NO_BREAK.join(words_of(label.then))} {serves}"), *stop,
                    ("rule", label.rule))
              for serves in served for stop in ((("stop", label.stop),), ()) if label.now]
    act = NO_BREAK.join(words_of(label.act))
    return (*urgent, *(_tidy(*top, ("serves", f"{act} {serves}"), ("rule", label.rule)) for serves in served))


def _tidy(*texts: tuple[str, str]) -> Texts:
    """Blank texts left out; accents composed, so that a letter and its accent are one character; no line begins with
    the mark between two rooms."""
    folded = ((part, unicodedata.normalize("NFC", " ".join(words_of(text))).replace(" \u00b7", f"{NO_BREAK}\u00b7"))
              for part, text in texts)
    return tuple((part, text) for part, text in folded if text)


def set_text(label: SheetLabel, box: Box, dpi: int) -> tuple[Line, ...]:
    """The texts of the label one under the other, as large as the box allows; stems stand at the left of the box.

    The first offer that fits at a good size is taken; if none does, the last one at the largest size
    that fits. LabelError: a character that the typeface lacks, or nothing fits.
    """
    offers = texts_of(label)
    for texts in offers:
        for part, text in texts:
            check_characters(label, text, STYLES[part].weight)
    full = stock_scale(label) * (1.0 if label.code else WITHOUT_CODE)
    small = offers if isinstance(label, DoorLabel) else offers[-1:]     # what is to be done is not for fewer words
    first = offers[:1] if isinstance(label, DoorLabel) else offers
    tries = [(texts, scale) for texts in first for scale in _scales(full, GOOD)]
    tries += [(texts, scale) for texts in small for scale in _scales(GOOD, LEAST)]
    for texts, scale in tries:
        if lines := _stack(texts, box, scale, dpi):
            return lines
    raise LabelError(_too_long(label, offers[-1], box, dpi))


def stock_scale(label: SheetLabel) -> float:
    """How much larger type may be than on the stock that the sizes are chosen for; 1 and more."""
    return max(1.0, min(label.width_mm / STOCK_MM[0], label.height_mm / STOCK_MM[1]))


def _scales(full: float, least: float) -> list[float]:
    steps = max(1, math.ceil((full - least) / STEP))
    return [full + (least - full) * step / steps for step in range(steps + 1)]


def _stack(texts: Texts, box: Box, scale: float, dpi: int) -> tuple[Line, ...] | None:
    """The lines at this scale, centred in the height of the box; None if they do not fit."""
    lines: list[Line] = []
    depth = 0.0
    for part, text in texts:
        style, size = STYLES[part], _size(part, text, box, scale, dpi)
        broken = break_lines(text, typeface(style.weight, size), box.right - box.left)
        if broken is None or (style.whole and len(broken) > 1):
            return None
        for number, line in enumerate(broken):
            depth += (style.more if number else style.drop) * size
            lines.append(Line(line, style.weight, size, box.left, math.floor(depth)))
    tail = DESCENT * lines[-1].size
    if depth + tail > box.bottom - box.top:
        return None
    # Centred from the top of the first line to the last baseline: the few strokes below it weigh little.
    top = min((box.top + box.bottom - depth) / 2, box.bottom - tail - depth)
    return tuple(line._replace(baseline=line.baseline + math.floor(top)) for line in lines)


def _size(part: str, text: str, box: Box, scale: float, dpi: int) -> int:
    """The size in dots; what may not be broken shrinks alone until it stands on one line."""
    style = STYLES[part]
    least = math.ceil(style.least * dpi / 72)
    size = max(math.ceil(style.points * scale * dpi / 72), least)
    while style.whole and size > least and typeface(style.weight, size).getlength(text) > box.right - box.left:
        size -= 1
    return size


# --- what does not fit, and why

def check_characters(label: SheetLabel | Strip, text: str, weight: str) -> None:
    """LabelError for a character that would come out as nothing, as a box, or as an accent beside its letter."""
    for character in text:
        hidden = unprintable(character)
        if not hidden and not is_missing(character, weight):
            continue
        shown = "".join(f"<U+{ord(one):04X}>" if unprintable(one) else one for one in text)
        raise LabelError(
            f"{name_of(label)}: the character {name_of_character(character)} in `{shown}` "
            f"{'cannot be printed' if hidden else 'is not in the typeface of the labels'}; expected letters, digits "
            f"and signs of a Latin, Greek or Cyrillic alphabet. {'Remove it.' if hidden else 'Write it another way.'}"
        )


def over_by(text: str, font: ImageFont.FreeTypeFont, width: float) -> int:
    """How many characters at its end a text must lose to be no wider than this, in dots."""
    return next((over for over in range(len(text)) if font.getlength(text[:len(text) - over]) <= width), len(text))


def _too_long(label: SheetLabel, texts: Texts, box: Box, dpi: int) -> str:
    """The sentence that says which text is too long, and by how much, at the smallest sizes."""
    texts = tuple((part, text.replace(NO_BREAK, " ")) for part, text in texts)
    place = f"a label of {label.width_mm:g} x {label.height_mm:g} mm" + (
        " with a QR code" if label.code else ""
    ) + (f" and the mark `{label.draft}`" if label.draft else "")
    mend = "Choose a larger label, or leave `door` out of `wanted`."    # its words are ours
    if not isinstance(label, DoorLabel):
        mend = "Shorten it, or choose a larger label."
    for part, text in texts:
        font = typeface(STYLES[part].weight, _size(part, text, box, LEAST, dpi))
        for word in [text] if STYLES[part].whole else words_of(text):
            if over := over_by(word, font, box.right - box.left):
                return (f"{name_of(label)}: the word `{word}` is about {characters(over)} "
                        f"too long for {place}. {mend}")
    cuts = [(part in OURS, cut, text) for number, (part, text) in enumerate(texts)
            if not STYLES[part].whole and (cut := _cut(number, texts, box, dpi))]
    if not cuts:
        named = ", ".join(f"`{text}`" for _, text in texts)
        return (f"{name_of(label)}: the texts {named} do not fit on {place} at 8 points, not even with one of them "
                "cut short. Choose a larger label.")
    _, over, text = min(cuts)
    return (f"{name_of(label)}: the text `{text}` is about {characters(over)} too long for {place} at 8 points. "
            f"{mend}")


def characters(count: int) -> str:
    """
    >>> characters(1), characters(3)
    ('1 character', '3 characters')
    """
    return f"{count} character{'s' * (count > 1)}"


def _cut(number: int, texts: Texts, box: Box, dpi: int) -> int:
    """How many characters this text alone must lose for all to fit; 0 if that does not help."""
    part, text = texts[number]
    for over in range(1, len(text)):
        shorter = (*texts[:number], (part, text[:-over]), *texts[number + 1:])
        if _stack(shorter, box, LEAST, dpi):
            return over
    return 0
