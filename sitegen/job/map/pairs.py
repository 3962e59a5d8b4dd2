"""What stands at two places of the map and belongs together: the halves of a duplex in, faults out; shared neutrals in, the
partners of each circuit out."""

from __future__ import annotations

from dataclasses import dataclass

from ...errors import nearest
from ..read.fields import Fields
from ..read.ids import Named, Names, read_id
from ..read.nodes import Node
from ..read.values import fold, listed
from .circuits import Draft

HALVES = {"upper": "upper", "lower": "lower"}


@dataclass(frozen=True, slots=True)
class _Half:
    fields: Fields
    id: str            # as written, in capitals; "" where it has none
    half: str | None
    room: str | None


def check_halves(points: list[tuple[Fields, Named | None]], names: Names) -> None:
    """Append the faults of every half and of every pair of halves."""
    yokes: dict[str, list[_Half]] = {}
    for fields, named in points:
        half = _half(fields, named)
        written = fields.text("yoke")
        yoke = read_id(written, fields.values["yoke"].where, fields.faults) if written else None
        if yoke:
            yokes.setdefault(yoke, []).append(half)
    for yoke, halves in yokes.items():
        _check_pair(yoke, halves, names)


def _half(fields: Fields, named: Named | None) -> _Half:
    yoke, half = fields.node("yoke"), fields.node("half")
    if yoke and not half:
        fields.fault(yoke, f"`yoke: {yoke.written}` without `half`", "`yoke` and `half` together",
                     "add `half: upper` or `half: lower`")
    if half and not yoke:
        fields.fault(half, f"`half: {half.written}` without `yoke`", "`yoke` and `half` together",
                     "add `yoke:` with one name for both halves")
    if (written := yoke or half) and named and named.kind and not named.kind.has_face:
        fields.fault(written, f"`{named.id}` is {named.words}, which has no halves", "a receptacle",
                     "remove `yoke` and `half`, or correct what it is")
    return _Half(fields, (fields.text("id") or "").upper(), fields.word("half", HALVES), fields.text("room"))


def _check_pair(yoke: str, halves: list[_Half], names: Names) -> None:
    first, last = halves[0], halves[-1]
    node, faults = last.fields.values["yoke"], last.fields
    other = names.table.get(yoke)
    if other and yoke not in [half.id for half in halves]:
        faults.fault(first.fields.values["yoke"], f"the yoke `{yoke}` has the id of {other.words} in line "
                     f"{other.where.line}", "a name of its own, or the id of one of its two points",
                     "write another name at both halves")
    if len(halves) > 2:
        ids = listed(half.id for half in halves)
        faults.fault(node, f"the yoke `{yoke}` stands at {len(halves)} points: {ids}", "two points a yoke",
                     "give each duplex a name of its own")
    elif len(halves) == 1:
        if "point" not in names.missing:  # its other half may be a point that could not be read
            faults.fault(node, f"the yoke `{yoke}` stands at one point alone", "two points a yoke, upper and lower",
                         "write the other half as a point, or remove `yoke` and `half`")
    else:
        if first.half and first.half == last.half:
            faults.fault(last.fields.values["half"], f"both points of yoke `{yoke}` are its {last.half} half",
                         "one upper and one lower half", "correct one of the two")
        if first.room and last.room and first.room.casefold() != last.room.casefold():
            faults.fault(last.fields.values["room"], f"the halves of yoke `{yoke}` are in two rooms: {first.room} and "
                         f"{last.room}", "one room", "correct the room, or the yoke of one of the two")


def neutrals(drafts: list[Draft], names: Names) -> dict[str, tuple[str, ...]]:
    """For the key of each circuit the keys of those that share a neutral with it, in file order: written on one, known on
    both."""
    keys = {draft.key.casefold(): draft.key for draft in drafts if draft.key}
    partners: dict[str, set[str]] = {key: set() for key in keys.values()}
    for draft in drafts:
        for item in draft.fields.items("shares_neutral_with", "circuit numbers", "numbers of circuits of this panel",
                                       "write it as `[5, 7]`"):
            number = fold(item.text or "")
            own, other = (draft.key or "").casefold(), keys.get(f"{draft.panel}-{number}".casefold())
            if draft.key is None:
                continue
            if other is None:
                _unknown_circuit(draft, item, number, drafts, names)
            elif other.casefold() == own:
                draft.fields.fault(item, f"circuit {number} shares its neutral with itself",
                                   "the number of the other circuit", "write that number, or remove the key")
            else:
                partners[keys[own]].add(other)
                partners[other].add(keys[own])
    return {key: tuple(other for other in partners if other in of_key) for key, of_key in partners.items()}


def parting(draft: Draft, shares: bool, names: Names) -> tuple[str, ...]:
    """The points of a circuit at which its neutral parts from the shared one; `shares` says whether it has a partner."""
    fields, found = draft.fields, []
    items = fields.items("neutral_parts_at", "ids", f"ids of points of {draft.branch.says}", "write it as `[K1, K2]`")
    if items and not shares and "circuit" not in names.missing:
        fields.fault(fields.values["neutral_parts_at"], f"`neutral_parts_at` on {draft.branch.says}, which shares no neutral",
                     "`shares_neutral_with` too", "write the circuit that it shares with, or remove the key")
    for item in items:
        for word in (item.text or "").replace(",", " ").split():
            named = names.find(word, item.where, f"a point of {draft.branch.says}", "correct the id, or add the point",
                               fields.faults, among=("point",), first=draft.branch.points)
            if named and named.id not in draft.branch.points:
                on = "" if named.what == "panel" else f", of {named.circuit}" if named.what == "breaker" else f" on {named.circuit}"
                fields.fault(item, f"`{named.id}` is {named.words}{on}", f"a point of {draft.branch.says}",
                             "write the box in which the neutrals part")
            found.append(word.upper())
    return tuple(dict.fromkeys(found))


def _unknown_circuit(draft: Draft, item: Node, number: str, drafts: list[Draft], names: Names) -> None:
    if "circuit" in names.missing:  # it may be the number of a circuit that could not be read
        return
    others = [other.number for other in drafts if other.number and other.panel == draft.panel and other is not draft]
    draft.fields.fault(item, f"panel {draft.panel} has no circuit `{number}`", "numbers of circuits of this panel",
                       "correct the number, or add the circuit", nearest(number, others))
