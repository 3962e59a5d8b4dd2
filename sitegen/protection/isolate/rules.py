"""Takes a part; gives a plan by simple rules: what is dear to search exactly is at least planned, and a search knows what to beat.

The rules: the box that leaves the lightest heaviest part; the likeliest for its reach; the one whose parts weigh least together
with its own opening. Each is followed to the end; the best of them is taken, part by part.
"""

from __future__ import annotations

from collections.abc import Callable

from .aims import Aim
from .side import Side, bits

Rule = Callable[[Side, int, int], tuple[float, ...]]


def _halve(side: Side, part: int, box: int) -> tuple[float, ...]:
    return max((side.weight(one) for one in side.without(part, box)), default=0), side.boxes[box].reach, box


def _likeliest(side: Side, part: int, box: int) -> tuple[float, ...]:
    return -side.load[box] / side.boxes[box].reach, box


def _lowest(side: Side, part: int, box: int) -> tuple[float, ...]:
    """Both counted: its own reach on all, and what is left as if half of it were opened."""
    left = sum(side.weight(one) * (one.bit_count().bit_length()) for one in side.without(part, box))
    return side.boxes[box].reach * side.weight(part) + left, box


RULES: tuple[Rule, ...] = (_halve, _likeliest, _lowest)


def by_rules(side: Side, aim: Aim, part: int) -> tuple[int, dict[int, int]]:
    """(cost, part -> box to open) of the best plan that these rules find."""
    known: dict[tuple[int, int], int] = {}
    choice: dict[tuple[int, int], int] = {}

    def cost(rule: int, start: int) -> int:
        waiting = [start]
        while waiting:
            here = waiting[-1]
            if (rule, here) in known:
                waiting.pop()
                continue
            if (rule, here) not in choice:
                choice[rule, here] = min(bits(side.candidates(here)), key=lambda box: RULES[rule](side, here, box))
            box = choice[rule, here]
            parts = side.without(here, box)
            missing = [one for one in parts if (rule, one) not in known]
            if missing:
                waiting += missing
            else:
                known[rule, here] = aim.own(side, here, box) + aim.join([known[rule, one] for one in parts])
        return known[rule, start]

    opens: dict[int, int] = {}

    def plan(here: int) -> int:
        rule = min(range(len(RULES)), key=lambda rule: cost(rule, here))
        opens[here] = choice[rule, here]
        return aim.own(side, here, opens[here]) + aim.join([plan(one) for one in side.without(here, opens[here])])

    return plan(part), opens
