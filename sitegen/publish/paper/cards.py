"""Takes what to press for which outlets; gives the cards of the cupboard sheet, each to be read cut to 5.5 x 8.5 in."""

from __future__ import annotations

from ...binder.paper.records import PrintBinder, Target
from .blocks import high, lines, pack, wide
from .sizes import Paper, stop_line

WIDTH = 354.0           # inside the cutting frame, in points
HEIGHT = 568.0          # with some kept free on every card


def deal_cards(data: PrintBinder, paper: Paper) -> tuple[tuple[Target, ...], ...]:
    """The entries of the cupboard sheet dealt out to cards."""
    top = (2 * 17 + 14 if paper.frame.draft else 0) + (_text(paper, paper.text("print.panel_is", at=data.panel_at), "bold") + 2
                                                       if data.panel_at else 0)
    heads = _first_head(data, paper) + top, _head(paper, "part") + 9.5 + top

    def height(target: Target, before: Target | None) -> float:
        return _entry(target, paper) + (0 if before and before.room == target.room else _head(paper, "room") + 7.6)

    return tuple(map(tuple, pack(data.targets, height, lambda card: HEIGHT - heads[min(card, 1)])))


def _text(paper: Paper, text: str, weight: str = "regular", width: float = WIDTH) -> float:
    return high(text, paper.sizes["card-text"], paper.sizes["card-apart"], width, weight)


def _head(paper: Paper, of: str) -> float:
    """One line of a heading: of a `room`, or of a `part` of the sheet."""
    return paper.sizes[f"card-{of}"] * paper.sizes["head-apart"]


def _entry(target: Target, paper: Paper) -> float:
    """What is dead, what to press, and its place: as many of the three on a line as fit."""
    text, tag = paper.sizes["card-text"], paper.sizes["card-tag"]
    press = sum(wide(run.text, "bold", tag) + 12.5 if run.look == "tag" else wide(run.text, "bold", text) for run in target.press)
    things = wide(target.things, "bold", text)
    height = paper.sizes["card-press"] * lines(target.press, text + 1, WIDTH)
    if things + 6 + press > WIDTH * 0.995:
        height += _text(paper, target.things, "bold")
        things = -6.0
    if target.where and things + press + 12 + wide(target.where, "regular", text) > WIDTH * 0.995:
        height += _text(paper, target.where)
    return height + 4.75


def _first_head(data: PrintBinder, paper: Paper) -> float:
    """The first card down to its first entry."""
    frame, sizes, words = paper.frame, paper.sizes, paper.words
    beside, corner = WIDTH - sizes["card-corner"] - 10, 0.0
    title = high(paper.text("print.emergency"), sizes["card-title"], sizes["head-apart"], beside, "bold") \
        + _text(paper, frame.job.title, width=beside)
    if data.url:
        corner = sizes["card-corner"] + 17 + _text(paper, data.address, width=sizes["card-corner"])
    stop = high(stop_line(paper, "ask", "do", "call"), sizes["card-stop"], sizes["card-stop-apart"], beside - 50, "bold")
    return (max(title + 22 + stop, corner) + _text(paper, words.text("call.fire", number=frame.emergency), "bold") + 4
            + _text(paper, words.text("call.shock", number=frame.emergency, main=frame.main)) + (sizes["card-dial"] * sizes["dial-apart"] + 6 if frame.phone else 0)
            + _text(paper, frame.firm) + 34 + 26 + _text(paper, words.text("start.dark")))
