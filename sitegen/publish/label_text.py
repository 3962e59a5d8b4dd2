"""Takes the texts of a label and the box left for them; gives lines that fit, each with its size and place."""

from __future__ import annotations

import math
import unicodedata
from typing import NamedTuple

from sitegen.binder.records import DeviceLabel
from sitegen.job.faults import SitegenError

from .lettering import CAP_HEIGHT, DESCENT, NO_BREAK, break_lines, is_missing, typeface, words_of

STOCK_MM = (63.5, 38.1)  # the stock that the sizes below are chosen for; larger stock gets larger type
POINTS = {"id": 36.0, "room": 12.0, "serves": 11.0, "rule": 8.4}
WEIGHT = {"id": "black", "room": "semibold", "serves": "bold", "rule": "regular"}
# From one baseline to the next, as a part of the size: first line of a part, and its further lines.
DROP = {"id": (CAP_HEIGHT, 1.0), "room": (1.24, 1.12), "serves": (1.55, 1.15), "rule": (1.7, 1.17)}

LEAST_POINTS = 8.0      # no text is smaller (page design)
LEAST_ID_POINTS = 14.0  # an id may not be broken, so a long one shrinks alone
GOOD = 0.86             # of the sizes above, 9.5 points for `serves`: below this, fewer words beat smaller ones
LEAST = LEAST_POINTS / max(POINTS["room"], POINTS["serves"], POINTS["rule"])
WITHOUT_CODE = 1.3      # of the sizes above, when no code stands beside the text
STEP = 0.03             # how finely sizes are tried


class LabelError(SitegenError):
    """A label that cannot be printed as asked."""


class Box(NamedTuple):
    """The place for text, in dots from the label's upper left corner."""

    left: int
    top: int
    right: int
    bottom: int


class Line(NamedTuple):
    """One line of text; `left` is where upright stems stand, `baseline` where the letters do, in dots."""

    text: str
    weight: str
    size: int
    left: int
    baseline: int


def set_text(label: DeviceLabel, box: Box, dpi: int) -> tuple[Line, ...]:
    """Id, room, what it resets and the rule, one under the other, as large as the box allows.

    The first offer of `serves` that fits at a good size is taken; if none does, the last one at the
    largest size that fits. LabelError: a character that the typeface lacks, or nothing fits.
    """
    _check_characters(label)
    stock = min(label.width_mm / STOCK_MM[0], label.height_mm / STOCK_MM[1])
    full = max(1.0, stock) * (1.0 if label.url else WITHOUT_CODE)
    offers = label.serves or ("",)
    tries = [(serves, scale) for serves in offers for scale in _scales(full, GOOD)]
    tries += [(offers[-1], scale) for scale in _scales(GOOD, LEAST)]
    for serves, scale in tries:
        if lines := _stack(_texts(label, serves), box, scale, dpi):
            return lines
    raise LabelError(_too_long(label, _texts(label, offers[-1]), box, dpi))


def _scales(full: float, least: float) -> list[float]:
    steps = max(1, math.ceil((full - least) / STEP))
    return [full + (least - full) * step / steps for step in range(steps + 1)]


def _texts(label: DeviceLabel, serves: str) -> dict[str, str]:
    """The texts from top to bottom; accents composed, so that a letter and its accent are one character."""
    act = NO_BREAK.join(words_of(label.act))
    texts = {"id": label.id, "room": label.room, "serves": f"{act} {serves}", "rule": label.rule}
    return {part: unicodedata.normalize("NFC", " ".join(words_of(text))) for part, text in texts.items()}


def _stack(texts: dict[str, str], box: Box, scale: float, dpi: int) -> tuple[Line, ...] | None:
    """The lines at this scale, centred in the height of the box; None if they do not fit."""
    lines: list[Line] = []
    depth = 0.0
    for part, text in texts.items():
        size = _size(part, text, box, scale, dpi)
        broken = break_lines(text, typeface(WEIGHT[part], size), box.right - box.left)
        if broken is None:
            return None
        for number, line in enumerate(broken):
            depth += DROP[part][min(number, 1)] * size
            lines.append(Line(line, WEIGHT[part], size, box.left, math.floor(depth)))
    tail = DESCENT * lines[-1].size
    if depth + tail > box.bottom - box.top:
        return None
    # Centred from the top of the id to the last baseline: the few strokes below it weigh little.
    top = min((box.top + box.bottom - depth) / 2, box.bottom - tail - depth)
    return tuple(line._replace(baseline=line.baseline + math.floor(top)) for line in lines)


def _size(part: str, text: str, box: Box, scale: float, dpi: int) -> int:
    """The size in dots; an id shrinks alone until it stands on one line."""
    size = math.ceil(max(POINTS[part] * scale, LEAST_POINTS) * dpi / 72)
    if part == "id":
        least = math.ceil(LEAST_ID_POINTS * dpi / 72)
        while size > least and typeface(WEIGHT[part], size).getlength(text) > box.right - box.left:
            size -= 1
    return size


# --- what does not fit, and why

def _check_characters(label: DeviceLabel) -> None:
    for serves in label.serves or ("",):
        for part, text in _texts(label, serves).items():
            check_characters(label, text, WEIGHT[part])


def check_characters(label: DeviceLabel, text: str, weight: str) -> None:
    """LabelError for a character that would come out as a box, or as an accent beside its letter."""
    for character in text:
        if is_missing(character, weight) or unicodedata.combining(character):
            raise LabelError(
                f"label {label.id}: the character `{character}` (U+{ord(character):04X}) in `{text}` is not in "
                "the typeface of the labels; expected letters, digits and signs of a Latin, Greek or Cyrillic "
                "alphabet. Write it another way."
            )


def _too_long(label: DeviceLabel, texts: dict[str, str], box: Box, dpi: int) -> str:
    """The sentence that says which text is too long, and by how much, at the smallest sizes."""
    texts = {part: text.replace(NO_BREAK, " ") for part, text in texts.items()}
    place = f"a label of {label.width_mm:g} x {label.height_mm:g} mm" + (
        " with a QR code" if label.url else ""
    ) + (f" and the mark `{label.draft}`" if label.draft else "")
    for part, text in texts.items():
        font = typeface(WEIGHT[part], _size(part, text, box, LEAST, dpi))
        for word in words_of(text):
            if (wide := font.getlength(word)) > box.right - box.left:
                over = math.ceil(len(word) * (1 - max(0, box.right - box.left) / wide))
                return (
                    f"label {label.id}: the word `{word}` is about {over} character{'s' * (over > 1)} "
                    f"too long for {place}. Shorten it, or choose a larger label."
                )
    cuts = {part: _cut(part, texts, box, dpi) for part in ("room", "serves", "rule")}
    fitting = {part: cut for part, cut in cuts.items() if cut}
    if not fitting:
        return (
            f"label {label.id}: id, room, `{texts['serves']}` and `{texts['rule']}` do not fit on {place} at "
            f"{LEAST_POINTS:g} points, not even with one of them cut short. Choose a larger label."
        )
    part = min(fitting, key=lambda name: fitting[name])
    over = fitting[part]
    return (
        f"label {label.id}: the text `{texts[part]}` is about {over} character{'s' * (over > 1)} "
        f"too long for {place} at {LEAST_POINTS:g} points. Shorten it, or choose a larger label."
    )


def _cut(part: str, texts: dict[str, str], box: Box, dpi: int) -> int:
    """How many characters this text alone must lose for all to fit; 0 if that does not help."""
    for over in range(1, len(texts[part])):
        if _stack(texts | {part: texts[part][:-over]}, box, LEAST, dpi):
            return over
    return 0
