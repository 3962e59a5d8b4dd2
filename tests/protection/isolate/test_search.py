"""The plan of openings: held against every way to open boxes, walked for every place of the fault, and known sums."""

import math
from dataclasses import replace
from random import Random

import pytest
from protection.isolate.brute import at_hand, bad_readings, cheapest, plain, random_side, weights

from sitegen.protection.isolate.aims import AIMS, LEAST, WORST
from sitegen.protection.isolate.rank import rank
from sitegen.protection.isolate.search import fewest_openings, search
from sitegen.protection.isolate.side import Box, Side
from sitegen.protection.isolate.steps import Plan, plan_of

DEVICE = "D"


def planned(side: Side, aim: str, limit: int = 20_000) -> tuple[int, Plan]:
    found = search(side, AIMS[aim], side.branches, limit)
    return AIMS[aim].join(list(found.costs.values())), plan_of(side, found.opens, side.branches, DEVICE)


@pytest.mark.parametrize("aim", AIMS)
def test_up_to_seven_boxes_no_way_to_open_them_is_cheaper(houses, aim):
    for n in range(houses):
        side = random_side(Random(n), 7)
        assert planned(side, aim)[0] == cheapest(side, aim), (n, side.boxes)


@pytest.mark.parametrize("aim", AIMS)
def test_up_to_fourteen_boxes_it_is_the_plain_recurrence(houses, aim):
    for n in range(houses):
        side = random_side(Random(n), 14, reaches=1 + n % 4)
        assert planned(side, aim)[0] == plain(side, aim), (n, side.boxes)


@pytest.mark.parametrize("aim", AIMS)
def test_what_comes_first_comes_first_and_the_rest_is_best(houses, aim):
    for n in range(houses):
        rng = Random(n)
        side = random_side(rng, 10)
        side = Side(tuple(replace(box, first=rng.random() < 0.3) for box in side.boxes))
        cost, plan = planned(side, aim)
        assert cost == plain(side, aim), (n, side.boxes)
        first = {box.id for box in side.boxes if box.first}
        assert all(step.open in first or not first & set(step.suspects) for step in plan.steps)


@pytest.mark.parametrize("aim", AIMS)
def test_end_boxes_on_a_hub_that_is_dear_to_open(houses, aim):
    """Where which of two alike comes first turns on the cable between, and on what only the hub's opening parts."""
    for n in range(houses):
        rng = Random(n)
        ends = (Box(f"K{i}", "K0", rng.randint(1, 2), rng.randint(1, 3), rng.randint(1, 9)) for i in range(1, rng.randint(3, 6)))
        side = Side((Box("K0", None, rng.randint(1, 9), rng.randint(1, 3), rng.randint(1, 3)), *ends))
        assert planned(side, aim)[0] == plain(side, aim), (n, side.boxes)


def walked(side: Side, plan: Plan, fault: str | tuple[str, str]) -> list[str]:
    """The boxes that are opened when the fault is there, going by the plan and what the wires show."""
    opened: list[str] = []
    shown = bad_readings(side, opened, fault)
    at = next(number for number, part in zip(plan.starts, side.branches) if any(
        side.boxes[i].id in cable for _, cable in shown for i in range(len(side.up)) if part >> i & 1))
    while at:
        step = plan.steps[at - 1]
        assert fault in step.suspects
        opened.append(step.open)
        bad = [lead for lead in step.leads if (step.open, lead.cable) in bad_readings(side, opened, fault)]
        assert len(bad) <= 1
        if not bad:
            assert fault == step.open
        elif bad[0].step is None:
            assert fault == bad[0].cable
        at = bad[0].step if bad else None
    assert at_hand(opened, fault)
    return opened


@pytest.mark.parametrize("aim", AIMS)
def test_walked_for_every_place_of_the_fault_it_ends_there_at_the_cost_it_names(houses, aim):
    for n in range(houses):
        side = random_side(Random(1000 + n), 12)
        _, plan = planned(side, aim)
        weight, reach = weights(side), {box.id: box.reach for box in side.boxes}
        ways = {fault: walked(side, plan, fault) for fault in weight}
        total = sum(weight.values())
        assert plan.expected.openings == pytest.approx(sum(weight[fault] * len(way) for fault, way in ways.items()) / total)
        assert plan.expected.reach == pytest.approx(sum(weight[f] * sum(map(reach.get, way)) for f, way in ways.items()) / total)
        assert plan.worst.openings == max(map(len, ways.values()))
        assert plan.worst.reach == max(sum(map(reach.get, way)) for way in ways.values())


