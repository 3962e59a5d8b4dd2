"""What a plan of openings is to make small: the reach that it takes on average, or in the worst case."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from .side import Side


@dataclass(frozen=True, slots=True)
class Aim:
    """What a plan is to make small."""

    name: str                                     # least: expected reach; worst: reach in the worst case
    own: Callable[[Side, int, int], int]          # of opening this box in this part
    join: Callable[[Sequence[int]], int]          # of what is left
    rest: Callable[[Sequence[int]], int]          # of the other parts, as far as they leave less for one


LEAST = Aim("least", lambda side, part, box: side.boxes[box].reach * side.weight(part), sum, sum)
WORST = Aim("worst", lambda side, part, box: side.boxes[box].reach, lambda costs: max(costs, default=0), lambda costs: 0)
AIMS = {aim.name: aim for aim in (LEAST, WORST)}
