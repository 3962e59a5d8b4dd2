"""What a drawing is made of: plain shapes in units of a picture 328 wide, and the rule by which words find a free place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

Measure = Callable[[str, bool], float]  # the widest that a text may come out, in units; True: in bold
At = tuple[float, float]                # units right, units down

WIDE = 328.0     # of a picture: a screen of 360 px less its margins, so that a unit is a pixel there
TEXT = 14.0      # size of every word
LINE = 17.0      # from one line of words to the next
EDGE = 3.0       # nothing is drawn nearer to the sides of a picture


@dataclass(frozen=True, slots=True)
class Box:
    left: float
    top: float
    wide: float
    high: float

    @property
    def right(self) -> float:
        return self.left + self.wide

    @property
    def bottom(self) -> float:
        return self.top + self.high

    @property
    def middle(self) -> At:
        return self.left + self.wide / 2, self.top + self.high / 2

    def meets(self, other: Box) -> bool:
        return (self.left < other.right and other.left < self.right
                and self.top < other.bottom and other.top < self.bottom)

    def grown(self, by: float) -> Box:
        return Box(self.left - by, self.top - by, self.wide + 2 * by, self.high + 2 * by)

    @staticmethod
    def round(middle: At, wide: float, high: float) -> Box:
        return Box(middle[0] - wide / 2, middle[1] - high / 2, wide, high)


@dataclass(frozen=True, slots=True)
class Line:
    points: tuple[At, ...]
    look: str            # wall | door | way | floor | bracket | bracket main
    arrow: bool = False  # a head at its end


@dataclass(frozen=True, slots=True)
class Area:
    box: Box
    look: str            # counter | thing | panel | here | tag | tag main


@dataclass(frozen=True, slots=True)
class Outlet:
    """An outlet, or a plate with buttons, as it looks."""

    box: Box
    sort: str            # outlet | buttons | plate | fixed


@dataclass(frozen=True, slots=True)
class Word:
    """One line of words in the middle of its box; the box is as wide as the words may come out."""

    box: Box
    text: str
    look: str = "word"   # word | strong | id | id main


Shape = Line | Area | Outlet | Word


@dataclass(frozen=True, slots=True)
class Picture:
    wide: float
    high: float
    shapes: tuple[Shape, ...]
    says: str            # all of it in words

    @property
    def words(self) -> tuple[Word, ...]:
        return tuple(shape for shape in self.shapes if isinstance(shape, Word))


def words_at(middle: At, lines: tuple[str, ...], measure: Measure, look: str = "word") -> tuple[Word, ...]:
    """Lines of words, one below the other, about a middle."""
    x, y = middle
    top = y - LINE * len(lines) / 2
    widths = [measure(line, look != "word") for line in lines]
    return tuple(Word(Box(x - wide / 2, top + LINE * row, wide, LINE), line, look)
                 for row, (line, wide) in enumerate(zip(lines, widths)))


def wraps(text: str, measure: Measure, bold: bool = False) -> Iterator[tuple[str, ...]]:
    """The text on one line, then as evenly as it goes on two and on three."""
    words = text.split()
    for count in range(1, min(len(words), 3) + 1):
        yield min(_splits(words, count), key=lambda lines: max(measure(line, bold) for line in lines))


def _splits(words: list[str], count: int) -> Iterator[tuple[str, ...]]:
    if count == 1:
        yield (" ".join(words),)
        return
    for first in range(1, len(words) - count + 2):
        for rest in _splits(words[first:], count - 1):
            yield (" ".join(words[:first]), *rest)


def bounds(words: Iterable[Word]) -> Box:
    boxes = [word.box for word in words]
    left, top = min(box.left for box in boxes), min(box.top for box in boxes)
    return Box(left, top, max(box.right for box in boxes) - left, max(box.bottom for box in boxes) - top)


def find_place(text: str, sites: Callable[[float, float], Iterable[At]], taken: Sequence[Box], measure: Measure,
               look: str = "word") -> tuple[Word, ...]:
    """The words where they first fit; () where they fit nowhere.

    `sites` gives, for a block of words so wide and high, the middles to try, the best first; on one line before on two.
    """
    for lines in wraps(text, measure, look != "word"):
        wide, high = max(measure(line, look != "word") for line in lines), LINE * len(lines)
        for x, y in sites(wide, high):
            box = Box(x - wide / 2, y - high / 2, wide, high)
            if EDGE <= box.left and box.left + wide <= WIDE - EDGE and is_free(box, taken):
                return words_at((x, y), lines, measure, look)
    return ()


def is_free(box: Box, taken: Iterable[Box]) -> bool:
    """Whether a box meets none of the others; asked a million times for a house, so written out."""
    left, top, right, bottom = box.left, box.top, box.left + box.wide, box.top + box.high
    for other in taken:
        if left < other.left + other.wide and other.left < right and top < other.top + other.high and other.top < bottom:
            return False
    return True


def stroke(points: tuple[At, ...], thick: float) -> tuple[Box, ...]:
    """Boxes that cover a line; a straight one needs but one."""
    boxes = []
    for (ax, ay), (bx, by) in zip(points, points[1:]):
        if ax == bx or ay == by:
            boxes.append(Box(min(ax, bx) - thick / 2, min(ay, by) - thick / 2, abs(bx - ax) + thick, abs(by - ay) + thick))
            continue
        steps = max(1, round(max(abs(bx - ax), abs(by - ay)) / thick))
        boxes += [Box.round((ax + (bx - ax) * i / steps, ay + (by - ay) * i / steps), thick, thick) for i in range(steps + 1)]
    return tuple(boxes)


def moved(shape: Shape, right: float, down: float) -> Shape:
    if isinstance(shape, Line):
        return replace(shape, points=tuple((x + right, y + down) for x, y in shape.points))
    return replace(shape, box=Box(shape.box.left + right, shape.box.top + down, shape.box.wide, shape.box.high))


def extent(shape: Shape) -> tuple[float, float]:
    """Its upper and lower end."""
    if isinstance(shape, Line):
        return min(y for _, y in shape.points) - 3, max(y for _, y in shape.points) + 3
    return shape.box.top - 1, shape.box.bottom + 1


def picture(shapes: list[Shape], says: str) -> Picture:
    """Shapes as a picture that ends where they end."""
    ends = [extent(shape) for shape in shapes]
    top, bottom = min(end[0] for end in ends), max(end[1] for end in ends)
    return Picture(WIDE, bottom - top, tuple(moved(shape, 0, -top) for shape in shapes), says)
