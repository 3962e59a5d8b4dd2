"""The example by edition: only what names the edition changes, and an amendment does exactly what it says."""

import shutil
from dataclasses import replace
from functools import cache
from itertools import product

import pytest
from house import edit

from sitegen.job import read_job
from sitegen.job.records import Amendment, Code
from sitegen.protection.examine import examine
from sitegen.protection.rules.code.table import BY_NAME


@pytest.fixture(scope="module")
def job(example):
    return read_job(example)


@pytest.fixture(scope="module")
def told(job):
    """Edition and amendments -> (kind, level, points, says without its source) -> the finding; each worked out once."""
    @cache
    def of(edition, *changes):
        findings = examine(replace(job, file=replace(job.file, code=Code("NEC", edition, None, changes)))).findings
        return {(f.kind, f.level, f.points, f.says.partition(" [NEC")[0]): f for f in findings}
    return of


def test_the_example_passes_the_book_that_it_names(job):
    """And nothing that a rule asks for is left unwritten."""
    assert [finding.kind for finding in examine(job).findings if finding.kind in (*BY_NAME, "keys-missing")] == []


def test_its_drawing_passes_in_2020_and_2023(told):
    for edition in ("2020", "2023"):
        kinds = {kind for kind, *_ in told(edition)}
        assert not kinds & {"counter-spacing", "island", "counter-alone", "counter-circuits", "rooms-have"}, edition


def test_the_refrigerator_outlet_asks_for_a_gfci_from_2023(told):
    """More than 6 ft from a sink: 2020 no, 2023 yes. 210.8(A)(6), as reported. 2026 is taken as 2023 and says so. The furnace in the
    garage comes in with 210.8(F) of 2023, from memory."""
    assert not any("R1" in points for kind, _, points, _ in told("2020") if kind in BY_NAME)
    late, furnace = [f for f in told("2023").values() if f.kind in BY_NAME]
    assert (furnace.kind, furnace.level, furnace.points) == ("gfci-outdoor-appliance", "fix", ("N1",))
    assert (late.kind, late.level, late.points) == ("gfci-kitchen", "stop", ("R1",)) and late.says.endswith("[NEC 2023, 210.8(A)(6)]")
    latest, _ = [f for f in told("2026").values() if f.kind in BY_NAME]
    assert "[NEC 2026, taken as 2023, not verified, 210.8(A)(6)]" in latest.says


@pytest.mark.parametrize(("one", "other"), [pair for pair in product(("2014", "2017", "2020", "2023", "2026"), repeat=2) if pair[0] < pair[1]])
def test_another_edition_changes_only_findings_that_name_it(told, one, other):
    """Every one that is not there in both says which edition it is of."""
    before, after = told(one), told(other)
    changed = [(after | before)[key] for key in before.keys() ^ after.keys()]
    assert all(f"[NEC {one}" in finding.says or f"[NEC {other}" in finding.says for finding in changed)


def test_an_amendment_drops_adds_and_levels_exactly_what_it_says(job, told):
    def amendment(does, rule, places=(), to=None):
        return Amendment(does, rule, places, to, "Town 9-1", job.file.where)

    plain = told("2023")
    kitchen, furnace = ("gfci-kitchen", "stop", ("R1",)), ("gfci-outdoor-appliance", "fix", ("N1",))
    cases = {
        amendment("drop", "gfci-kitchen"): {furnace}, amendment("drop", "gfci-kitchen", ("kitchen",)): {furnace},
        amendment("drop", "gfci-outdoor-appliance", ("garage",)): {kitchen},
        amendment("drop", "gfci-kitchen", ("countertop",)): {kitchen, furnace}, amendment("drop", "afci", ("kitchen", "laundry")): {kitchen, furnace},
        amendment("level", "gfci-kitchen", (), "know"): {("gfci-kitchen", "know", ("R1",)), furnace},
        amendment("add", "gfci-wet-places", ("living",)): {kitchen, furnace, ("gfci-wet-places", "stop", ("V2", "V1", "V3"))}}
    for change, expected in cases.items():
        found = told("2023", change)
        assert {key[:3] for key in found if key[0] in BY_NAME} == expected, change
        [amended] = [f for f in found.values() if f.kind == "amended"]
        assert "Town 9-1" in amended.says
        assert {key for key in found if key[0] not in (*BY_NAME, "amended")} == {key for key in plain if key[0] not in BY_NAME}


def test_amendments_are_written_with_their_reason(job, example, tmp_path):
    """As a list in job.yaml; words alone change nothing."""
    folder = shutil.copytree(example, tmp_path / "job")
    edit(folder, "job.yaml", job.file.code.amendments.join('""'), '[{drop: torque, reason: Town 3}, {level: afci, to: know, places: [hall], reason: Town 4}]')
    assert read_job(folder).file.code.changes == (
        Amendment("drop", "torque", (), None, "Town 3", read_job(folder).file.code.changes[0].where),
        Amendment("level", "afci", ("hall",), "know", "Town 4", read_job(folder).file.code.changes[1].where))
