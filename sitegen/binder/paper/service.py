"""Takes the desk; gives the service record on paper: a circuit's map, and what faces it; the rounds, which are of the whole house."""

from __future__ import annotations

from ...job.records import Circuit
from ..desk import Desk
from ..site.circuit import TestRow, circuit_sheet, tests_of, told_row
from ..site.service import also_in_neutral, handle_state
from .records import CircuitLeaf


def circuit_leaf(desk: Desk, circuit: Circuit) -> CircuitLeaf:
    sheet, words = circuit_sheet(desk, circuit), desk.words
    ids = {circuit.breaker, *(row.id for row in sheet.rows)}
    sources = desk.tree.other_sources(circuit.breaker)
    about = (handle_state(desk, circuit.breaker), also_in_neutral(desk, circuit.breaker),
             f"{words.text('service.sources')}: {words.join(sources)}" if sources else "", circuit.note)
    points = [(row.id, "; ".join(filter(None, (row.guard, *row.notes)))) for row in sheet.rows]
    opens, live = (words.text(f"service.live.columns.{name}") for name in ("opens", "live"))
    rows = [told_row(desk, row, ids) for row in tests_of(desk, ids) if not row.together]
    return CircuitLeaf(sheet, ". ".join(text.rstrip(".") for text in about if text) + ".",
                       tuple((row.id, f"{opens} {row.opens}. {live}: {row.live}.") for row in sheet.live),
                       tuple((id, says) for id, says in points if says), tuple(_told(desk, row) for row in rows))


def rounds(desk: Desk) -> tuple[tuple[str, str], ...]:
    """Every walk with several things open, the newest first: once, since it concerns most circuits."""
    return tuple(_told(desk, told_row(desk, row, desk.tree.order)) for row in reversed(desk.evidence.record) if row.together)


def _told(desk: Desk, row: TestRow) -> tuple[str, str]:
    """The day and the place; all that was seen, in one paragraph."""
    heads = ("before", "tripped", "dead", "live", "after", "reset")
    seen = [f"{desk.words.text(f'service.row_columns.{name}')} {value}" for name in heads if (value := getattr(row, name))]
    return f"{row.date} {row.outlet}", ". ".join(filter(None, (
        "; ".join((row.pressed, *seen)), row.note.rstrip("."), row.by.rstrip(".")))) + "."
