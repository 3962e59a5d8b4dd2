"""Corrections on random houses: a fault is planted in the map, the tests stay those of the copper."""

from dataclasses import replace
from random import Random

import pytest
from houses import walked_house
from plants import PLANTS, cut_by, wrong_feed

from sitegen.protection.changes import Refeed, apply
from sitegen.protection.evidence import Evidence
from sitegen.protection.examine import examine
from sitegen.protection.maps.correct import LISTED, correct
from sitegen.protection.maps.impossible import Aside
from sitegen.protection.maps.layouts import house_of, written
from sitegen.protection.maps.search import search
from sitegen.protection.tree import Tree


@pytest.mark.parametrize("plant", PLANTS.values(), ids=PLANTS)
def test_one_planted_fault_is_found(houses, plant):
    """Any fault that changes what cuts an outlet is a contradiction; the first proposal explains every test; and the
    truth is among the proposals."""
    told = 0
    for seed in range(houses):
        rng = Random(seed)
        truth = walked_house(seed)
        job = plant(truth, rng)
        if cut_by(truth) == cut_by(job):
            continue
        told += 1
        report = examine(job)
        assert not report.ready and report.evidence.contradicted, seed
        findings = [f for f in report.findings if f.kind == "map-correction"]
        found = correct(report.evidence, most=1000)
        assert findings and found.whole and len(findings) == min(LISTED, found.count), seed
        for proposal in found.proposals:
            mended = apply(job, proposal.changes)
            assert not Evidence(Tree(mended)).clashes, (seed, proposal.changes)
        assert findings[0].changes == found.proposals[0].changes
        assert any(cut_by(apply(job, p.changes)) == cut_by(truth) for p in found.proposals), seed
    assert told > houses // 10


def test_two_planted_faults_are_found(houses):
    """Two faults: what is proposed explains every test, with two changes at most."""
    told = 0
    for seed in range(houses):
        rng = Random(seed)
        truth = walked_house(seed)
        plants = rng.choices(list(PLANTS.values()), k=2)
        job = plants[1](plants[0](truth, rng), rng)
        if cut_by(truth) == cut_by(job):
            continue
        told += 1
        found = correct(Evidence(Tree(job)), most=1000)
        assert found.proposals or not found.whole, seed
        for proposal in found.proposals[:20]:
            assert not Evidence(Tree(apply(job, proposal.changes))).clashes, (seed, proposal.changes)
        if found.whole:
            assert any(cut_by(apply(job, p.changes)) == cut_by(truth) for p in found.proposals), seed
    assert told > houses // 10


def test_what_would_do_as_well_does(houses):
    """Feeding the point from anything listed under `same_effect` gives the same dead sets."""
    told = 0
    for seed in range(houses):
        rng = Random(seed)
        truth = walked_house(seed)
        job = wrong_feed(truth, rng)
        for proposal in correct(Evidence(Tree(job))).proposals:
            [change] = proposal.changes
            if not isinstance(change, Refeed):
                continue
            mended = cut_by(apply(job, proposal.changes))
            for feed in change.same_effect:
                assert cut_by(apply(job, (replace(change, after=feed),))) == mended, (seed, feed)
                told += 1
    assert told > houses // 10


def test_a_sound_map_gets_no_proposal(houses):
    for seed in range(houses):
        assert not correct(Evidence(Tree(walked_house(seed)))).proposals


def test_a_search_that_was_cut_off_says_so(houses):
    """Where one change will not do, a search without a single map to try never calls that the whole answer."""
    cut = 0
    for seed in range(houses):
        rng = Random(seed)
        job = wrong_feed(wrong_feed(walked_house(seed), rng), rng)
        evidence = Evidence(Tree(job))
        start = written(house_of(evidence, Aside()))
        if not start.disagreeing():
            continue
        whole, part = search(start), search(start, maps=0)
        assert whole.whole
        if whole.answers and len(whole.answers[0].steps) == 2:
            assert not part.whole and not part.answers, seed
            cut += 1
    assert cut > houses // 50
