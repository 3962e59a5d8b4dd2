"""Takes a strip's scene and a measure of words; gives a counter or wall as you face it, with brackets over what goes off."""

from __future__ import annotations

from dataclasses import dataclass

from ...binder.drawing import Bracket, StripScene, WallMark
from .shapes import EDGE, LINE, WIDE, Area, Box, Line, Measure, Outlet, Picture, Shape, Word, bounds, picture, words_at, wraps

_LARGEST = 40.0              # units a foot at most
_PLATE = (22.0, 30.0)        # an outlet
_LOW_PLATE = (18.0, 24.0)    # one under the counter
_APART = 8.0                 # units between neighbours
_ID = 20.0                   # units, height of an id
_FEET = 7.0                  # units, the ends of a bracket
_AIR = 3.0                   # units between one row and the next
_SHALLOW, _DEEP = 16.0, 52.0 # units, the front of a counter without and with outlets in it


@dataclass(frozen=True)
class _Across:
    """Where everything stands from left to right, in units."""

    left: float
    right: float
    of: dict[str, float]                       # the middle of each mark
    wide: dict[str, float]                     # and how wide it is with its id
    stops: tuple[tuple[float, float], ...]     # (ft, units), rising: between them lengths are true

    def at(self, feet: float) -> float:
        for (a, x), (b, to_x) in zip(self.stops, self.stops[1:]):
            if feet <= b and b > a:
                return x + (to_x - x) * max(feet - a, 0) / (b - a)
        return self.right


def strip_picture(scene: StripScene, measure: Measure) -> Picture | None:
    """The picture; None where its outlets or the words of its brackets do not fit side by side: then they are a list."""
    across = _spread(scene, measure)
    if across is None:
        return None
    upper = _brackets(scene.parts, scene, across, measure, main=False)
    lower = _brackets((scene.whole,), scene, across, measure, main=True)
    if upper is None or lower is None:
        return None
    shapes: list[Shape] = []
    top = 0.0
    for row in _levels(upper):
        top = _set_brackets(shapes, row, top, main=False)
    top = _draw_wall(shapes, scene, across, measure, top)
    _set_brackets(shapes, lower, top, main=True)
    return picture(shapes, scene.says)


def _spread(scene: StripScene, measure: Measure) -> _Across | None:
    """Every outlet where it is, moved only as far as its neighbours' ids need; the order of everything stays."""
    length = scene.run.end - scene.run.start
    scale = min((WIDE - 2 * EDGE) / length, _LARGEST)
    left = (WIDE - length * scale) / 2
    wide = {mark.id: max(measure(mark.id, True) + 8, _PLATE[0]) for mark in scene.marks}
    if sum(wide.values()) + _APART * (len(wide) - 1) > WIDE - 2 * EDGE:
        return None
    of: dict[str, float] = {}
    free_from = EDGE
    for mark in scene.marks:
        of[mark.id] = max(left + mark.at * scale, free_from + wide[mark.id] / 2)
        free_from = of[mark.id] + wide[mark.id] / 2 + _APART
    free_to = WIDE - EDGE
    for mark in reversed(scene.marks):
        of[mark.id] = min(of[mark.id], free_to - wide[mark.id] / 2)
        free_to = of[mark.id] - wide[mark.id] / 2 - _APART
    left = min([left, *(of[id] - wide[id] / 2 for id in of)])
    right = max([left + length * scale, *(of[id] + wide[id] / 2 for id in of)])
    stops = ((0.0, left), *((mark.at, of[mark.id]) for mark in scene.marks), (length, right))
    return _Across(left, right, of, wide, stops)


@dataclass(frozen=True)
class _Placed:
    """One bracket: the stretches that it covers, and its words about the height 0."""

    spans: tuple[tuple[float, float], ...]
    words: tuple[Word, ...]

    @property
    def box(self) -> Box:
        """From side to side, as high as its words."""
        box = bounds(self.words)
        left = min(box.left, self.spans[0][0])
        return Box(left, 0, max(box.right, self.spans[-1][1]) - left, box.high)


def spans(bracket: Bracket, marks: tuple[WallMark, ...]) -> tuple[tuple[str, str], ...]:
    """First and last outlet of each stretch that a bracket covers: an outlet that does not go off breaks it."""
    found: list[tuple[str, str]] = []
    going = False
    for mark in (mark for mark in marks if mark.is_outlet):
        member = mark.id in bracket.outlets
        if member and going:
            found[-1] = (found[-1][0], mark.id)
        elif member:
            found.append((mark.id, mark.id))
        going = member
    return tuple(found)


