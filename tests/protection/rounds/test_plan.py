"""Plans, held against current in copper (networkx): a true map is fully shown, a wrong one is noticed and shows nothing false."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import comb
from random import Random

import pytest
from houses import live, random_house, small, some_house, whole_house, wiring, wrong

from sitegen.job import read_job
from sitegen.job.records import Feed, Job
from sitegen.protection.elimination import Seen, Told, deduce
from sitegen.protection.rounds import House, plan, stands, still_needed
from sitegen.protection.rounds.plan import Plan
from sitegen.protection.tree import Tree


def walked(job: Job, made: Plan) -> list[Seen]:
    """What one sees in a house wired like this job when the plan is walked."""
    graph, sets = wiring(job), [frozenset(one.open) for one in made.rounds] + [frozenset((id,)) for id in made.alone]
    on = [live(graph, set(opened)) for opened in sets]
    return [Seen(id, id not in on[row], opened, row) for row, opened in enumerate(sets) for id in made.look]


def told_of(tree: Tree, seen: list[Seen]) -> Told:
    return deduce(seen, House(tree).contacts, tree.breakers)


def test_every_true_map_is_fully_shown_by_its_own_plan(houses):
    for seed in range(houses // 4):
        job = some_house(seed)
        tree, graph = Tree(job), wiring(job)
        made = plan(tree)
        told = told_of(tree, walked(job, made))
        assert not told.at_odds
        for id in House(tree).contacts:
            on = live(graph, {id})
            for outlet in made.look:
                fact = told.shown_not(outlet, id) if outlet in on else told.shown(outlet, id)
                assert fact is not None, (seed, outlet, id)


@pytest.mark.thorough
@pytest.mark.thorough
def test_a_wrong_map_shows_no_false_pair_and_is_at_odds_somewhere(houses):
    """One or two faults in the map, the rounds planned on it: what is shown is true of the wires, and some look disagrees."""
    tried = 0
    for seed in range(houses // 2):
        rng = Random(seed)
        true = random_house(rng) if seed % 4 else whole_house(rng, rng.randint(6, 10))
        job = wrong(wrong(true, rng), rng) if seed % 2 else wrong(true, rng)
        tree, copper = Tree(job), Tree(true)
        if all(set(tree.reset_order(id)) == set(copper.reset_order(id)) for id in tree.outlets):
            continue  # another way to draw the same: nothing goes dead otherwise
        tried += 1
        made = plan(tree)
        seen = walked(true, made)
        told = told_of(tree, seen)
        for outlet in made.look:
            assert set(told.yes.get(outlet, ())) <= set(copper.reset_order(outlet)), (seed, outlet)
            assert set(told.no.get(outlet, ())).isdisjoint(copper.reset_order(outlet)), (seed, outlet)
        odd = {s.outlet for s in seen if s.dead == s.opened.isdisjoint(tree.reset_order(s.outlet))}
        touched = {id for id in tree.outlets if set(tree.reset_order(id)) != set(copper.reset_order(id))}
        assert odd and odd <= touched, seed
        for outlet in touched:  # no outlet that the fault touched is shown as the map has it
            assert any(told.shown(outlet, id) is None for id in tree.reset_order(outlet)) \
                or any(told.shown_not(outlet, id) is None for id in House(tree).contacts if id not in tree.reset_order(outlet))
    assert tried > houses // 6


def bound_by_hand(tree: Tree) -> int:
    """The bound written a second time, for houses without a subpanel and without things to be opened alone."""
    chains = [max(len(tree.reset_order(id)) for id in tree.outlets_of(tree.on_breaker(breaker))) - 1
              for breaker in tree.breakers if tree.outlets_of(tree.on_breaker(breaker))]
    rounds = max(chains) + 1
    while sum(1 / comb(rounds - k, (rounds - k) // 2) for k in chains) > 1 + 1e-9:
        rounds += 1
    return rounds


@pytest.mark.thorough
def test_no_plan_is_below_the_bound_and_few_are_far_above_it(houses):
    walks = bounds = 0
    for seed in range(houses // 4):
        rng = Random(seed)
        tree = Tree(whole_house(rng, rng.randint(6, 20)))
        made = plan(tree)
        assert made.walks >= made.bound
        if len(tree.job.panels) == 1:
            assert made.bound == bound_by_hand(tree), seed
        walks, bounds = walks + made.walks, bounds + made.bound
    assert walks <= 1.35 * bounds


def test_no_fewer_rounds_can_tell_a_small_house_apart():
    """Three breakers and one device: every way of opening them in three rounds is tried, and none tells all. Four do."""
    job = small("B1: K1=gfci receptacle B1, K2=receptacle K1 load", "B2: K3=receptacle B2", "B3: K4=receptacle B3")
    tree = Tree(job)
    contacts, graph = House(tree).contacts, wiring(job)
    sets = [frozenset(ids) for n in range(1, 5) for ids in combinations(contacts, n)]
    on = {opened: live(graph, set(opened)) for opened in sets}

    def tells_all(rounds: tuple[frozenset[str], ...]) -> bool:
        told = told_of(tree, [Seen(id, id not in on[s], s, row) for row, s in enumerate(rounds) for id in tree.outlets])
        return all(told.shown(o, c) is not None or told.shown_not(o, c) is not None for o in tree.outlets for c in contacts)

    fewest = next(n for n in range(1, 6) if any(tells_all(rounds) for rounds in combinations(sets, n)))
    assert plan(tree).walks == fewest


def test_the_example_takes_eight_rounds_or_fewer(example):
    made = plan(Tree(read_job(example)))
    assert not made.alone and made.bound == 7 and len(made.rounds) <= 8


def test_the_same_house_gives_the_same_plan():
    job = whole_house(Random(7), 12)
    assert plan(Tree(job)) == plan(Tree(replace(job)))


@pytest.mark.thorough
@pytest.mark.parametrize("support", (1, 2))
def test_a_plan_keeps_its_limits(houses, support):
    """No two of one path in a round; lights stay on somewhere; nothing cold is off twice running; one device without a face."""
    for seed in range(houses // (5 if support == 1 else 20)):
        job = some_house(seed)
        tree = Tree(job)
        made = plan(tree, support)
        opened = [set(one.open) for one in made.rounds]
        for ids in opened:
            for outlet in made.look:
                assert len(ids & set(tree.reset_order(outlet))) < 2, (seed, outlet)
            assert len([id for id in ids if id in job.point and not tree.kind(id).has_face]) < 2
            lights = {job.point[id].circuit: set() for id in tree.outlets if tree.kind(id).by_name}
            for id in tree.outlets:
                if tree.kind(id).by_name:
                    lights[job.point[id].circuit] |= set(tree.reset_order(id))
            off = [key for key, cuts in lights.items() if cuts & ids]
            assert len(off) < max(2, len(lights)) or any(all(one in cuts for cuts in lights.values()) for one in ids), seed
        if not made.cold_twice:
            for one, other in zip(opened, opened[1:]):
                for id in tree.outlets:
                    if job.point[id].use in ("freezer", "refrigerator", "furnace"):
                        assert one.isdisjoint(tree.reset_order(id)) or other.isdisjoint(tree.reset_order(id)), seed
        for one in made.rounds:
            assert {id for id in one.open if id in job.point} <= set(one.own_test)
            assert all(tree.kind(id).opens for id in one.own_test)
        pressed = [id for one in made.rounds for id in one.own_test]
        assert {*pressed, *made.alone} >= {id for id in tree.devices if id in House(tree).contacts}, "every TEST once at least"


@pytest.mark.thorough
def test_cold_things_are_off_twice_running_only_in_houses_with_hardly_another_circuit(houses):
    for seed in range(houses // 8):
        assert not plan(Tree(whole_house(Random(seed), Random(seed).randint(6, 20)))).cold_twice


def test_what_may_not_share_a_round_is_pressed_alone():
    """A panel with a generator, circuits that share a neutral, what cuts medical equipment, a device of unknown feed."""
    base = small("B1: K1=gfci receptacle B1, K2=receptacle K1 load", "B2: K3=receptacle B2", "B3: K4=receptacle B3",
                 "B4: K5=gfci receptacle B4, K6=receptacle K5 line")
    assert plan(Tree(base)).alone == ()
    generator = replace(base, panels=(replace(base.panels[0], also_supplied_by=("generator",)),))
    assert set(plan(Tree(generator)).alone) == {"B1", "B2", "B3", "B4", "K1", "K5"}
    shared = replace(base, circuits=tuple(replace(c, shares_neutral_with=(("P1-2", "P1-3")[c.number == "2"],))
                                          if c.number in "23" else c for c in base.circuits))
    assert set(plan(Tree(shared)).alone) == {"B2", "B3"}
    medical = replace(base, points=tuple(replace(p, use="oxygen concentrator") if p.id == "K6" else p for p in base.points))
    assert set(plan(Tree(medical)).alone) == {"B4"}
    old = replace(base, points=tuple(replace(p, feed=Feed("unknown")) if p.id == "K5" else p for p in base.points))
    assert set(plan(Tree(old)).alone) == {"K5"}


@pytest.mark.thorough
def test_after_part_of_the_rounds_the_same_plan_goes_on(houses):
    """Any of the rounds were walked: those left are of the same plan, and with them everything is told."""
    for seed in range(houses // 8):
        job = some_house(seed)
        tree = Tree(job)
        house, made = House(tree), plan(tree)
        seen = [s for s in walked(job, made) if s.row % 3 == seed % 3]
        done = {s.opened for s in seen}
        pressed = {id for one in made.rounds if frozenset(one.open) in done for id in one.own_test} | \
            {id for id in made.alone if frozenset((id,)) in done}
        left = still_needed(house, made, seen, set(tree.devices) - pressed)
        assert left.walks <= made.walks - len(done & {frozenset(one.open) for one in made.rounds})
        assert all(any(set(one.open) <= set(whole.open) for whole in made.rounds) for one in left.rounds)
        more = [s._replace(row=s.row + 100) for s in walked(job, left)]
        told = told_of(tree, seen + more)
        assert all(told.shown(o, c) is not None or told.shown_not(o, c) is not None for o in made.look for c in house.contacts)
        assert still_needed(house, made, seen + more, ()).walks == 0


def test_after_a_contradiction_one_stands_at_the_outlet_and_opens_what_is_not_told():
    """K2 is on K1's LINE and the map says LOAD: K1 is to be opened once more while somebody stands there."""
    job = small("B1: K1=gfci receptacle B1, K2=receptacle K1 load", "B2: K3=receptacle B2", "B3: K4=receptacle B3")
    true = replace(job, points=tuple(replace(p, feed=Feed("K1", "line")) if p.id == "K2" else p for p in job.points))
    tree = Tree(job)
    seen = walked(true, plan(tree))
    places = stands(House(tree), told_of(tree, seen), ("K2",))
    assert [(place.outlet, place.contacts) for place in places] == [("K2", ("K1",))]


@pytest.mark.thorough
@pytest.mark.thorough
def test_with_double_support_every_single_wrong_look_is_noticed_without_a_map(houses, example):
    """One look the other way round: no feed whatever explains what was seen, the map is not asked."""
    for true in (read_job(example), *(some_house(seed) for seed in range(houses // 20))):
        tree = Tree(true)
        made = plan(tree, 2)
        seen = walked(true, made)
        alone = {frozenset((id,)) for id in made.alone}
        for number, look in Random(5).sample(list(enumerate(seen)), min(60, len(seen))):
            if look.opened not in alone:
                wrong_look = [*seen[:number], look._replace(dead=not look.dead), *seen[number + 1:]]
                assert told_of(tree, wrong_look).at_odds, look
