"""protection_map.yaml in; panels, breakers, circuits and points out, with the table of their ids."""

from __future__ import annotations

from dataclasses import dataclass, field

from .drafts import Draft, draft_circuits, enter
from .faults import Fault
from .feeds import loops, read_feed
from .fields import Fields, Keys, entries, shape_fault
from .ids import Names
from .lines import read_yaml
from .points import read_point
from .records import Breaker, Circuit, Panel, Point, Wire

FILE = "protection_map.yaml"

_ROOT = Keys("the map", required=("panels", "circuits"))
_PANEL = Keys("this panel", required=("id", "at"), optional=("fed_from", "also_supplied_by"), texts=frozenset({"at"}))
_WIRE = Keys("`wire`", required=("awg", "metal"))
_METALS = {"copper": "copper", "aluminum": "aluminum", "aluminium": "aluminum"}
_WORK = {word: word for word in ("new", "extended", "replaced", "existing")}


@dataclass(slots=True)
class MapRead:
    """What the map holds; whole only where no fault was found."""

    names: Names = field(default_factory=Names)
    panels: list[Panel] = field(default_factory=list)
    breakers: list[Breaker] = field(default_factory=list)
    circuits: list[Circuit] = field(default_factory=list)
    points: list[Point] = field(default_factory=list)


def read_map(text: str | None, faults: list[Fault]) -> MapRead:
    """Read the map as far as it goes. Without a text (a fault already) no id of another file is judged by it."""
    read = MapRead()
    root = None if text is None else read_yaml(text, FILE, faults)
    if root is None or root.pairs is None:
        if root is not None:
            faults.append(shape_fault(root, "the map", "a map", "begin it with `panels:` and `circuits:`"))
        read.names.missing |= {"panel", "breaker", "point"}
        return read
    fields = Fields(root, _ROOT, faults)
    panels = _read_panels(fields, read)
    circuits: dict[str, int] = {}  # line of each key
    # All ids first: a point may be listed before what feeds it.
    for draft in draft_circuits(fields, read.names, several_panels=panels > 1):
        _read_circuit(draft, read, circuits)
    return read


def _read_panels(root: Fields, read: MapRead) -> int:
    """Add the panels; how many the file lists."""
    node = root.node("panels")
    panels, whole = entries(node, "panels", _PANEL, root.faults) if node else ([], False)
    if not whole:
        read.names.missing.add("panel")
    for panel in panels:
        named = enter(panel, read.names, "panel")
        for key in ("fed_from", "also_supplied_by"):
            value = panel.node(key)
            if value:
                panel.not_yet(value, f"`{key}` of a panel", "panels that the utility alone supplies",
                              "leave this panel out for now")
        at = panel.text("at")
        if named and at:
            read.panels.append(Panel(named.id, at, panel.where))
    return len(panels)


def _read_circuit(draft: Draft, read: MapRead, circuits: dict[str, int]) -> None:
    fields, run = draft.fields, draft.run
    number, panel, serves = fields.text("number"), _panel_of(fields, read.names), fields.text("serves")
    key = f"{panel}-{number}"
    first = circuits.get(key.casefold()) if number and panel else None
    if first:
        fields.fault(fields, f"circuit {number} of panel {panel} stands twice (first in line {first})",
                     "each number of a panel once", "give one of the two its own number")
    circuits.setdefault(key.casefold(), fields.where.line)
    shared = fields.node("shares_neutral_with")
    if shared:
        fields.not_yet(shared, "`shares_neutral_with`", "circuits with a neutral of their own",
                       "leave both circuits out for now")
    _read_breaker(draft, read)
    wire, work, note = _read_wire(fields), fields.word("work", _WORK), fields.text("note")
    if number and panel and serves and run.breaker:
        read.circuits.append(Circuit(key, number, panel, serves, run.breaker, wire, work, note, fields.where))
    _read_points(draft, key, read)


def _read_points(draft: Draft, circuit: str, read: MapRead) -> None:
    sources: dict[str, str] = {}
    for point, named in draft.points:
        node = point.node("fed_from")
        feed = read_feed(node, named.id if named else None, draft.run, read.names, point.faults) if node else None
        if named and feed:
            sources[named.id] = feed.source
        record = read_point(point, named, circuit, feed, read.names)
        if record:
            read.points.append(record)
    draft.fields.faults.extend(loops(sources, {id: read.names.table[id].where for id in sources}))


def _panel_of(fields: Fields, names: Names) -> str | None:
    written = fields.text("panel")
    if written is None:
        return None
    node = fields.values["panel"]
    found = names.find(written, node.where, "the id of a panel", "correct the id, or add the panel", fields.faults,
                       among=("panel",))
    if found and found.what != "panel":
        fields.fault(node, f"`{found.id}` is {found.words}", "the id of a panel", "write the panel that it is in")
        return None
    return found.id if found else None


def _read_breaker(draft: Draft, read: MapRead) -> None:
    fields = draft.breaker
    if fields is None:
        return
    space, amps, poles = fields.text("space"), fields.number("amps", "A", 1000, above_zero=True), fields.text("poles")
    if poles == "2":
        fields.not_yet(fields.values["poles"], "`poles: 2`", "breakers of one pole", "leave this circuit out for now")
    elif poles not in (None, "1"):
        fields.fault(fields.values["poles"], f"`poles: {poles}` is not known", "1 or 2", "write how many poles it has")
    if draft.run.breaker and draft.breaker_kind and space:
        read.breakers.append(Breaker(draft.run.breaker, draft.breaker_kind, space, amps, 1, fields.where))


def _read_wire(circuit: Fields) -> Wire | None:
    wire = circuit.fields("wire", _WIRE)
    awg, metal = (wire.text("awg"), wire.word("metal", _METALS)) if wire else (None, None)
    return Wire(awg, metal) if awg and metal else None
