"""What a visit leaves worth nothing, held against the copper of before and after; and the way back to a house that is ready."""

from dataclasses import replace
from datetime import timedelta
from random import Random

import pytest
from house import small_job
from houses import DAY, done, random_house, walked_house, walked_in_rounds
from visited import random_visits, touched

from sitegen.job import read_job
from sitegen.protection.evidence import Evidence
from sitegen.protection.examine import examine
from sitegen.protection.maps.missing import missing_tests
from sitegen.protection.tree import Tree


def visited_house(seed):
    """A house that was ready, then visited; with what each visit touched, walked along the wires of both days."""
    visited = random_visits(Random(f"visits {seed}"), walked_house(seed))
    return visited.job, [(visit, *touched(before, after, visit)) for visit, before, after
                         in zip(visited.job.visits, visited.wirings, visited.wirings[1:])]


def test_exactly_what_a_touched_box_could_have_changed_is_void(houses):
    void = stands = 0
    for seed in range(houses):
        job, visits = visited_house(seed)
        evidence = Evidence(Tree(job))
        for row in evidence.rows:
            later = [(boxes, behind) for visit, boxes, behind in visits if row.date < visit.date]
            for sighting in evidence.saw(row):
                worth = not any(sighting.outlet in behind for _, behind in later)
                assert (evidence.standing.voided(sighting.outlet, row) is None) == worth, (seed, sighting)
                void, stands = void + (not worth), stands + worth
            if row.pressed == "device":
                assert evidence.counts(row) == (not any(row.outlet in boxes for boxes, _ in later)), (seed, row)
    assert void > 100 and stands > 100


def test_a_visited_house_is_ready_again_after_what_is_missing_and_nothing_else_is_asked(houses):
    asked = 0
    for seed in range(houses):
        job, visits = visited_house(seed)
        report = examine(job)
        assert not {f.kind for f in report.findings} & {"contradicted", "map-correction", "no-correction", "cannot-both-be"}, seed
        last = max((row.date for row in job.tests if row.row >= len(walked_house(seed).tests)), default=DAY)
        open_visits = [(visit, boxes, behind) for visit, boxes, behind in visits if visit.date > last]
        affected = set().union(*(behind for _, _, behind in open_visits))
        boxes = set().union(*(boxes for _, boxes, _ in open_visits))
        tests = missing_tests(report.proof)
        assert report.ready == (not tests), (seed, [f.says for f in report.findings if f.level == "stop"])
        if any(not job.point[id].kind.by_name and report.tree.protected_by(id) for id in affected if id in report.tree.outlets):
            assert not report.ready, seed
        for test in tests:
            assert {test.outlet, *test.look_at} & (affected | boxes), (seed, test)
            # A TEST pressed again has to show once more that it opens: its own face, or one outlet that it cuts.
            more = [id for id in test.look_at if id not in affected]
            own = report.tree.kind(test.outlet).has_face
            assert not more or test.pressed == "device" and len(more) == 1 and more[0] in (
                (test.outlet,) if own else report.tree.goes_dead(test.outlet)), (seed, test)
        asked += bool(tests)
        after = examine(done(job, tests, day=DAY + timedelta(days=400)))
        assert after.ready, (seed, tests, [f.says for f in after.findings if f.level == "stop"])
        assert missing_tests(after.proof) == ()
    assert asked > houses // 3


