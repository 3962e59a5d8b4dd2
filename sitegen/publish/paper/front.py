"""Takes the sheet of one device; gives what fits on the front of its leaf and in which type, and the type of its large print."""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.answer.cases import Case
from ...binder.answer.places import Spot
from ...binder.desk.words import Rich
from ...binder.paper.records import DeviceSheet, OffRow
from .blocks import BAR, columns, high, lines, wide
from .sizes import Paper, Type, stop_line

LEAST_ROWS = 6          # fewer on the front: smaller type first


@dataclass(frozen=True, slots=True)
class Side:
    """The front of one leaf."""

    cases: int          # how many cases it holds; the others stand overleaf
    rows: int           # how many rows of the list
    others: bool        # it also holds what is not on the device
    tight: bool         # in smaller type; no case is under 11 pt, and none runs over to the second column


def front_side(sheet: DeviceSheet, paper: Paper) -> Side:
    """The front in the larger type that holds all; else as much of the list as it holds, in the larger type if that is six rows
    or more."""
    whole = len(sheet.off)
    for type in (paper.normal, paper.tight):
        if columns(_rows(sheet, paper, type)) + others_height(sheet, paper, type) <= _left(sheet, paper, type):
            return Side(len(sheet.place.answer.cases), whole, True, type.tight)
    for type in (paper.normal, paper.tight):
        left = _left(sheet, paper, type) - type.leading - 5     # "The list goes on overleaf."
        heights = _rows(sheet, paper, type)
        fits = max(n for n in range(whole + 1) if n == 0 or columns(heights[:n]) <= left)
        if fits >= LEAST_ROWS:
            break
    cases = len(sheet.place.answer.cases)
    while cases and fits == 0 and _above_list(sheet, paper, type, cases) - BAR > paper.high:
        cases -= 1      # without a row of the list its heading goes overleaf too
    return Side(cases, fits, False, type.tight)


def _left(sheet: DeviceSheet, paper: Paper, type: Type) -> float:
    """Height that is left for the list and what follows it."""
    return paper.high - _above_list(sheet, paper, type, len(sheet.place.answer.cases))


def _rows(sheet: DeviceSheet, paper: Paper, type: Type) -> list[float]:
    return [list_row(row, paper, type) for row in sheet.off]


def list_row(row: OffRow, paper: Paper, type: Type) -> float:
    notes = [text for text, holds in ((paper.text("turns_off.itself"), row.itself), (paper.text("turns_off.vital"), row.vital),
             (paper.text("turns_off.own_button") + ". " + paper.text("print.also_off", id=row.id), row.own_button)) if holds]
    size = type.row
    tag = max(paper.sizes["tag"], wide(row.id, "bold", size) + 10)
    weight = "bold" if row.vital else "regular"
    return lines(" · ".join((row.place, *notes)), size, paper.column - tag - 6 - 15 * min(row.depth, 3), weight) * type.row_leading \
        + type.padding


def others_height(sheet: DeviceSheet, paper: Paper, type: Type) -> float:
    size, height = type.row, 0.0
    if sheet.not_seen:
        height += lines(paper.text("print.nobody_looked", id=sheet.place.id) + " " + "; ".join(sheet.not_seen), size, paper.wide) \
            * type.row_leading + 6
    if sheet.not_on:
        said = "; ".join(f"{room}: {things}" for room, things in sheet.not_on)
        height += lines(paper.text("print.not_on", id=sheet.place.id) + " " + said, size, paper.wide) * type.row_leading + 6
    return height


