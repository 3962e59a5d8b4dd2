"""What the map and job.yaml mean for a plan."""

from dataclasses import replace

import pytest
from houses import FILE

from sitegen.job.map.read import read_map
from sitegen.job.records import Job
from sitegen.protection.plan import GuardStands, needed, plan
from sitegen.protection.plan.from_job import parts
from sitegen.protection.tree import Tree

CIRCUIT = """  - number: {number}
    panel: P1
    serves: Part {number}
    breaker: {breaker}
    points:
"""


def tree_of(*circuits: str, rooms: str = "") -> Tree:
    faults: list = []
    read = read_map("panels: [{id: P1, at: Garage}]\ncircuits:\n" + "".join(circuits) + rooms, faults)
    assert not faults, "\n".join(map(str, faults))
    return Tree(Job(FILE, tuple(read.panels), tuple(read.breakers), tuple(read.circuits), tuple(read.points), (),
                    rooms=tuple(read.rooms)))


def circuit(number: int, *points: str, breaker: str = "", more: str = "") -> str:
    made = CIRCUIT.format(number=number, breaker=breaker or f"{{id: B{number}, space: {number}, amps: 20, type: standard}}")
    return made + "".join(f"      - {{room: Kitchen, at: spot {n}, {keys}}}\n" for n, keys in enumerate(points)) + more


@pytest.mark.parametrize("keys, holds", [
    ("is: receptacle", "receptacle"),
    ("is: light", "none"),
    ("is: junction", "none"),
    ("is: junction, may_hold: faceless", "faceless"),
    ("is: receptacle, behind: the refrigerator", "none"),                            # its reset could not be reached
    ("is: receptacle, behind: the toaster, may_hold: receptacle", "receptacle"),     # the map knows better
    ("is: receptacle, voltage: 240", "none"),
    ("is: afci receptacle", "none")])
def test_room_for_a_device(keys, holds):
    box = parts(tree_of(circuit(1, f"id: K1, {keys}, fed_from: B1")), ())[0].run.boxes[0]
    assert box.holds == holds


def test_no_device_in_a_box_on_a_large_breaker_and_none_in_half_a_duplex():
    large = tree_of(circuit(1, "id: K1, is: receptacle, fed_from: B1", breaker="{id: B1, space: 1, amps: 30, type: standard}"))
    assert [(box.holds, box.cut) for box in parts(large, ())[0].run.boxes] == [("none", True)]
    halves = tree_of(circuit(1, "id: K1, is: receptacle, fed_from: B1, yoke: Y, half: upper",
                             "id: K2, is: receptacle, fed_from: B1, yoke: Y, half: lower"))
    assert [box.holds for box in parts(halves, ())[0].run.boxes] == ["none", "none"]


def test_circuits_on_one_breaker_or_one_neutral_are_planned_together():
    points = ["id: K{0}, is: receptacle, fed_from: B{0}"]
    tree = tree_of(circuit(1, points[0].format(1)), circuit(3, points[0].format(3), more="    shares_neutral_with: 1\n"),
                   circuit(5, points[0].format(5)), circuit(7, "id: K7, is: receptacle, fed_from: B5", breaker="B5"))
    found = parts(tree, ())
    assert [[c.number for c in part.circuits] for part in found] == [["1", "3"], ["5", "7"]]
    assert [part.run.breaker for part in found] == ["B1", "B5"]


def test_a_shared_neutral_keeps_cables_off_load_until_it_parts():
    tree = tree_of(circuit(1, "id: K1, is: receptacle, fed_from: B1", "id: K2, is: receptacle, fed_from: K1",
                           "id: K3, is: receptacle, fed_from: K2", more="    shares_neutral_with: 3\n    neutral_parts_at: K2\n"),
                   circuit(3, "id: K4, is: receptacle, fed_from: B3"))
    assert {box.id: box.cut for box in parts(tree, ())[0].run.boxes} == {"K1": True, "K2": True, "K3": False, "K4": True}


def test_the_next_room_is_one_behind_a_door_and_lights_of_other_breakers_count():
    rooms = """rooms:
  - room: Kitchen
    outline: [0 0, 10 0, 10 10, 0 10]
    doors: [{wall: north, from: 2, to: 5, leads_to: Dining}]
"""
    tree = tree_of(circuit(1, "id: K1, is: receptacle, fed_from: B1"), circuit(3, "id: L1, is: light, fed_from: B3"), rooms=rooms)
    run = parts(tree, ())[0].run
    assert run.next_rooms == {("kitchen", "dining")} and run.lights_elsewhere == {"kitchen"} and run.breaker_room == "garage"


def test_behind_a_feeder_that_guards_people_every_need_is_met_and_none_is_alone():
    text = """panels: [{id: P1, at: Garage}, {id: P2, at: Shed, fed_from: B9}]
circuits:
  - {number: 9, panel: P1, serves: Shed, breaker: {id: B9, space: 9, type: gfci}, points: []}
  - {number: 1, panel: P2, serves: Bench, breaker: {id: B1, space: 1, type: standard}, points: [
     {id: K1, is: receptacle, room: Shed, at: bench, fed_from: B1, needs: gfci}]}
  - {number: 2, panel: P2, serves: Freezer, breaker: {id: B2, space: 2, type: standard}, points: [
     {id: K2, is: receptacle, room: Shed, at: door, fed_from: B2, needs: gfci, share: alone}]}
"""
    read = read_map(text, [])
    tree = Tree(Job(FILE, tuple(read.panels), tuple(read.breakers), tuple(read.circuits), tuple(read.points), ()))
    bench, freezer = plan(tree, needed(tree))
    assert [(device.at, device.stands) for device in bench.plan.devices] == [("B9", True)]
    assert [zone.outlets for zone in bench.zones] == [("K1", "K2")] and not bench.unguarded
    assert freezer.plan is None and freezer.why == (GuardStands("B9", (), ("K2",)),)


def test_needs_can_be_handed_in():
    """What rules find to need protection is planned as what the map says."""
    tree = tree_of(circuit(1, "id: K1, is: receptacle, fed_from: B1, needs: gfci", "id: K2, is: receptacle, fed_from: K1"))
    assert needed(tree) == {"K1"}
    assert [zone.outlets for one in plan(tree, {"K2"}) for zone in one.zones] == [("K2",)]


def test_prices_and_wishes_are_those_of_the_job():
    tree = tree_of(circuit(1, "id: K1, is: receptacle, fed_from: B1"))
    run = parts(Tree(replace(tree.job, file=replace(FILE, prices=None))), ())[0].run
    assert run.prices.receptacle == 1 and run.wishes == FILE.wishes
