"""Takes the feed tree and the needs; gives a run for each breaker, and for circuits that share a neutral one for all of them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ...job.records import Breaker, Circuit, Panel, Point, Prices
from ..tree import Tree
from .run import Box, Run

_LARGEST = 20       # A: a GFCI receptacle passes 20 A on (UL 498, UL 943; from memory); above that a breaker
_HIGHEST = 6 + 7 / 12  # ft from the floor to a reset that can be reached (NEC 404.8(A), as for switches; from memory)


@dataclass(frozen=True, slots=True)
class Part:
    """What is planned together."""

    circuits: tuple[Circuit, ...]
    breakers: tuple[Breaker, ...]    # one; those of circuits that share a neutral
    run: Run


def parts(tree: Tree, needs: Collection[str]) -> tuple[Part, ...]:
    """Every circuit that has points, in feed order."""
    job, done, found = tree.job, set(), []
    for circuit in tree.circuits:
        if circuit.key not in done:
            together = _together(tree, circuit)
            done |= {mate.key for mate in together}
            if any(point.circuit in {mate.key for mate in together} for point in job.points):
                breakers = tuple(job.breaker[id] for id in dict.fromkeys(mate.breaker for mate in together))
                found.append(Part(together, breakers, _run(tree, together, breakers, needs)))
    return tuple(found)


def _together(tree: Tree, circuit: Circuit) -> tuple[Circuit, ...]:
    """A circuit, those on its breaker and those that share its neutral, and so on from each of them."""
    keys = {circuit.key}
    before: set[str] = set()
    while keys != before:
        before = set(keys)
        breakers = {tree.job.circuit[key].breaker for key in keys}
        keys |= {other.key for other in tree.circuits if other.breaker in breakers or keys & set(other.shares_neutral_with)}
    return tuple(other for other in tree.circuits if other.key in keys)


def _run(tree: Tree, circuits: tuple[Circuit, ...], breakers: tuple[Breaker, ...], needs: Collection[str]) -> Run:
    job, keys = tree.job, {circuit.key for circuit in circuits}
    ids = [id for id in tree.order if job.point[id].circuit in keys]
    elsewhere = {_same(point.room) for point in job.points if point.circuit not in keys and point.kind.by_name}
    doors = {(_same(plan.room), _same(door.leads_to)) for plan in job.rooms for door in plan.doors if door.leads_to}
    return Run.of((_box(tree, job.point[id], needs) for id in ids),
                  breaker=breakers[0].id if _one_breaker(circuits, breakers) else None,
                  breaker_room=_same(room_of(job.panel[circuits[0].panel])),
                  prices=job.file.prices or Prices(), wishes=job.file.wishes,
                  next_rooms=frozenset(doors), lights_elsewhere=frozenset(elsewhere))


def _one_breaker(circuits: tuple[Circuit, ...], breakers: tuple[Breaker, ...]) -> bool:
    """True where one GFCI breaker can have it all: with a shared neutral a 2-pole one over both circuits."""
    if not any(circuit.shares_neutral_with for circuit in circuits):
        return len(breakers) == 1
    return len(circuits) == 2 and (len(breakers) == 2 and all(breaker.poles == 1 for breaker in breakers)
                                   or len(breakers) == 1 and breakers[0].poles == 2)


def room_of(panel: Panel) -> str:
    return panel.drawn_at.room if panel.drawn_at else panel.room_and_spot[0]


def _box(tree: Tree, point: Point, needs: Collection[str]) -> Box:
    source, kind = tree.job.point.get(point.feed.source), point.kind
    return Box(point.id, point.feed.source, outlet=kind.is_outlet, light=kind.by_name, own=kind.is_outlet or kind.switches,
               whole=kind.switches, room=_same(point.room), needs=point.id in needs, share=point.share, holds=holds(tree, point),
               closed=point.may_hold == "none" or _no_device(tree, point),
               new_box=point.new_box, cut=_cut(tree, point),
               stands=kind.stops_shock, face=kind.stops_shock and kind.has_face,
               on_load=source is not None and source.kind.stops_shock and point.feed.side == "load")


def holds(tree: Tree, point: Point) -> str:
    """The device that there is room for: as the map says; else a receptacle's box takes one whose reset can be reached."""
    if _no_device(tree, point):
        return "none"
    high = point.drawn_at and point.drawn_at.height and point.drawn_at.height > _HIGHEST
    return point.may_hold or ("receptacle" if point.kind.has_face and not point.behind and not high else "none")


def _no_device(tree: Tree, point: Point) -> bool:
    """A device stands here, of whatever kind; or none is made that would fit: 240 V, half of a duplex, a large breaker."""
    return point.kind.opens or point.voltage != 120 or point.yoke is not None or _too_large(tree, point)


def _too_large(tree: Tree, point: Point) -> bool:
    return (tree.job.breaker[tree.breaker_of(point.id)].amps or 0) > _LARGEST


def _cut(tree: Tree, point: Point) -> bool:
    """True where no one-pole device may have the cable into it: a neutral that is not its own, two hots, too many amps."""
    circuit, source = tree.job.circuit[point.circuit], point.feed.source
    while source in tree.job.point and source not in circuit.neutral_parts_at:
        source = tree.job.point[source].feed.source
    return point.voltage != 120 or _too_large(tree, point) or bool(circuit.shares_neutral_with) and source not in circuit.neutral_parts_at


def _same(room: str) -> str:
    return " ".join(room.casefold().split())
