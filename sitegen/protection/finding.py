"""What a finding is: one thing that the contractor has to hear."""

from __future__ import annotations

from dataclasses import dataclass

from ..errors import Where
from .changes import Change


@dataclass(frozen=True, slots=True)
class Finding:
    kind: str                # a slug that does not change
    level: str               # stop | fix | know
    where: Where
    points: tuple[str, ...]  # ids it speaks of, the first one decides the room it is listed under
    says: str                # one plain sentence or two: what, and what to do
    changes: tuple[Change, ...] = ()  # of the map, one after the other, where it proposes a correction
