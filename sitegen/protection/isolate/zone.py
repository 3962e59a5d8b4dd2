"""Takes the tree and a device; gives the boxes on its load side, how dear each is to open and how likely the fault is in it.

A box is what must be opened: points with no cable between them (`length_ft: 0`), and the halves of a duplex fed from one box,
are one. What hangs on LOAD of an inner device that opens both conductors does not belong, since that device is tripped first.
How likely is a guess, kept mild (common practice, no source): a wrong one costs little, a strong one that is wrong much.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from ...job.records import Point
from ..tree import Tree
from .side import Box

_DRY, _SPLICE, _CABLE, _LONG_CABLE = 4, 3, 1, 2
_LONG = 30                      # ft
_PLACES = {"outdoor": 10, "outdoors": 10, "bathroom": 6, "garage": 6, "laundry": 6, "basement": 6, "crawl space": 6}
_HUNCH = 4                      # times likelier where the electrician has a hunch
_IN_THE_WAY, _EASY = 2, 1       # reach of a light or of what something stands in front of; of all else
_ACCESS = {"easy": 1, "behind": 2, "ladder": 2, "attic": 4}


@dataclass(frozen=True, slots=True)
class Zone:
    device: str
    boxes: tuple[Box, ...]                       # in feed order
    points: dict[str, tuple[str, ...]]           # box -> every point in it
    here: tuple[str, ...]                        # points in the device's own box
    inner: tuple[str, ...]                       # devices that are to be tripped first
    left_out: tuple[tuple[str, str], ...]        # point, why: "behind K4" | "unknown"
    disturbed: tuple[str, ...]                   # boxes that visits touched


def zone_of(tree: Tree, device: str, touched: Collection[str] = (), hunches: Collection[str] = ()) -> Zone:
    """`touched`: points whose boxes visits disturbed; `hunches`: points that the electrician suspects."""
    job = tree.job
    box_of: dict[str, str | None] = {}           # point -> its box; None: the device's own
    halves: dict[tuple[str, str | None], str] = {}
    points: dict[str, list[str]] = {}
    fed: dict[str, str | None] = {}
    inner, left_out = [], []
    waiting = [id for id in reversed(tree.order) if _on_load(tree, job.point[id], device)]
    while waiting:
        id = waiting.pop()
        point, source = job.point[id], box_of.get(job.point[id].feed.source)
        if point.length_ft == 0 and point.feed.source not in job.breaker:
            box_of[id] = source
        else:
            box_of[id] = halves.setdefault((point.yoke, source), id) if point.yoke else id
        if box_of[id] == id:
            fed[id] = source
        if box := box_of[id]:
            points.setdefault(box, []).append(id)
        guards = point.kind.stops_shock and point.kind.has_sides
        inner += [id] if guards else []
        for child in reversed(tree.children.get(id, ())):
            if guards and job.point[child].feed.side == "load":
                left_out += [(gone, f"behind {id}") for gone in (child, *tree.below(child))]
            else:
                waiting.append(child)
    left_out += [(id, "unknown") for id in tree.same_circuit(device) if id in tree.unknown and id not in box_of and id != device]
    boxes = tuple(box_of_points([job.point[id] for id in points[box]], fed[box], touched, hunches) for box in fed)
    return Zone(device, boxes, {box: tuple(points[box]) for box in fed}, tuple(id for id, box in box_of.items() if box is None),
                tuple(inner), tuple(sorted(left_out, key=lambda one: tree.order.index(one[0]))),
                tuple(box.id for box in boxes if box.first))


def _on_load(tree: Tree, point: Point, device: str) -> bool:
    return point.feed.source == device and (device in tree.job.breaker or point.feed.side == "load")


def box_of_points(points: list[Point], fed_from: str | None, touched: Collection[str] = (), hunches: Collection[str] = ()) -> Box:
    written = [reach for point in points if (reach := point.reach or _ACCESS.get(point.access or ""))]
    reach = max(written or [_IN_THE_WAY if point.behind or point.kind.by_name else _EASY for point in points])
    likely = max(_PLACES.get(point.place or "", _DRY if point.kind.is_outlet or point.kind.opens else _SPLICE) for point in points)
    ids = {point.id for point in points}
    box = Box(points[0].id, fed_from, reach, likely, _LONG_CABLE if (points[0].length_ft or 0) > _LONG else _CABLE,
              bool(ids & set(touched)))
    return replace(box, suspect=box.suspect * _HUNCH) if ids & set(hunches) else box