def run(n: int) -> Side:
    return Side(tuple(Box(f"K{i}", f"K{i - 1}" if i else None) for i in range(n)))


def tree(levels: int) -> Side:
    return Side(tuple(Box(f"K{i}", f"K{(i - 1) // 2}" if i else None) for i in range(2 ** levels - 1)))


@pytest.mark.parametrize("n", range(1, 33))
def test_a_run_is_halved(n):
    """floor(log2 n) + 1 openings: halving, as in a sorted list."""
    side = run(n)
    assert planned(side, "worst")[1].worst.openings == fewest_openings(side, side.branches) == math.floor(math.log2(n)) + 1


@pytest.mark.parametrize("levels", range(1, 6))
def test_a_complete_tree_takes_its_levels(levels):
    """The vertex ranking number of a complete binary tree is the number of its levels (from memory: sure)."""
    side = tree(levels)
    assert fewest_openings(side, side.branches) == levels
    if levels < 5:
        assert planned(side, "worst")[1].worst.openings == levels


def test_fewest_openings_is_the_worst_case_of_boxes_that_are_all_easy(houses):
    for n in range(houses):
        side = random_side(Random(n), 10, reaches=1)
        assert fewest_openings(side, side.branches) == plain(side, "worst"), (n, side.boxes)
        assert rank(side, side.branches[0]) >= 1


def test_the_textbook_search_tree():
    """An optimal binary search tree of five keys costs 2.75 (Introduction to Algorithms, 15.5, from memory: sure): keys .15 .10
    .05 .10 .20, gaps .05 .10 .05 .05 .05 .10. There a miss costs one comparison more than the last key on its way; here a cable
    is found when its second end is open, so the tree costs 2.75 less the gaps, which sum to 0.40. The last gap hangs on no key."""
    keys, gaps = (15, 10, 5, 10, 20), (5, 10, 5, 5, 5, 10)
    boxes = [Box(f"K{i}", f"K{i - 1}" if i else None, 1, key, gaps[i]) for i, key in enumerate(keys)]
    end = Side((*boxes, Box("E", "K4", 10 ** 6, 1, gaps[5])))
    part = 0b11111      # the last box is not in the part: its cable is
    assert search(end, LEAST, [part]).costs[part] == 275 - 40


def renamed(side: Side) -> Side:
    name = {box.id: f"Z{len(side.boxes) - i}" for i, box in enumerate(side.boxes)}
    return Side(tuple(replace(box, id=name[box.id], fed_from=name.get(box.fed_from)) for box in side.boxes))


@pytest.mark.parametrize("aim", AIMS)
def test_neither_names_nor_the_scale_of_weights_matter(aim):
    for n in range(20):
        side = random_side(Random(n), 12)
        cost, plan = planned(side, aim)
        assert planned(side, aim) == (cost, plan)
        assert planned(renamed(side), aim)[0] == cost
        scaled = Side(tuple(replace(box, suspect=7 * box.suspect, cable=7 * box.cable) for box in side.boxes))
        assert planned(scaled, aim)[1].expected == plan.expected if aim == "worst" else planned(scaled, aim)[0] == 7 * cost


@pytest.mark.parametrize("aim", [LEAST, WORST], ids=lambda aim: aim.name)
def test_cut_off_it_says_how_far_from_the_best_it_may_be(aim):
    """The floor that it names is none above the best, and the plan that it gives none below."""
    short = 0
    for n in range(40):
        side = random_side(Random(n), 13)
        found, exact = search(side, aim, side.branches, limit=1), search(side, aim, side.branches)
        for part in side.branches:
            assert found.floors[part] <= exact.costs[part] <= found.costs[part]
        short += not found.best
        plan_of(side, found.opens, side.branches, DEVICE)
    assert short
