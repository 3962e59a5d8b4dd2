"""Takes what to press for which outlets; gives the folded sheets for the cupboard: four panels each, read at 5.5 x 8.5 in.

Panel 1 is the emergency; the rooms stand on 2, 3 and what the stop rules leave of 4, then on sheets of their own. Where 4 is too
small for what to try first and the rules, the former heads panel 3.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.desk.words import Piece, Rich
from ...binder.paper.records import PrintBinder, Target
from .blocks import high, lines, pack, wide
from .sizes import Paper


@dataclass(frozen=True, slots=True)
class Panel:
    heads: tuple[str, ...]          # of first | tries | rules, before the rooms
    targets: tuple[Target, ...]


@dataclass(frozen=True, slots=True)
class Folded:
    """Both sides of one sheet, each with its left and its right panel: 4 and 1 outside, 2 and 3 inside."""

    outside: tuple[Panel, Panel]
    inside: tuple[Panel, Panel]


def folded_sheets(data: PrintBinder, paper: Paper) -> tuple[Folded, ...]:
    once = max(_text(paper, paper.text(f"fold.{name}"), "bold") for name in ("wet", "once"))
    whole = paper.sizes["fold-high"] - paper.draft - 7
    room = whole - _head(paper, "part") - once
    tries, rules = (_part(paper, bullets) for bullets in _bullets(data, paper))
    rules += _head(paper, "part") + 5 + sum(_text(paper, one.at, "bold") for one in data.directories)
    moved = tries + rules > whole
    left = (room, room - tries + once, room - rules + once) if moved else (room, room, room - tries - rules + once)

    def height(target: Target, before: Target | None) -> float:
        above = before.room if before else None
        return _entry(target, paper, above != target.room) + (2.0 if above != target.room else 0)

    rooms = [tuple(panel) for panel in pack(data.targets, height, lambda panel: (*left, room)[min(panel, 3)])]
    rooms += [()] * (3 - len(rooms))
    heads = (("first",), (), ("tries",), ("rules",)) if moved else (("first",), (), (), ("tries", "rules"))
    panels = [*map(Panel, heads, ((), *rooms)), *(Panel((), one) for one in rooms[3:])]
    panels += [Panel((), ())] * (-len(panels) % 4)
    return tuple(Folded((four, one), (two, three))
                 for one, two, three, four in zip(panels[::4], panels[1::4], panels[2::4], panels[3::4], strict=True))


def _text(paper: Paper, text: str | Rich, weight: str = "regular", width: float | None = None) -> float:
    return high(text, paper.sizes["fold-text"], paper.sizes["fold-apart"], width or paper.sizes["fold-wide"], weight)


def _head(paper: Paper, of: str) -> float:
    """One line of a heading of a `part` of the sheet, or of its title."""
    return paper.sizes[f"fold-{of}"] * paper.sizes["head-apart"]


def _bullets(data: PrintBinder, paper: Paper) -> tuple[tuple[Rich, ...], ...]:
    """What to try first, and the stop rules."""
    return (paper.words.many("fold.try_first", number=paper.frame.emergency, heating=paper.frame.heating), (*data.stop_rules, *data.breaker_rules))


def _part(paper: Paper, bullets: tuple[Rich, ...]) -> float:
    """Height of a heading and what stands under it."""
    tagged = [any(run.look == "tag" for run in text) for text in bullets]
    width = paper.sizes["fold-wide"] - paper.sizes["bullet"]
    return _head(paper, "part") + 5 + sum(_text(paper, text, width=width - 20 * tag) + 1 + 9 * tag
                                          for text, tag in zip(bullets, tagged, strict=True))


def _entry(target: Target, paper: Paper, begins: bool) -> float:
    """What is dead, behind the room where it begins one, and where to go; beside it what to press."""
    text, tag = paper.sizes["fold-text"], paper.sizes["fold-tag"]
    press = sum(wide(run.text, "bold", tag) + 12.5 if run.look == "tag" else wide(run.text, "bold", text) for run in target.short)
    beside = paper.sizes["fold-wide"] - press - 6
    said = Rich((Piece(f"{target.room}: ", "strong"), Piece(target.things))) if begins else target.things
    says = _text(paper, said, width=beside) + (_text(paper, f"→ {target.where}", width=beside) if target.where else 0)
    return max(says, paper.sizes["fold-press"] * lines(target.short, text, paper.sizes["fold-wide"])) + 2.25