def _above_list(sheet: DeviceSheet, paper: Paper, type: Type, cases: int) -> float:
    """Everything on the front down to "Seen to go off"."""
    answer, sizes = sheet.place.answer, paper.sizes
    beside = paper.wide - (sizes["corner"] + 12 if sheet.place.url else 0)
    looks = " · ".join((answer.spot.looks, *answer.spot.more))
    spot = max(type.picture, 23 + high(answer.spot.at, sizes["at"], sizes["at-apart"], beside - 60, "bold")
               + lines(looks, type.text, beside - 60) * type.leading + 2) + 10
    top = high(f"{paper.text('answer.question')} {answer.about}", sizes["ask"], sizes["apart"], beside) \
        + high(answer.headline, type.headline, sizes["head-apart"] + 0.03, beside - 10, "bold") + 4 + spot
    corner = sizes["corner"] + 13 + high(sheet.address, sizes["small"], sizes["corner-apart"], sizes["corner"]) if sheet.place.url else 0
    stop = 22 + high(stop_line(paper, "ask", *(("rain",) if answer.wet else ()), "do"), sizes["stop"], sizes["apart"], paper.wide - 50, "bold")
    steps = sum(high(step, type.step, sizes["step-apart"], paper.wide - sizes["indent"] - 2) + 3 for step in answer.steps)
    hints = sum(lines(hint, type.text, paper.wide - sizes["indent"] - 2, "bold") * type.leading + 2 for hint in (*answer.alert, *answer.hints))
    shown = columns([_case(case, paper, type) for case in answer.cases[:cases]])
    return paper.draft + max(top, corner) + stop + steps + hints + BAR + shown + type.leading + 5 \
        + _help(sheet, paper, type) + BAR + type.leading + 2


def _case(case: Case, paper: Paper, type: Type) -> float:
    width = paper.column - 10
    height = lines(case.title, type.text, width, "bold") * type.leading + 5
    for piece in case.says:
        if isinstance(piece, Spot):
            height += lines(f"{piece.id} {piece.room} · {piece.at}", type.text, width - 12, "bold") * type.leading + 1.5
        else:
            height += lines(piece, type.text, width) * type.leading + 1.5
    return height


def _help(sheet: DeviceSheet, paper: Paper, type: Type) -> float:
    inner = paper.wide - 19 - 16
    left = 15 + (22 if paper.frame.phone else 0) + 22 + type.leading * lines(
        f"{paper.frame.firm}. {sheet.place.say.plain}", type.text, inner / 2.25, "bold")
    says = (*_calls(paper), paper.words.rich("call.anything"))
    right = sum(lines(text, type.text, inner * 1.25 / 2.25) * type.leading + 2 for text in says)
    return max(left, right) + 18


def _calls(paper: Paper) -> tuple[Rich, Rich]:
    number, main = paper.frame.emergency, paper.frame.main
    return paper.words.rich("call.fire", number=number), paper.words.rich("call.shock", number=number, main=main)


def large_is_tight(sheet: DeviceSheet, paper: Paper) -> bool:
    """Whether the page in large print would run over in the larger of its two types."""
    answer, sizes = sheet.place.answer, paper.sizes
    size, times, beside = sizes["large-text"], sizes["large-apart"], paper.wide - 90

    def text(said: str | Rich, weight: str = "regular") -> float:
        return high(said, size, times, paper.wide, weight) + 2

    looks = " · ".join((answer.spot.looks, *answer.spot.more))
    spot = max(sizes["large-picture"], 38 + high(answer.spot.at, sizes["large-at"], sizes["at-apart"], beside, "bold")
               + high(looks, size, times, beside)) + 10
    steps = sum(high(step, sizes["large-step"], times, paper.wide - sizes["large-indent"]) + 3 for step in answer.steps) + 16
    needed = paper.draft + high(answer.headline, sizes["large-headline"], sizes["head-apart"], paper.wide - 12, "bold") + 4 + spot \
        + high(stop_line(paper, "ask", "do", "call"), sizes["large-stop"], times, paper.wide - 62, "bold") + 27 + steps \
        + sum(text(hint, "bold") for hint in (*answer.alert, *answer.hints)) + text(answer.rule, "bold") + text(paper.text("call.anything")) \
        + 44 + text(sheet.place.say) + sum(map(text, _calls(paper)))
    return needed > paper.high
