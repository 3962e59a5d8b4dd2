"""Takes a room's scene and a measure of words; gives the room from above as shapes, every word in a place of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from math import dist

from ...binder.drawing import RoomScene
from ...job.map.walls import Spot, Wall, walls_of
from ...job.records.plans import Door, Position
from .shapes import (
    EDGE,
    WIDE,
    Area,
    At,
    Box,
    Line,
    Measure,
    Picture,
    Shape,
    bounds,
    find_place,
    picture,
    stroke,
    words_at,
)
from .way import Boxes, counter_boxes, way

_WIDEST = (300.0, 240.0, 190.0)                    # units of a room from side to side, the best first
_HIGHEST, _LARGEST = 230.0, 32.0                   # units of a room from top to bottom; units a foot
_TAG = 24.0              # units, height of the device's tag
_PANEL = (28.0, 10.0)    # units along its wall and out of it
_HERE = 14.0             # units across
_BESIDE = 3.0            # units from a thing to its word
_WALL = 5.0              # units, half a wall's thickness and the air beside it
_TAIL = 12.0             # units of the way before its door
_NEAR = 3.0              # ft: no way is drawn between neighbours

Sites = Callable[[float, float], Iterable[At]]


@dataclass
class _Sheet:
    """A room while it is drawn; lengths are units."""

    scene: RoomScene
    measure: Measure
    scale: float                                       # units a foot
    left: float                                        # where the room begins
    walls: dict[str, Wall]
    shapes: list[Shape] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)     # where no word may stand
    edges: list[Box] = field(default_factory=list)     # where none should: over the edge of a counter
    crossed: int = 0                                   # words that stand there all the same

    def at(self, spot: Spot) -> At:
        return self.left + spot[0] * self.scale, spot[1] * self.scale

    def boxes(self, found: Boxes) -> list[Box]:
        return [Box(*self.at((left, top)), (right - left) * self.scale, (bottom - top) * self.scale)
                for left, top, right, bottom in found]

    def line(self, points: tuple[At, ...], look: str, thick: float, arrow: bool = False) -> None:
        self.shapes.append(Line(points, look, arrow))
        self.taken += stroke(points, thick)

    def area(self, box: Box, look: str) -> Box:
        self.shapes.append(Area(box, look))
        self.taken.append(box)
        return box

    def write(self, text: str, box: Box, wall: str | None, look: str = "word") -> bool:
        """Set words in or at a box; False where they find no place. Over a counter's edge only as the last resort."""
        others = [other for other in self.taken if other is not box]
        sites = self._sites(box, wall)
        found = find_place(text, sites, [*others, *self.edges], self.measure, look)
        if not found:
            found = find_place(text, sites, others, self.measure, look)
            self.crossed += bool(found)
        self.shapes += found
        self.taken += [_aired(bounds(found))] if found else []
        return bool(found)

    def _sites(self, box: Box, wall: str | None) -> Sites:
        """In the box, behind its wall, before it, at its sides; each moved along as well."""
        nx, ny = self.walls[wall].inward if wall else (0, 1)
        ways = ((-nx, -ny), (nx, ny), (ny, -nx), (-ny, nx))

        def sites(wide: float, high: float) -> Iterator[At]:
            x, y = box.middle
            if wide + 4 <= box.wide and high + 2 <= box.high:
                yield x, y
            for dx, dy in ways:
                gap = _BESIDE + (_WALL if wall and (dx, dy) == ways[0] else 0)
                out = abs(dx) * (box.wide + wide) / 2 + abs(dy) * (box.high + high) / 2 + gap
                for shift in (0, 0.5, -0.5, 1, -1):
                    at_x = x + dx * out + abs(dy) * shift * (box.wide + wide) / 2
                    at_y = y + dy * out + abs(dx) * shift * (box.high + high) / 2
                    yield (min(max(at_x, EDGE + wide / 2), WIDE - EDGE - wide / 2) if dy else at_x), at_y

        return sites


