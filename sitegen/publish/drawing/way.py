"""Takes a room, where one comes in and where to go; gives a way on foot round counters and things, in feet."""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from functools import lru_cache
from math import ceil, dist

from ...job.map.walls import Spot, is_inside, walls_of
from ...job.records.plans import RoomPlan

Boxes = tuple[tuple[float, float, float, float], ...]   # left, top, right, bottom in ft
Cell = tuple[int, int]                                  # column and row of a floor ruled into squares

_CLEAR = 0.45   # ft that a way keeps from walls and things
_SQUARE = 0.5   # ft, the side of a square
_SQUARES = 60   # along the longer side of a room, at most
_STEPS = (((1, 0), 1.0), ((-1, 0), 1.0), ((0, 1), 1.0), ((0, -1), 1.0),
          ((1, 1), 1.42), ((-1, 1), 1.42), ((1, -1), 1.42), ((-1, -1), 1.42))


def counter_boxes(plan: RoomPlan) -> Boxes:
    """The floor under the counters."""
    walls = {wall.name: wall for wall in walls_of(plan.corners)}
    return tuple(_box(walls[run.wall].at(run.start), walls[run.wall].at(run.end, run.deep))
                 for run in plan.runs if run.counter)


def thing_boxes(plan: RoomPlan) -> Boxes:
    return tuple((thing.left, thing.top, thing.left + thing.wide, thing.top + thing.deep) for thing in plan.things)


def _box(one: Spot, other: Spot) -> tuple[float, float, float, float]:
    (ax, ay), (bx, by) = one, other
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


@lru_cache(maxsize=256)
def way(plan: RoomPlan, start: Spot, goal: Spot) -> tuple[Spot, ...]:
    """Corners of the shortest way from the free spot nearest to `start` to the one nearest to `goal` that it can reach."""
    side = max(_SQUARE, max(max(corner) for corner in plan.corners) / _SQUARES)
    cells, taken = _floor(plan, side)
    if not cells:
        return ()

    def middle(cell: Cell) -> Spot:
        return (cell[0] + 0.5) * side, (cell[1] + 0.5) * side

    def nearest(to: Spot, among: frozenset[Cell] | dict[Cell, Cell | None]) -> Cell:
        return min(among, key=lambda cell: (round(dist(middle(cell), to), 3), cell))

    there = nearest(goal, cells)
    came = _walk(nearest(start, cells), cells, there)
    here: Cell | None = there if there in came else nearest(goal, came)
    back: list[Spot] = []
    while here is not None:
        back.append(middle(here))
        here = came[here]
    return tuple(_straight(back[::-1], taken))


@lru_cache(maxsize=64)
def _floor(plan: RoomPlan, side: float) -> tuple[frozenset[Cell], Boxes]:
    """The squares whose middle is free, and what is not free: walls, counters and things with the air round them."""
    walls = tuple(_box(wall.left, wall.right) for wall in walls_of(plan.corners))
    taken = tuple((left - _CLEAR, top - _CLEAR, right + _CLEAR, bottom + _CLEAR)
                  for left, top, right, bottom in (*walls, *counter_boxes(plan), *thing_boxes(plan)))
    columns, rows = (ceil(max(corner[axis] for corner in plan.corners) / side) for axis in (0, 1))
    cells = []
    for cell in ((column, row) for column in range(columns) for row in range(rows)):
        x, y = (cell[0] + 0.5) * side, (cell[1] + 0.5) * side
        if not any(left < x < right and top < y < bottom for left, top, right, bottom in taken):
            if is_inside(plan.corners, (x, y)):
                cells.append(cell)
    return frozenset(cells), taken


def _walk(first: Cell, cells: frozenset[Cell], last: Cell) -> dict[Cell, Cell | None]:
    """For every square the one before it on the shortest way (Dijkstra's algorithm): as far as `last`, or as one can go."""
    came: dict[Cell, Cell | None] = {}
    waiting: list[tuple[float, Cell, Cell | None]] = [(0.0, first, None)]
    while waiting:
        cost, cell, before = heapq.heappop(waiting)
        if cell in came:
            continue
        came[cell] = before
        if cell == last:
            break
        for (dx, dy), length in _STEPS:
            beside = (cell[0] + dx, cell[1] + dy)
            if beside in cells and beside not in came:
                heapq.heappush(waiting, (cost + length, beside, cell))
    return came


def _straight(spots: list[Spot], taken: Boxes) -> Iterator[Spot]:
    """Only the spots where the way has to turn."""
    here = 0
    yield spots[0]
    while here < len(spots) - 1:
        here = next((there for there in range(len(spots) - 1, here + 1, -1)
                     if not any(_crosses(spots[here], spots[there], box) for box in taken)), here + 1)
        yield spots[here]


def _crosses(one: Spot, other: Spot, box: tuple[float, float, float, float]) -> bool:
    """Whether a straight line goes through a box (the method of Liang and Barsky)."""
    first, last = 0.0, 1.0
    for axis in (0, 1):
        start, along = one[axis], other[axis] - one[axis]
        low, high = box[axis], box[axis + 2]
        if along == 0:
            if not low < start < high:
                return False
            continue
        enters, leaves = sorted(((low - start) / along, (high - start) / along))
        first, last = max(first, enters), min(last, leaves)
    return first < last