def test_a_correction_of_the_record_takes_nothing_away(houses):
    """Wires as they were: with `corrected` alone every test counts, and the house stays ready."""
    for seed in range(houses // 4):
        house = walked_house(seed)
        visited = random_visits(Random(seed), house).job
        corrections = tuple(replace(visit, done=tuple(replace(one, what="corrected") for one in visit.done if one.id in house.point))
                            for visit in visited.visits)
        report = examine(replace(house, visits=corrections))
        assert report.ready and all(report.evidence.counts(row) for row in report.evidence.rows), seed
        assert len(report.evidence.sightings) == len(examine(house).evidence.sightings)


@pytest.fixture
def small(tmp_path):
    """Read the small sound job with visits: small(visits, rows added, map changed by (find, put))."""
    def read(visits: str, rows: str = "", *changes: tuple[str, str]):
        folder = small_job(tmp_path / f"job-{len(list(tmp_path.iterdir()))}",
                           *(("protection_map.yaml", *change) for change in changes))
        (folder / "visits.yaml").write_text(visits, "utf-8")
        trips = folder / "trip_tests.csv"
        head, _, rest = trips.read_text("utf-8").partition("\n")
        trips.write_text(f"{head},time\n{rest}{rows}", "utf-8")
        return examine(read_job(folder))
    return read


def row_of(day: str, time: str) -> str:
    return f"{day},K3,device,,,K3,K3 K4,rest of circuit,,yes,,,{time}\n"


def test_on_the_day_of_a_visit_only_times_can_tell(small):
    """A row of that day is of after, unless both have a time and its own is earlier."""
    def counts(visit_time: str, row_time: str) -> bool:
        report = small(f"- {{date: 2026-07-14, {visit_time} done: [{{replaced: K3}}]}}\n", row_of("2026-07-14", row_time))
        return report.proof.devices["K3"] == "proved"
    assert counts("", "") and counts("", "9:00") and counts('time: "10:00",', "") and counts('time: "10:00",', "10:00")
    assert counts('time: "10:00",', "11:30")
    assert not counts('time: "10:00",', "9:59")


def test_a_newer_device_takes_away_what_a_replaced_one_does(small):
    """`installed` without a visit: its slots, and all behind it, were others when they were seen last."""
    newer = ("at: by the stove, fed_from: K2}", "at: by the stove, fed_from: K2, device: {installed: 2026-07-14}}")
    report, said = small("- {date: 2026-07-14, done: []}\n", "", newer), small("- {date: 2026-07-14, done: [{replaced: K3}]}\n", "")
    assert report.proof.devices["K3"] == "untested" and report.proof.devices["K1"] == "proved"
    pairs = [(outlet, device) for outlet in report.tree.outlets for device in report.tree.devices]
    shown = [pair for pair in pairs if report.evidence.shown(*pair)]
    assert shown == [pair for pair in pairs if said.evidence.shown(*pair)] and ("K4", "K1") not in shown and ("K2", "K1") in shown
    assert {f.kind for f in report.findings if f.level == "stop"} == {"installed-later", "not-shown-since"}


def test_rest_of_circuit_means_the_circuit_as_the_record_had_it(small):
    """D1 was listed under circuit 7 by mistake: `rest of circuit` of its rows took D1 in then, that of circuit 5 did not."""
    rows = ("2026-05-09,B5,device,,,B5,K1 K2 K3 K4,rest of circuit,,yes,,,\n")
    kept = small("- {date: 2026-07-14, done: [{corrected: D1, was: K3 load}]}\n", rows)
    moved = small("- {date: 2026-07-14, done: [{corrected: D1, was: B7}]}\n", rows)
    assert [s.dead for s in kept.evidence.sightings if s.outlet == "D1" and s.row.outlet == "B5" and s.row.pressed == "device"] == [False]
    assert [s.dead for s in moved.evidence.sightings if s.outlet == "D1" and s.row.outlet == "B5" and s.row.pressed == "device"] == [True]


def test_what_stayed_live_while_a_removed_device_was_open_stays_live(small):
    """What died then may have died by it alone and shows nothing; a row at a thing that is gone counts for nothing."""
    report = small("- {date: 2026-07-14, done: [{removed: K9, was: B7}]}\n",
                   "2026-05-09,K4,tester,120,correct,K1 K9,K4,D1,,yes,,,\n2026-05-09,K9,device,,,K9,K9 K4,K1,,yes,,,\n",
                   ("switched_by: S1}\n", "switched_by: S1}\nremoved: [{id: K9}]\n"))
    late = [s for s in report.evidence.sightings if s.row.date.day == 9]
    assert [(s.outlet, s.dead, s.opened) for s in late] == [("D1", False, ("K1",))]
    assert len(report.evidence.record) == len(report.evidence.rows) + 1


@pytest.mark.thorough
def test_a_house_of_rounds_is_ready_again_after_what_is_missing_and_each_press_is_needed(houses):
    """Where a visit took away what let rounds be told apart, no press is asked that the others bring back."""
    asked = 0
    for seed in (*range(houses // 12), 65):    # 65: a visit that only added an outlet
        walked = walked_in_rounds(random_house(Random(seed)))
        if not examine(walked).ready:
            continue    # a house that rounds alone cannot prove
        job = random_visits(Random(f"rounds {seed}"), walked, walk_between=False).job
        report, later = examine(job), DAY + timedelta(days=400)
        tests = missing_tests(report.proof)
        assert report.ready == (not tests), (seed, [f.says for f in report.findings if f.level == "stop"])
        after = examine(done(job, tests, day=later))
        assert after.ready, (seed, tests, [f.says for f in after.findings if f.level == "stop"])
        for test in tests:
            assert not examine(done(job, [other for other in tests if other is not test], day=later)).ready, (seed, test)
        asked += bool(tests)
    assert asked > houses // 60
