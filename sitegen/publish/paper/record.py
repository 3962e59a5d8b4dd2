"""Takes the circuits of the service record; gives the spreads: which of them share a page of maps, with their tests on the page facing it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from ...binder.paper.records import CircuitLeaf, PrintBinder
from ..drawing.one_line import across
from ..drawing.one_line_svg import SHEET
from .blocks import high
from .sizes import Paper

_BAR, _MARGIN = 21.0, 3.0      # pt: a circuit's title with the air around it; what stands around its drawing

Size = tuple[float, float]     # pt, on the page of maps and on the one that faces it


@dataclass(frozen=True, slots=True)
class Spread:
    circuits: tuple[CircuitLeaf, ...]


def spreads(circuits: Sequence[CircuitLeaf], paper: Paper) -> tuple[Spread, ...]:
    """As few as taking the largest first gives, by any measure of large; on each in the order of the panel. A circuit that is
    higher than a page has pages of its own."""
    room = paper.high - paper.draft - high(paper.text("service.line.legend"), *_type(paper), paper.wide) - 10
    sizes = [(_map(one), _facing(one, paper)) for one in circuits]
    measures: tuple[Callable[[Size], float], ...] = (max, sum, lambda size: size[0], lambda size: size[1])
    dealt = min((_dealt(sizes, room, measure) for measure in measures), key=len)
    return tuple(Spread(tuple(circuits[at] for at in here)) for here in dealt)


def _dealt(sizes: Sequence[Size], room: float, measure: Callable[[Size], float]) -> list[list[int]]:
    found: list[tuple[list[float], list[int]]] = []      # what is left on the two pages, and what is on them
    for at in sorted(range(len(sizes)), key=lambda at: (-measure(sizes[at]), at)):
        fits = (one for one in found if all(size <= left for size, left in zip(sizes[at], one[0])))
        free, here = next(fits, None) or ([room, room], [])
        if not here:
            found.append((free, here))
        free[:] = [left - size for size, left in zip(sizes[at], free)]
        here.append(at)
    return sorted(sorted(here) for _, here in found)


def pages_before(data: PrintBinder, paper: Paper) -> int:
    """How many pages stand between the last leaf, which ends on an even one, and the first spread: the round, two of the log, a leaf a
    panel, the cautions, the contractor's own, the list of the record. What flows is counted by its text alone; where a browser takes a page
    more, the maps stand on the right and their tests on the back."""
    text, apart = paper.sizes["text"], paper.sizes["apart"]
    notes = sum(40 + sum(4 + high(line, text, apart, paper.wide - 12) for line in note.text.splitlines() if line.strip()) for note in data.notes)
    index = data.index
    part = paper.sizes["parts"], paper.sizes["record-apart"]
    rows = sum(4 + max(high(row.details, *part, 155), high(row.place, *part, 115)) for row in index.devices)
    said = [*index.left, *(text for one in index.visits for text in (*(value for _, value in one.facts), *one.done, *one.readings, *one.left))]
    listed = 200 + rows + 60 * len(index.visits) + sum(high(line, paper.sizes["index"], paper.sizes["index-apart"], paper.wide) + 2 for line in said) \
        + _lines((f"{name} {says}" for name, says in data.rounds), paper)
    return 4 + len(data.directories) + math.ceil(notes / paper.high) + math.ceil(listed / paper.high)


def _type(paper: Paper) -> tuple[float, float]:
    return paper.sizes["record"], paper.sizes["record-apart"]


def _map(leaf: CircuitLeaf) -> float:
    return _BAR + _MARGIN + across(leaf.sheet.drawing, SHEET).high


def _facing(leaf: CircuitLeaf, paper: Paper) -> float:
    return _BAR + _lines((f"{name}n  {says}" for name, says in (("", leaf.about), *leaf.live, *leaf.points, *leaf.tests)), paper)


def _lines(texts: Iterable[str], paper: Paper) -> float:
    return sum(high(text, *_type(paper), paper.wide) + paper.sizes["record-air"] for text in texts)
