"""A house that nobody knows: with every feed struck out, the tests alone give back what cuts each outlet."""

from dataclasses import replace
from random import Random

from houses import walked_house

from sitegen.job.records import Feed
from sitegen.protection.maps.recover import recover
from sitegen.protection.tree import Tree


def struck_out(job):
    return replace(job, points=tuple(replace(p, feed=Feed("unknown")) for p in job.points))


def redrawn(job, found):
    """The job with the recovered feeds, every point moved to a circuit of the breaker it was found on."""
    def circuit(point):
        breaker = found.breaker.get(point.id)
        if breaker is None or job.circuit[point.circuit].breaker == breaker:
            return point.circuit
        return next(c.key for c in job.circuits if c.breaker == breaker)

    return replace(job, points=tuple(replace(p, feed=found.feeds.get(p.id, Feed("unknown")), circuit=circuit(p))
                                     for p in job.points))


def same(truth, drawn_job, id):
    true, drawn = Tree(truth), Tree(drawn_job)
    return set(drawn.reset_order(id)) == set(true.reset_order(id)) and \
        set(drawn.protected_by(id)) == set(true.protected_by(id))


def test_every_outlet_is_given_back(houses):
    """All outlets, all devices; only switches and junctions, which nobody can see dead, are left."""
    for seed in range(houses):
        truth = walked_house(seed)
        found = recover(struck_out(truth))
        drawn = redrawn(truth, found)
        assert not found.quarrels and not found.at_odds
        assert {*found.feeds, *found.unknown} == set(truth.point) and not set(found.feeds) & set(found.unknown)
        for point in truth.points:
            assert (point.id in found.feeds) == (point.kind.is_outlet or point.kind.opens), (seed, point.id)
            if point.kind.is_outlet:
                assert same(truth, drawn, point.id), (seed, point.id)


def test_points_listed_under_a_wrong_circuit_are_found_on_theirs(houses):
    """Points are listed under any circuit; the tests put each on its breaker all the same."""
    for seed in range(houses):
        truth, rng = walked_house(seed), Random(seed)
        keys = [c.key for c in truth.circuits]
        listed = replace(truth, points=tuple(replace(p, circuit=rng.choice(keys)) for p in truth.points))
        drawn = redrawn(listed, recover(struck_out(listed)))
        for point in truth.points:
            assert not point.kind.is_outlet or same(truth, drawn, point.id), (seed, point.id)


def test_what_fewer_tests_place_is_placed_rightly(houses):
    """Rows and looks struck out: less is placed, and nothing wrongly."""
    placed = 0
    for seed in range(houses):
        truth, rng = walked_house(seed), Random(seed)
        most = rng.choice([0.05, 0.2, 0.5])

        def some(ids):
            return tuple(id for id in ids if rng.random() > most)

        tests = tuple(replace(row, went_dead=some(row.went_dead), stayed_live=some(row.stayed_live))
                      for row in truth.tests if rng.random() > most)
        found = recover(struck_out(replace(truth, tests=tests)))
        assert not found.quarrels and not found.at_odds, seed
        placed += len(found.feeds)
        true, drawn = Tree(truth), Tree(redrawn(truth, found))
        for id in found.feeds:
            if truth.point[id].kind.is_outlet:
                known, real = set(drawn.reset_order(id)), set(true.reset_order(id))
                assert known <= real if id in drawn.unknown else known == real, (seed, id)
    assert placed > houses
