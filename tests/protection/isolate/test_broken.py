"""Part dead and nothing tripped: random wires cut in copper, and held against every break that would look the same."""

from itertools import combinations
from random import Random

from houses import live, random_house, wiring

from sitegen.protection.isolate import broken
from sitegen.protection.tree import Tree


def left_dead(job, cut: tuple[str, ...]) -> frozenset[str]:
    """The outlets without power when the cables into these points are broken, by the copper."""
    graph = wiring(job)
    for id in cut:
        graph.remove_edges_from(list(graph.in_edges((id, "in"))))
    on = live(graph, set())
    return frozenset(point.id for point in job.points if point.kind.is_outlet and point.id not in on)


def test_of_one_break_the_run_holds_exactly_the_breaks_that_agree(houses):
    runs = 0
    for n in range(houses):
        rng = Random(n)
        job = random_house(rng)
        tree, every = Tree(job), {point.id: left_dead(job, (point.id,)) for point in job.points}
        dead_by = {id: dead for id, dead in every.items() if dead}
        out = dead_by[rng.choice(sorted(dead_by))]
        looked = {id for id in tree.outlets if rng.random() < 0.5} | {rng.choice(sorted(out))}
        dead, lit = looked & out, looked - out
        agree = {id for id, gone in every.items() if dead <= gone and not lit & gone}
        found = broken(tree, dead, lit)
        assert not found.own and not found.unknown and len(found.runs) + len(found.no_power) == 1
        if found.runs:
            runs += 1
            assert set(found.runs[0].cables) == agree and set(found.runs[0].dead) == dead, n
            assert not set(found.runs[0].look) & looked and all(tree.is_outlet(id) for id in found.runs[0].look)
        else:
            assert not any(tree.breaker_of(id) == tree.breaker_of(min(dead)) for id in lit)
    assert runs > houses / 2


def test_as_many_runs_as_there_are_breaks_at_the_least(houses):
    two = 0
    for n in range(houses):
        rng = Random(n)
        job = random_house(rng)
        tree = Tree(job)
        every = {point.id: left_dead(job, (point.id,)) for point in job.points}
        cut = rng.sample(sorted(every), min(2, len(every)))
        out = every[cut[0]] | every[cut[-1]]
        looked = {id for id in tree.outlets if rng.random() < 0.8}
        dead, lit = looked & out, looked - out
        if not dead:
            continue
        found = broken(tree, dead, lit)
        fits = [id for id, gone in every.items() if not lit & gone]
        least = next(k for k in (1, 2) if any(dead <= frozenset().union(*(every[id] for id in some)) for some in combinations(fits, k)))
        assert len(found.runs) + len(found.no_power) == least, n
        two += least == 2
    assert two


def test_each_outlet_that_is_to_be_looked_at_shortens_the_run(houses):
    for n in range(houses):
        rng = Random(n)
        job = random_house(rng)
        tree = Tree(job)
        out = {id: left_dead(job, (id,)) for id in tree.outlets}
        dead = rng.choice(sorted(out))
        lit = {id for id in tree.outlets if not out[id] >= {dead} and rng.random() < 0.3} - {dead}
        for run in broken(tree, {dead}, lit).runs:
            assert len(run.look) <= max(0, len(run.points) - 2), "one for each box between the ends"
            for look in run.look:
                for found in (broken(tree, {dead, look}, lit), broken(tree, {dead}, lit | {look})):
                    assert all(len(one.cables) < len(run.cables) for one in found.runs), (n, look)
