"""Which breakers a visit may hold off together, held against the copper: what is dark then, and what never is."""

from __future__ import annotations

from pathlib import Path

from house import BASE, ROOT, Change, report_of, small_job

from sitegen.protection.rounds.monthly import not_pressed, visits
from sitegen.protection.tree import Tree

OXYGEN: Change = ("protection_map.yaml", "at: by the door, fed_from: K3 load", "at: by the door, use: oxygen concentrator, fed_from: K3 load")


def tree_of(folder: Path) -> Tree:
    return report_of(folder).tree


def dark(tree: Tree, breakers: tuple[str, ...]) -> set[str]:
    return {point for breaker in breakers for point in tree.goes_dead(breaker)}


def test_the_example_takes_one_walk_and_one_breaker_by_itself():
    """Breaker 6 feeds the light above the panel: pressed last and alone. Every breaker with TEST stands once."""
    tree = tree_of(ROOT / "example_job")
    together, alone = visits(tree)
    assert alone.breakers == ("B6",) and len(together.breakers) == 10
    assert {*together.breakers, *alone.breakers} == {id for id in tree.devices if id in tree.job.breaker}


def test_the_panel_is_never_dark_and_never_is_every_light():
    """Rounds, common practice: never all light circuits at once. Alone a breaker may leave the one light circuit dark."""
    tree = tree_of(ROOT / "example_job")
    lights = {id for id in tree.order if tree.kind(id).by_name}
    for visit in visits(tree):
        off = dark(tree, visit.breakers)
        assert len(visit.breakers) == 1 or lights - off
        assert len(visit.breakers) == 1 or not {id for id in lights & off if tree.job.point[id].room == "Garage"}


def test_what_cuts_medical_equipment_is_not_pressed(tmp_path):
    """The device before it and its breaker; the others are."""
    tree = tree_of(small_job(tmp_path / "job", OXYGEN))
    held = not_pressed(tree)
    assert held and held == {id for id in tree.devices
                             if any("oxygen" in (tree.job.point[point].use or "") for point in tree.goes_dead(id))}
    assert not held & {id for visit in visits(tree) for id in visit.breakers}
    assert not not_pressed(tree_of(BASE))
