"""Takes the sheet of one device and what its front holds; gives how the back of its leaf is set, drawings and all.

The back has two columns, the drawings on top of the right one. What does not fit stands on pages between front and back.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.desk.words import Rich
from ...binder.drawing import Scene
from ...binder.paper.records import DeviceSheet
from ..drawing.shapes import WIDE
from ..drawing.svg import drawing
from .blocks import BAR, columns, high, lines, pack
from .front import Side, list_row, others_height
from .sizes import Paper, Type

LEAST_LINES, MOST_LINES = 3, 8
LINES_HEAD = 52.0               # heading and head of the table of empty lines


@dataclass(frozen=True, slots=True)
class Columns:
    """The two columns of a back, by the names of their blocks, and its empty lines."""

    left: tuple[str, ...]
    right: tuple[str, ...]      # below the drawings
    lines: int
    lines_at: str               # wide | left | right


@dataclass(frozen=True, slots=True)
class Spread:
    """Drawings in two columns."""

    left: tuple[Scene, ...]
    right: tuple[Scene, ...]


@dataclass(frozen=True, slots=True)
class Back:
    """The back of one leaf."""

    tight: bool
    small: bool                 # drawings in their smaller size
    drawn: bool                 # the drawings stand on it
    columns: Columns
    cases: bool                 # a page before it has the cases that the front has no room for
    apart: tuple[Spread, ...]   # pages before it; the first begins with the rest of the list

    @property
    def between(self) -> int:
        """Pages between front and back."""
        return self.cases + len(self.apart)

    @property
    def pages(self) -> int:
        """Of the whole leaf, with an empty one where that makes them even."""
        return 2 + self.between + self.between % 2


def back_side(sheet: DeviceSheet, side: Side, paper: Paper) -> Back:
    """All on one page, in the largest type and drawings that leave a few empty lines; else without them; else apart."""
    scenes, large, small = sheet.place.drawings.scenes, paper.sizes["drawing"], paper.sizes["small-drawing"]
    cases = side.cases < len(sheet.place.answer.cases)
    for least, type in ((LEAST_LINES, paper.normal), (0, paper.normal), (0, paper.tight)):
        for width in (large, small):
            rest, drawn = _rest(sheet, side, paper, type), _drawings(scenes, paper, type, width)
            found = _columns(sheet, paper, type, rest, drawn)
            if found and found.lines >= least:
                return Back(type.tight, width == small, bool(scenes), found, cases, ())
    apart = _deal(scenes, _rest(sheet, side, paper, paper.normal), paper)
    whole = _columns(sheet, paper, paper.normal, 0, 0)
    tight = _columns(sheet, paper, paper.tight, 0, 0) or Columns(("test", "safe"), ("record",), 0, "wide")
    return Back(whole is None, False, False, whole or tight, cases, apart)


def scene_height(scene: Scene, paper: Paper, type: Type, width: float) -> float:
    """Points that a drawing of this width takes with its heading; one whose words find no place is a paragraph."""
    units = drawing(scene).high
    drawn = lines(scene.says, type.text, paper.half) * type.leading if units is None else units * width / WIDE
    return lines(scene.heading, type.text, paper.half, "bold") * type.leading + 7 + drawn


def _drawings(scenes: tuple[Scene, ...], paper: Paper, type: Type, width: float) -> float:
    """Height of all drawings one below the other."""
    return BAR + sum(scene_height(scene, paper, type, width) for scene in scenes) if scenes else 0.0


def _deal(scenes: tuple[Scene, ...], rest: float, paper: Paper) -> tuple[Spread, ...]:
    """The drawings dealt out to columns, two a page; on the first page they stand below the rest of the list."""
    if not scenes and not rest:
        return ()
    free = paper.high - BAR - paper.draft
    dealt = pack(scenes, lambda scene, _: scene_height(scene, paper, paper.normal, paper.sizes["drawing"]),
                 lambda column: free - rest if column < 2 else free)
    dealt += [[]] * (len(dealt) % 2)
    return tuple(Spread(tuple(left), tuple(right)) for left, right in zip(dealt[::2], dealt[1::2], strict=True))


def _rest(sheet: DeviceSheet, side: Side, paper: Paper, type: Type) -> float:
    """What the front had no room for, with its heading."""
    rest = [list_row(row, paper, type) for row in sheet.off[side.rows:]]
    others = 0.0 if side.others else others_height(sheet, paper, type)
    others += type.leading if not side.rows and rest else 0.0     # when it was seen
    return 30 + columns(rest) + others if rest or others else 0.0


def _columns(sheet: DeviceSheet, paper: Paper, type: Type, rest: float, drawn: float) -> Columns | None:
    """The blocks of a back set in two columns of about the same height; None where they are too high for one page."""
    page = sheet.place
    height = paper.high - rest - paper.draft - 36 - lines(sheet.where, type.text, paper.wide) * type.leading \
        - 12 - high(f"{page.dated} {paper.text('frame.stale')} {paper.text('frame.not_inspection')}", paper.sizes["foot"],
                    paper.sizes["apart"], paper.wide)
    blocks = _blocks(sheet, paper, type)
    names, heights = tuple(blocks), tuple(blocks.values())
    split = min(range(1, len(heights) + 1), key=lambda n: max(sum(heights[:n]), drawn + sum(heights[n:])))
    left, right = sum(heights[:split]), drawn + sum(heights[split:])
    if max(left, right) > height:
        return None
    wide, narrow = _lines(height - max(left, right), paper), _lines(height - min(left, right), paper)
    at = "wide" if 2 * wide >= narrow else "left" if left < right else "right"
    return Columns(names[:split], names[split:], wide if at == "wide" else narrow, at)


def _lines(free: float, paper: Paper) -> int:
    """How many empty lines there is room for; too few are none."""
    fits = min(MOST_LINES, int((free - LINES_HEAD) / (paper.sizes["line"] + 0.2)))
    return fits if fits >= LEAST_LINES else 0


def _blocks(sheet: DeviceSheet, paper: Paper, type: Type) -> dict[str, float]:
    """Height of each block of text, in their order."""
    page, half = sheet.place, paper.half
    assert page.monthly

    def text(said: str | Rich, width: float = half) -> float:
        return lines(said, type.text, width) * type.leading + 2

    return {
        "test": text(f"{page.monthly.intro} {page.monthly.moment.plain}")
        + sum(text(step, half - paper.sizes["indent"] - 2) + 2 for step in page.monthly.steps),
        "safe": BAR + 3 + sum(text(said, half - paper.sizes["bullet"] - 2) for said in page.keep_safe) + (18 if page.guard else 0)
        + sum(text(said) for said in page.guard),
        "record": BAR + 3 + sum(text(line) for line in sheet.record)
        + sum(high(feed, type.text, paper.sizes["feed-apart"], half, "bold") + 2 for feed in sheet.feeds),
    }
