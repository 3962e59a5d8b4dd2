"""Takes the desk; gives everything in the service record that has an id or a number, with the words that it is found by."""

from __future__ import annotations

from collections.abc import Iterator

from ...answer.places import place
from ...desk import Desk
from ...search import folded
from ..records import Entry, circuit_path, trade_path
from ..service import circuit_name, kind_name


def index(desk: Desk) -> tuple[Entry, ...]:
    return (*_panels(desk), *_circuits(desk), *_breakers(desk), *_points(desk))


def _entry(path: str, name: str, says: str, *more: str) -> Entry:
    return Entry(path, name, says, " ".join(dict.fromkeys(folded(" ".join((name, says, *more))))))


def _panels(desk: Desk) -> Iterator[Entry]:
    words = desk.words
    for panel in desk.job.panels:
        told = ("main", "bonding", "spaces", "legs", "neutrals", "sources")
        names = (words.text("service.panel"), words.text("panel.spare"), *(words.text(f"service.trade.facts.{name}") for name in told))
        yield _entry(trade_path(panel.id), panel.id, panel.at, *names)


def _circuits(desk: Desk) -> Iterator[Entry]:
    for circuit in desk.by_space():
        yield _entry(circuit_path(circuit.key), circuit_name(desk, circuit), circuit.serves)


def _breakers(desk: Desk) -> Iterator[Entry]:
    for id in dict.fromkeys(circuit.breaker for circuit in desk.by_space()):
        breaker = desk.job.breaker[id]
        says = (f"{breaker.amps:g} A" if breaker.amps else "", kind_name(desk.words, breaker.kind),
                desk.words.text("service.space", space=breaker.space))
        yield _entry(trade_path(id), id, desk.words.join([part for part in says if part]), *map(str, breaker.device.values()))


def _points(desk: Desk) -> Iterator[Entry]:
    for id in desk.tree.order:
        point = desk.point(id)
        path = trade_path(id) if point.kind.opens else f"{circuit_path(point.circuit)}#{id}"
        yield _entry(path, id, place(desk, id).removesuffix("."), kind_name(desk.words, point.kind), *map(str, point.device.values()))
