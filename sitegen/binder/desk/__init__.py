"""Takes the report and the words of one language; gives what every composing function works with."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from ...job import in_language
from ...job.records import Circuit, Job, Panel, Point
from ...protection.evidence import Evidence
from ...protection.examine import Report
from ...protection.proof import Proof
from ...protection.tree import Tree
from .claims import Claims
from .words import Piece, Rich, Words


@dataclass(frozen=True)
class Desk:
    """One house in one language. What was shown does not hang on the language; the texts of `job` do."""

    report: Report
    words: Words
    further: str = ""       # the language, where it is not the job's first
    as_draft: bool = False  # a draft is wanted, ready or not
    kept: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)   # see once.py

    @cached_property
    def claims(self) -> Claims:
        """What may be said of what was shown; nothing is claimed past it."""
        return Claims(self.report)

    @cached_property
    def job(self) -> Job:
        """The job with its texts in this language."""
        return in_language(self.report.job, self.further) if self.further else self.report.job

    @property
    def tree(self) -> Tree:
        return self.report.tree

    @property
    def evidence(self) -> Evidence:
        return self.report.evidence

    @property
    def proof(self) -> Proof:
        return self.report.proof

    def point(self, id: str) -> Point:
        return self.job.point[id]

    def panel_of(self, id: str) -> Panel:
        """The panel that a breaker, or the breaker of a point, sits in."""
        return self.job.panel[self.tree.panel_of[self.tree.breaker_of(id)]]

    @property
    def draft(self) -> bool:
        return self.as_draft or not self.report.ready

    @property
    def draft_mark(self) -> str | None:
        """The word that marks a draft."""
        return self.words.text("draft") if self.draft else None

    @property
    def label_mm(self) -> tuple[float, float]:
        """Width and height of a label of the stock."""
        return self.job.file.labels.width_mm, self.job.file.labels.height_mm

    @property
    def firm(self) -> str:
        return self.job.file.contractor.get("firm") or self.words.text("no_phone")

    @property
    def phone(self) -> str:
        return self.job.file.contractor.get("phone", "")

    @property
    def emergency(self) -> str:
        """The number to call for fire and shock: the home's own, else the one of the language."""
        return self.job.file.emergency or self.words.text("emergency_number")

    def company(self, name: str) -> Rich:
        """": 555-0142", where the contractor gives the number of the "power company" or "heating company"; else nothing."""
        number = self.job.file.contractor.get(name, "")
        return Rich((Piece(": "), Piece(number.replace(" ", "\u00a0"), "phone")) if number else ())

    def by_space(self) -> tuple[Circuit, ...]:
        """Every circuit, panel by panel, from the first space of its panel on."""
        panels = [panel.id for panel in self.job.panels]

        def place(circuit: Circuit) -> tuple[int, int, str]:
            space = self.job.breaker[circuit.breaker].space
            number = re.match(r"\d+", space)
            return panels.index(circuit.panel), int(number[0]) if number else 10_000, space

        return tuple(sorted(self.job.circuits, key=place))


def room_and_spot(panel: Panel) -> tuple[str, str]:
    """Where a panel hangs: "Garage", "by the side door"."""
    return panel.room_and_spot
