"""Written for the tests alone: what finding a fault costs at the least, worked out from sets of suspects and wires that are walked.

Takes a load side; nothing of the search is used, neither its parts nor its recurrence.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from random import Random

from sitegen.protection.isolate.side import Box, Side

DEVICE = "D"


def random_side(rng: Random, most: int, reaches: int = 4) -> Side:
    """Branches, runs and hubs of 1 to `most` boxes; reach, likelihoods and cables as they come."""
    shape, boxes = rng.choice(["any", "run", "hub"]), []
    for n in range(rng.randint(1, most)):
        ids = [box.id for box in boxes]
        source = None if not ids or rng.random() < 0.1 else \
            rng.choice(ids) if shape == "any" else ids[-1] if shape == "run" else rng.choice([ids[0], ids[0], ids[-1]])
        boxes.append(Box(f"K{n}", source, rng.randint(1, reaches), rng.randint(1, 9), rng.randint(1, 5)))
    return Side(tuple(boxes))


def wires(side: Side) -> list[tuple[str, str]]:
    return [(box.fed_from or DEVICE, box.id) for box in side.boxes]


def bad_readings(side: Side, opened: Iterable[str], fault: str | tuple[str, str]) -> frozenset[tuple[str, tuple[str, str]]]:
    """(open box, cable there) of every reading that shows this fault: it is met on the way, short of the next open box."""
    cables, opened = wires(side), {*opened, DEVICE}
    found = set()
    for start in opened:
        for cable in cables:
            if start in cable:
                met, waiting = {cable}, [cable[cable[0] == start]]
                while waiting:
                    here = waiting.pop()
                    if here in opened or here in met:
                        continue
                    met.add(here)
                    for other in cables:
                        if here in other and other not in met:
                            met.add(other)
                            waiting.append(other[other[0] == here])
                if fault in met:
                    found.add((start, cable))
    return frozenset(found)


def at_hand(opened: Iterable[str], fault: str | tuple[str, str]) -> bool:
    """The box at fault is open, or both ends of the cable at fault."""
    return {*([fault] if isinstance(fault, str) else fault)} <= {*opened, DEVICE}


def weights(side: Side) -> dict[str | tuple[str, str], int]:
    return {box.id: box.suspect for box in side.boxes} | {(box.fed_from or DEVICE, box.id): box.cable for box in side.boxes}


def cheapest(side: Side, aim: str) -> int:
    """Every box tried at every turn, whatever it tells; `least`: the sum over all places of the fault of weight times reach."""
    weight, reach = weights(side), {box.id: box.reach for box in side.boxes}

    def told_apart(opened: frozenset[str], suspects: Iterable[str | tuple[str, str]]) -> list[frozenset]:
        groups: dict[frozenset, set] = {}
        for fault in suspects:
            groups.setdefault(bad_readings(side, opened, fault), set()).add(fault)
        return [frozenset(group) for group in groups.values()]

    @cache
    def cost(opened: frozenset[str], suspects: frozenset) -> int:
        if all(at_hand(opened, fault) for fault in suspects):
            assert len(suspects) == 1, "a place of the fault that nothing tells from another"
            return 0
        found = []
        for box in set(reach) - opened:
            rest = [cost(opened | {box}, group) for group in told_apart(opened | {box}, suspects)]
            found.append(reach[box] * sum(weight[fault] for fault in suspects) + sum(rest) if aim == "least"
                         else reach[box] + max(rest))
        return min(found)

    costs = [cost(frozenset(), group) for group in told_apart(frozenset(), weight)]
    return sum(costs) if aim == "least" else max(costs)


def plain(side: Side, aim: str) -> int:
    """The recurrence as it is written down, every box tried in every part; for sides that are too large for sets of suspects."""
    boxes, cables = {box.id: box for box in side.boxes}, wires(side)

    def parts(ids: frozenset[str]) -> list[frozenset[str]]:
        left, found = set(ids), []
        while left:
            part, waiting = set(), [min(left)]
            while waiting:
                here = waiting.pop()
                part.add(here)
                waiting += [other for cable in cables if here in cable for other in cable if other in left and other not in part]
            left -= part
            found.append(frozenset(part))
        return found

    @cache
    def cost(part: frozenset[str]) -> int:
        weight = sum(boxes[id].suspect for id in part) + sum(boxes[cable[1]].cable for cable in cables if part & set(cable))
        first = [id for id in part if boxes[id].first] or part
        if aim == "least":
            return min(boxes[id].reach * weight + sum(map(cost, parts(part - {id}))) for id in first)
        return min(boxes[id].reach + max(map(cost, parts(part - {id})), default=0) for id in first)

    costs = [cost(part) for part in parts(frozenset(boxes))]
    return sum(costs) if aim == "least" else max(costs)
