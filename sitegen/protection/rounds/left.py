"""Takes a plan and what was seen so far; gives the rounds that are still needed, and where to stand after a contradiction.

The plan is gone on with, never made anew: what was seen of it would be lost.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from .engine import Seen, Told, deduce
from .house import House
from .plan import Plan, as_rounds, foretold, tells_all


@dataclass(frozen=True, slots=True)
class Stand:
    """Stand at this outlet and have these opened, one after the other: no walk."""

    outlet: str
    contacts: tuple[str, ...]


def still_needed(house: House, whole: Plan, seen: Sequence[Seen], untested: Collection[str]) -> Plan:
    """The plan without the rounds that can be spared if the map is right, and without openings that show nothing new.

    `untested`: devices whose own TEST is still to be pressed.
    """
    rounds = [frozenset(round.open) for round in whole.rounds]
    rounds += [frozenset((id,)) for id in whole.alone]
    walked = {sight.opened for sight in seen}
    for opened in sorted(rounds, key=lambda opened: opened not in walked):
        fewer = [other for other in rounds if other is not opened]
        if _enough(house, fewer, seen, untested):
            rounds = fewer
    rounds = _spared(house, rounds, seen, untested) if seen else rounds
    alone = tuple(id for id in whole.alone if frozenset((id,)) in rounds)
    return replace(whole, rounds=as_rounds(house, [opened for opened in rounds if not opened & set(alone)], untested), alone=alone)


def _enough(house: House, rounds: Sequence[frozenset[str]], seen: Sequence[Seen], untested: Collection[str]) -> bool:
    pressed = {id for opened in rounds for id in opened}
    return pressed.issuperset(id for id in untested if id in house.contacts) and tells_all(house, foretold(house, rounds, seen))


def _spared(house: House, rounds: list[frozenset[str]], seen: Sequence[Seen], untested: Collection[str]) -> list[frozenset[str]]:
    """Without what is known of every outlet already; one by one if not all of it can be left out."""
    told = deduce(seen, house.contacts, house.tree.breakers)
    known = [id for id in house.company if id not in untested
             and not any(told.not_told(outlet, (id,)) for outlet in house.outlets if outlet not in house.tree.unknown)]
    fewer = [opened - set(known) for opened in rounds]
    if _enough(house, [opened for opened in fewer if opened], seen, untested):
        return [opened for opened in fewer if opened]
    for id in known:
        fewer = [opened - {id} for opened in rounds]
        if _enough(house, [opened for opened in fewer if opened], seen, untested):
            rounds = fewer
    return [opened for opened in rounds if opened]


def stands(house: House, told: Told, outlets: Iterable[str]) -> tuple[Stand, ...]:
    """For each outlet at odds the contacts that are open there, or told both ways, or told otherwise than the map has it."""
    found = []
    for outlet in outlets:
        yes, no = set(told.yes.get(outlet, ())), set(told.no.get(outlet, ()))
        before = set(house.tree.reset_order(outlet))
        asked = tuple(id for id in house.contacts if (id in yes) == (id in no) or (id in yes) != (id in before))
        if asked:
            found.append(Stand(outlet, asked))
    return tuple(found)
