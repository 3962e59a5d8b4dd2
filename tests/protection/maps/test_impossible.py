"""What no map can explain: truth is never called impossible, and a reversed device is never blamed on the map."""

from dataclasses import replace
from random import Random

from houses import walked_house
from protection.maps.test_correct import PLANTS

from sitegen.protection.evidence import Evidence
from sitegen.protection.examine import examine
from sitegen.protection.maps.correct import correct
from sitegen.protection.maps.impossible import impossible
from sitegen.protection.maps.missing import missing_tests
from sitegen.protection.maps.recover import recover
from sitegen.protection.proof import Proof
from sitegen.protection.rules.devices import device_failed
from sitegen.protection.tree import Tree


def test_truth_is_never_impossible(houses):
    """Whatever the map says, the tests of a careful walk are never set aside."""
    for seed in range(houses):
        rng = Random(seed)
        job = rng.choice(list(PLANTS.values()))(walked_house(seed), rng)
        aside = impossible(Evidence(Tree(job)))
        assert not (aside.sightings or aside.presses or aside.quarrels or aside.miswired), seed


def test_a_reversed_device_is_miswired_and_the_map_is_left_alone(houses):
    """Its face stays live whenever it opens, what is behind it dies: a fault of the house."""
    told = 0
    for seed in range(houses):
        job, rng = walked_house(seed), Random(seed)
        tree = Tree(job)
        faces = [id for id in tree.devices if tree.kind(id).has_face and len(tree.outlets_of(tree.goes_dead(id))) > 1]
        if not faces:
            continue
        told += 1
        device = rng.choice(faces)
        above = set(tree.reset_order(device)) - {device}

        def seen(row):
            # A tester at its own slots opens it and nothing goes dead there; behind other open contacts it is dead.
            if device in row.tripped and not above & set(row.tripped):
                return replace(row, went_dead=tuple(id for id in row.went_dead if id != device),
                               stayed_live=(*row.stayed_live, device))
            return row

        report = examine(replace(job, tests=tuple(map(seen, job.tests))))
        kinds = [finding.kind for finding in report.findings]
        assert kinds.count("miswired") == 1 and not {"map-correction", "no-correction", "cannot-both-be"} & set(kinds), seed
        assert not report.ready and report.proof.devices[device] == "failed"
    assert told > houses // 4


def test_lies_break_nothing(houses):
    """Looks turned round at random: every stage gives an answer, and what is proposed explains all that is left."""
    said = 0
    for seed in range(houses):
        job, rng = walked_house(seed), Random(seed)
        most = rng.choice([0.002, 0.02, 0.2])
        rows = []
        for row in job.tests:
            turned = {id for id in (*row.went_dead, *row.stayed_live) if rng.random() < most}
            dead = (set(row.went_dead) - turned) | (set(row.stayed_live) & turned)
            live = (set(row.stayed_live) - turned) | (set(row.went_dead) & turned)
            rows.append(replace(row, went_dead=tuple(sorted(dead)), stayed_live=tuple(sorted(live))))
        job = replace(job, tests=tuple(rows))
        report = examine(job)
        found = correct(report.evidence)
        assert all(not proposal.layout.disagreeing() for proposal in found.proposals)
        assert not (report.evidence.clashes and missing_tests(report.proof))
        said += bool(found.aside.quarrels)
        assert {*recover(job).feeds, *recover(job).unknown} == set(job.point)
    assert said > houses // 3


def test_what_is_impossible_is_worked_out_once_however_many_devices_fail(monkeypatch):
    """Every device of a walked house leaves its own face live."""
    counts = []
    for seed in (0, 1, 2):
        house, asked = walked_house(seed), []
        monkeypatch.setattr("sitegen.protection.maps.impossible.impossible", lambda evidence, asked=asked: asked.append(1) or impossible(evidence))
        tests = tuple(replace(row, went_dead=(), stayed_live=(row.outlet,)) if row.pressed == "device" and row.outlet in house.point
                      and house.point[row.outlet].kind.is_outlet else row for row in house.tests)
        found = list(device_failed(Proof(Evidence(Tree(replace(house, tests=tests))))))
        counts.append((len(asked), len(found)))
    assert max(asked for asked, _ in counts) == 1 and max(found for _, found in counts) > 1, counts
