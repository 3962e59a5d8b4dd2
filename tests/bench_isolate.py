"""By hand: how long a plan of openings takes (processor time), and how far from the best one it may be where the search is cut off.

    python tests/bench_isolate.py [number of load sides, default 100] [boxes on each, default 25]
"""

from __future__ import annotations

import sys
from random import Random
from statistics import median
from time import process_time

from sitegen.protection.isolate.aims import AIMS, Aim
from sitegen.protection.isolate.rules import by_rules
from sitegen.protection.isolate.search import search
from sitegen.protection.isolate.side import Box, Side

SHAPES = ("house", "hub", "run")


def side(rng: Random, boxes: int, shape: str) -> Side:
    """All behind one cable. house: no more than four cables at a box; hub: all from one box; run: one after the other."""
    made, free = [Box("K0", None, 1, 4, 1)], [0, 0, 0]
    for n in range(1, boxes):
        source = free.pop(rng.randrange(len(free))) if shape == "house" else 0 if shape == "hub" else n - 1
        free += [n, n, n]
        made.append(Box(f"K{n}", f"K{source}", rng.choice((1, 1, 1, 2, 3)), rng.choice((3, 4, 4, 6, 10)), rng.choice((1, 2))))
    return Side(tuple(made))


def report(aim: Aim, shape: str, number: int, boxes: int) -> str:
    times, above, by_hand = [], [], []
    for n in range(number):
        one = side(Random(n), boxes, shape)
        start = process_time()
        found = search(one, aim, one.branches)
        times.append(process_time() - start)
        again = search(one, aim, one.branches)
        assert (again.opens, again.costs, again.floors) == (found.opens, found.costs, found.floors), "not the same twice"
        part = one.branches[0]
        above.append(100 * (found.costs[part] / found.floors[part] - 1))
        by_hand.append(by_rules(one, aim, part)[0] / found.costs[part])
    best = sum(x == 0 for x in above)
    return (f"{shape:<6}{aim.name:<7}{boxes:>3} boxes: median {1000 * median(times):7.1f} ms, longest {1000 * max(times):7.1f} ms; "
            f"proved best {best} of {number}, else at most {max(above):.1f} % above; simple rules cost {median(by_hand):.2f} times")


def main() -> None:
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    boxes = int(sys.argv[2]) if len(sys.argv) > 2 else 25
    for shape in SHAPES:
        for aim in AIMS.values():
            print(report(aim, shape, number if shape == "house" else max(1, number // 10), boxes))


if __name__ == "__main__":
    main()