def room_picture(scene: RoomScene, measure: Measure) -> Picture | None:
    """The picture; None where a word that it cannot do without finds no place: then its words stand in a sentence.

    It cannot do without the way in or the reader's own place, nor without the panel. Another door or thing whose name
    finds no place keeps its outline and goes without. A room with more air round it is tried before any word is given up.
    """
    best: tuple[tuple[int, int], Picture] | None = None
    for widest in _WIDEST:
        drawn = _draw(scene, measure, widest)
        if drawn and (best is None or drawn[0] < best[0]):
            best = drawn
        if best and best[0] == (0, 0):
            break
    return best[1] if best else None


def _draw(scene: RoomScene, measure: Measure, widest: float) -> tuple[tuple[int, int], Picture] | None:
    """How many names found no place and how many stand over an edge, and the picture, with the room at most so wide; None
    without a word that it needs."""
    xs, ys = [x for x, _ in scene.plan.corners], [y for _, y in scene.plan.corners]
    scale = min(widest / max(xs), _HIGHEST / max(ys), _LARGEST)
    sheet = _Sheet(scene, measure, scale, (WIDE - max(xs) * scale) / 2, {w.name: w for w in walls_of(scene.plan.corners)})
    things = _draw_floor(sheet)
    doors = _draw_walls(sheet)
    panels = [_draw_panel(sheet, panel) for panel in scene.panels]
    here = _draw_here(sheet)
    _draw_way_and_tag(sheet)
    needed: list[bool] = []
    names = [(thing.name, box, thing.wall) for thing, box in zip(scene.plan.things, things)]
    if here and scene.here:
        needed.append(sheet.write(scene.here_word, here, scene.here.wall, "strong"))
    for door, box, text in zip(scene.plan.doors, doors, scene.doors):
        if text and door.way_in and not here:
            needed.append(sheet.write(text, _before_door(sheet, door, box), door.wall, "strong"))
        elif text:
            names.append((text, box, door.wall))
    needed += [sheet.write(scene.panel_word, box, panel.wall) for panel, box in zip(scene.panels, panels)]
    missing = sum(not sheet.write(*name) for name in names)
    return ((missing, sheet.crossed), picture(sheet.shapes, scene.says)) if all(needed) else None


def _draw_floor(sheet: _Sheet) -> list[Box]:
    """Counters and things; the boxes of the things."""
    for box in sheet.boxes(counter_boxes(sheet.scene.plan)):
        sheet.shapes.append(Area(box, "counter"))
        corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
        sheet.edges += stroke((*corners, corners[0]), 2)
    things = sheet.scene.plan.things
    return [sheet.area(box, "thing") for box in sheet.boxes(
        tuple((thing.left, thing.top, thing.left + thing.wide, thing.top + thing.deep) for thing in things))]


def _draw_walls(sheet: _Sheet) -> list[Box]:
    """Walls with gaps for the doors, a closed door as a broken line; the boxes of the doors in their order."""
    for wall in sheet.walls.values():
        at = 0.0
        for door in sorted((door for door in sheet.scene.plan.doors if door.wall == wall.name), key=lambda d: d.start):
            if door.start > at:
                sheet.line((sheet.at(wall.at(at)), sheet.at(wall.at(door.start))), "wall", 6)
            at = door.end
        if at < wall.length:
            sheet.line((sheet.at(wall.at(at)), sheet.at(wall.at(wall.length))), "wall", 6)
    boxes = []
    for door in sheet.scene.plan.doors:
        ends = _ends(sheet, door)
        if not door.way_in:
            sheet.shapes.append(Line(ends, "door"))
        (ax, ay), (bx, by) = ends
        box = Box(min(ax, bx), min(ay, by), abs(bx - ax), abs(by - ay))
        sheet.taken.append(box.grown(3))
        boxes.append(box)
    return boxes


def _ends(sheet: _Sheet, door: Door) -> tuple[At, At]:
    wall = sheet.walls[door.wall]
    return sheet.at(wall.at(door.start)), sheet.at(wall.at(door.end))


def _before_door(sheet: _Sheet, door: Door, box: Box) -> Box:
    """The door with the tail of the way before it."""
    nx, ny = sheet.walls[door.wall].inward
    return Box(box.left - max(nx, 0) * _TAIL, box.top - max(ny, 0) * _TAIL, box.wide + abs(nx) * _TAIL,
               box.high + abs(ny) * _TAIL)


