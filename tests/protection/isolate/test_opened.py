"""What is left when boxes are open already: held against every place of the fault that agrees with what was read."""

from random import Random

from protection.isolate.brute import DEVICE, bad_readings, random_side, weights

from sitegen.protection.isolate.opened import Left, NoCable, Opposite, Reading, after
from sitegen.protection.isolate.side import Box, Side
from sitegen.protection.isolate.steps import suspects

RUN = Side((Box("K2", None), Box("K3", "K2"), Box("K4", "K3"), Box("K5", "K4")))


def test_what_is_left_is_every_place_of_the_fault_that_agrees(houses):
    for n in range(houses):
        rng = Random(n)
        side = random_side(rng, 9)
        fault = rng.choice(sorted(weights(side), key=str))
        opened = {box.id for box in side.boxes if rng.random() < 0.3}
        shown = bad_readings(side, opened, fault)
        readings = [Reading(start, cable[cable[0] == start], (start, cable) in shown)
                    for start in {*opened, DEVICE} for cable in [(box.fed_from or DEVICE, box.id) for box in side.boxes] if start in cable]
        left = after(side, DEVICE, readings)
        assert isinstance(left, Left) and left.bad is bool(shown)
        agree = {place for place in weights(side) if bad_readings(side, opened, place) == shown}
        told = {*left.cables, *(one for part in left.parts for one in suspects(side, part, DEVICE))}
        assert (told == agree) if shown else (not told and agree <= opened), n


def test_without_readings_every_branch_is_left():
    assert after(RUN, "K1", []) == Left(False, (0b1111,), (), ())


def test_opposite_readings_of_one_part_are_both_named():
    bad, good = Reading("K2", "K3", True), Reading("K4", "K3", False)
    assert after(RUN, "K1", [good, bad]) == Opposite(bad, good)


def test_opposite_readings_of_one_cable_are_both_named():
    bad, good = Reading("K4", "K3", True), Reading("K3", "K4", False)
    assert after(RUN, "K1", [bad, good]) == Opposite(bad, good)
    assert after(RUN, "K1", [bad, Reading("K4", "K3", False)]) == Opposite(bad, Reading("K4", "K3", False))


def test_two_parts_that_read_bad_are_both_followed():
    left = after(RUN, "K1", [Reading("K3", "K2", True), Reading("K3", "K4", True)])
    assert left == Left(True, (0b0001, 0b1100), (), ("K3",))


def test_a_cable_between_two_open_boxes_that_reads_bad_is_found():
    assert after(RUN, "K1", [Reading("K3", "K4", True), Reading("K4", "K5", False)]) == Left(True, (), (("K3", "K4"),), ("K3", "K4"))


def test_a_cable_that_is_not_on_the_map():
    wrong = Reading("K2", "K5", True)
    assert after(RUN, "K1", [wrong]) == NoCable(wrong, ("K1", "K3"))
    assert after(RUN, "K1", [Reading("Z9", "K2", True)]) == NoCable(Reading("Z9", "K2", True), ())


def test_all_good_leaves_nothing():
    assert after(RUN, "K1", [Reading("K1", "K2", False)]) == Left(False, (), (), ())
