"""What hangs on a device's load terminals, box by box."""

from random import Random

from house import READING
from houses import live, random_house, wiring

from sitegen.job import read_job
from sitegen.protection.isolate.zone import zone_of
from sitegen.protection.tree import Tree

HEAD = """panels:
  - {id: P1, at: Garage}
circuits:
  - number: 5
    panel: P1
    serves: Counter
    breaker: {id: B5, space: 5, type: afci}
    points:
"""


def tree_of(read, *points: str, more: str = "") -> Tree:
    """K1 is a GFCI receptacle; each further text is a point without `room` and `at`."""
    lines = ["id: K1, is: gfci receptacle, fed_from: B5", *points]
    text = HEAD + "".join(f"      - {{{line}, room: Kitchen, at: spot {n}}}\n" for n, line in enumerate(lines)) + more
    return Tree(read(map=text, trips="date,outlet,pressed,tripped\n"))


def boxes(tree: Tree, device: str = "K1", **how) -> dict[str, str | None]:
    return {box.id: box.fed_from for box in zone_of(tree, device, **how).boxes}


def test_load_belongs_and_line_does_not(read):
    tree = tree_of(read, "id: K2, is: receptacle, fed_from: K1 load", "id: D1, is: receptacle, fed_from: K1 line",
                   "id: K3, is: receptacle, fed_from: K2")
    assert boxes(tree) == {"K2": None, "K3": "K2"}
    assert boxes(tree, "B5") == {"K1": None, "D1": "K1"}


def test_an_inner_device_belongs_with_what_hangs_on_its_line(read):
    tree = tree_of(read, "id: K4, is: gfci receptacle, fed_from: K1 load", "id: K5, is: receptacle, fed_from: K4 load",
                   "id: K6, is: receptacle, fed_from: K5", "id: K7, is: receptacle, fed_from: K4 line")
    zone = zone_of(tree, "K1")
    assert boxes(tree) == {"K4": None, "K7": "K4"}
    assert zone.left_out == (("K5", "behind K4"), ("K6", "behind K4")) and zone.inner == ("K4",)


def test_an_inner_afci_opens_the_hot_only_and_leaves_all_in_the_plan(read):
    tree = tree_of(read, "id: K4, is: afci receptacle, fed_from: K1 load", "id: K5, is: receptacle, fed_from: K4 load")
    assert boxes(tree) == {"K4": None, "K5": "K4"}


def test_no_cable_between_them_is_one_box(read):
    tree = tree_of(read, "id: S1, is: switch, fed_from: K1 load, length_ft: 0", "id: L1, is: light, fed_from: S1",
                   "id: S2, is: switch, fed_from: L1", "id: S3, is: switch, fed_from: S2, length_ft: 0", "id: L3, is: light, fed_from: S3")
    zone = zone_of(tree, "K1")
    assert zone.here == ("S1",)
    assert boxes(tree) == {"L1": None, "S2": "L1", "L3": "S2"} and zone.points["S2"] == ("S2", "S3")


def test_the_halves_of_a_duplex_fed_from_one_box_are_one_box(read):
    tree = tree_of(read, "id: K2, is: receptacle, fed_from: K1 load, yoke: Y, half: upper", "id: S1, is: switch, fed_from: K1 load",
                   "id: K3, is: receptacle, fed_from: K1 load, yoke: Y, half: lower", "id: K4, is: receptacle, fed_from: K3")
    assert boxes(tree) == {"K2": None, "S1": None, "K4": "K2"} and zone_of(tree, "K1").points["K2"] == ("K2", "K3")


def test_what_has_an_unknown_feed_is_named_and_left_out(read):
    tree = tree_of(read, "id: K2, is: receptacle, fed_from: K1 load", "id: K8, is: receptacle, fed_from: unknown")
    assert zone_of(tree, "K1").left_out == (("K8", "unknown"),)


def test_two_circuits_on_one_breaker_both_hang_on_it(read):
    tree = tree_of(read, more="""  - {number: 6, panel: P1, serves: Hall, breaker: B5, points: [
      {id: H1, is: receptacle, room: Hall, at: by the door, fed_from: B5}]}
""")
    assert boxes(tree, "B5") == {"K1": None, "H1": None}


def test_reach_as_written_else_from_what_stands_in_the_way(read):
    tree = tree_of(read, "id: K2, is: receptacle, fed_from: K1 load, reach: 5", "id: K3, is: receptacle, fed_from: K2, behind: a freezer",
                   "id: L1, is: light, fed_from: K2", "id: K4, is: receptacle, fed_from: K2, reach: 1, behind: a chair")
    assert {box.id: box.reach for box in zone_of(tree, "K1").boxes} == {"K2": 5, "K3": 2, "L1": 2, "K4": 1}


def test_what_a_visit_touched_comes_first_and_a_hunch_is_likelier(read):
    tree = tree_of(read, "id: K2, is: receptacle, fed_from: K1 load", "id: K3, is: receptacle, fed_from: K2")
    plain, hunch = zone_of(tree, "K1").boxes, zone_of(tree, "K1", {"K3"}, {"K2"}).boxes
    assert [box.first for box in plain] == [False, False] and [box.first for box in hunch] == [False, True]
    assert hunch[0].suspect > plain[0].suspect and hunch[1].suspect == plain[1].suspect
    assert zone_of(tree, "K1", {"K3"}).disturbed == ("K3",)


def test_of_random_houses_it_is_what_copper_cuts_less_what_inner_devices_keep(houses):
    """A plan looks where current goes while the inner devices that open both conductors are open, and not without the device."""
    for n in range(houses):
        job = random_house(Random(n))
        tree, graph = Tree(job), wiring(job)
        feeders = {panel.fed_from for panel in job.panels}      # these have no plan by boxes
        for device in (id for id in tree.devices if id not in feeders):
            zone = zone_of(tree, device)
            inside = {id for ids in zone.points.values() for id in ids}
            on, off = live(graph, set(zone.inner)), live(graph, {device, *zone.inner})
            assert inside == ((on - off) | set(zone.inner)) - {device}, (n, device)


def test_the_old_house_has_a_plan_for_every_device():
    tree = Tree(read_job(READING / "old_house"))
    for device in (*tree.devices, *tree.breakers):
        assert len(zone_of(tree, device).boxes) <= len(tree.goes_dead(device))


def test_access_says_how_dear_a_box_is_and_a_written_reach_goes_before_it(read):
    """The figures are common practice, no source."""
    tree = tree_of(read, "id: J1, is: junction, fed_from: K1 load, access: attic", "id: L1, is: light, fed_from: J1, access: ladder",
                   "id: K2, is: receptacle, fed_from: J1, access: attic, reach: 7", "id: K3, is: receptacle, fed_from: J1")
    assert {box.id: box.reach for box in zone_of(tree, "K1").boxes} == {"J1": 4, "L1": 2, "K2": 7, "K3": 1}
