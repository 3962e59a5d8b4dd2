"""Takes the sheet of one device; gives what fits on the front of its leaf, and in which type."""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.cases import Case
from ...binder.places import Spot
from ...binder.paper.records import DeviceSheet, OffRow
from ...binder.site.records import Frame
from ...binder.words import Words
from .measure import COLUMN, HEIGHT, NORMAL, SPARE, TIGHT, WIDTH, Sizes, columns, lines, wide

LEAST_ROWS = 6          # fewer on the front: smaller type first
WAYS = ((False, NORMAL), (True, NORMAL), (True, TIGHT))    # cases whole or running over to the next column; type


@dataclass(frozen=True, slots=True)
class Side:
    """The front of one leaf."""

    rows: int           # how many rows of the list it holds; the others stand overleaf
    others: bool        # it also holds what is not on the device
    tight: bool         # in smaller type
    flow: bool          # a case may run over to the second column


def front_side(sheet: DeviceSheet, frame: Frame, words: Words) -> Side:
    """The front in the largest type that holds all; else as much of the list as it holds, in the larger type if that is
    six rows or more."""
    whole = len(sheet.off)
    for flow, sizes in WAYS:
        needed = columns(_rows(sheet, words, sizes)) + others_height(sheet, words, sizes)
        if needed <= _left(sheet, frame, words, sizes, flow):
            return Side(whole, True, sizes is TIGHT, flow)
    for sizes in (NORMAL, TIGHT):
        left = _left(sheet, frame, words, sizes, flow=True) - sizes.leading - 5     # "The list goes on overleaf."
        heights = _rows(sheet, words, sizes)
        fits = max(n for n in range(whole + 1) if n == 0 or columns(heights[:n]) <= left)
        if fits >= LEAST_ROWS:
            break
    return Side(fits, False, sizes is TIGHT, True)


def _left(sheet: DeviceSheet, frame: Frame, words: Words, sizes: Sizes, flow: bool) -> float:
    """Height that is left for the list and what follows it."""
    return HEIGHT - SPARE - _above_list(sheet, frame, words, sizes, flow)


def _rows(sheet: DeviceSheet, words: Words, sizes: Sizes) -> list[float]:
    return [list_row(row, words, sizes) for row in sheet.off]


def list_row(row: OffRow, words: Words, sizes: Sizes) -> float:
    notes = [text for text, holds in ((words.text("turns_off.itself"), row.itself), (words.text("turns_off.vital"), row.vital),
             (words.text("turns_off.own_button") + ". " + words.text("print.also_off", id=row.id), row.own_button)) if holds]
    size = sizes.row / 1.19
    tag = max(28.0, wide(row.id, "bold", size) + 10)
    weight = "bold" if row.vital else "regular"
    return lines(" · ".join((row.place, *notes)), size, COLUMN - tag - 6 - 15 * min(row.depth, 3), weight) * sizes.row \
        + sizes.padding


def others_height(sheet: DeviceSheet, words: Words, sizes: Sizes) -> float:
    size, height = sizes.row / 1.19, 0.0
    if sheet.not_seen:
        height += lines(words.text("print.nobody_looked", id=sheet.place.id) + " " + "; ".join(sheet.not_seen), size, WIDTH) \
            * sizes.row + 6
    if sheet.not_on:
        said = "; ".join(f"{room}: {things}" for room, things in sheet.not_on)
        height += lines(words.text("print.not_on", id=sheet.place.id) + " " + said, size, WIDTH) * sizes.row + 6
    return height


def _above_list(sheet: DeviceSheet, frame: Frame, words: Words, sizes: Sizes, flow: bool) -> float:
    """Everything on the front down to "Seen to go off"."""
    answer = sheet.place.answer
    beside = WIDTH - (104 if sheet.place.url else 0)
    looks = " · ".join((answer.spot.looks, *answer.spot.more))
    spot = max(sizes.picture, 23 + lines(answer.spot.at, 14, beside - 60, "bold") * 16.5
               + lines(looks, sizes.text, beside - 60) * sizes.leading + 2) + 10
    top = lines(f"{words.text('answer.question')} {answer.about}", 12.5, beside) * 15.5 \
        + lines(answer.headline, sizes.headline, beside - 10, "bold") * sizes.headline * 1.15 + 4 + spot
    corner = 92 + 13 + lines(sheet.address, 9, 92) * 11 if sheet.place.url else 0
    stop = 22 + 15.5 * lines(" ".join((words.text("stop_line.ask"), words.text("stop_line.do"), frame.phone or frame.firm)),
                             12.5, WIDTH - 50, "bold")
    steps = sum(lines(step, sizes.step, WIDTH - 22) * sizes.step * 1.2 + 3 for step in answer.steps)
    hints = sum(lines(hint, sizes.text, WIDTH - 22, "bold") * sizes.leading + 2 for hint in answer.hints)
    blocks = [_case(case, sizes) for case in answer.cases]
    cases = columns([piece for block in blocks for piece in block] if flow else [sum(block) for block in blocks])
    return (40 if frame.draft else 0) + max(top, corner) + stop + steps + hints + 27 + cases + sizes.leading + 5 \
        + _help(sheet, frame, words, sizes) + 27 + sizes.leading + 2


def _case(case: Case, sizes: Sizes) -> list[float]:
    """Heights of the pieces of a case, its title with the first."""
    width = COLUMN - 10
    heights = [lines(case.title, sizes.text, width, "bold") * sizes.leading + 5]
    for piece in case.says:
        if isinstance(piece, Spot):
            height = lines(f"{piece.id} {piece.room} · {piece.at}", sizes.text, width - 12, "bold") * sizes.leading + 1.5
        else:
            height = lines(piece, sizes.text, width) * sizes.leading + 1.5
        heights.append(height)
    return [sum(heights[:2]), *heights[2:]]


def _help(sheet: DeviceSheet, frame: Frame, words: Words, sizes: Sizes) -> float:
    inner = WIDTH - 19 - 16
    left = 15 + (22 if frame.phone else 0) + 22 + sizes.leading * lines(
        f"{frame.firm}. {sheet.place.say.plain}", sizes.text, inner / 2.25, "bold")
    says = (words.rich("call.fire", number=frame.emergency), words.rich("call.shock", number=frame.emergency, panel=frame.panel),
            words.rich("call.anything"))
    right = sum(lines(text, sizes.text, inner * 1.25 / 2.25) * sizes.leading + 2 for text in says)
    return max(left, right) + 18
