"""The lists of the map in, drafts out: every id is entered before anything that names an id is read."""

from __future__ import annotations

from dataclasses import dataclass

from . import kinds
from .feeds import Run
from .fields import Fields, Keys, entries
from .ids import Named, Names, read_id
from .kinds import Kind
from .points import POINT

_CIRCUIT = Keys("this circuit", required=("number", "panel", "serves", "breaker", "points"),
                optional=("wire", "work", "note", "shares_neutral_with"), texts=frozenset({"serves", "note"}))
_BREAKER = Keys("this breaker", required=("id", "space", "type"), optional=("amps", "poles"))


@dataclass(slots=True)
class Draft:
    """One circuit with the ids of its breaker and points, the rest of it still to be read."""

    fields: Fields
    run: Run
    breaker: Fields | None
    breaker_kind: Kind | None
    points: list[tuple[Fields, Named | None]]  # None: no id, or one that stands elsewhere


def enter(fields: Fields, names: Names, what: str, kind: Kind | None = None, circuit: str = "") -> Named | None:
    """Enter the id of one entry; None where it has none of its own."""
    written = fields.text("id")
    if written is None:
        names.missing.add(what)
        return None
    id = read_id(written, fields.values["id"].where, fields.faults)
    if id is None:
        names.spoilt.add(written.upper())
        return None
    named = Named(id, what, kind, fields.where, circuit)
    return named if names.add(named, fields.faults) else None


def draft_circuits(root: Fields, names: Names, several_panels: bool) -> list[Draft]:
    """The circuits of the map in file order, their ids entered into `names`."""
    node = root.node("circuits")
    circuits, whole = entries(node, "circuits", _CIRCUIT, root.faults) if node else ([], False)
    if not whole:
        names.missing |= {"breaker", "point"}
    return [_draft(circuit, names, several_panels) for circuit in circuits]


def _draft(circuit: Fields, names: Names, several_panels: bool) -> Draft:
    number, panel = circuit.text("number"), circuit.text("panel")
    says = f"circuit {number}" if number else f"the circuit in line {circuit.where.line}"
    run = Run(f"{says} of {panel.upper()}" if panel and several_panels else says)
    breaker, kind = _draft_breaker(circuit, run, names)
    node = circuit.node("points")
    points, whole = entries(node, "points", POINT, circuit.faults) if node else ([], False)
    if not whole:
        names.missing.add("point")
    if node and node.items == ():
        circuit.not_yet(node, "a circuit with `points: []` (a feeder)", "at least one point on a circuit",
                        "leave this circuit out for now")
    drafted = []
    for point in points:
        drafted.append((point, enter(point, names, "point", point.word("is", kinds.POINTS), run.says)))
        run.points.append((point.text("id") or "").upper())
    return Draft(circuit, run, breaker, kind, drafted)


def _draft_breaker(circuit: Fields, run: Run, names: Names) -> tuple[Fields | None, Kind | None]:
    node = circuit.node("breaker")
    if node and node.text is not None:
        run.breaker = node.text.strip().upper()
        names.spoilt.add(run.breaker)
        circuit.not_yet(node, f"`breaker: {node.text.strip()}` (a breaker that circuits share)",
                        "a breaker of its own for each circuit", "leave the second circuit of this breaker out for now")
        return None, None
    fields = circuit.fields("breaker", _BREAKER)
    if fields is None:
        names.missing.add("breaker")
        return None, None
    kind = fields.word("type", kinds.BREAKERS)
    enter(fields, names, "breaker", kind, run.says)
    run.breaker = (fields.text("id") or "").upper() or None
    return fields, kind
