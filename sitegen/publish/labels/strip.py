"""Takes a strip of text; gives it laid out in dots: one line of text, or two."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable

from ...binder.desk.words import Piece, Rich
from ...binder.labels.records import Strip
from ...errors import LabelError
from ..type.font import CAP_HEIGHT, DESCENT
from ..type.widths import NO_BREAK, break_lines, length
from .fit import characters, check_characters, name_of
from .marks import Artwork, Bar, Line, Mark, flush, whole_dots

EDGE_MM = 1.5       # from the cut to the text at both ends
MARGIN_MM = 0.35    # above and below the text, to cut in
GAP_MM = 1.5        # between the parts of a strip
LEAST = 8.0         # points (page design)
GOOD = 9.0          # points; below this, fewer words beat smaller ones
MOST = 13.0         # points
LEAD = 14.0         # points of the breaker's space
LEADING = 1.08      # from one line to the next, as a part of the size
PAD = 0.22          # of the size, around a framed id
WEIGHTS = {"plain": "bold", "strong": "bold", "tag": "black"}


def lay_out_strip(strip: Strip, dpi: int) -> Artwork:
    """The strip in as many whole dots as its size has room for. LabelError: a text does not fit, a character cannot be
    drawn."""
    width, height = whole_dots(strip.width_mm, dpi), whole_dots(strip.height_mm, dpi)
    edge = round(EDGE_MM * dpi / 25.4)
    left, right, marks = edge, width - edge, list[Mark]()
    if strip.lead:
        left, mark = _lead(strip, left, height, dpi)
        marks.append(mark)
    for text, black in ((strip.draft, True), (strip.mark, False)):
        if text:
            right, framed = _framed(strip, text, right, height, dpi, black)
            marks += framed
    for line, size, baseline in _fit(strip, right - left, height, dpi):
        marks += _runs(line, size, left, baseline)
    return Artwork(width, height, dpi, tuple(marks))


def _dots(points: float, dpi: int) -> int:
    return math.ceil(points * dpi / 72)


def _middle(height: int, size: int) -> int:
    """The baseline on which capitals stand in the middle of the strip."""
    return round((height + CAP_HEIGHT * size) / 2)


def _lead(strip: Strip, left: int, height: int, dpi: int) -> tuple[int, Mark]:
    """Where the text after the space of a breaker begins, and the space. All spaces up to two digits take the same room."""
    check_characters(strip, strip.lead, "black")
    size = _dots(LEAD, dpi)
    wide = max(length(strip.lead, "black", size), length("00", "black", size))
    line = flush(Line(strip.lead, "black", size, left, _middle(height, size)))
    return left + math.ceil(wide + GAP_MM * dpi / 25.4), line


def _framed(strip: Strip, text: str, right: int, height: int, dpi: int, black: bool) -> tuple[int, list[Mark]]:
    """Where the text before a word at the right end must end, and the word: in a frame, or white on black."""
    check_characters(strip, text, "black")
    size, pen = _dots(LEAST, dpi), max(1, round(0.25 * dpi / 25.4))
    pad = round(0.4 * size)
    wide = math.ceil(length(text, "black", size)) + 2 * pad
    top = (height - round(1.45 * size)) // 2
    left = right - wide
    return left - round(GAP_MM * dpi / 25.4), [
        Bar(left, top, wide, height - 2 * top, round(0.25 * size), 0 if black else pen),
        flush(Line(text, "black", size, left + pad, _middle(height, size), not black))]


def _fit(strip: Strip, width: int, height: int, dpi: int) -> list[tuple[Rich, int, int]]:
    """(line, size, baseline): the first offer that fits at a good size, else the first that fits at all."""
    offers = [tuple(map(_tidy, offer)) for offer in strip.offers]
    for run in (run for offer in offers for line in offer for run in line):
        check_characters(strip, run.text, WEIGHTS[run.look])
    low = height - 2 * round(MARGIN_MM * dpi / 25.4)
    good, least = _dots(GOOD, dpi), _dots(LEAST, dpi)
    for offer, floor in [*((offer, good) for offer in offers if len(offer) == 1), *((offer, least) for offer in offers)]:
        for size in range(_dots(MOST, dpi), floor - 1, -1):
            if (found := _stacked(offer, size, width, low)) or (size == least and (found := _broken(offer, size, width, low))):
                return [(line, size, baseline + (height - low) // 2) for line, size, baseline in found]
    raise LabelError(_too_long(strip, offers[-1], least, width, low))


def _stacked(lines: tuple[Rich, ...], size: int, width: int, height: int) -> list[tuple[Rich, int, int]] | None:
    """The lines one under the other in the middle of the strip; None if they do not fit."""
    depth = (CAP_HEIGHT + (len(lines) - 1) * LEADING) * size
    if depth + 2 * DESCENT * size > height or max(_length(line, size) for line in lines) > width:
        return None
    first = (height - depth) / 2 + CAP_HEIGHT * size
    return [(line, size, round(first + number * LEADING * size)) for number, line in enumerate(lines)]


def _broken(offer: tuple[Rich, ...], size: int, width: int, height: int) -> list[tuple[Rich, int, int]] | None:
    """Words without an id among them, broken into lines."""
    if len(offer) > 1 or len(offer[0]) > 1:
        return None
    [[text]] = offer
    lines = break_lines(text.text, WEIGHTS[text.look], size, width)
    return _stacked(tuple(Rich((Piece(line, text.look),)) for line in lines), size, width, height) if lines else None


def _tidy(line: Iterable[Piece]) -> Rich:
    return Rich(Piece(unicodedata.normalize("NFC", run.text), run.look) for run in line)


def _pad(run: Piece, size: int) -> int:
    return math.ceil(PAD * size) if run.look == "tag" else 0


def _length(line: Rich, size: int) -> float:
    return sum(length(run.text, WEIGHTS[run.look], size) + 2 * _pad(run, size) for run in line)


def _runs(line: Rich, size: int, left: float, baseline: int) -> list[Mark]:
    """Runs one after the other; an id stands in a frame."""
    marks: list[Mark] = []
    for run in line:
        pad, wide = _pad(run, size), length(run.text, WEIGHTS[run.look], size)
        if pad:
            top = baseline - round((CAP_HEIGHT + PAD) * size)
            marks.append(Bar(round(left), top, round(wide + 2 * pad), baseline + round(PAD * size) - top, pad,
                             max(1, size // 18)))
        marks.append(Line(run.text, WEIGHTS[run.look], size, round(left + pad), baseline))
        left += wide + 2 * pad
    return marks


def _too_long(strip: Strip, lines: tuple[Rich, ...], size: int, width: int, height: int) -> str:
    """The sentence that says by how many characters, from its end, the longest line is too long."""
    longest = max(lines, key=lambda line: _length(line, size))
    plain, end = longest.plain.replace(NO_BREAK, " "), longest[-1]
    place = f"a strip of {strip.width_mm:g} x {strip.height_mm:g} mm at {LEAST:g} points"
    for over in range(1, len(end.text)):
        shorter = Rich((*longest[:-1], Piece(end.text[:-over], end.look)))
        if _stacked((shorter,), size, width, height) or _broken((shorter,), size, width, height):
            return f"{name_of(strip)}: the text `{plain}` is about {characters(over)} too long for {place}. Shorten it."
    return f"{name_of(strip)}: the text `{plain}` does not fit on {place}, not even cut short."
