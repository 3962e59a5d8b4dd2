"""Why a need cannot be met, against every plan tried one by one."""

from dataclasses import replace
from random import Random

from protection.plan.brute import every_plan, random_run

from sitegen.protection.plan.run import Box, Run
from sitegen.protection.plan.why import Stands, stands_wrong, unmet


def can(run: Run, needs) -> bool:
    return any(True for _ in every_plan(run.with_boxes(replace(box, needs=box.id in needs) for box in run.boxes)))


def test_the_groups_are_as_small_as_they_can_be_and_the_remedy_helps(houses):
    told = remedies = 0
    for seed in range(2 * houses):
        run = random_run(Random(seed), 5)
        needs = {box.id for box in run.boxes if box.needs}
        found = unmet(run)
        assert bool(found) == (not can(run, needs)), seed
        for group in found:
            assert not can(run, group.ids) and all(can(run, set(group.ids) - {id}) for id in group.ids), seed
            told, needs = told + 1, needs - set(group.ids)
            if group.lowest:
                changed = {"new_box": True} if group.new_box else {"holds": "faceless"}
                helped = run.with_boxes(replace(box, **changed) if box.id == group.lowest else box for box in run.boxes)
                assert can(helped, group.ids), seed
                remedies += 1
        assert can(run, needs), seed
    assert told > houses / 5 and remedies > told / 3


def test_the_lowest_box_that_is_not_closed_is_named():
    run = Run.of([Box("J1", "B1", outlet=False, own=False), Box("J2", "J1", outlet=False, own=False),
                  Box("D1", "J2", needs=True, closed=True)])
    assert [(group.lowest, group.new_box) for group in unmet(run)] == [("J2", False)]
    closed = run.with_boxes(replace(box, closed=True) for box in run.boxes)
    assert [(group.lowest, group.new_box) for group in unmet(closed)] == [("D1", True)]


def test_a_device_that_stands_is_held_against_what_must_not_hang_on_it():
    run = Run.of([Box("K1", "B1", stands=True, face=True), Box("M1", "K1", share="never", on_load=True),
                  Box("R1", "K1", share="alone", on_load=True), Box("R2", "K1", share="never")])
    assert stands_wrong(run) == (Stands("K1", ("M1",), ("R1",)),)
