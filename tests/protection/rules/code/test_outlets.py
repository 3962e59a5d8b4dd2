"""Box fill against published worked examples (NEC 314.16(B), as reported in check figures; volumes 14 AWG 2.00, 12 AWG 2.25 cu in)."""

import pytest

from sitegen.job.records import Fill
from sitegen.protection.rules.code.outlets import box_fill


def fill(wires, grounds=(), yokes=(), clamps=False):
    return Fill(100.0, tuple(wires), tuple(grounds), tuple(yokes), clamps)


@pytest.mark.parametrize(("what", "before", "from_2020"), [
    (fill([(8, "12")], [(4, "12")], [(1, "12")]), 24.75, 24.75),                            # A: receptacle, four 12-2, no clamps
    (fill([(4, "12")], [(2, "12")], [(1, "12")], True), 18.0, 18.0),                        # B: two 12-2, clamp, duplex
    (fill([(6, "14")], [(3, "14")], [(1, "14")]), 18.0, 18.0),                              # D: three 14-2 and a duplex
    (fill([(4, "14")], [(2, "14")], [(1, "14")], True), 16.0, 16.0),                        # E: two 14-2, switch, clamp
    (fill([(6, "12")], [(3, "12")], [(1, "12")]), 20.25, 20.25),                            # F: three 12-2 and an outlet
    (fill([(4, "14")], [(2, "14")], [(1, "14")]), 14.0, 14.0),                              # G: two 14-2 and a switch
    (fill([(9, "14")], [(4, "14")], [(3, "14")]), 32.0, 32.0),                              # H
    (fill([(9, "14")], [(4, "14")], [(3, "14")], True), 34.0, 34.0),                        # H with clamps
    (fill([(11, "14")], [(5, "14")], [(3, "14")], True), 38.0, 38.5),                       # H and one more 14-2: 2017 and 2020 differ
    (fill([(18, "12")], [(7, "12")], [(4, "12")], True), 63.0, 64.6875),                    # J: 63 as of 2004; 2020 computed
    (fill([(4, "12"), (4, "14")], [(2, "12"), (2, "14")], [(1, "12"), (1, "14")], True), 30.0, 30.0),     # textbook problem, computed
])
def test_worked_examples(what, before, from_2020):
    assert (box_fill(what, 2017), box_fill(what, 2020)) == (before, from_2020)


def test_a_yoke_counts_at_its_own_conductors_and_not_at_the_largest_in_the_box():
    """A published solution of the textbook problem has 31.50, with every allowance at 12 AWG: it is not reproduced."""
    what = fill([(4, "12"), (4, "14")], [(2, "12"), (2, "14")], [(1, "12"), (1, "14")], True)
    assert box_fill(what, 2020) == 30.0 != 31.5


def test_ten_grounds_of_two_sizes():
    """5 of 14 and 5 of 12 AWG, 2020: 2.5 allowances of the largest, 5.625 cu in (the page prints 5.6)."""
    with_grounds = fill([(1, "12")], [(5, "14"), (5, "12")])
    assert box_fill(with_grounds, 2020) - box_fill(fill([(1, "12")]), 2020) == 5.625


@pytest.mark.parametrize(("cu_in", "most", "awg"), [(21.0, 9, "12"), (15.5, 7, "14")])
def test_a_standard_box_takes_what_the_table_says(cu_in, most, awg):
    """Table 314.16(A): 4 x 1 1/2 in square takes nine 12 AWG, as reported; 4 x 1 1/2 round seven 14 AWG, its 15.5 cu in from memory."""
    assert box_fill(fill([(most, awg)]), 2020) <= cu_in < box_fill(fill([(most + 1, awg)]), 2020)
