"""`shares_neutral_with` of the circuits in, the partners of each circuit out: written on one, known on both.

Also `neutral_parts_at`, the points behind which a circuit has a neutral of its own.
"""

from __future__ import annotations

from ...errors import nearest
from ..read.ids import Names
from ..read.nodes import Node
from ..read.values import fold
from .circuits import Draft


def neutrals(drafts: list[Draft], names: Names) -> dict[str, tuple[str, ...]]:
    """For the key of each circuit the keys of those that share a neutral with it, in file order."""
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
                _unknown(draft, item, number, drafts, names)
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
    items = fields.items("neutral_parts_at", "ids", f"ids of points of {draft.run.says}", "write it as `[K1, K2]`")
    if items and not shares and "circuit" not in names.missing:
        fields.fault(fields.values["neutral_parts_at"], f"`neutral_parts_at` on {draft.run.says}, which shares no neutral",
                     "`shares_neutral_with` too", "write the circuit that it shares with, or remove the key")
    for item in items:
        for word in (item.text or "").replace(",", " ").split():
            named = names.find(word, item.where, f"a point of {draft.run.says}", "correct the id, or add the point",
                               fields.faults, among=("point",), first=draft.run.points)
            if named and named.id not in draft.run.points:
                on = "" if named.what == "panel" else f", of {named.circuit}" if named.what == "breaker" else f" on {named.circuit}"
                fields.fault(item, f"`{named.id}` is {named.words}{on}", f"a point of {draft.run.says}",
                             "write the box in which the neutrals part")
            found.append(word.upper())
    return tuple(dict.fromkeys(found))


def _unknown(draft: Draft, item: Node, number: str, drafts: list[Draft], names: Names) -> None:
    if "circuit" in names.missing:  # it may be the number of a circuit that could not be read
        return
    others = [other.number for other in drafts if other.number and other.panel == draft.panel and other is not draft]
    draft.fields.fault(item, f"panel {draft.panel} has no circuit `{number}`", "numbers of circuits of this panel",
                       "correct the number, or add the circuit", nearest(number, others))
