"""protection_map.yaml in; panels, breakers, circuits and points out, with the table of their ids."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field, replace

from ...errors import Fault
from ..read.fields import Fields, shape_fault
from ..read.ids import Names
from ..read.keys import Key, Keys
from ..read.limits import CHAIN, SERIES
from ..read.nodes import read_yaml
from ..records import Breaker, Circuit, Feed, Panel, Point, Removed, RoomPlan
from .circuits import Draft, draft_circuits
from .feeds import loops, read_feed, too_many_in_series
from .former import check_former, read_removed
from .pairs import check_halves, neutrals, parting
from .panels import check_space, enter_panels, read_panels
from .points import check_load_empty, read_point
from .rooms import read_plans

FILE = "protection_map.yaml"

_ROOT = Keys("the map", None, Key("panels", must=True), Key("circuits", must=True), Key("rooms"), Key("removed"))


@dataclass(slots=True)
class MapRead:
    """What the map holds; whole only where no fault was found."""

    names: Names = field(default_factory=Names)
    panels: list[Panel] = field(default_factory=list)
    breakers: list[Breaker] = field(default_factory=list)
    circuits: list[Circuit] = field(default_factory=list)
    points: list[Point] = field(default_factory=list)
    rooms: list[RoomPlan] = field(default_factory=list)
    removed: list[Removed] = field(default_factory=list)


def read_map(text: str | None, faults: list[Fault], languages: tuple[str, ...] = (),
             photos: Collection[str] | None = None) -> MapRead:
    """Read the map as far as it goes. Without a text (a fault already) no id of another file is judged by it.

    `languages` are the job's, () where they are not known; `photos` the files in photos/, None to judge none.
    """
    read = MapRead()
    root = None if text is None else read_yaml(text, FILE, faults)
    if root is None or root.pairs is None:
        if root is not None:
            faults.append(shape_fault(root, "the map", "a map", "begin it with `panels:` and `circuits:`"))
        read.names.missing |= {"panel", "breaker", "circuit", "point"}
        return read
    fields = Fields(root, _ROOT, faults, languages)
    # All ids first: a point or a panel may be listed before what feeds it.
    entered = enter_panels(fields, read.names)
    drafts = draft_circuits(fields, read.names, several_panels=len(entered) > 1)
    read.panels += read_panels(entered, drafts, read.names)
    check_halves([point for draft in drafts for point in draft.points], read.names)
    partners = neutrals(drafts, read.names)
    lines: dict[str, int] = {}  # of each key
    for draft in drafts:
        _read_circuit(draft, read, partners, lines)
        _read_points(draft, read, photos)
    read.rooms, drawn_at = read_plans(fields, entered, [point for draft in drafts for point in draft.points],
                                      whole="point" not in read.names.missing)
    read.panels = [replace(panel, drawn_at=drawn_at.get(panel.id)) for panel in read.panels]
    read.points = [replace(point, drawn_at=drawn_at.get(point.id)) for point in read.points]
    read.removed = read_removed(fields, read.names)
    check_former([*read.breakers, *read.points], read.removed, read.names, faults)
    return read


def _read_circuit(draft: Draft, read: MapRead, partners: dict[str, tuple[str, ...]], lines: dict[str, int]) -> None:
    fields, key = draft.fields, draft.key
    first = lines.get(key.casefold()) if key else None
    if first:
        fields.fault(fields, f"circuit {draft.number} of panel {draft.panel} stands twice (first in line {first})",
                     "each number of a panel once", "give one of the two its own number")
    elif key:
        lines[key.casefold()] = fields.where.line
    _read_breaker(draft, read)
    values, shares = fields.record(), partners.get(key or "", ())
    parts = parting(draft, bool(shares), read.names)
    if key and draft.panel and values["serves"] and draft.branch.breaker:
        read.circuits.append(Circuit(key=key, panel=draft.panel, breaker=draft.branch.breaker, where=fields.where,
                                     shares_neutral_with=shares, neutral_parts_at=parts, **values))


def _read_points(draft: Draft, read: MapRead, photos: Collection[str] | None) -> None:
    feeds: dict[str, Feed] = {}
    for point, named in draft.points:
        node = point.node("fed_from")
        feed = read_feed(node, named.id if named else None, draft.branch, read.names, point.faults) if node else None
        if named and feed:
            feeds[named.id] = feed
        record = read_point(point, named, draft.key or "", feed, read.names, photos)
        if record:
            read.points.append(record)
    check_load_empty(draft.points, feeds)
    sources = {id: feed.source for id, feed in feeds.items()}
    table = read.names.table
    where = {id: table[id].where for id in sources}
    devices = {id for id in sources if (kind := table[id].kind) and kind.opens}
    draft.fields.faults.extend(list(loops(sources, where)) or list(too_many_in_series(sources, devices, where, SERIES))
                               or too_many_in_series(sources, sources, where, CHAIN))


def _read_breaker(draft: Draft, read: MapRead) -> None:
    fields = draft.breaker
    if fields is None:
        return
    values = fields.record()
    if draft.branch.breaker and draft.breaker_kind and values["space"]:
        breaker = Breaker(id=draft.branch.breaker, kind=draft.breaker_kind, where=fields.where, **values)
        if panel := next((panel for panel in read.panels if panel.id == draft.panel), None):
            check_space(fields, breaker, panel)
        read.breakers.append(breaker)
