"""The corners of a room in, its walls out: how long each is, and where on the sketch a foot of it lies.

Everything is in feet on the contractor's sketch: x to the right and y down from its upper left corner. The upper side of
the sketch is called north, whichever way the house stands.
"""

from __future__ import annotations

from dataclasses import dataclass

Spot = tuple[float, float]                     # ft right, ft down

_FACING = {(1, 0): "north", (0, 1): "east", (-1, 0): "south", (0, -1): "west"}  # by the way along it, left to right


@dataclass(frozen=True, slots=True)
class Wall:
    """One straight wall, seen from inside the room."""

    name: str                                  # "north"; "north 1", "north 2" where several face that way
    left: Spot                                 # its left end as you face it
    right: Spot

    @property
    def length(self) -> float:
        """ft"""
        return abs(self.right[0] - self.left[0]) + abs(self.right[1] - self.left[1])

    @property
    def along(self) -> tuple[int, int]:
        """One foot from left to right."""
        return _sign(self.right[0] - self.left[0]), _sign(self.right[1] - self.left[1])

    @property
    def inward(self) -> tuple[int, int]:
        """One foot into the room."""
        return -self.along[1], self.along[0]

    def at(self, feet: float, out: float = 0.0) -> Spot:
        """The spot so many feet from the left end and `out` feet into the room."""
        (x, y), (ax, ay), (nx, ny) = self.left, self.along, self.inward
        return x + ax * feet + nx * out, y + ay * feet + ny * out


def _sign(number: float) -> int:
    return (number > 0) - (number < 0)


def clockwise(corners: tuple[Spot, ...]) -> tuple[Spot, ...]:
    """The corners in the order in which one sees the walls from left to right."""
    area = sum(x * next_y - next_x * y for (x, y), (next_x, next_y) in _sides(corners))
    return corners if area > 0 else tuple(reversed(corners))


def walls_of(corners: tuple[Spot, ...]) -> tuple[Wall, ...]:
    """The walls of a room whose corners go clockwise. Of several that face one way the leftmost, as you face them, is 1."""
    walls = [Wall("", start, end) for start, end in _sides(corners)]
    named: list[Wall] = []
    for wall in walls:
        alike = sorted((w for w in walls if w.along == wall.along), key=lambda w: _leftmost(w))
        facing = _FACING[wall.along]
        named.append(Wall(facing if len(alike) == 1 else f"{facing} {alike.index(wall) + 1}", wall.left, wall.right))
    return tuple(named)


def _leftmost(wall: Wall) -> tuple[float, float]:
    (ax, ay), (nx, ny), (x, y) = wall.along, wall.inward, wall.left
    return ax * x + ay * y, nx * x + ny * y


def _sides(corners: tuple[Spot, ...]) -> list[tuple[Spot, Spot]]:
    return list(zip(corners, (*corners[1:], corners[0])))


def is_outline(corners: tuple[Spot, ...]) -> bool:
    """True where walls at right angles close a room that nowhere touches itself."""
    sides = _sides(corners)
    if len(corners) < 4 or any((a[0] == b[0]) == (a[1] == b[1]) for a, b in sides):
        return False
    turns = all((a[0] == b[0]) != (b[0] == c[0]) for (a, b), (_, c) in zip(sides, (*sides[1:], sides[0])))
    apart = (not _meet(sides[i], sides[j]) for i in range(len(sides)) for j in range(i + 2, len(sides))
             if (i, j) != (0, len(sides) - 1))
    return turns and all(apart)


def _meet(one: tuple[Spot, Spot], other: tuple[Spot, Spot]) -> bool:
    return all(max(min(a[axis] for a in one), min(b[axis] for b in other))
               <= min(max(a[axis] for a in one), max(b[axis] for b in other)) for axis in (0, 1))


def is_inside(corners: tuple[Spot, ...], spot: Spot) -> bool:
    """True in the room or on a wall of it."""
    x, y = spot
    crossed = 0
    for (ax, ay), (bx, by) in _sides(corners):
        if min(ax, bx) <= x <= max(ax, bx) and min(ay, by) <= y <= max(ay, by):
            return True
        crossed += ax == bx and ax > x and min(ay, by) <= y < max(ay, by)
    return crossed % 2 == 1
