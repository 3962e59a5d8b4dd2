"""A spreadsheet of points in, the text of a map out that `read_map` reads, and what to tell of every row and cell that it
could not place.

The reader of the map is the only judge: a map is written with one cell a line, read, and each fault is settled at the cell
or row it speaks of, until none is left. No rule of the map is repeated here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ...errors import CallError, Fault, Where
from ...job.map.points import DEVICE, POINT
from ...job.map.read import FILE, read_map
from ...job.read.rows import Row, read_rows
from . import usual
from .sheet_plan import Entry, Owner, SheetCircuit, SheetPlan, lines_of, lost
from .usual import IN_ROOM, in_our_words, is_home_run, with_our_header

FEW = 2     # rows of which the same is asked row by row
PANEL, AT = "P1", "TO WRITE: where this panel hangs"

# (part of the map, its key) -> the names that its column may have, in any case, with blanks or _.
_POINT = tuple(("point", key) for key in POINT.known if key != "device")
_OTHERS: dict[tuple[str, str], tuple[str, ...]] = {
    ("circuit", "number"): ("circuit", "circuit_number"), ("circuit", "serves"): ("serves",), ("circuit", "work"): ("work",),
    ("panel", "id"): ("panel", "panel_id"), ("panel", "at"): ("panel_at",), ("panel", "fed_from"): ("panel_fed_from",),
    ("breaker", "id"): ("breaker", "breaker_id"), ("breaker", "space"): ("space", "breaker_space"),
    ("breaker", "amps"): ("amps", "breaker_amps"), ("breaker", "type"): ("type", "breaker_type"),
    ("breaker", "poles"): ("poles", "breaker_poles"),
    ("wire", "awg"): ("awg", "wire_awg"), ("wire", "metal"): ("metal", "wire_metal"),
    ("wire", "cable"): ("cable", "wire_cable")} | {
    ("device", key): (key, f"device_{key}") for key in DEVICE.known if " " not in key}
_PLACE = {place[1]: place for place in _POINT} | {name: place for place, names in _OTHERS.items() for name in names}
# What is written where a cell cannot be read; "" leaves it out, None: what it belongs to cannot stand without it.
_INSTEAD: dict[tuple[str, str], str | None] = {
    **{("point", key): None for key in ("id", "is", "room", "at")},
    ("point", "fed_from"): "unknown", ("breaker", "type"): "standard", ("breaker", "id"): None, ("breaker", "space"): None,
    ("circuit", "number"): None, ("circuit", "panel"): None, ("circuit", "serves"): None, ("panel", "id"): None,
    ("panel", "at"): AT}
# As the rough-in page writes them.
PAGE_COLUMNS = ("circuit", "panel", "panel_at", "panel_fed_from", "breaker", "space", "poles", "amps", "type", "awg", "metal", "serves", "id", "is",
                "room", "at", "fed_from", "use", "note", "rating", "class", "make", "model", "date_code", "installed", "torque")
PAGE_HEADER = ",".join(PAGE_COLUMNS) + "\n"


@dataclass(frozen=True, slots=True)
class SheetMap:
    text: str               # of the map
    placed: int             # how many points
    told: str               # the report, a line each


def map_from_sheet(text: str, file: str) -> SheetMap:
    """The map of one row a point; `file` names the sheet in the report."""
    faults: list[Fault] = []
    text, called = with_our_header(text, tuple(_PLACE))
    rows = list(read_rows(text, file, tuple(_PLACE), ("id", "is"), faults, free=tuple(_PLACE)))
    plan = SheetPlan(file, has_room=not rows or "room" in rows[0].cells)
    for fault in faults:
        plan.tell(replace(fault, expected="a key of the map", do="rename it if it is one; it was left out")
                  if fault.met.startswith("unknown column") else fault)
    above: SheetCircuit | None = None
    for row in rows:
        above = _take(row, plan, above)
    _complete(plan)
    _settle(plan)
    lines = "".join(f"{line}\n" for line, _ in lines_of(plan, one_a_line=False))
    placed = sum(len(circuit.points) for circuit in plan.circuits.values())
    bottom = lost(plan, text, rows, faults)
    told = usual.told(called) + "".join(f"{says}\n" for says in _once(plan.told))
    return SheetMap(f"# The as-built map, made from {file}. `sitegen check` says what is left to mend and to show.\n"
                    f"{lines}{bottom}", placed, f"{told}{_fed_from_unknown(plan)}{placed} points on {len(plan.circuits)} "
                    f"circuits placed, {len(plan.unplaced)} rows not.\n")


def _once(told: list[tuple[Fault, str]]) -> Iterator[str]:
    """What has to be told, in the order of the sheet; what is asked of many rows in the same words, once."""
    alike: dict[tuple[str, str, str], list[Fault]] = {}
    for fault, done in sorted(told, key=lambda one: one[0].where):
        alike.setdefault((fault.expected, fault.do, done), []).append(fault)
    for (expected, do, done), faults in alike.items():
        if len(faults) <= FEW:
            yield from (f"{fault} {done}".rstrip() for fault in faults)
        else:
            lines = ", ".join(dict.fromkeys(str(fault.where.line) for fault in faults))
            met = "; ".join(dict.fromkeys(fault.met for fault in faults))
            yield f"{faults[0].where.file}, lines {lines}: {met}; expected {expected}. {do[:1].upper()}{do[1:]}. {done}".rstrip()


def _take(row: Row, plan: SheetPlan, above: SheetCircuit | None) -> SheetCircuit | None:
    """Enter one row; the circuit that the row below repeats."""
    if row.spoilt:
        plan.unplaced.add(row.where.line)
        return above
    cells: dict[tuple[str, str], str] = {}
    plan.above = {name: plan.above.get(name, "") if row.ditto(name) else text for name, text in row.cells.items()}
    for name, text in plan.above.items():
        if text:
            cells.setdefault(_PLACE[name], " ".join(text.split()))
    cells = in_our_words(cells, plan.has_room)
    if cells.get(("point", "at")) == IN_ROOM:
        plan.tell(Fault(row.where, f"`{cells['point', 'room']}` says the room alone", "the room and the spot in it, as in `Kitchen, left "
                        "of the sink`", "write it in the map"), f"`at: {IN_ROOM}` was written.")
    number = cells.pop(("circuit", "number"), above.head.cells["number"].text if above else "")
    panel = cells.pop(("panel", "id"), above.panel if above else PANEL)
    if not number:
        plan.tell(Fault(row.where, "this row has no `circuit`", "the number of its circuit, here or in a row above",
                        "write it"), "The row stands at the end of the map as a comment.")
        plan.unplaced.add(row.where.line)
        return above
    box = plan.panels.setdefault(panel.upper(), Entry("panel", row.where))
    circuit = plan.circuits.setdefault((panel.upper(), number.casefold()), SheetCircuit(
        panel, Entry("circuit", row.where), Entry("breaker", row.where), Entry("wire", row.where)))
    if not circuit.head.cells:
        circuit.head.put("number", number, row.where)
    point = Entry("point", row.where)
    entries = {"panel": box, "circuit": circuit.head, "breaker": circuit.breaker, "wire": circuit.wire, "point": point,
               "device": point}
    for (part, key), text in cells.items():
        _put(plan, entries[part], key, text, row.where)
    if point.cells:
        circuit.points.append(point)
    circuit.bare |= not point.cells
    return circuit


def _put(plan: SheetPlan, entry: Entry, key: str, text: str, where: Where) -> None:
    first = entry.cells.get(key)
    if first is None:
        entry.put(key, text, where)
    elif first.text.casefold() != text.casefold():
        plan.tell(Fault(where, f"{entry.part} `{key}: {text}`, but `{first.text}` in line {first.where.line}",
                        "the same in every row, or a blank", "correct one of the two"), "The first was written.")
        plan.left_out.append(f"line {where.line}: {entry.part} {key}: {text}")


def _complete(plan: SheetPlan) -> None:
    """Write what a map cannot be without, where the sheet leaves it blank; nothing that could promise anything."""
    for id, panel in plan.panels.items():
        panel.put("id", id, panel.where)
        if "at" not in panel.cells:
            panel.put("at", AT, panel.where)
            plan.tell(Fault(panel.where, f"nothing says where panel {id} hangs", "the column `panel at`",
                            "write it in the map"), f"`at: {AT}` was written.")
    taken = _share_breakers(plan)
    for circuit in plan.circuits.values():
        head, breaker, where = circuit.head, circuit.breaker, circuit.head.where
        number = head.cells["number"].text
        head.put("panel", circuit.panel, where)
        if "serves" not in head.cells:
            rooms = (point.cells["room"].text for point in circuit.points if "room" in point.cells)
            head.put("serves", ", ".join(dict.fromkeys(rooms)) or f"Circuit {number}", where)
        if "id" not in breaker.cells:
            plain = re.sub(r"[^A-Za-z0-9]+", "-", f"B{number}").strip("-")
            breaker.put("id", plain if plain.upper() not in taken else f"{plain}-{circuit.panel}", where)
            taken.add(plain.upper())
        if "space" not in breaker.cells:
            breaker.put("space", number, where)
        if "type" not in breaker.cells:
            breaker.put("type", "standard", where)
            plan.tell(Fault(where, f"circuit {number} has no breaker `type`", "the column `breaker type`",
                            "correct it in the map if the breaker has a TEST button"),
                      "`type: standard` was written, which guards nobody.")
        for point in circuit.points:
            if "fed_from" in point.cells and is_home_run(point.cells["fed_from"].text, number):
                point.put("fed_from", breaker.cells["id"].text, point.where)
            if "fed_from" not in point.cells:
                point.put("fed_from", "unknown", point.where)


def _share_breakers(plan: SheetPlan) -> set[str]:
    """Give circuits that write the same breaker one between them; every id that the sheet writes, in capitals."""
    breakers: dict[str, Entry] = {}
    for circuit in plan.circuits.values():
        id = circuit.breaker.cells.get("id")
        first = breakers.setdefault(id.text.upper(), circuit.breaker) if id else circuit.breaker
        if first is not circuit.breaker:
            for cell in circuit.breaker.cells.values():
                _put(plan, first, cell.key, cell.text, cell.where)
            circuit.breaker = first
    points = {point.cells["id"].text.upper() for circuit in plan.circuits.values() for point in circuit.points
              if "id" in point.cells}
    return {*breakers, *points, *plan.panels}


def _fed_from_unknown(plan: SheetPlan) -> str:
    """What to tell of the points that nothing is written to feed."""
    ids = [point.cells["id"].text for circuit in plan.circuits.values() for point in circuit.points
           if point.cells["fed_from"].text.casefold() == "unknown"]
    return (f"`fed_from: unknown` was written for {' '.join(ids)}. Write what feeds each of them; on old wiring where "
            "nobody can find it, leave it so.\n" if ids else "")


def _settle(plan: SheetPlan) -> None:
    """Read what would be written, and mend what the reader faults, until it has no fault."""
    while True:
        plan.circuits = {key: circuit for key, circuit in plan.circuits.items() if circuit.points or circuit.bare}
        if not plan.circuits:
            return
        lines = list(lines_of(plan, one_a_line=True))
        faults: list[Fault] = []
        read_map("".join(f"{line}\n" for line, _ in lines), faults)
        if not faults:
            return
        mended: set[int] = set()
        for fault in faults:
            owner = lines[fault.where.line - 1][1] if fault.where.file == FILE else None
            if owner is None:
                raise CallError(f"the map that {plan.file} makes cannot be read: {fault}")
            circuit, entry, cell = owner
            told = replace(fault, where=(cell or entry).where, met=_by_row(fault.met, lines))
            _mend(plan, owner, told, again=id(cell or entry) in mended)
            mended.add(id(cell or entry))


def _by_row(met: str, lines: list[tuple[str, Owner | None]]) -> str:
    """A fault's words, a line of the map that they name turned into the line of the sheet."""
    def line(found: re.Match[str]) -> str:
        owner = lines[int(found[1]) - 1][1] if int(found[1]) <= len(lines) else None
        return f"line {(owner[2] or owner[1]).where.line}" if owner else found[0]
    return re.sub(r"\bline (\d{1,6})\b", line, met)


