"""Takes the desk and a panel; gives the sheet that hangs inside its door, and the leaf that says how often each breaker is pushed."""

from __future__ import annotations

from ...job.records import Circuit, Panel
from ..answer.lists import by_room
from ..desk import Desk
from ..months import rule_in_words
from ..panel import panel_face, pushed_twice
from ..site.panel import panel_power
from .log import monthly_days
from .records import Directory, DirectoryRow


def directory(desk: Desk, panel: Panel) -> Directory:
    """Every circuit of a panel by space.

    NEC 408.4(A), as reported: each circuit by its clear, evident and specific purpose, told apart from all others. A
    spare is described where the map names it; an abbreviation is explained (2023, as reported).
    """
    circuits = [circuit for circuit in desk.by_space() if circuit.panel == panel.id]
    kinds = dict.fromkeys(desk.job.breaker[circuit.breaker].kind for circuit in circuits)
    legend = tuple((desk.words.get(f"kinds.breakers.{kind.name}.short"), desk.words.get(f"kinds.breakers.{kind.name}.long")) for kind in kinds)
    names = desk.words.get("print.months")
    months = tuple(names[day.month - 1] for day in monthly_days(desk)) if any(kind.opens for kind in kinds) else ()
    return Directory(panel.id, panel.at, panel_face(desk, panel.id), pushed_twice(desk, panel.id), panel_power(desk, panel), rule_in_words(desk), months,
                     tuple(_row(desk, circuit) for circuit in circuits), legend)


def _row(desk: Desk, circuit: Circuit) -> DirectoryRow:
    breaker = desk.job.breaker[circuit.breaker]
    poles = desk.words.text("print.poles", poles=breaker.poles) if breaker.poles > 1 else ""
    kind = " ".join(filter(None, (desk.words.get(f"kinds.breakers.{breaker.kind.name}.short"), poles)))
    seen = by_room(desk, (id for id in desk.claims.turns_off(breaker.id) if desk.point(id).circuit == circuit.key))
    return DirectoryRow(breaker.space, circuit.serves, kind, f"{breaker.amps:g}" if breaker.amps else "", breaker.kind.stops_shock, seen)