def _aired(box: Box) -> Box:
    """Words with the air that keeps them from being read on into their neighbours."""
    return Box(box.left - 8, box.top - 1, box.wide + 16, box.high + 2)


def _at_wall(sheet: _Sheet, position: Position, along: float, out: float, gap: float = 3.0) -> Box:
    """A box so far along and out of the wall that a position is on, `gap` from its middle line; free ones stand about it."""
    x, y = sheet.at((position.x, position.y))
    if position.wall is None:
        return Box.round((x, y), along, out)
    nx, ny = sheet.walls[position.wall].inward
    wide, high = (along, out) if ny else (out, along)
    box = Box.round((x + nx * (gap + wide / 2), y + ny * (gap + high / 2)), wide, high)
    return _kept_in(sheet, box)


def _kept_in(sheet: _Sheet, box: Box) -> Box:
    """Moved so that it does not lie over the outer walls."""
    to_x, to_y = sheet.at((max(x for x, _ in sheet.scene.plan.corners), max(y for _, y in sheet.scene.plan.corners)))
    left = min(max(box.left, sheet.left + 3), to_x - 3 - box.wide)
    return Box(left, min(max(box.top, 3), to_y - 3 - box.high), box.wide, box.high)


def _draw_panel(sheet: _Sheet, panel: Position) -> Box:
    return sheet.area(_at_wall(sheet, panel, *_PANEL), "panel")


def _draw_here(sheet: _Sheet) -> Box | None:
    here = sheet.scene.here
    return sheet.area(_at_wall(sheet, here, _HERE, _HERE), "here") if here else None


def _draw_way_and_tag(sheet: _Sheet) -> None:
    """The tag of the device before its wall, that of a breaker before its panel, and the way to it."""
    scene = sheet.scene
    wide = max(sheet.measure(scene.target, True) + 12, _TAG)
    gap = 5.0 + (_PANEL[1] if any(scene.at is panel for panel in scene.panels) else 0)
    standing = scene.at.wall is not None and sheet.walls[scene.at.wall].inward[1] == 0
    box = _at_wall(sheet, scene.at, *((_TAG, wide) if standing else (wide, _TAG)), gap)
    _draw_way(sheet, box)
    sheet.area(box, "tag main")
    sheet.shapes += words_at(box.middle, (scene.target,), sheet.measure, "id main")


def _draw_way(sheet: _Sheet, tag: Box) -> None:
    """From the way in, or from where the reader is, to the tag."""
    scene = sheet.scene
    door = next((door for door in scene.plan.doors if door.way_in), None)
    if scene.here:
        start = (scene.here.x, scene.here.y)
        if dist(start, (scene.at.x, scene.at.y)) < _NEAR:
            return
    elif door:
        start = sheet.walls[door.wall].at((door.start + door.end) / 2)
    else:
        return
    spots = [sheet.at(spot) for spot in way(scene.plan, start, (scene.at.x, scene.at.y))]
    if not spots:
        return
    if scene.here:
        mark = _at_wall(sheet, scene.here, _HERE, _HERE).grown(2)
        spots = [at for at in (_until((spots[0],), mark, mark.middle)[-1],) if at != spots[0]] + spots
    elif door:
        nx, ny = sheet.walls[door.wall].inward
        x, y = sheet.at(start)
        spots.insert(0, (x - nx * _TAIL, y - ny * _TAIL))
    sheet.line(_until(tuple(spots), tag.grown(4), tag.middle), "way", 8, arrow=True)


def _until(spots: tuple[At, ...], box: Box, middle: At) -> tuple[At, ...]:
    """The way as far as the box, or straight on from its end to the box."""
    done = [spots[0]]
    left, top, right, bottom = box.left - 0.5, box.top - 0.5, box.right + 0.5, box.bottom + 0.5
    for (x, y), (to_x, to_y) in zip(spots, (*spots[1:], middle)):
        steps = max(1, round(dist((x, y), (to_x, to_y))))
        for step in range(1, steps + 1):
            at_x, at_y = x + (to_x - x) * step / steps, y + (to_y - y) * step / steps
            if left < at_x < right and top < at_y < bottom:
                return (*done, (at_x, at_y))
        done.append((to_x, to_y))
    return tuple(done)
