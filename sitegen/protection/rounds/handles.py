"""Takes a job's tree; gives the handles of breakers whose TEST is pressed alone, off together: the TEST showed the contact, so all
that is left to see is that the handle opens it."""

from __future__ import annotations

from ..tree import Tree
from .house import House
from .plan import Plan, Round


def handles_in_company(tree: Tree) -> Plan:
    """Rounds of handles, each once, as few as the limits of a plan allow; what would be a round of one is left out."""
    house = House(tree)
    rounds: list[list[str]] = []
    for id in tree.breakers:
        if tree.kind(id).opens and id in house.bit and tree.outlets_of(tree.on_breaker(id)):
            room = next((ids for ids in rounds if _fits(house, [*ids, id])), None)
            if room is None:
                rounds.append(room := [])
            room.append(id)
    return Plan(tuple(Round(tuple(ids), ()) for ids in rounds if len(ids) > 1), (), house.outlets, 0, ())


def _fits(house: House, ids: list[str]) -> bool:
    """No two before one outlet; not two lighting circuits dark."""
    bits = house.bits(ids)
    dark = {number for id in ids for number, cuts in enumerate(house.dark) if cuts & house.bit[id]}
    return len(ids) == 1 or len(dark) < 2 and all((before & bits).bit_count() < 2 for before in house.before.values())
