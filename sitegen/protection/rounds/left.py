"""Takes a plan and what was seen so far; gives the rounds that are still needed, and where to stand after a contradiction.

The plan is gone on with, never made anew: what was seen of it would be lost.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from ..elimination import Seen, Told, deduce
from .house import House
from .plan import Plan, as_rounds, foretold, tells_all


@dataclass(frozen=True, slots=True)
class Stand:
    """Stand at this outlet and have these opened, one after the other: no walk."""

    outlet: str
    contacts: tuple[str, ...]


def still_needed(house: House, whole: Plan, seen: Sequence[Seen], untested: Collection[str],
                 at_odds: Collection[str] = ()) -> Plan:
    """The plan without the rounds that can be spared if the map is right, and without openings that show nothing new.

    `untested`: devices whose own TEST is still to be pressed; `at_odds`: outlets to be settled first, left out here.
    """
    seen = [sight for sight in seen if sight.outlet not in at_odds]
    rounds = [frozenset(round.open) for round in whole.rounds]
    rounds += [frozenset((id,)) for id in whole.alone]
    walked = {sight.opened for sight in seen}

    def enough(some: Sequence[frozenset[str]]) -> bool:
        pressed = {id for opened in some for id in opened}
        return pressed.issuperset(id for id in untested if id in house.contacts) \
            and tells_all(house, foretold(house, some, seen), at_odds)

    for opened in sorted(rounds, key=lambda opened: opened not in walked):
        fewer = [other for other in rounds if other is not opened]
        if enough(fewer):
            rounds = fewer
    rounds = _spared(rounds, _known(house, seen, untested, at_odds), enough) if seen else rounds
    alone = tuple(id for id in whole.alone if frozenset((id,)) in rounds)
    left = replace(whole, rounds=as_rounds(house, [opened for opened in rounds if not opened & set(alone)], untested), alone=alone)
    return replace(left, bound=min(left.bound, left.walks))


def not_walked(whole: Plan, seen: Sequence[Seen]) -> Plan:
    """The plan without the rounds of which something was seen."""
    walked = {sight.opened for sight in seen}
    rounds = tuple(one for one in whole.rounds if frozenset(one.open) not in walked)
    alone = tuple(id for id in whole.alone if frozenset((id,)) not in walked)
    return replace(whole, rounds=rounds, alone=alone, bound=min(whole.bound, len(rounds) + len(alone)))


def _known(house: House, seen: Sequence[Seen], untested: Collection[str], at_odds: Collection[str]) -> list[str]:
    """What is known of every outlet already."""
    told = deduce(seen, house.contacts, house.tree.breakers)
    return [id for id in house.company if id not in untested
            and not any(told.not_told(outlet, (id,)) for outlet in house.outlets if outlet not in house.tree.unknown | set(at_odds))]


def _spared(rounds: list[frozenset[str]], known: list[str], enough: Callable[[Sequence[frozenset[str]]], bool]) -> list[frozenset[str]]:
    """The rounds without these; one by one where not all of them can be left out."""
    for some in (set(known), *({id} for id in known)):
        fewer = [opened - some for opened in rounds]
        if enough([opened for opened in fewer if opened]):
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
