"""The example job is ready, and any one lie in it is noticed at the point it is told about."""

import re
import shutil
from dataclasses import replace

import pytest
import yaml

from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.evidence import Evidence
from sitegen.protection.examine import examine
from sitegen.protection.maps.missing import missing_tests
from sitegen.protection.proof import Proof
from sitegen.protection.rules import FINDINGS
from sitegen.protection.sighting import is_own_test, opened
from sitegen.protection.tree import Tree


@pytest.fixture(scope="module")
def job(example):
    return read_job(example)


def stopped(job) -> set[str]:
    """The points of all that the tests leave to stop the handover. Corrections only advise, and what the book or the labels
    ask does not follow from tests: they are not worked out."""
    proof = Proof(Evidence(Tree(job)))
    asked = [rule for rule in FINDINGS if rule.__module__.rpartition(".")[2] in
             {"impossible", "contradicted", "devices", "outlets", "rows", "readings", "visits"}]
    assert len(asked) > 20
    return {id for rule in asked for finding in rule(proof) if finding.level == "stop" for id in finding.points}


def test_the_example_is_ready(job):
    report = examine(job)
    assert report.ready
    assert set(report.proof.devices.values()) == {"proved"}


def test_the_example_is_a_whole_house(job):
    """12 to 14 circuits, 14 to 18 devices of every sort, 45 to 65 points; a series, and an outlet on LINE."""
    tree = Tree(job)
    assert 12 <= len(job.circuits) <= 14 and 14 <= len(tree.devices) <= 18 and 45 <= len(job.points) <= 65
    assert any(len(tree.protected_by(id)) > 1 for id in tree.outlets)
    assert any(point.feed.side == "line" for point in job.points)
    kinds = {tree.kind(id).name for id in tree.devices}
    assert {"gfci receptacle", "faceless gfci", "gfci", "afci", "dual-function"} <= kinds
    rooms = {point.room for point in job.points}
    assert {"Kitchen", "Laundry", "Half bath", "Full bath", "Garage", "Outdoors", "Bedroom", "Living room"} <= rooms


def test_every_claim_is_dated_by_a_row_that_opened_the_device_and_saw_the_outlet_dead(job):
    evidence = examine(job).evidence
    claims = [(outlet, device, row) for outlet in evidence.tree.outlets for device in evidence.tree.devices
              if (row := evidence.shown(outlet, device))]
    assert len(claims) > 40
    for outlet, device, row in claims:
        assert device in opened(row) and any(seen.outlet == outlet and seen.dead for seen in evidence.looks(row)), (outlet, device)


def test_every_light_was_looked_at_in_every_own_test(job):
    """No page has to say that nobody saw this light: each was seen dead or live while each device was open."""
    evidence = examine(job).evidence
    lights = [id for id in evidence.tree.outlets if evidence.tree.kind(id).by_name]
    assert len(lights) >= 8
    for device in evidence.tree.devices:
        assert all(evidence.accounted(id, device) for id in lights), device


def test_small_appliance_circuits_serve_nothing_else(job):
    """NEC 210.52(B)(2), as reported: the counter's circuits have no other outlets; two or more of 20 A (210.11(C)(1))."""
    counters = {point.circuit for point in job.points if point.place == "countertop"}
    assert len(counters) >= 2
    for point in job.points:
        if point.circuit in counters:
            assert point.kind.has_face and point.room in {"Kitchen", "Pantry", "Dining corner"}
    assert all(job.breaker[job.circuit[key].breaker].amps == 20 for key in counters)


def test_places_with_a_circuit_of_their_own_share_it_with_nothing_else(job):
    """NEC 210.11(C)(2) to (4), 2020, as reported: laundry, bathroom and garage receptacles have 20 A circuits without
    other outlets. Two bathrooms may share one; outdoor receptacles may hang on the garage's (from memory: sure)."""
    for place, company in (("laundry", {"laundry"}), ("bathroom", {"bathroom"}), ("garage", {"garage", "outdoor"})):
        circuits = {point.circuit for point in job.points if point.place == place and point.kind.has_face}
        assert circuits
        for point in job.points:
            if point.circuit in circuits and point.kind.is_outlet:
                assert point.kind.has_face and point.place in company, point.id
        assert all(job.breaker[job.circuit[key].breaker].amps == 20 for key in circuits)


def test_what_needs_a_gfci_or_an_afci_has_one(example, job):
    """NEC 210.8(A) and (D) and 210.12(A), 2020, as reported: the places where people and wires are guarded."""
    tree = Tree(job)
    written = yaml.safe_load((example / "protection_map.yaml").read_text("utf-8"))
    feet = {point["id"]: point.get("feet_to_sink", 99) for circuit in written["circuits"] for point in circuit["points"]}
    wet, living = {"countertop", "laundry", "bathroom", "garage", "outdoor"}, {"Kitchen", "Pantry", "Dining corner",
                                                                               "Laundry", "Hall", "Living room", "Bedroom"}
    for point in job.points:
        if point.kind.has_face and (point.place in wet or feet[point.id] <= 6) or point.use == "dishwasher":
            assert tree.protected_by(point.id), point.id
        if point.kind.is_outlet and point.room in living:
            assert any(tree.kind(id).stops_arcs for id in tree.reset_order(point.id)), point.id


