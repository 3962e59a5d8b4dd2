"""Takes the binder on paper; gives what fits where: the cards of the cupboard sheet, and the front of each device's leaf.

The typeface stands in the file, so its widths are known here. Sizes are those of print.css, in points; heights err on the
high side, and a test lets a browser print the worst house we could think of.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..binder.answer import Case, Spot
from ..binder.pages import Frame
from ..binder.paper_records import DeviceSheet, OffRow, PrintBinder, Target
from ..binder.words import Words
from .paper_cards import deal_cards
from .paper_measure import columns, lines, wide

WIDTH = 500.0           # of A4 between the margins; Letter is wider
HEIGHT = 712.0          # of Letter between the margins; A4 is higher
COLUMN = (WIDTH - 16) / 2
SPARE = 12.0            # kept free on every side
LEAST_ROWS = 6          # fewer on the front: smaller type first


@dataclass(frozen=True, slots=True)
class Side:
    """The front of one leaf."""

    rows: int           # how many rows of the list it holds; the others stand overleaf
    others: bool        # it also holds what is not on the device
    tight: bool         # in smaller type
    flow: bool          # a case may run over to the second column


@dataclass(frozen=True, slots=True)
class Back:
    """The back of one leaf."""

    tight: bool
    lines: int          # empty ones, for what is changed later
    apart: bool         # the rest of the list has a page of its own before this one, and an empty one follows


@dataclass(frozen=True, slots=True)
class Layout:
    cards: tuple[tuple[Target, ...], ...]
    sides: tuple[Side, ...]             # one a device sheet
    backs: tuple[Back, ...]
    pages: tuple[int, ...]              # the page its front stands on


@dataclass(frozen=True, slots=True)
class Sizes:
    """The type of a front, as print.css has it."""

    text: float
    leading: float
    row: float          # leading of a row of the list
    padding: float      # above and below a row, with its rule
    step: float
    headline: float
    picture: float


NORMAL = Sizes(11.25, 14.0, 12.6, 4.75, 14, 28, 72)
TIGHT = Sizes(9.75, 11.6, 11.3, 2.75, 12, 24, 60)
WAYS = ((False, NORMAL), (True, NORMAL), (True, TIGHT))    # cases whole or running over to the next column; type


def lay_out(data: PrintBinder, frame: Frame, words: Words) -> Layout:
    """Cards, fronts and the pages the fronts stand on: always odd, so a leaf has its front on the right."""
    cards = deal_cards(data, frame, words)
    first = len(cards) + len(cards) % 2 + 3     # a leaf with the contents stands between
    sides = tuple(front_side(sheet, frame, words) for sheet in data.sheets)
    backs = tuple(back_side(sheet, side, frame, words) for sheet, side in zip(data.sheets, sides, strict=True))
    sizes = [4 if back.apart else 2 for back in backs]
    return Layout(cards, sides, backs, tuple(first + sum(sizes[:index]) for index in range(len(sizes))))


def front_side(sheet: DeviceSheet, frame: Frame, words: Words) -> Side:
    """The front in the largest type that holds all; else as much of the list as it holds, in the larger type if that is
    six rows or more."""
    whole = len(sheet.off)
    for flow, sizes in WAYS:
        if columns(_rows(sheet, words, sizes)) + _others(sheet, words, sizes) <= _left(sheet, frame, words, sizes, flow):
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
    return [_row(row, words, sizes) for row in sheet.off]


def _row(row: OffRow, words: Words, sizes: Sizes) -> float:
    notes = [text for text, holds in ((words.text("turns_off.itself"), row.itself), (words.text("turns_off.vital"), row.vital),
             (words.text("turns_off.own_button") + ". " + words.text("print.also_off", id=row.id), row.own_button)) if holds]
    size = sizes.row / 1.19
    tag = max(28.0, wide(row.id, "bold", size) + 10)
    weight = "bold" if row.vital else "regular"
    return lines(" · ".join((row.place, *notes)), size, COLUMN - tag - 6 - 15 * min(row.depth, 3), weight) * sizes.row \
        + sizes.padding


def _others(sheet: DeviceSheet, words: Words, sizes: Sizes) -> float:
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
    assert answer.spot
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


def back_side(sheet: DeviceSheet, side: Side, frame: Frame, words: Words) -> Back:
    """The back in the larger type with as many empty lines as there is room for, eight at most."""
    for sizes, apart in ((NORMAL, False), (TIGHT, False), (NORMAL, True), (TIGHT, True)):
        left = HEIGHT - SPARE - _back(sheet, frame, words, sizes) - (0 if apart else _overleaf(sheet, side, words, sizes))
        if left >= 0:
            break
    empty = min(8, int((left - 46) / 21.8))
    return Back(sizes is TIGHT, empty if empty > 1 else 0, apart)


def _overleaf(sheet: DeviceSheet, side: Side, words: Words, sizes: Sizes) -> float:
    """The rest of the list, with its heading."""
    rest = [_row(row, words, sizes) for row in sheet.off[side.rows:]]
    if not rest and side.others:
        return 0.0
    return 30 + columns(rest) + (0 if side.others else _others(sheet, words, sizes))


def _back(sheet: DeviceSheet, frame: Frame, words: Words, sizes: Sizes) -> float:
    """Everything on the back but the rest of the list and the empty lines."""
    half, page = (WIDTH - 18) / 2, sheet.place
    text = lambda said, width=half: lines(said, sizes.text, width) * sizes.leading + 2  # noqa: E731
    assert page.monthly
    test = text(f"{page.monthly.intro} {page.monthly.moment.plain}") + text(words.text("monthly.why")) \
        + sum(text(step, half - 22) + 2 for step in page.monthly.steps)
    table = [words.fill(cell, "monthly.results", {}) for row in words.get("monthly.results") for cell in row]
    results = 2 * sizes.leading + 14 + text(words.text("monthly.green")) \
        + sum(max(text(seen, half * 0.36), text(means, half * 0.55)) + 4 for seen, means in zip(table[::2], table[1::2], strict=True))
    safe = 30 + sum(text(said, half - 16) for said in page.keep_safe) + (18 if page.guard else 0) \
        + sum(text(said) for said in page.guard)
    record = 30 + sum(text(line) for line in sheet.record) \
        + sum(lines(feed, sizes.text, half, "bold") * sizes.text * 1.3 + 2 for feed in sheet.feeds)
    foot = 12 + 12 * lines(f"{page.dated} {words.text('frame.stale')} {words.text('frame.not_inspection')}", 9.5, WIDTH)
    return (40 if frame.draft else 0) + 40 + text(sheet.where, WIDTH) + max(test, results) + max(safe, record) + foot
