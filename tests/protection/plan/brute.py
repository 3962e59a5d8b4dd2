"""For tests alone: random runs, and every way to put devices into one, tried one by one.

Apart from the code under test: devices may stand behind devices, and what a device turns off is found by following the wires
up from each outlet. The wishes are written a second time.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, combinations, product
from random import Random

from sitegen.job.records import Prices, Wishes
from sitegen.protection.plan.run import Box, Run

ROOMS = ("Kitchen", "Dining", "Garage")


def random_run(rng: Random, most_boxes: int = 9) -> Run:
    """One to nine boxes; standing devices, new boxes, every key and wish among them."""
    boxes: list[Box] = []
    room_left = 5
    for n in range(rng.randint(1, most_boxes)):
        source = rng.choice(["", *(box.id for box in boxes), *(box.id for box in boxes[-1:] * 3)])
        outlet = rng.random() < 0.85
        holds = rng.choice(["receptacle", "receptacle", "faceless", "none"]) if room_left else "none"
        room_left -= holds != "none"
        stands = rng.random() < 0.06
        boxes.append(Box(
            f"K{n}", source, outlet=outlet, light=outlet and rng.random() < 0.3, own=outlet or rng.random() < 0.5,
            whole=holds == "faceless" and rng.random() < 0.3, room=rng.choice(ROOMS), needs=rng.random() < (0.5 if outlet else 0.1),
            share=rng.choice(["alone", "never", None, None, None, None, None, None]) if outlet else None,
            holds="none" if stands else holds, new_box=rng.random() < 0.12, cut=rng.random() < 0.06, stands=stands,
            face=stands and outlet, on_load=any(box.id == source and box.stands for box in boxes) and rng.random() < 0.6))
    prices = rng.choice([Prices(), Prices(rng.randint(10, 30), rng.randint(10, 40), rng.randint(20, 60), rng.randint(20, 90),
                                          rng.randint(0, 5))])
    wishes = rng.choice([Wishes(), Wishes(rng.choice([None, 1, 2, 4]), rng.randint(0, 20), rng.randint(0, 9), rng.randint(0, 9))])
    rng.shuffle(boxes)
    return Run.of(boxes, breaker=rng.choice(["B1", None]), breaker_room=rng.choice(ROOMS), prices=prices, wishes=wishes,
                  next_rooms=frozenset([("Kitchen", "Dining")]), lights_elsewhere=frozenset(rng.sample(ROOMS, rng.randint(0, 1))))


def _subsets(ids: list[str]) -> list[tuple[str, ...]]:
    return list(chain.from_iterable(combinations(ids, n) for n in range(len(ids) + 1)))


def _choices(run: Run, box: Box) -> list[tuple[str, tuple[str, ...], bool]]:
    """(device in the box, ids of the cables on its LOAD, a device in a new box before it); its own id: what is in the box."""
    behind = [other.id for other in run.boxes if other.fed_from == box.id]
    here: list[tuple[str, tuple[str, ...]]] = [("", ())]
    if box.stands:
        here = [("stands", (*(o.id for o in run.boxes if o.fed_from == box.id and o.on_load), *([box.id] if box.face else [])))]
    elif box.holds == "receptacle":
        here += [("receptacle", (*load, *([box.id] if box.own else []))) for load in _subsets(behind)]
    elif box.holds == "faceless":
        cables = behind + ([box.id] if box.own else [])
        here += [("faceless", load) for load in ([tuple(cables)] if box.whole else _subsets(cables))]
    return [(how, load, new) for how, load in here for new in ((False, True) if box.new_box else (False,))]


def guards(run: Run, plan: dict[str, tuple[str, tuple[str, ...], bool]], breaker: bool, outlet: str) -> Iterator[tuple[str, str]]:
    """(box, device) of everything before an outlet that opens, following the wire up from it."""
    id, boxes = outlet, {box.id: box for box in run.boxes}
    if outlet in plan[outlet][1]:
        yield outlet, "here"
    while True:
        if plan[id][2]:
            yield id, "new box"
        source = boxes[id].fed_from
        if source not in boxes:
            break
        if id in plan[source][1]:
            yield source, "here"
        id = source
    if breaker:
        yield "B1", "breaker"


def every_plan(run: Run) -> Iterator[tuple[int, int, int]]:
    """(cents with wishes, sum of squares, outlets of the largest new zone) of every plan that breaks nothing hard."""
    for picked in product(*(_choices(run, box) for box in run.boxes)):
        plan = {box.id: choice for box, choice in zip(run.boxes, picked)}
        for breaker in (False, True) if run.breaker else (False,):
            judged = _judge(run, plan, breaker)
            if judged:
                yield judged


def _judge(run: Run, plan: dict[str, tuple[str, tuple[str, ...], bool]], breaker: bool) -> tuple[int, int, int] | None:
    zones: dict[tuple[str, str], list[Box]] = {("B1", "breaker"): []} if breaker else {}
    for box in run.boxes:
        if plan[box.id][0]:
            zones[box.id, "here"] = []
        if plan[box.id][2]:
            zones[box.id, "new box"] = []
    for box in run.boxes:
        over = list(guards(run, plan, breaker, box.id))
        if box.needs and not over:
            return None
        for device in over:
            zones[device].append(box)
    cents = squares = largest = 0
    for (at, kind), zone in zones.items():
        outlets = [box for box in zone if box.outlet]
        squares += len(outlets) ** 2
        if kind == "here" and plan[at][0] == "stands":
            continue
        if any(box.share == "never" for box in zone) or any(box.share == "alone" for box in outlets) and len(outlets) > 1:
            return None
        if kind != "breaker" and any(box.cut and (box.id != at or kind == "new box") for box in zone):
            return None
        largest = max(largest, len(outlets))
        cents += _price(run, plan, at, kind) + _wish(run, at, kind, outlets)
    return cents, squares, largest


def _price(run: Run, plan: dict[str, tuple[str, tuple[str, ...], bool]], at: str, kind: str) -> int:
    prices = run.prices
    if kind != "here":
        return prices.breaker if kind == "breaker" else prices.new_box
    how, load, _ = plan[at]
    own = [box.id for box in run.boxes if box.id == at and box.own and how == "faceless"]
    cables = [box.id for box in run.boxes if box.fed_from == at] + own
    return (prices.receptacle if how == "receptacle" else prices.faceless) + prices.line * len(set(cables) - set(load))


def _wish(run: Run, at: str, kind: str, outlets: list[Box]) -> int:
    room = run.breaker_room if kind == "breaker" else next(box.room for box in run.boxes if box.id == at)
    near = {room, *({"Kitchen": ["Dining"], "Dining": ["Kitchen"]}.get(room, []))}
    wishes, names = run.wishes, {box.id for box in outlets}
    cents = sum(wishes.far for box in outlets if box.room not in near)
    if wishes.most is not None and len(outlets) > wishes.most:
        cents += (len(outlets) - wishes.most) * wishes.over
    for other in ROOMS:
        lights = {box.id for box in run.boxes if box.light and box.room == other}
        if lights and other not in run.lights_elsewhere and lights <= names \
                and any(box.room == other and not box.light for box in outlets):
            cents += wishes.dark
    return cents
