"""Proof, pair by pair, on whole random houses: truth is proved, and a lie on the map is noticed."""

from dataclasses import replace
from random import Random

from house import BASE, report_of, small_job
from houses import random_house, walk_through

from sitegen.job.records import Feed
from sitegen.protection.examine import examine
from sitegen.protection.tree import Tree


def test_a_truthful_walk_through_makes_a_house_ready(houses):
    """Everything was looked at and everything agrees: nothing stops the handover."""
    for seed in range(houses):
        job = walk_through(random_house(Random(seed)), Random(seed))
        report = examine(job)
        assert report.ready, (seed, [finding.says for finding in report.findings if finding.level == "stop"])
        for outlet in report.tree.outlets:
            assert report.proof.proved_by(outlet) == report.tree.protected_by(outlet)


def test_a_wrong_feed_that_changes_what_goes_dark_is_contradicted(houses):
    """The map says another feed or side than the copper: some outlet is contradicted whenever any dead set differs."""
    told = 0
    for seed in range(houses):
        rng = Random(seed)
        true_job = walk_through(random_house(rng), rng)
        job = _one_wrong_feed(true_job, rng)
        before, after = Tree(true_job), Tree(job)
        if all(set(before.reset_order(id)) == set(after.reset_order(id)) for id in before.outlets):
            continue
        switched = [id for id in before.outlets
                    if {d for d in before.reset_order(id) if before.kind(d).opens}
                    != {d for d in after.reset_order(id) if after.kind(d).opens}]
        if not switched:
            continue  # only a standard breaker without a TEST differs, and nobody tried its handle
        told += 1
        report = examine(job)
        assert not report.ready, seed
        assert set(switched) == set(report.evidence.contradicted), seed
    assert told > houses // 10


def _one_wrong_feed(job, rng):
    """The same tests, and a map on which one point hangs elsewhere on its circuit."""
    tree = Tree(job)
    point = rng.choice(job.points)
    below = {*tree.below(point.id), point.id}
    sources = [p for p in job.points if p.circuit == point.circuit and p.id not in below]
    breaker = job.breaker[job.circuit[point.circuit].breaker]
    source = rng.choice([breaker, *sources])
    feed = Feed(source.id, rng.choice(["line", "load"]) if source.kind.has_sides else None)
    return replace(job, points=tuple(replace(p, feed=feed) if p is point else p for p in job.points))


def test_hidden_rows_never_prove_more(houses):
    """Striking rows out can only take proof away, and never makes a house ready that was not."""
    for seed in range(houses):
        rng = Random(seed)
        job = walk_through(random_house(rng), rng)
        fewer = replace(job, tests=tuple(row for row in job.tests if rng.random() < 0.7))
        whole, part = examine(job), examine(fewer)
        for outlet in whole.tree.outlets:
            assert set(part.proof.proved_by(outlet)) <= set(whole.proof.proved_by(outlet)), (seed, outlet)


def test_ready_means_what_it_says(houses):
    """On wrong maps with rows and cells struck out: a ready house keeps every clause of readiness, one by one."""
    ready = 0
    for seed in range(3 * houses):
        rng = Random(seed)
        job = walk_through(random_house(rng), rng)
        if rng.random() < 0.5:
            job = _one_wrong_feed(job, rng)
        tests = []
        for row in job.tests:
            if rng.random() > 0.02:
                hide = rng.random() < 0.02
                tests.append(replace(row, went_dead=row.went_dead[1:] if hide else row.went_dead))
        job = replace(job, tests=tuple(tests))
        report = examine(job)
        if not report.ready:
            continue
        ready += 1
        tree, proof, evidence = report.tree, report.proof, report.evidence
        assert set(proof.devices.values()) <= {"proved"}
        assert not evidence.contradicted
        for outlet in tree.outlets:
            if not tree.kind(outlet).by_name:
                assert proof.proved_by(outlet) == tree.protected_by(outlet)
                for device in tree.devices:
                    if outlet in tree.same_circuit(device):
                        assert evidence.looked(outlet, device, "device")
            if tree.kind(outlet).has_face and tree.protected_by(outlet):
                assert evidence.readings[outlet].wiring == "correct"
    assert ready > houses // 10


def test_rest_of_speaks_of_nothing_that_nobody_could_reach_and_of_nothing_it_excepts(tmp_path):
    """K2 stands behind K1, D1 on its line side; `rest of house` of F1's TEST looked at both, until one is left out."""
    def looked(name, *changes):
        report = report_of(small_job(tmp_path / name, *changes))
        row = report.evidence.own_test("F1")
        return {sighting.outlet for sighting in report.evidence.looks(row)}

    everything = looked("all")
    assert {"K2", "D1"} <= everything
    row = next(line for line in (BASE / "trip_tests.csv").read_text().splitlines() if line.startswith(",F1,device"))
    assert looked("but", ("trip_tests.csv", row, row.replace("rest of house", "rest of house except K2"))) == everything - {"K2"}
    hidden = ("protection_map.yaml", "at: right of the window,", "at: right of the window, not_proved: behind the hutch,")
    assert looked("hidden", hidden) == everything - {"K2"}
    named = ("trip_tests.csv", row, row.replace("rest of house", "rest of house K2"))
    assert looked("named", hidden, named) == everything


def test_what_cannot_be_reached_is_no_longer_said_to_be_no_reset_problem(tmp_path):
    """It was not looked at, so nothing is claimed of it."""
    hidden = ("protection_map.yaml", "at: below the window,", "at: below the window, not_proved: behind the hutch,")
    before, after = report_of(BASE), report_of(small_job(tmp_path / "job", hidden))
    assert before.evidence.live_while_open("D1", "K3") and not after.evidence.live_while_open("D1", "K3")
