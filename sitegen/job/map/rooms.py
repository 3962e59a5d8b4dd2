"""`rooms:` and every `position` of the map in; rooms as they are drawn out, checked against their own walls."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from itertools import combinations

from ...errors import Fault, nearest
from ..read.fields import Fields
from ..read.ids import Named
from ..read.keys import Key, Keys
from ..read.nodes import Node
from ..read.values import fold, listed, quantity
from ..records.plans import Door, Position, RoomPlan, Thing, WallRun
from .walls import Spot, Wall, clockwise, is_inside, is_outline, walls_of

_ROOM = Keys("this room", RoomPlan, Key("room", must=True), Key("outline", must=True), Key("doors"), Key("things"), Key("runs"),
             Key("bays"))
_DOOR = Keys("this door", Door, Key("wall", must=True), Key("from", must=True), Key("to", must=True), Key("leads_to"),
             Key("way_in"))
_THING = Keys("this thing", Thing, Key("name", must=True), *map(Key, ("wall", "from", "to", "deep", "x", "y", "wide")))
_RUN = Keys("this run", WallRun, Key("name", must=True), Key("wall", must=True), Key("from", must=True), Key("to", must=True),
            Key("is"), Key("deep"))
_POSITION = Keys("`position`", Position, *map(Key, ("wall", "at", "height", "x", "y")))
_RUN_KINDS = {"counter": True, "wall": False}
_MOST = 100.0    # ft: more is a slip of the pen
_HIGHEST = 30.0  # ft from the floor
_TWO_WAYS = "`wall`, `from` and `to`, or `x`, `y`, `wide` and `deep`"
_DEEP = 2.0      # ft: a kitchen counter with its overhang is 25 in. (common practice, no source)

Entered = list[tuple[Fields, Named | None]]    # entries of the map with what their ids stand for


def read_plans(root: Fields, panels: Entered, points: Entered, whole: bool) -> tuple[list[RoomPlan], dict[str, Position]]:
    """The rooms that are drawn, and where in them each panel and point is, by its id. `whole`: no point could not be read."""
    used = [room for fields, _ in (*panels, *points) if (room := fields.text("room"))]
    rooms = _read_rooms(root, used, whole)
    drawn_at: dict[str, Position] = {}
    for fields, named in (*panels, *points):
        position = _read_position(fields, rooms)
        if named and position:
            drawn_at[named.id] = position
    return list(rooms.values()), drawn_at


def _read_rooms(root: Fields, used: list[str], whole: bool) -> dict[str, RoomPlan]:
    """By their names in small letters. `used` are the rooms that points and panels name."""
    rooms: dict[str, RoomPlan] = {}
    for fields in root.entries("rooms", _ROOM)[0]:
        name, corners = fields.text("room"), _corners(fields)
        if name and name.casefold() in rooms:
            fields.fault(fields, f"the room `{name}` stands twice in `rooms`", "each room once", "remove one of the two")
        elif whole and name and name.casefold() not in {room.casefold() for room in used}:
            fields.fault(fields.values["room"], f"no point and no panel is in a room `{name}`",
                         "a room as the points write it", "correct the name, or leave this room out", nearest(name, used))
        # Without an outline it stands empty, so that the positions in it are not judged.
        plan = _plan(fields, str(name or ""), corners) if corners else RoomPlan(str(name), (), (), (), (), fields.where)
        if name:
            rooms.setdefault(name.casefold(), plan)
    return rooms


def _corners(fields: Fields) -> tuple[Spot, ...] | None:
    """`14 x 11`, or a list of corners such as `[0 0, 14 0, 14 6, 9 6, 9 11, 0 11]`, in ft."""
    node = fields.node("outline")
    if node is None:
        return None
    if node.text is not None:
        size = re.fullmatch(r"([0-9.]+)\s*(?:ft)?\s*[x\u00d7]\s*([0-9.]+)\s*(?:ft)?", fold(node.text), re.IGNORECASE)
        wide, deep = (quantity(size[1], "ft", _MOST), quantity(size[2], "ft", _MOST)) if size else (None, None)
        if wide and deep:
            return (0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)
    elif node.items is not None:
        corners = [_corner(item) for item in node.items]
        if None not in corners and is_outline(found := tuple(corner for corner in corners if corner)):
            return clockwise(found)
    fields.fault(node, f"`outline: {node.written}` is no outline of a room", f"`14 x 11`, or the corners in ft right and ft "
                 f"down, such as `[0 0, 14 0, 14 6, 9 6, 9 11, 0 11]`, of at most {_MOST:g} ft",
                 "go round the room from corner to corner, every wall at a right angle to the one before")
    return None


def _corner(item: Node) -> Spot | None:
    words = item.text.split() if item.text else [part.text or "" for part in item.items or ()]
    numbers = [number for word in words if (number := quantity(word, "ft", _MOST)) is not None]
    return (numbers[0], numbers[1]) if len(numbers) == len(words) == 2 else None


def _plan(fields: Fields, name: str, corners: tuple[Spot, ...]) -> RoomPlan:
    walls = {wall.name: wall for wall in walls_of(corners)}
    doors = [door for entry in fields.entries("doors", _DOOR)[0] if (door := _door(entry, walls))]
    things = [thing for entry in fields.entries("things", _THING)[0] if (thing := _thing(entry, walls, corners))]
    runs = [run for entry in fields.entries("runs", _RUN)[0] if (run := _run(entry, walls, doors))]
    _judge_doors(fields, doors, things)
    if len(doors) == 1:
        doors = [replace(doors[0], way_in=True)]
    bays = fields.word("bays", {str(count): count for count in range(7)})
    return RoomPlan(name, corners, tuple(doors), tuple(things), tuple(runs), fields.where, bays)


def _wall(fields: Fields, walls: Mapping[str, Wall]) -> Wall | None:
    written = fields.text("wall")
    if written is None or written.casefold() in walls:
        return walls.get((written or "").casefold())
    fields.fault(fields.values["wall"], f"this room has no wall `{written}`", listed(walls, "or"),
                 "write one of these; north is the upper side of the sketch, and of several that face one way the leftmost, "
                 "as you face them, is 1", nearest(written, walls))
    return None


def _stretch(fields: Fields, walls: Mapping[str, Wall]) -> tuple[Wall, float, float] | None:
    """The wall, and the part of it between `from` and `to`."""
    wall = _wall(fields, walls)
    start, end = fields.number("from", "ft", _MOST), fields.number("to", "ft", _MOST)
    if wall is None or start is None or end is None:
        return None
    if start >= end or end > wall.length:
        fields.fault(fields.values["to"], f"from {start:g} to {end:g} ft on the {wall.name} wall",
                     f"a part of its {wall.length:g} ft, the lower number first",
                     "measure along the wall from its left end as you face it")
        return None
    return wall, start, end


def _door(fields: Fields, walls: Mapping[str, Wall]) -> Door | None:
    leads_to, way_in, part = fields.text("leads_to"), fields.flag("way_in"), _stretch(fields, walls)
    return Door(part[0].name, part[1], part[2], leads_to, bool(way_in), fields.where) if part else None


def _run(fields: Fields, walls: Mapping[str, Wall], doors: list[Door]) -> WallRun | None:
    name, part = fields.text("name"), _stretch(fields, walls)
    counter = fields.word("is", _RUN_KINDS) is not False
    deep = fields.number("deep", "ft", _MOST, above_zero=True)
    if not name or not part:
        return None
    wall, start, end = part
    for door in doors:
        if counter and door.wall == wall.name and _overlap((start, end), (door.start, door.end)):
            fields.fault(fields, f"the counter `{name}` runs across the door in line {door.where.line}",
                         "a counter between doors", "correct `from` and `to`, or write `is: wall`")
    return WallRun(name, wall.name, start, end, counter, deep or _DEEP, fields.where)


def _thing(fields: Fields, walls: Mapping[str, Wall], corners: tuple[Spot, ...]) -> Thing | None:
    """A thing at a wall (`wall`, `from`, `to`), or one that stands free (`x`, `y`, `wide`, `deep`)."""
    name = fields.text("name")
    thing = _thing_at_wall(fields, name or "", walls) if fields.node("wall") else _free_thing(fields, name or "")
    if thing is None or not name:
        return None
    xs, ys = (thing.left, thing.left + thing.wide), (thing.top, thing.top + thing.deep)
    within = all(is_inside(corners, (x, y)) for x in xs for y in ys)
    if not within or any(xs[0] < x < xs[1] and ys[0] < y < ys[1] for x, y in corners):
        fields.fault(fields, f"`{name}` does not stand inside the room", "a thing inside the outline",
                     "correct its numbers, in ft, or the outline")
        return None
    return thing


def _thing_at_wall(fields: Fields, name: str, walls: Mapping[str, Wall]) -> Thing | None:
    _refuse(fields, ("x", "y", "wide"), "a thing at a wall")
    part, deep = _stretch(fields, walls), fields.number("deep", "ft", _MOST, above_zero=True)
    if part is None:
        return None
    wall, start, end = part
    (x, y), (to_x, to_y) = wall.at(start), wall.at(end, deep or _DEEP)
    return Thing(name, min(x, to_x), min(y, to_y), abs(to_x - x), abs(to_y - y), fields.where, wall.name, start, end)


def _free_thing(fields: Fields, name: str) -> Thing | None:
    _refuse(fields, ("from", "to"), "a thing without `wall`")
    missing = [key for key in ("x", "y", "wide", "deep") if not fields.node(key)]
    if missing:
        fields.fault(fields, f"this thing has no {listed(missing)}", _TWO_WAYS, "write where it stands, in ft")
    x, y = fields.number("x", "ft", _MOST), fields.number("y", "ft", _MOST)
    wide, deep = (fields.number(key, "ft", _MOST, above_zero=True) for key in ("wide", "deep"))
    if x is None or y is None or not wide or not deep:
        return None
    return Thing(name, x, y, wide, deep, fields.where)


def _refuse(fields: Fields, keys: tuple[str, ...], of: str) -> None:
    for key in keys:
        if fields.node(key):
            fields.fault(fields.values[key], f"`{key}` in {of}", _TWO_WAYS, "write one of the two ways")


def _judge_doors(fields: Fields, doors: list[Door], things: list[Thing]) -> None:
    pairs: list[tuple[Door, Door | Thing]] = [*combinations(doors, 2), *((door, thing) for door in doors for thing in things)]
    for door, other in pairs:
        if door.wall == other.wall and _overlap((door.start, door.end), (other.start, other.end)):
            what = f"`{other.name}`" if isinstance(other, Thing) else "this door"
            fields.faults.append(Fault(other.where, f"{what} overlaps the door in line {door.where.line}",
                                       "doors that nothing stands in", "correct `from` and `to` of one of them"))
    ways = [door for door in doors if door.way_in]
    if len(ways) != 1 and len(doors) > 1:
        fields.fault(fields.values["doors"], f"{len(ways)} doors of this room say `way_in: yes`",
                     "one: the door that people come in by", "write it at the door nearest to the front of the house")


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _read_position(fields: Fields, rooms: Mapping[str, RoomPlan]) -> Position | None:
    """Where a point or panel is; None where nothing is written, or a text that no drawing is made from."""
    node, room = fields.node("position"), fields.text("room")
    if node is None or node.pairs is None:
        return None
    entry = Fields(node, _POSITION, fields.faults, fields.languages)
    if room is None:
        if not fields.node("room"):
            entry.fault(entry, "a position without a room", "`room` beside `position`", "write the room that it is in")
        return None
    plan = rooms.get(room.casefold())
    if plan is None:
        entry.fault(entry, f"a position in `{room}`, which `rooms` does not draw", "a room of `rooms`",
                    "add the room with its outline, or leave the position out",
                    nearest(room, [plan.room for plan in rooms.values()]))
        return None
    height = entry.number("height", "ft", _HIGHEST)
    spot, wall = _spot(entry, plan) if plan.corners else (None, None)
    if spot is None:
        return None
    return Position(plan.room, *spot, wall.name if wall else None, entry.number("at", "ft", _MOST) if wall else None, height)


def _spot(entry: Fields, plan: RoomPlan) -> tuple[Spot | None, Wall | None]:
    on_wall = [key for key in ("wall", "at") if entry.node(key)]
    free = [key for key in ("x", "y") if entry.node(key)]
    if bool(on_wall) == bool(free) or len(on_wall + free) != 2:
        entry.fault(entry, f"`position` has {listed(on_wall + free) if on_wall + free else 'no place'}",
                    "`wall` and `at`, or `x` and `y`", "write where it is, in ft")
        return None, None
    if free:
        x, y = entry.number("x", "ft", _MOST), entry.number("y", "ft", _MOST)
        if x is None or y is None:
            return None, None
        if not is_inside(plan.corners, (x, y)):
            entry.fault(entry, f"{x:g} ft right and {y:g} ft down is not inside `{plan.room}`", "a spot inside its outline",
                        f"correct the numbers, or the outline in line {plan.where.line}")
            return None, None
        return (x, y), None
    wall, at = _wall(entry, {wall.name: wall for wall in walls_of(plan.corners)}), entry.number("at", "ft", _MOST)
    if wall is None or at is None:
        return None, None
    if at > wall.length:
        entry.fault(entry.values["at"], f"{at:g} ft along the {wall.name} wall of `{plan.room}`",
                    f"at most its {wall.length:g} ft", "measure from its left end as you face it")
        return None, None
    return wall.at(at), wall
