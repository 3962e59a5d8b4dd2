"""Takes what a search found; gives the plan as steps: which box to open, what each of its cables leads to, and what it costs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .side import Side, bits

Suspect = str | tuple[str, str]    # a box; the cable between two


@dataclass(frozen=True, slots=True)
class Lead:
    """One cable at an open box, read by itself. Bad: go on at a step, or it is the cable, since its other end is open too."""

    cable: tuple[str, str]    # the fed end last
    toward: str
    step: int | None          # None: the fault is in the cable


@dataclass(frozen=True, slots=True)
class Step:
    number: int
    open: str
    suspects: tuple[Suspect, ...]    # where the fault can be when this box is opened
    leads: tuple[Lead, ...]          # none of them bad: the fault is in the box itself


@dataclass(frozen=True, slots=True)
class Cost:
    reach: float      # in times an easy receptacle
    openings: float


@dataclass(frozen=True, slots=True)
class Plan:
    starts: tuple[int, ...]          # the step to go to for each part that was planned
    steps: tuple[Step, ...]
    expected: Cost
    worst: Cost


def plan_of(side: Side, opens: Mapping[int, int], parts: Sequence[int], device: str) -> Plan:
    """`parts` in the order that they are followed; `device` is what everything hangs on, and is open."""
    numbers = _numbered(side, opens, parts)
    steps = tuple(_step(side, opens, part, number, numbers, device) for part, number in numbers.items())
    total = sum(side.weight(part) for part in parts) or 1
    weights = [(part, side.weight(part)) for part in numbers]
    expected = Cost(sum(side.boxes[opens[part]].reach * weight for part, weight in weights) / total,
                    sum(weight for _, weight in weights) / total)
    worst = Cost(max((_worst(side, opens, part, True) for part in parts), default=0),
                 max((_worst(side, opens, part, False) for part in parts), default=0))
    return Plan(tuple(numbers[part] for part in parts), steps, expected, worst)


def _numbered(side: Side, opens: Mapping[int, int], parts: Sequence[int]) -> dict[int, int]:
    numbers: dict[int, int] = {}
    waiting = list(parts)[::-1]
    while waiting:
        part = waiting.pop()
        numbers[part] = len(numbers) + 1
        waiting += side.without(part, opens[part])[::-1]
    return numbers


def _step(side: Side, opens: Mapping[int, int], part: int, number: int, numbers: Mapping[int, int], device: str) -> Step:
    box = opens[part]
    ends = [i for i in (box, *bits(side.near[box])) if (i == box or side.up[i] == box) and side.boxes[i].cable]
    leads = []
    for i in ends:      # the cable into box i
        source = side.up[i]
        other = source if i == box else i
        toward = part & side.toward(box, other) if other >= 0 else 0
        name = side.boxes[other].id if other >= 0 else device
        leads.append(Lead(_cable(side, i, device), name, numbers[toward] if toward else None))
    return Step(number, side.boxes[box].id, suspects(side, part, device), tuple(leads))


def suspects(side: Side, part: int, device: str) -> tuple[Suspect, ...]:
    """In feed order, the cable into a box before the box."""
    found: list[Suspect] = []
    for i, box in enumerate(side.boxes):
        inside = part >> i & 1
        if box.cable and (inside or side.up[i] >= 0 and part >> side.up[i] & 1):
            found.append(_cable(side, i, device))
        if inside:
            found.append(box.id)
    return tuple(found)


def _cable(side: Side, i: int, device: str) -> tuple[str, str]:
    return side.boxes[side.up[i]].id if side.up[i] >= 0 else device, side.boxes[i].id


def _worst(side: Side, opens: Mapping[int, int], part: int, by_reach: bool) -> int:
    box = opens[part]
    own = side.boxes[box].reach if by_reach else 1
    return own + max((_worst(side, opens, one, by_reach) for one in side.without(part, box)), default=0)