@pytest.mark.thorough
def test_every_side_that_changes_what_goes_dark_is_noticed(example, job, tmp_path):
    """Write line for load, or load for line, in one place of the map: not ready, and the point is named."""
    text = (example / "protection_map.yaml").read_text("utf-8")
    places = list(re.finditer(r"fed_from: (\w+) (line|load)", text))
    assert len(places) >= 5
    changed = 0
    for place in places:
        other = {"line": "load", "load": "line"}[place[2]]
        folder = tmp_path / str(place.start())
        shutil.copytree(example, folder)
        (folder / "protection_map.yaml").write_text(text[:place.start(2)] + other + text[place.end(2):], "utf-8")
        wrong = read_job(folder)
        moved = [id for id in wrong.point if Tree(wrong).reset_order(id) != Tree(job).reset_order(id)
                 and wrong.point[id].kind.is_outlet]
        if moved:
            changed += 1
            assert set(moved) <= Evidence(Tree(wrong)).contradicted, place[0]
            assert set(moved) <= stopped(wrong)
    assert changed >= 5


@pytest.mark.thorough
def test_every_needed_row_is_missed(job):
    """Without the own TEST of a device (the latest, or the only one in a round), or the only reading of a guarded
    receptacle, it is not ready."""
    whole = examine(job)
    needed = {}
    for device in whole.tree.devices:
        own = [row for row in whole.evidence.rows if is_own_test(row, device) and not whole.evidence.voided_test(row, device)]
        if len(own) == 1 or not own[-1].together:
            needed[own[-1].row] = device
    for outlet in whole.tree.outlets:
        readings = [row for row in job.tests if row.outlet == outlet and row.wiring]
        if whole.tree.protected_by(outlet) and job.point[outlet].kind.has_face and len(readings) == 1:
            needed.setdefault(readings[0].row, outlet)
    assert len(needed) >= 16
    for row, id in needed.items():
        assert id in stopped(replace(job, tests=tuple(test for test in job.tests if test.row != row))), (row, id)


@pytest.mark.thorough
def test_a_row_that_names_another_device_is_noticed(job):
    """Let any row that counts whole say that another device opened: not ready, and the outlet or device is named. Only a device that
    stands in series before the same outlet and guards it may open instead: there both answers are true to the map."""
    whole = examine(job)
    tried = 0
    for test in job.tests:
        standing = whole.evidence.presses[test.outlet, test.pressed] == test
        if test.pressed == "device" and whole.evidence.own_test(test.outlet) != test:
            continue  # its TEST was pressed again in a round
        if whole.evidence.looks(test) != whole.evidence.saw(test):
            continue  # part of it no longer counts since a visit
        for other in whole.tree.devices:
            if not test.tripped or not standing or other in test.tripped:
                continue
            if test.pressed == "tester" and other in whole.tree.protected_by(test.outlet):
                continue
            tried += 1
            tests = tuple(replace(row, tripped=(other,)) if row is test else row for row in job.tests)
            named = {*test.at, *test.went_dead, other} if test.together else {test.outlet, *test.went_dead}
            assert stopped(replace(job, tests=tests)) & named, (test.where, other)
    assert tried > 100


def test_a_job_that_is_not_ready_binds_nothing(example, tmp_path, capsys):
    """`bind` of a job with one wrong side says what is wrong, exits 1 and writes nothing."""
    folder = tmp_path / "job"
    shutil.copytree(example, folder)
    path = folder / "protection_map.yaml"
    path.write_text(path.read_text("utf-8").replace("fed_from: K1 line", "fed_from: K1 load"), "utf-8")
    assert main(["bind", str(folder), "--out", str(tmp_path / "out")]) == 1
    assert capsys.readouterr().out.startswith("NOT READY: ")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job"]


def test_the_visit_takes_away_what_it_touched_and_six_presses_bring_it_back(job):
    """A device replaced, an outlet moved, a box opened: the rows of that day are the way back, and nothing is contradicted."""
    before = replace(job, tests=tuple(row for row in job.tests if row.date < job.visits[0].date))
    report = examine(before)
    assert not report.ready and not report.evidence.contradicted
    assert set(report.evidence.voided) == {"K2", "K3", "K4", "K5", "K6", "K7", "K8", "D2", "E3"}
    assert [(test.outlet, test.pressed) for test in missing_tests(report.proof)] == [
        (id, "device") for id in ("B5", "B7", "B16", "K1", "K4", "K6")]
    assert {finding.kind for finding in report.findings if finding.level == "stop"} >= {"not-tested-since", "not-shown-since"}
