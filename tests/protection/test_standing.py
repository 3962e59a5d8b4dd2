"""What a visit leaves worth nothing, held against the copper of before and after; and the way back to a house that is ready."""

from dataclasses import replace
from datetime import timedelta
from random import Random

from houses import DAY, done, walked_house
from visited import random_visits, touched

from sitegen.protection.evidence import Evidence
from sitegen.protection.examine import examine
from sitegen.protection.missing import missing_tests
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
