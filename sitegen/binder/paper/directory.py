"""Takes the desk and a panel; gives the directory that hangs at its door."""

from __future__ import annotations

from ...job.records import Panel
from ..desk import Desk
from .records import Directory, DirectoryRow


def directory(desk: Desk, panel: Panel) -> Directory:
    """Every circuit of a panel by space.

    NEC 408.4(A), as reported: each circuit by its clear, evident and specific purpose, told apart from all others. A
    spare is described where the map names it as a circuit; an abbreviation is explained (2023, as reported).
    """
    job = desk.job
    rows, kinds = [], []
    for circuit in (circuit for circuit in desk.by_space() if circuit.panel == panel.id):
        breaker = job.breaker[circuit.breaker]
        kinds.append(breaker.kind.name)
        poles = desk.words.text("print.poles", poles=breaker.poles) if breaker.poles > 1 else ""
        rows.append(DirectoryRow(breaker.space, circuit.serves,
                                 " ".join(filter(None, (desk.words.get(f"kinds.breakers.{breaker.kind.name}.short"), poles))),
                                 f"{breaker.amps:g}" if breaker.amps else ""))
    power = [desk.words.text("print.supplied_by", space=job.breaker[panel.fed_from].space,
                        at=desk.panel_of(panel.fed_from).at)] if panel.fed_from else []
    power += [desk.words.text("print.also_supplied_by", source=desk.words.get(f"answer.sources.{source}"))
              for source in panel.also_supplied_by]
    legend = tuple((desk.words.get(f"kinds.breakers.{kind}.short"), desk.words.get(f"kinds.breakers.{kind}.long"))
                   for kind in dict.fromkeys(kinds))
    return Directory(panel.id, panel.at, tuple(power), tuple(rows), legend)