def _mend(plan: SheetPlan, owner: Owner, fault: Fault, again: bool) -> None:
    """Write something else, leave the cell out, or take the row or the circuit out of the map."""
    circuit, entry, cell = owner
    instead = _INSTEAD.get((cell.part, cell.key), "") if cell else None
    gone = circuit and (circuit not in plan.circuits.values() or entry.part == "point" and entry not in circuit.points)
    if again or gone:
        plan.tell(fault)
    elif cell and instead is not None and cell.text != instead:
        plan.left_out.append(f"line {cell.where.line}: {cell.part} {cell.key}: {cell.text}")
        plan.tell(fault, f"`{cell.key}: {instead}` was written." if instead else "It was left out.")
        cell.text = instead
        if not instead:
            del entry.cells[cell.key]
    elif circuit and entry.part == "point":
        plan.tell(fault, "The row stands at the end of the map as a comment.")
        plan.unplaced.add(entry.where.line)
        circuit.points.remove(entry)
    else:
        plan.tell(fault, "Its rows stand at the end of the map as comments.")
        for key, other in list(plan.circuits.items()):
            if other is circuit or circuit is None and plan.panels[key[0]] is entry:
                plan.unplaced |= {other.head.where.line, *(point.where.line for point in other.points)}
                del plan.circuits[key]
