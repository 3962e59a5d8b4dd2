"""The planned devices put into the map: read anew and held against `Tree`, which knows nothing of plans."""

from dataclasses import replace
from random import Random

import pytest
from houses import FILE
from protection.plan.maps import random_map

from sitegen.job.map.read import read_map
from sitegen.job.map.rewrite import rewrite
from sitegen.job.records import Job, Prices
from sitegen.protection.plan import needed, plan
from sitegen.protection.plan.made_up import made_up
from sitegen.protection.tree import Tree


def job_of(text: str) -> Job:
    faults: list = []
    read = read_map(text, faults)
    assert not faults, "\n".join(map(str, faults))
    prices = replace(FILE, prices=Prices(1800, 2400, 3000, 5500, 200))
    return Job(prices, tuple(read.panels), tuple(read.breakers), tuple(read.circuits), tuple(read.points), ())


@pytest.mark.thorough
def test_the_made_up_map_protects_exactly_the_zones_and_leaves_no_need(houses):
    planned = []
    for seed in range(2 * houses):
        text = random_map(Random(seed))
        job = job_of(text)
        plans = plan(Tree(job), needed(Tree(job)))
        changes = made_up(job, plans)
        tree = Tree(job_of(rewrite(text, changes)))
        new = {point.before: point.id for point in changes.new_points}
        for one in plans:
            for device, zone in zip(one.plan.devices if one.plan else (), one.zones):
                at = device.at if device.stands else new.get(device.at, device.at)
                assert set(tree.protects(at)) == set(zone.outlets), (seed, device.at, device.how)
                planned += [] if device.stands else [device.how + "s" * (device.how == "breaker" and len(one.breakers) > 1)]
            if one.plan:
                for id in one.needs:
                    assert tree.protected_by(id), (seed, id)
                assert {id for id in tree.outlets if tree.job.point[id].circuit in {c.key for c in one.circuits}
                        and not tree.protected_by(id)} == set(one.unguarded), seed
    assert set(planned) == {"receptacle", "faceless", "new box", "breaker", "breakers"}


def test_all_that_does_not_change_stays_as_it_is_written():
    text = """panels: [{id: P1, at: Garage}]
circuits:
  - number: 5
    panel: P1
    serves: Counter
    breaker: {id: B5, space: 5, amps: 20, type: afci}   # new
    points:
      # first in the run
      - {id: K1, is: receptacle, room: Kitchen, at: left of the sink, by the window, fed_from: B5, needs: gfci}
      - id: R1
        is: "receptacle"        # behind it
        room: {en: Kitchen, es: Cocina}
        at: behind the refrigerator
        fed_from: K1
        share: alone
        needs: gfci
        may_hold: none
        new_box: yes
"""
    job = job_of(text)
    assert rewrite(text, made_up(job, plan(Tree(job), needed(Tree(job))))) == text.replace(
        "is: receptacle, room", "is: gfci receptacle, room").replace(
        "fed_from: K1\n", "fed_from: G1 load\n").replace(
        "      - id: R1\n", '      - {id: G1, is: faceless gfci, room: {"en": "Kitchen", "es": "Cocina"}, '
                           'at: "in the cable before R1", fed_from: K1 line}\n      - id: R1\n')


def test_a_new_point_gets_an_id_that_nothing_has_or_had():
    text = """panels: [{id: G1, at: Garage}]
circuits:
  - {number: 5, panel: G1, serves: Counter, breaker: {id: B5, space: 5, type: standard}, points: [
     {id: K1, is: appliance, room: Kitchen, at: sink, fed_from: B5, needs: gfci, was: G2, new_box: yes, use: disposal}]}
removed: [{id: G3, note: gone}]
"""
    job = job_of(text)
    job = replace(job, file=FILE, removed=tuple(read_map(text, []).removed))
    assert [point.id for point in made_up(job, plan(Tree(job), needed(Tree(job)))).new_points] == ["G4"]


def test_a_breaker_that_guards_against_arcs_goes_on_doing_so_and_two_become_one_of_two_poles():
    text = """panels: [{id: P1, at: Garage}]
circuits:
  - {number: 5, panel: P1, serves: Washer, breaker: {id: B5, space: 5, type: standard}, shares_neutral_with: 7, points: [
     {id: W1, is: receptacle, room: Laundry, at: left, fed_from: B5, needs: gfci, may_hold: none}]}
  - {number: 7, panel: P1, serves: Dryer, breaker: {id: B7, space: 7, type: afci}, points: [
     {id: W2, is: receptacle, room: Laundry, at: right, fed_from: B7, needs: gfci, may_hold: none}]}
"""
    job = job_of(text)
    made = job_of(rewrite(text, made_up(job, plan(Tree(job), needed(Tree(job))))))
    assert [(b.id, b.kind.name, b.space, b.poles) for b in made.breakers] == [("B5", "dual-function", "5/7", 2)]
    assert [str(point.feed) for point in made.points] == ["B5", "B5"] and {c.breaker for c in made.circuits} == {"B5"}
