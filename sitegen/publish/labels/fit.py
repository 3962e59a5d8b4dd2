"""Takes the texts of a label and the box left for them; gives lines that fit, each with its size and place."""

from __future__ import annotations

import math
from typing import NamedTuple

from ...binder.labels.records import SheetLabel, Strip
from ...errors import LabelError
from ...job.labels.purposes import PURPOSES
from ..type.font import DESCENT, name_of_character, unfit, unprintable
from ..type.widths import NO_BREAK, break_lines, count_lines, length, words_of
from .marks import Line
from .texts import OURS, SORTS, STYLES, Texts, texts_of

STOCK_MM = (63.5, 38.1)  # the stock that the sizes are chosen for; larger stock gets larger type
GOOD = 0.8              # of the sizes, 8.8 points for `serves`: below this, fewer words beat smaller ones
LEAST = 8.0 / 12.0      # at this scale all but the biggest stand at their 8 points
WITHOUT_CODE = 1.3      # of the sizes, when no code stands beside the text
STEP = 0.03             # how finely sizes are tried


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


def set_text(label: SheetLabel, box: Box, dpi: int) -> tuple[Line, ...]:
    """The texts of the label one under the other, as large as the box allows; stems stand at the left of the box.

    LabelError: a character that the typeface lacks, or nothing fits.
    """
    for texts in texts_of(label):
        for part, text in texts:
            check_characters(label, text, STYLES[part].weight)
    if lines := best_lines(label, box, dpi):
        return lines
    raise LabelError(_too_long(label, texts_of(label)[-1], box, dpi))


def best_lines(label: SheetLabel, box: Box, dpi: int) -> tuple[Line, ...] | None:
    """The first offer that fits at a good size; if none does, the last one at the largest size that fits."""
    offers, full = texts_of(label), stock_scale(label) * (1.0 if label.code else WITHOUT_CODE)
    first, small = (offers[:1], offers) if SORTS[label.purpose].words_first else (offers, offers[-1:])
    tries = [(texts, scale) for texts in first for scale in _scales(full, GOOD)]
    tries += [(texts, scale) for texts in small for scale in _scales(GOOD, LEAST)]
    return next((lines for texts, scale in tries if (lines := _stack(texts, box, scale, dpi))), None)


def stock_scale(label: SheetLabel) -> float:
    """How much larger type may be than on the stock that the sizes are chosen for; 1 and more."""
    return max(1.0, min(label.width_mm / STOCK_MM[0], label.height_mm / STOCK_MM[1]))


def _scales(full: float, least: float) -> list[float]:
    steps = max(1, math.ceil((full - least) / STEP))
    return [full + (least - full) * step / steps for step in range(steps + 1)]


def _stack(texts: Texts, box: Box, scale: float, dpi: int) -> tuple[Line, ...] | None:
    """The lines at this scale, centred in the height of the box; None if they do not fit."""
    wide, depth, tail, parts = box.right - box.left, 0.0, 0.0, []
    for part, text in texts:    # counting lines is quick; they are broken once it is known that they fit
        style, size = STYLES[part], _size(part, text, box, scale, dpi)
        count = count_lines(text, style.weight, size, wide)
        if count is None or (style.whole and count > 1):
            return None
        baselines = []
        for number in range(count):
            depth += (style.more if number else style.drop) * size
            baselines.append(math.floor(depth))
        parts.append((text, style.weight, size, baselines))
        tail = DESCENT * size
    if depth + tail > box.bottom - box.top:
        return None
    # Centred from the top of the first line to the last baseline: the few strokes below it weigh little.
    top = math.floor(min((box.top + box.bottom - depth) / 2, box.bottom - tail - depth))
    return tuple(Line(line, weight, size, box.left, top + baseline) for text, weight, size, baselines in parts
                 for line, baseline in zip(break_lines(text, weight, size, wide) or (), baselines))


def _size(part: str, text: str, box: Box, scale: float, dpi: int) -> int:
    """The size in dots; what may not be broken shrinks alone until it stands on one line."""
    style = STYLES[part]
    least = math.ceil(style.least * dpi / 72)
    size = max(math.ceil(style.points * scale * dpi / 72), least)
    while style.whole and size > least and length(text, style.weight, size) > box.right - box.left:
        size -= 1
    return size


# --- what does not fit, and why

def check_characters(label: SheetLabel | Strip, text: str, weight: str) -> None:
    """LabelError for a character that would come out as nothing, as a box, or as an accent beside its letter."""
    character = unfit(text, weight)
    if not character:
        return
    hidden = unprintable(character)
    shown = "".join(f"<U+{ord(one):04X}>" if unprintable(one) else one for one in text)
    raise LabelError(
        f"{name_of(label)}: the character {name_of_character(character)} in `{shown}` "
        f"{'cannot be printed' if hidden else 'is not in the typeface of the labels'}; expected letters, digits "
        f"and signs of a Latin, Greek or Cyrillic alphabet. {'Remove it.' if hidden else 'Write it another way.'}"
    )


def over_by(text: str, weight: str, size: int, width: float) -> int:
    """How many characters at its end a text must lose to be no wider than this, in dots."""
    return next((over for over in range(len(text)) if length(text[:len(text) - over], weight, size) <= width), len(text))


def _too_long(label: SheetLabel, texts: Texts, box: Box, dpi: int) -> str:
    """The sentence that says which text is too long, and by how much, at the smallest sizes."""
    texts = tuple((part, text.replace(NO_BREAK, " ")) for part, text in texts)
    place = f"a label of {label.width_mm:g} x {label.height_mm:g} mm" + (
        " with a QR code" if label.code else ""
    ) + (f" and the mark `{label.draft}`" if label.draft else "")
    mend = SORTS[label.purpose].shorten
    for part, text in texts:
        size = _size(part, text, box, LEAST, dpi)
        for word in [text] if STYLES[part].whole else words_of(text):
            if over := over_by(word, STYLES[part].weight, size, box.right - box.left):
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
