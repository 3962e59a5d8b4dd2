"""The plan of devices against every device and side, tried one by one."""

from random import Random

import pytest
from protection.plan.brute import every_plan, random_run

from sitegen.job.records import Prices
from sitegen.protection.plan.front import front
from sitegen.protection.plan.least import least, standing
from sitegen.protection.plan.run import Box, Run

pytestmark = pytest.mark.thorough

RUNS = 500


@pytest.mark.parametrize("seed", range(RUNS))
def test_the_cheapest_each_cap_and_the_whole_front_are_those_of_every_plan_tried(seed):
    run = random_run(Random(seed))
    plans = list(every_plan(run))
    for cap in (None, *range(10)):
        allowed = [plan[:2] for plan in plans if cap is None or plan[2] <= cap]
        found = least(run, cap)
        assert (found and (found.cost + found.wishes, found.dark)) == (min(allowed) if allowed else None), cap
    there = max((run.count(device.zone) for device in standing(run)), default=0)
    sizes = {(max(largest, there), cents) for cents, _, largest in plans}
    best = {(most, cents) for most, cents in sizes
            if not any(other != (most, cents) and other[0] <= most and other[1] <= cents for other in sizes)}
    assert {(plan.most, plan.cost + plan.wishes) for plan in front(run)} == best


def test_the_random_runs_try_every_way():
    """Each kind of device is the best somewhere, some runs cannot be planned, and some have several devices."""
    plans = [least(random_run(Random(seed))) for seed in range(RUNS)]
    new = [[device.how for device in plan.devices if not device.stands] for plan in plans if plan]
    assert {how for devices in new for how in devices} == {"receptacle", "faceless", "new box", "breaker"}
    assert RUNS / 10 < plans.count(None) < RUNS * 0.7 and sum(len(devices) > 1 for devices in new) > RUNS / 10


def test_branches_that_are_alike_are_counted_and_not_tried_one_by_one():
    """A junction with 24 cables: 2 ** 24 ways to part them, of which 25 differ."""
    hub = [Box("J1", "", outlet=False, own=False, holds="faceless"),
           *(Box(f"K{n}", "J1", needs=True, holds="receptacle" if n % 2 else "none") for n in range(24))]
    plan = least(Run.of(hub, prices=Prices(18, 20, 50, 60, 2)))
    assert plan and plan.best and plan.most == 24 and plan.cost == 20
    capped = least(Run.of(hub, prices=Prices(18, 20, 50, 60, 2)), 12)
    assert capped and capped.best and [device.how for device in capped.devices] == ["faceless"] + ["receptacle"] * 12


def test_too_many_ways_are_not_called_the_best():
    """Twenty cables that all differ: a plan comes, and does not call itself the best."""
    hub = [Box("J1", "", outlet=False, own=False, holds="faceless"),
           *(Box(f"K{n}", "J1", needs=True, holds="receptacle", room=f"Room {n}") for n in range(20))]
    plan = least(Run.of(hub))
    assert plan and not plan.best and sum(plan.devices[0].zone >> n & 1 for n in range(1, 21)) == 20


def test_a_run_of_a_thousand_boxes_is_planned():
    boxes = [Box(f"K{n}", f"K{n - 1}" if n else "", needs=n > 500, holds="receptacle") for n in range(1000)]
    plan = least(Run.of(boxes))
    assert plan and [device.at for device in plan.devices] == ["K501"]
