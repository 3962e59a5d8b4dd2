"""Takes the sheet of one device and what its front holds; gives how the back of its leaf is set, drawings and all.

The back has two columns, the drawings on top of the right one. What does not fit stands on pages between front and back.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.drawing import RoomScene, StripScene
from ...binder.paper.records import DeviceSheet
from ...binder.site.records import Frame
from ...binder.words import Words
from ..drawing.shapes import WIDE
from ..drawing.svg import drawing
from .front import Side, list_row, others_height
from .measure import HEIGHT, NORMAL, SPARE, TIGHT, WIDTH, Sizes, columns, lines

Scene = RoomScene | StripScene
HALF = (WIDTH - 18) / 2
LARGE, SMALL = 240.0, 213.0     # width of a drawing: its words come to 10.2 pt, or to 9.1
# Least number of empty lines, type, width of a drawing: the first that fits.
WAYS = ((3, NORMAL, LARGE), (3, NORMAL, SMALL), (0, NORMAL, LARGE), (0, NORMAL, SMALL), (0, TIGHT, LARGE), (0, TIGHT, SMALL))
LEAST_LINES, MOST_LINES = 3, 8
LINE, LINES_HEAD = 21.2, 52.0   # an empty line for what is changed later; heading and head of their table
BAR = 27.0                      # a heading with its rule


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
    apart: tuple[Spread, ...]   # pages before it; the first begins with the rest of the list

    @property
    def pages(self) -> int:
        """Of the whole leaf: front, pages apart, back, and an empty one where that makes them even."""
        return 2 + len(self.apart) + len(self.apart) % 2


def back_side(sheet: DeviceSheet, side: Side, frame: Frame, words: Words) -> Back:
    """All on one page, in the largest type and drawings that leave a few empty lines; else without them; else apart."""
    scenes = sheet.place.drawings.scenes
    for least, sizes, width in WAYS:
        rest, drawn = _rest(sheet, side, words, sizes), _drawings(scenes, sizes, width)
        found = _columns(sheet, frame, words, sizes, rest, drawn)
        if found and found.lines >= least:
            return Back(sizes is TIGHT, width == SMALL, bool(scenes), found, ())
    apart = _deal(scenes, _rest(sheet, side, words, NORMAL), HEIGHT - SPARE - BAR - (40 if frame.draft else 0))
    large = _columns(sheet, frame, words, NORMAL, 0, 0)
    small = _columns(sheet, frame, words, TIGHT, 0, 0) or Columns(("test", "results"), ("safe", "record"), 0, "wide")
    return Back(large is None, False, False, large or small, apart)


def scene_height(scene: Scene, sizes: Sizes, width: float) -> float:
    """Points that a drawing of this width takes with its heading; one whose words find no place is a paragraph."""
    high = drawing(scene).high
    drawn = lines(scene.says, sizes.text, HALF) * sizes.leading if high is None else high * width / WIDE
    return lines(scene.heading, sizes.text, HALF, "bold") * sizes.leading + 7 + drawn


def _drawings(scenes: tuple[Scene, ...], sizes: Sizes, width: float) -> float:
    """Height of all drawings one below the other."""
    return BAR + sum(scene_height(scene, sizes, width) for scene in scenes) if scenes else 0.0


def _deal(scenes: tuple[Scene, ...], rest: float, height: float) -> tuple[Spread, ...]:
    """The drawings dealt out to columns, two a page; on the first page they stand below the rest of the list."""
    if not scenes and not rest:
        return ()
    dealt: list[list[Scene]] = [[]]
    used = rest
    for scene in scenes:
        high = scene_height(scene, NORMAL, LARGE)
        while used + high > height and (dealt[-1] or len(dealt) < 3):
            dealt.append([])
            used = rest if len(dealt) < 3 else 0.0
        dealt[-1].append(scene)
        used += high
    dealt += [[]] * (len(dealt) % 2)
    return tuple(Spread(tuple(left), tuple(right)) for left, right in zip(dealt[::2], dealt[1::2], strict=True))


def _rest(sheet: DeviceSheet, side: Side, words: Words, sizes: Sizes) -> float:
    """What the front had no room for, with its heading."""
    rest = [list_row(row, words, sizes) for row in sheet.off[side.rows:]]
    others = 0.0 if side.others else others_height(sheet, words, sizes)
    return 30 + columns(rest) + others if rest or others else 0.0


def _columns(sheet: DeviceSheet, frame: Frame, words: Words, sizes: Sizes, rest: float, drawn: float) -> Columns | None:
    """The blocks of a back set in two columns of about the same height; None where they are too high for one page."""
    page = sheet.place
    height = HEIGHT - SPARE - rest - (40 if frame.draft else 0) - 36 - lines(sheet.where, sizes.text, WIDTH) * sizes.leading \
        - 12 - 12 * lines(f"{page.dated} {words.text('frame.stale')} {words.text('frame.not_inspection')}", 9.5, WIDTH)
    blocks = _blocks(sheet, words, sizes)
    names, high = tuple(blocks), tuple(blocks.values())
    split = min(range(1, len(high) + 1), key=lambda n: max(sum(high[:n]), drawn + sum(high[n:])))
    left, right = sum(high[:split]), drawn + sum(high[split:])
    if max(left, right) > height:
        return None
    wide, narrow = _lines(height - max(left, right)), _lines(height - min(left, right))
    at = "wide" if 2 * wide >= narrow else "left" if left < right else "right"
    return Columns(names[:split], names[split:], wide if at == "wide" else narrow, at)


def _lines(free: float) -> int:
    """How many empty lines there is room for; too few are none."""
    fits = min(MOST_LINES, int((free - LINES_HEAD) / LINE))
    return fits if fits >= LEAST_LINES else 0


def _blocks(sheet: DeviceSheet, words: Words, sizes: Sizes) -> dict[str, float]:
    """Height of each block of text, in their order."""
    page = sheet.place
    text = lambda said, width=HALF: lines(said, sizes.text, width) * sizes.leading + 2  # noqa: E731
    cell = lambda said, part: lines(said, sizes.row / 1.2, HALF * part) * sizes.row     # noqa: E731
    assert page.monthly
    table = [words.fill(said, "monthly.results", {}) for row in words.get("monthly.results") for said in row]
    seen_means = zip(table[::2], table[1::2], strict=True)
    return {
        "test": text(f"{page.monthly.intro} {page.monthly.moment.plain}") + text(words.text("monthly.why"))
        + sum(text(step, HALF - 22) + 2 for step in page.monthly.steps),
        "results": 2 * sizes.row + 14 + text(words.text("monthly.green"))
        + sum(max(cell(seen, 0.36), cell(means, 0.55)) + 6 for seen, means in seen_means),
        "safe": BAR + 3 + sum(text(said, HALF - 16) for said in page.keep_safe) + (18 if page.guard else 0)
        + sum(text(said) for said in page.guard),
        "record": BAR + 3 + sum(text(line) for line in sheet.record)
        + sum(lines(feed, sizes.text, HALF, "bold") * sizes.text * 1.3 + 2 for feed in sheet.feeds),
    }
