"""What the rows of a spreadsheet become before they are a map: panels, circuits and points as cells; and its lines as text."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from ...errors import Fault, Where
from ...job.map.points import DEVICE, POINT
from ...job.read.rows import Row


@dataclass(eq=False, slots=True)
class Cell:
    part: str
    key: str
    text: str
    where: Where


@dataclass(eq=False, slots=True)
class Entry:
    """A panel, circuit, breaker or point: its cells by their key."""

    part: str
    where: Where
    cells: dict[str, Cell] = field(default_factory=dict)

    def put(self, key: str, text: str, where: Where) -> None:
        self.cells[key] = Cell(self.part, key, text, where)


@dataclass(eq=False, slots=True)
class SheetCircuit:
    panel: str
    head: Entry
    breaker: Entry
    wire: Entry
    points: list[Entry] = field(default_factory=list)
    bare: bool = False      # a row gave it without a point: a feeder


@dataclass(slots=True)
class SheetPlan:
    """What is to be written, and what has to be told."""

    file: str
    panels: dict[str, Entry] = field(default_factory=dict)
    circuits: dict[tuple[str, str], SheetCircuit] = field(default_factory=dict)
    told: list[tuple[Fault, str]] = field(default_factory=list)     # and what was done about it
    has_room: bool = True
    unplaced: set[int] = field(default_factory=set)      # first lines of rows
    left_out: list[str] = field(default_factory=list)    # cells
    above: dict[str, str] = field(default_factory=dict)  # the row before, which a ditto mark repeats

    def tell(self, fault: Fault, done: str = "") -> None:
        self.told.append((fault, done))


Owner = tuple[SheetCircuit | None, Entry, Cell | None]


def lines_of(plan: SheetPlan, one_a_line: bool) -> Iterator[tuple[str, Owner | None]]:
    """The lines of the map, each with the cell or the entry that a fault in it speaks of."""
    circuits = plan.circuits.values()
    used = {circuit.panel.upper() for circuit in circuits}
    yield "panels:", None
    for id, panel in plan.panels.items():
        if id in used:
            yield from _flow("  - ", None, panel, one_a_line)
    yield "circuits:", None
    written: list[Entry] = []
    for circuit in circuits:
        for key in ("number", "panel", "serves", "work"):
            cell = circuit.head.cells.get(key)
            if cell:
                yield f"{'  - ' if key == 'number' else '    '}{key}: {_quoted(cell.text)}", (circuit, circuit.head, cell)
        if circuit.breaker in written:
            named = circuit.breaker.cells["id"]
            yield f"    breaker: {_quoted(named.text)}", (circuit, circuit.breaker, named)
        else:
            yield from _flow("    breaker: ", circuit, circuit.breaker, one_a_line)
        written.append(circuit.breaker)
        if circuit.wire.cells:
            yield from _flow("    wire: ", circuit, circuit.wire, one_a_line)
        yield f"    points:{'' if circuit.points else ' []'}", (circuit, circuit.head, None)
        for point in circuit.points:
            yield from _flow("      - ", circuit, point, one_a_line)


def _flow(before: str, circuit: SheetCircuit | None, entry: Entry, one_a_line: bool) -> Iterator[tuple[str, Owner]]:
    known = POINT.known if entry.part == "point" else tuple(dict.fromkeys(("id", "space", "amps", "type", *entry.cells)))
    cells = [entry.cells[key] for key in known if key in entry.cells]
    pieces = [f"{cell.key}: {_quoted(cell.text)}" for cell in cells]
    device = [cell for key, cell in entry.cells.items() if entry.part == "point" and key in DEVICE.known]
    if device:
        cells.append(device[0])
        pieces.append(f"device: {{{', '.join(f'{cell.key}: {_quoted(cell.text)}' for cell in device)}}}")
    if not one_a_line:
        yield f"{before}{{{', '.join(pieces)}}}", (circuit, entry, None)
        return
    yield f"{before}{{", (circuit, entry, None)
    for cell, piece in zip(cells, pieces):
        yield f"          {piece},", (circuit, entry, cell)
    yield "          }", (circuit, entry, None)


def _quoted(text: str) -> str:
    """
    >>> _quoted("right of the sink"), _quoted("wall: by the door")
    ('right of the sink', '"wall: by the door"')
    """
    plain = re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9 ./()'-]*", text)
    return text if plain else json.dumps(text, ensure_ascii=False)


def lost(plan: SheetPlan, text: str, rows: list[Row], faults: list[Fault]) -> str:
    """Comments that hold every row and cell that the map does not."""
    lines = text.split("\n")
    starts = [row.where.line for row in rows]
    unread = [fault.where.line for fault in faults if starts and fault.where.line > starts[-1] or not starts]
    starts = sorted({*starts, *unread, len(lines) + 1})
    plan.unplaced |= set(unread)
    out = [f"# {piece}" for piece in plan.left_out]
    for start, end in zip(starts, starts[1:]):
        if start in plan.unplaced:
            out += [f"# line {start}: {lines[start - 1]}", *(f"#   {line}" for line in lines[start:end - 1])]
    return "".join(f"{line.rstrip()}\n" for line in ([f"# Not placed, from {plan.file}:", *out] if out else []))
