"""Takes what to press for which outlets; gives the cards of the cupboard sheet, each to be read cut to 5.5 x 8.5 in.

Sizes are those of .card in print.css, in points.
"""

from __future__ import annotations

from ...binder.paper.records import PrintBinder, Target
from ...binder.site.records import Frame
from ...binder.words import Words
from .measure import lines, wide

WIDTH = 354.0           # inside the cutting frame
HEIGHT = 578.0
SPARE = 10.0            # kept free on every card
ROOM = 25.5             # the heading of a room


def deal_cards(data: PrintBinder, frame: Frame, words: Words) -> tuple[tuple[Target, ...], ...]:
    """The entries of the cupboard sheet dealt out to cards of 5.5 x 8.5 in."""
    top = (2 * 17 + 14 if frame.draft else 0) + (_card_lines(words.text("print.panel_is", at=data.panel_at), "bold") + 2
                                                 if data.panel_at else 0)
    cards: list[list[Target]] = [[]]
    used, room = _card_head(data, frame, words) + top, ""
    for target in data.targets:
        if used + _entry(target) + (0 if target.room == room else ROOM) > HEIGHT - SPARE:
            cards.append([])
            used, room = 28.5 + top, ""
        used += _entry(target) + (0 if target.room == room else ROOM)
        room = target.room
        cards[-1].append(target)
    return tuple(map(tuple, cards))


def _card_lines(text: str, weight: str = "regular") -> float:
    return lines(text, 14, WIDTH, weight) * 14 * 1.18


def _entry(target: Target) -> float:
    """What is dead, what to press, and its place: as many of the three on a line as fit."""
    press = sum(wide(run.text, "bold", 24) + 12.5 if run.look == "tag" else wide(run.text, "bold", 14) for run in target.press)
    things = wide(target.things, "bold", 14)
    height = 26.0 * lines(target.press, 15, WIDTH)
    if things + 6 + press > WIDTH * 0.995:
        height += _card_lines(target.things, "bold")
        things = -6.0
    if target.where and things + press + 12 + wide(target.where, "regular", 14) > WIDTH * 0.995:
        height += _card_lines(target.where)
    return height + 4.75


def _card_head(data: PrintBinder, frame: Frame, words: Words) -> float:
    """The first card down to its first entry."""
    beside = WIDTH - 114
    title = lines(words.text("print.emergency"), 24, beside, "bold") * 27 + lines(frame.job.title, 14, beside) * 16.6
    corner = 104 + 17 + lines(data.address, 14, 104) * 16.6 if data.url else 0
    stop = " ".join((words.text("stop_line.ask"), words.text("stop_line.do"), words.text("stop_line.call"),
                     frame.phone or frame.firm))
    return (max(title + 22 + lines(stop, 15, beside - 50, "bold") * 17.5, corner)
            + _card_lines(words.text("call.fire", number=frame.emergency), "bold") + 4
            + _card_lines(words.text("call.shock", number=frame.emergency, panel=frame.panel)) + (37 if frame.phone else 0)
            + _card_lines(frame.firm) + 34 + 26 + _card_lines(words.text("start.dark")))
