"""One table of the kinds of breaker and point: takes the words of the map, gives what each kind can do.

Nothing outside this table asks for a kind by its name; it asks what the kind has.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """What one kind of breaker or point has and does."""

    name: str                  # as the map writes it
    is_breaker: bool = False   # sits in the panel and feeds a circuit
    opens: bool = False        # a protective device: opens by itself on a fault, has TEST, page, label, reminder
    stops_shock: bool = False  # opens at 4 to 6 mA to ground: counts as protection of people
    stops_arcs: bool = False   # opens on arcing
    has_face: bool = False     # something plugs into it: a receptacle's slots
    has_sides: bool = False    # line and load terminals: what hangs on it must say which
    is_outlet: bool = False    # power is taken here: receptacle, light, appliance
    by_name: bool = False      # "rest of circuit" and "rest of house" do not speak of it (lights)
    switches: bool = False     # a wall switch
    either_way: bool = False   # a wall switch without an ON position: between two of them run travellers

    @property
    def plugs(self) -> bool:
        """True where a plug-in tester can be used."""
        return self.has_face


def _table(*kinds: Kind) -> dict[str, Kind]:
    return {kind.name: kind for kind in kinds}


# GFCI: UL 943 Class A, opens between 4 and 6 mA. gfpe: equipment protection at 30 mA, never counts against shock.
BREAKERS = _table(
    Kind("standard", is_breaker=True),
    Kind("gfci", is_breaker=True, opens=True, stops_shock=True),
    Kind("afci", is_breaker=True, opens=True, stops_arcs=True),
    Kind("dual-function", is_breaker=True, opens=True, stops_shock=True, stops_arcs=True),
    Kind("gfpe", is_breaker=True, opens=True),
)

POINTS = _table(
    Kind("receptacle", has_face=True, is_outlet=True),
    Kind("light", is_outlet=True, by_name=True),
    Kind("switch", switches=True),
    Kind("3-way switch", switches=True, either_way=True),
    Kind("4-way switch", switches=True, either_way=True),
    Kind("appliance", is_outlet=True),
    Kind("junction"),
    Kind("gfci receptacle", opens=True, stops_shock=True, has_face=True, has_sides=True, is_outlet=True),
    Kind("afci receptacle", opens=True, stops_arcs=True, has_face=True, has_sides=True, is_outlet=True),
    Kind("dual-function receptacle", opens=True, stops_shock=True, stops_arcs=True, has_face=True, has_sides=True,
         is_outlet=True),
    Kind("faceless gfci", opens=True, stops_shock=True, has_sides=True),
    Kind("faceless afci", opens=True, stops_arcs=True, has_sides=True),
    Kind("faceless dual-function", opens=True, stops_shock=True, stops_arcs=True, has_sides=True),
)
