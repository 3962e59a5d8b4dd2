"""The lists of the map in, drafts out: every id is entered before anything that names an id is read."""

from __future__ import annotations

from dataclasses import dataclass

from .. import kinds
from ..kinds import Kind
from ..read.fields import Fields
from ..read.ids import Named, Names, read_id
from ..read.keys import Key, Keys, flag, number, text, value, word
from ..records import Breaker, Circuit, Wire
from .feeds import Branch
from .former import former_ids
from .points import POINT, read_device

_WIRE = Keys("`wire`", Wire, Key("awg", text, must=True),
             Key("metal", word({"copper": "copper", "aluminum": "aluminum", "aluminium": "aluminum"}), must=True), Key("cable", text))


def _wire(circuit: Fields, key: str) -> Wire | None:
    wire = circuit.fields(key, _WIRE)
    read = wire.record() if wire else {}
    return Wire(**read) if read and read["awg"] and read["metal"] else None


def _poles(breaker: Fields, key: str) -> int:
    return breaker.word(key, {"1": 1, "2": 2}) or 1


_CIRCUIT = Keys(
    "this circuit", Circuit, Key("number", text, must=True), Key("panel", must=True), Key("serves", value, must=True),
    Key("breaker", must=True), Key("points", must=True), Key("wire", _wire),
    Key("work", word({name: name for name in ("new", "extended", "replaced", "existing")})), Key("note", text),
    Key("shares_neutral_with"), Key("neutral_parts_at"))
_BREAKER = Keys(
    "this breaker", Breaker, Key("id", must=True), Key("space", text, must=True), Key("type", must=True, into="kind"),
    Key("amps", number("A", 1000, above_zero=True)), Key("poles", _poles), Key("was", former_ids),
    Key("tied", flag), Key("both_poles", flag), Key("device", read_device))


@dataclass(slots=True)
class Draft:
    """One circuit with the ids of its panel, breaker and points, the rest of it still to be read."""

    fields: Fields
    branch: Branch
    breaker: Fields | None                     # None: it shares the breaker of another circuit, or has none to read
    breaker_kind: Kind | None
    points: list[tuple[Fields, Named | None]]  # None: no id, or one that stands elsewhere
    number: str | None = None
    panel: str | None = None

    @property
    def key(self) -> str | None:
        return f"{self.panel}-{self.number}" if self.panel and self.number else None


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
    """The circuits of the map in file order, their ids entered into `names`, their panels and breakers found."""
    circuits, whole = root.entries("circuits", _CIRCUIT, least=1)
    if not whole:
        names.missing |= {"breaker", "circuit", "point"}
    drafts = [_draft(circuit, names, several_panels) for circuit in circuits]
    # All ids are entered now: the wrong ones can be told for what they are.
    for draft in drafts:
        draft.panel = _panel_of(draft.fields, names)
        if draft.key is None:
            names.missing.add("circuit")
    unknown = [draft.branch.breaker for draft in drafts if not _breaker_is_known(draft, drafts, names)]
    names.spoilt |= {id for id in unknown if id}
    return drafts


def _draft(circuit: Fields, names: Names, several_panels: bool) -> Draft:
    number, panel = circuit.text("number"), circuit.text("panel")
    says = f"circuit {number}" if number else f"the circuit in line {circuit.where.line}"
    branch = Branch(f"{says} of {panel.upper()}" if panel and several_panels else says)
    breaker, kind = _draft_breaker(circuit, branch, names)
    points, whole = circuit.entries("points", POINT)
    if not whole:
        names.missing.add("point")
    drafted = []
    for point in points:
        drafted.append((point, enter(point, names, "point", point.word("is", kinds.POINTS), branch.says)))
        branch.points.append((point.text("id") or "").upper())
    return Draft(circuit, branch, breaker, kind, drafted, number)


def _draft_breaker(circuit: Fields, branch: Branch, names: Names) -> tuple[Fields | None, Kind | None]:
    node = circuit.node("breaker")
    if node and node.text is not None:
        branch.breaker = node.text.strip().upper()
        return None, None
    fields = circuit.fields("breaker", _BREAKER)
    if fields is None:
        names.missing.add("breaker")
        return None, None
    kind = fields.word("type", kinds.BREAKERS)
    enter(fields, names, "breaker", kind, branch.says)
    branch.breaker = (fields.text("id") or "").upper() or None
    return fields, kind


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


def _breaker_is_known(draft: Draft, drafts: list[Draft], names: Names) -> bool:
    """False, mostly with a fault, where `breaker: B5` names nothing; a fault too where it is no breaker to share."""
    node = draft.fields.node("breaker")
    if node is None or node.text is None:
        return True
    owners = {owner.branch.breaker: owner for owner in drafts if owner.breaker}
    near = [id for id, owner in owners.items() if id and owner.panel == draft.panel]
    expected = "the id of a breaker that another circuit of this panel writes out"
    found = names.find(node.text.strip(), node.where, expected,
                       "correct the id, or write the breaker out as `{id: ..., space: ..., type: ...}`",
                       draft.fields.faults, among=("breaker",), first=near)
    owner = owners.get(found.id) if found else None
    if found and found.what != "breaker":
        draft.fields.fault(node, f"`{found.id}` is {found.words}", expected, "write the breaker of this circuit")
    elif owner and owner.panel and draft.panel and owner.panel != draft.panel:
        draft.fields.fault(node, f"`{owner.branch.breaker}` is in panel {owner.panel}, this circuit in {draft.panel}",
                           expected, "correct the id, or the panel of one of the two circuits")
    return found is not None
