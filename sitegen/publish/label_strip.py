"""Takes a strip of text; gives its picture in black and white: one line, or two."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable

from PIL import Image, ImageDraw

from sitegen.binder.records import Strip
from sitegen.binder.words import Rich, Run

from .label_picture import draw_line
from .label_text import LabelError, Line, characters, check_characters, name_of
from .lettering import CAP_HEIGHT, DESCENT, NO_BREAK, break_lines, typeface

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


def draw_strip(strip: Strip, dpi: int) -> Image.Image:
    """The strip as a picture of mode "1". LabelError: a text does not fit, a character cannot be drawn."""
    mm = dpi / 25.4
    width, height = round(strip.width_mm * mm), round(strip.height_mm * mm)
    picture = Image.new("1", (width, height), 1)
    draw = ImageDraw.Draw(picture)
    left, right = round(EDGE_MM * mm), width - round(EDGE_MM * mm)
    if strip.lead:
        check_characters(strip, strip.lead, "black")
        left = _lead(draw, strip.lead, left, height, dpi)
    for text, black in ((strip.draft, True), (strip.mark, False)):
        if text:
            check_characters(strip, text, "black")
            right = _framed(draw, text, right, height, dpi, black)
    for line, size, baseline in _fit(strip, right - left, height, dpi):
        _draw_runs(draw, line, size, left, baseline)
    return picture


def _dots(points: float, dpi: int) -> int:
    return math.ceil(points * dpi / 72)


def _middle(height: int, size: int) -> int:
    """The baseline on which capitals stand in the middle of the strip."""
    return round((height + CAP_HEIGHT * size) / 2)


def _lead(draw: ImageDraw.ImageDraw, text: str, left: int, height: int, dpi: int) -> int:
    """The space of a breaker; gives where the text after it begins. All spaces up to two digits take the same room."""
    size = _dots(LEAD, dpi)
    font = typeface("black", size)
    draw_line(draw, Line(text, "black", size, left, _middle(height, size)), 0)
    return left + math.ceil(max(font.getlength(text), font.getlength("00")) + GAP_MM * dpi / 25.4)


def _framed(draw: ImageDraw.ImageDraw, text: str, right: int, height: int, dpi: int, black: bool) -> int:
    """A word in a frame, or white on black, at the right end; gives where the text before it must end."""
    size, pen = _dots(LEAST, dpi), max(1, round(0.25 * dpi / 25.4))
    length = math.ceil(typeface("black", size).getlength(text))
    pad = round(0.4 * size)
    top = (height - round(1.45 * size)) // 2
    left = right - length - 2 * pad
    draw.rounded_rectangle((left, top, right, height - top), radius=round(0.25 * size), fill=0 if black else 1, outline=0,
                           width=pen)
    draw_line(draw, Line(text, "black", size, left + pad, _middle(height, size)), 1 if black else 0)
    return left - round(GAP_MM * dpi / 25.4)


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
    lines = break_lines(text.text, typeface(WEIGHTS[text.look], size), width)
    return _stacked(tuple(Rich((Run(line, text.look),)) for line in lines), size, width, height) if lines else None


def _tidy(line: Iterable[Run]) -> Rich:
    return Rich(Run(unicodedata.normalize("NFC", run.text), run.look) for run in line)


def _pad(run: Run, size: int) -> int:
    return math.ceil(PAD * size) if run.look == "tag" else 0


def _length(line: Rich, size: int) -> float:
    return sum(typeface(WEIGHTS[run.look], size).getlength(run.text) + 2 * _pad(run, size) for run in line)


def _draw_runs(draw: ImageDraw.ImageDraw, line: Rich, size: int, left: float, baseline: int) -> None:
    """Runs one after the other; an id stands in a frame."""
    for run in line:
        pad, font = _pad(run, size), typeface(WEIGHTS[run.look], size)
        length = font.getlength(run.text)
        if pad:
            top, bottom = baseline - round((CAP_HEIGHT + PAD) * size), baseline + round(PAD * size)
            draw.rounded_rectangle((round(left), top, round(left + length + 2 * pad), bottom), radius=pad, outline=0,
                                   width=max(1, size // 18))
        draw.text((round(left + pad), baseline), run.text, fill=0, font=font, anchor="ls")
        left += length + 2 * pad


def _too_long(strip: Strip, lines: tuple[Rich, ...], size: int, width: int, height: int) -> str:
    """The sentence that says by how many characters, from its end, the longest line is too long."""
    longest = max(lines, key=lambda line: _length(line, size))
    over, end = 0, longest[-1]
    while over < len(end.text) - 1:
        over += 1
        shorter = Rich((*longest[:-1], Run(end.text[:-over], end.look)))
        if _stacked((shorter,), size, width, height) or _broken((shorter,), size, width, height):
            break
    plain = longest.plain.replace(NO_BREAK, " ")
    return (f"{name_of(strip)}: the text `{plain}` is about {characters(over)} too long for a strip of "
            f"{strip.width_mm:g} x {strip.height_mm:g} mm at {LEAST:g} points. Shorten it.")