def _brackets(brackets: tuple[Bracket, ...], scene: StripScene, across: _Across, measure: Measure,
              main: bool) -> list[_Placed] | None:
    placed = []
    for bracket in brackets:
        ends = tuple((across.of[first] - across.wide[first] / 2, across.of[last] + across.wide[last] / 2)
                     for first, last in spans(bracket, scene.marks))
        look = "strong" if main else "word"
        wide = measure(bracket.says, main)
        if wide > WIDE - 2 * EDGE:
            return None
        middle = min(max((ends[0][0] + ends[-1][1]) / 2, EDGE + wide / 2), WIDE - EDGE - wide / 2)
        placed.append(_Placed(ends, words_at((middle, 0), (bracket.says,), measure, look)))
    return placed


def _levels(placed: list[_Placed]) -> list[list[_Placed]]:
    """Brackets in rows, the widest on top, and of equal ones the device nearer to the panel; those apart share a row."""
    rows: list[list[_Placed]] = []
    for bracket in sorted(reversed(placed), key=lambda b: (b.spans[-1][1] - b.spans[0][0], b.spans)):
        row = next((row for row in rows[-1:] if not any(bracket.box.grown(_APART / 2).meets(other.box) for other in row)), None)
        if row is None:
            rows.append([bracket])
        else:
            row.append(bracket)
    return rows[::-1]


def _set_brackets(shapes: list[Shape], row: list[_Placed], top: float, main: bool) -> float:
    """A row of brackets with their words above, or (`main`) below them; the height where the next row begins."""
    look = "bracket main" if main else "bracket"
    middle, line, feet = (top + _FEET + _AIR + LINE / 2, top + _FEET, top) if main else (
        top + LINE / 2, top + LINE + 1, top + LINE + 1 + _FEET)
    for bracket in row:
        for left, right in bracket.spans:
            shapes.append(Line(((left, feet), (left, line), (right, line), (right, feet)), look))
        shapes += [Word(Box(word.box.left, word.box.top + middle, word.box.wide, word.box.high), word.text, word.look)
                   for word in bracket.words]
    return top + LINE + 1 + _FEET + _AIR


def _draw_wall(shapes: list[Shape], scene: StripScene, across: _Across, measure: Measure, top: float) -> float:
    """Ids, outlets, the counter or the floor, and the names of things; the height below them."""
    high = [mark for mark in scene.marks if not mark.low]
    low = [mark for mark in scene.marks if mark.low]
    counter = top + (_ID + 2 + _PLATE[1] + 5 if high else 8)
    floor = counter + (_DEEP if low else _SHALLOW)
    if scene.run.counter:
        shapes.append(Area(Box(across.left, counter, across.right - across.left, floor - counter), "counter"))
    things = [Box(across.at(max(thing.start - scene.run.start, 0)), counter - 4,
                  across.at(min(thing.end, scene.run.end) - scene.run.start)
                  - across.at(max(thing.start - scene.run.start, 0)), floor - counter + 4) for thing in scene.things]
    shapes += [Area(box, "thing") for box in things]
    shapes.append(Line(((across.left, counter if scene.run.counter else floor),
                        (across.right, counter if scene.run.counter else floor)), "floor"))
    for mark in high:
        _draw_mark(shapes, scene, across, measure, mark, top, _PLATE)
    for mark in low:
        _draw_mark(shapes, scene, across, measure, mark, counter + 4, _LOW_PLATE)
    return _name_things(shapes, [thing.name for thing in scene.things], things, measure, floor + 2)


def _draw_mark(shapes: list[Shape], scene: StripScene, across: _Across, measure: Measure, mark: WallMark, top: float,
               size: tuple[float, float]) -> None:
    """One outlet with its id above it; the device that the page is about has its id in a tag."""
    x, main = across.of[mark.id], mark.id == scene.target
    box = Box(x - across.wide[mark.id] / 2, top, across.wide[mark.id], _ID)
    if main:
        shapes.append(Area(box, "tag main"))
    shapes += words_at(box.middle, (mark.id,), measure, "id main" if main else "id")
    shapes.append(Outlet(Box(x - size[0] / 2, top + _ID + 2, *size), mark.sort))


def _name_things(shapes: list[Shape], names: list[str], boxes: list[Box], measure: Measure, top: float) -> float:
    """Names below their things, in two rows of one or two lines if they need it; one that fits in none is left out."""
    placed: list[Box] = []
    for name, box in zip(names, boxes):
        for lines in wraps(name, measure):
            wide = max(measure(line, False) for line in lines)
            x = min(max(box.middle[0], EDGE + wide / 2), WIDE - EDGE - wide / 2)
            sites = [Box.round((x, top + LINE * (row + len(lines) / 2)), wide, LINE * len(lines)) for row in (0, 1)]
            found = next((site for site in sites[:3 - len(lines)]
                          if not any(site.grown(_AIR).meets(other) for other in placed)), None)
            if found:
                placed.append(found)
                shapes += words_at(found.middle, lines, measure)
                break
    return max([top, *(box.bottom for box in placed)]) + _AIR
