"""What is still to be tested: doing exactly that makes the job ready, and nothing less does (every lesser way is tried)."""

from dataclasses import replace
from itertools import chain, combinations, product
from math import comb
from random import Random

from houses import done, random_house, walk_through, walked_house

from sitegen.protection.examine import examine
from sitegen.protection.maps.missing import MissingTest, missing_tests
from sitegen.protection.tree import Tree


def thinned(job, rng):
    """The job with rows, cells and readings struck out, and a TEST that once opened two devices at once."""
    points = tuple(replace(p, grounded=rng.random() > 0.2, not_proved="boxed in" if rng.random() < 0.1 else None)
                   for p in job.points)
    job, tests, most = replace(job, points=points), [], rng.choice([0.0, 0.1, 0.5])
    for row in job.tests:
        if row.pressed == "tester" and not job.point[row.outlet].grounded:
            row = replace(row, tripped=(), went_dead=(), stayed_live=(), wiring="open ground")
        if rng.random() < most:
            continue
        if rng.random() < most:
            row = replace(row, went_dead=row.went_dead[1:], stayed_live=row.stayed_live[1:])
        if rng.random() < most:
            row = replace(row, wiring=None)
        if rng.random() < most / 2:
            row = replace(row, reset=None)
        if rng.random() < most / 4:
            row = replace(row, volts_after=90.0 if row.outlet in row.went_dead else None)
        lower = [id for id in Tree(job).goes_dead(row.outlet) if job.point[id].kind.opens and id != row.outlet]
        if row.pressed == "device" and lower and rng.random() < 0.7:  # the first time two opened; then it alone, hardly looked at
            tests.append(replace(row, tripped=(row.outlet, rng.choice(lower))))
            face = job.point[row.outlet].kind.has_face if row.outlet in job.point else False
            row = replace(row, went_dead=(row.outlet,) if face else row.went_dead[:1], stayed_live=())
        tests.append(row)
    return replace(job, tests=tuple(replace(row, row=n) for n, row in enumerate(tests)))


def test_doing_what_is_missing_makes_the_job_ready(houses):
    told = 0
    for seed in range(houses):
        rng = Random(seed)
        job = thinned(walked_house(seed), rng)
        report = examine(job)
        tests = missing_tests(report.proof)
        if report.evidence.contradicted or "failed" in report.proof.devices.values():
            assert tests == ()
            continue
        told += bool(tests)
        assert report.ready == (not tests), seed
        after = examine(done(job, tests))
        assert after.ready, (seed, tests, [f.says for f in after.findings if f.level == "stop"])
        assert missing_tests(after.proof) == ()
    assert told > houses // 3


def test_nothing_less_would_do(houses):
    """On small houses every smaller set of presses, and every smaller set of looks with as many presses, leaves a stop."""
    told = 0
    for seed in range(4 * houses):
        rng = Random(seed)
        house = random_house(rng)
        if len([p for p in house.points if p.kind.is_outlet]) > 7:
            continue
        job = thinned(walk_through(house, rng), rng)
        report = examine(job)
        tests = missing_tests(report.proof)
        if not tests or len(tests) > 4:
            continue
        presses = [(id, "device") for id in report.tree.devices]
        presses += [(id, "tester") for id in report.tree.outlets if report.tree.kind(id).has_face]
        fewer = chain.from_iterable(combinations(presses, count) for count in range(len(tests)))
        ways = [chosen for chosen in fewer]
        if len(ways) > 300:
            continue
        for chosen in ways:
            assert not any(examine(done(job, way)).ready for way in _with_all_looks(job, chosen)), (seed, chosen, tests)
        told += _no_fewer_looks(job, tests, presses, seed)
    assert told > houses // 20


def _with_all_looks(job, chosen):
    """Looking at more never harms a TEST; a tester press may take the place of an earlier one, so both ways are tried."""
    outlets = tuple(p.id for p in job.points if p.kind.is_outlet)
    options = [[outlets] if pressed == "device" else [(), (outlet,)] for outlet, pressed in chosen]
    for looks in product(*options):
        yield [MissingTest(*press, look) for press, look in zip(chosen, looks)]


def _no_fewer_looks(job, tests, presses, seed):
    outlets = [p.id for p in job.points if p.kind.is_outlet]
    count = sum(len(test.look_at) for test in tests)
    tried = 0
    for chosen in combinations(presses, len(tests)):
        slots = [(n, id) for n, (where, pressed) in enumerate(chosen)
                 for id in (outlets if pressed == "device" else [where])]
        if count == 0 or comb(len(slots), count - 1) > 400 or tried > 4000:
            return False
        if not any(examine(done(job, way)).ready for way in _with_all_looks(job, chosen)):
            continue
        for looks in combinations(slots, count - 1):
            tried += 1
            way = [MissingTest(*press, tuple(id for at, id in looks if at == n)) for n, press in enumerate(chosen)]
            assert not examine(done(job, way)).ready, (seed, way, tests)
    return True
