"""Takes evidence with rounds at odds with the map; gives the rounds to look at again, and what to look at where one thing is
opened alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...job.records import TripTest
from ..evidence import Evidence
from ..tree import Tree


@dataclass(frozen=True, slots=True)
class LookAgain:
    """This round is opened once more, and these outlets alone are looked at: it costs no walk, and a wrong look is the likeliest."""

    row: TripTest
    outlets: tuple[str, ...]


def looks_again(evidence: Evidence) -> tuple[LookAgain, ...]:
    """Every round with a look that disagrees with the map, in the order of the rows."""
    found: dict[int, tuple[TripTest, list[str]]] = {}
    for clash in sorted(evidence.clashes, key=lambda clash: clash.row.row):
        if clash.row.together:
            found.setdefault(clash.row.row, (clash.row, []))[1].append(clash.outlet)
    return tuple(LookAgain(row, tuple(outlets)) for row, outlets in found.values())


def looks_alone(tree: Tree, id: str, outlets: Iterable[str]) -> tuple[str, ...]:
    """What is looked at where this is opened alone: these outlets, and first what shows that it opened, its own face or without
    one an outlet behind it. A TEST that shows nothing dead would take away what was proved of the device."""
    asked = tuple(outlets)
    if tree.kind(id).has_face:
        return tuple(dict.fromkeys((id, *asked)))
    behind = [one for one in tree.outlets_of(tree.goes_dead(id)) if not tree.job.point[one].not_proved] if tree.kind(id).opens else []
    return (*[one for one in behind if one not in asked][:1], *asked)
