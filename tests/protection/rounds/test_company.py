"""Rows with `pressed: round` in a whole job: what they prove, what they never prove, and what they leave as it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from random import Random

import pytest
from house import small_job
from houses import live, random_house, small, some_house, walked_in_rounds, whole_house, wiring, wrong

from sitegen.binder.walk.asks import round_asks
from sitegen.errors import Where
from sitegen.job import read_job
from sitegen.job.records import Feed, Job, TripTest
from sitegen.protection.examine import Report, examine
from sitegen.protection.maps.recover import recover
from sitegen.protection.rounds import looks_again
from sitegen.protection.rounds.report import Left
from sitegen.protection.tree import Tree


@pytest.mark.thorough
def test_a_house_walked_in_rounds_is_ready_and_everything_is_shown(houses):
    for seed in range(houses // 8):
        report = examine(walked_in_rounds(some_house(seed)))
        assert report.ready, (seed, [finding.says for finding in report.findings if finding.level == "stop"])
        for outlet in report.tree.outlets:
            assert report.proof.proved_by(outlet) == report.tree.protected_by(outlet)
            for breaker in report.tree.breakers:
                if any(breaker in row.together for row in report.job.tests):
                    tried = report.evidence.handle_tried(outlet, breaker)
                    assert bool(tried) == (breaker in report.tree.reset_order(outlet)), (seed, outlet, breaker)


@pytest.mark.thorough
@pytest.mark.thorough
def test_a_wrong_map_walked_in_rounds_is_never_ready_and_proves_nothing_false(houses):
    """One or two faults: nothing false is proved, and what the fault touched keeps the job from being ready."""
    tried = 0
    for seed in range(houses // 3):
        rng = Random(seed)
        true = random_house(rng) if seed % 4 else whole_house(rng, 6)
        job = wrong(wrong(true, rng), rng) if seed % 2 else wrong(true, rng)
        tree, copper = Tree(job), Tree(true)
        touched = [id for id in tree.outlets if set(tree.reset_order(id)) != set(copper.reset_order(id))]
        if not touched:
            continue
        tried += 1
        report = examine(walked_in_rounds(job, true))
        assert not report.ready and report.evidence.contradicted, seed
        for outlet in tree.outlets:
            assert set(report.proof.proved_by(outlet)) <= set(copper.protected_by(outlet)), (seed, outlet)
            if outlet in touched and outlet not in report.evidence.contradicted:  # what would tell it rests on a face at odds
                before = tree.reset_order(outlet)
                told = report.evidence.company
                assert any(told.shown(outlet, id) is None if id in before else told.shown_not(outlet, id) is None
                           for id in report.evidence.contacts), (seed, outlet)
    assert tried > houses // 10


def test_part_of_the_rounds_proves_only_what_is_true_and_leaves_the_job_not_ready(houses):
    for seed in range(houses // 10):
        job = whole_house(Random(seed), 8)
        report = examine(walked_in_rounds(job, part=slice(0, 3)))
        assert not report.ready and not report.evidence.contradicted
        assert all(set(report.proof.proved_by(id)) <= set(report.tree.protected_by(id)) for id in report.tree.outlets)


def test_a_map_is_recovered_from_rounds_alone(houses):
    """What stands before each outlet, as the copper has it; nothing placed wrongly."""
    placed = 0
    for seed in range(houses // 10):
        job = whole_house(Random(seed), 8)
        copper, found = Tree(job), recover(walked_in_rounds(job))
        for id, feed in found.feeds.items():
            if copper.is_outlet(id):
                placed += 1
                line = [one for one in copper.reset_order(id) if one != id]
                assert feed.source == line[-1], (seed, id, feed)
        assert not found.at_odds and not found.quarrels
    assert placed


KITCHEN = small("B1: K1=gfci receptacle B1, K2=receptacle K1 load", "B2: K3=gfci receptacle B2, K4=receptacle K3 load",
                "B3: K5=receptacle B3")


def in_rounds(change=lambda row: row, job: Job = KITCHEN, **how) -> Report:
    """The small kitchen in rounds, each row changed as given."""
    walked = walked_in_rounds(job, **how)
    return examine(replace(walked, tests=tuple(row for test in walked.tests if (row := change(test)))))


def kinds(report: Report) -> set[str]:
    return {finding.kind for finding in report.findings if finding.level == "stop"}


def test_claims_keep_the_day_of_the_latest_look_they_rest_on():
    rounds = [row for row in walked_in_rounds(KITCHEN).tests if row.together]
    days = {row.row: date(2026, 5, 12 + at) for at, row in enumerate(rounds)}

    def on_its_own_day(row: TripTest) -> TripTest:
        return replace(row, date=days.get(row.row, row.date))
    walked = walked_in_rounds(KITCHEN)
    lit = [replace(walked.tests[-1], row=100 + at, date=day) for at, day in enumerate(days.values())]
    report = examine(replace(walked, tests=(*map(on_its_own_day, walked.tests), *lit)))
    assert report.ready
    shown = report.evidence.shown("K2", "K1")
    with_k1 = [row.date for row in map(on_its_own_day, walked.tests) if "K1" in row.together]
    assert shown and shown.date >= max(with_k1)


def test_what_was_dead_in_a_round_and_not_seen_live_again_that_day_counts_for_nothing():
    report = in_rounds(lit_again=False)
    last = [row for row in report.job.tests if row.together or row.pressed != "none"][-1]
    assert "not-lit-again" in {finding.kind for finding in report.findings}
    assert not report.ready
    assert not any(report.evidence.shown(id, device) == last for id in last.went_dead for device in last.tripped)


def test_a_look_on_another_day_does_not_light_it_again():
    report = in_rounds(lambda row: replace(row, date=date(2026, 5, 13)) if row.row == max(
        test.row for test in walked_in_rounds(KITCHEN).tests) else row)
    assert not report.ready


def test_a_device_is_not_proved_by_a_round_in_which_another_stands_before_its_face():
    """K1 was pressed with B1 off as well: its button may have moved on a dead device, so it is not proved."""
    walked = walked_in_rounds(KITCHEN)
    one = next(row for row in walked.tests if "K1" in row.together or row.outlet == "K1" and row.pressed == "device")
    spoilt = replace(one, outlet="B1 K1", pressed="round", together=("K1", "B1"), tripped=("K1",), went_dead=("K1", "K2"),
                     stayed_live=("K3", "K4", "K5"))
    report = examine(replace(walked, tests=tuple(spoilt if row is one else row for row in walked.tests)))
    assert report.proof.devices["K1"] == "untested" and not report.ready


@pytest.mark.parametrize(("reset", "kind", "state"), [(False, "did-not-reset", "failed"), (None, "device-untested", "untested")])
def test_devices_of_a_round_that_did_not_come_back_are_not_proved(reset, kind, state):
    report = in_rounds(lambda row: replace(row, reset=reset) if "K1" in row.together or row.outlet == "K1" and row.reset else row)
    assert report.proof.devices["K1"] == state and kind in kinds(report)


def test_something_that_opened_unpressed_counts_as_open_and_is_a_stop():
    pressed = next(row for row in walked_in_rounds(KITCHEN).tests if row.together and not {"K3", "B2"} & set(row.together))

    def k3_too(row: TripTest) -> TripTest:
        return replace(row, tripped=(*row.tripped, "K3"), went_dead=(*row.went_dead, "K3", "K4"),
                       stayed_live=tuple(id for id in row.stayed_live if id not in ("K3", "K4"))) if row.row == pressed.row else row
    report = in_rounds(k3_too)
    assert "opened-unpressed" in kinds(report) and not report.evidence.contradicted


def test_a_round_gives_way_only_to_a_later_round_of_the_same_set():
    walked = walked_in_rounds(KITCHEN)
    one = next(row for row in walked.tests if row.together)
    wrong_look = replace(one, went_dead=(*one.went_dead, *one.stayed_live[:1]), stayed_live=one.stayed_live[1:])
    again = replace(one, row=99, together=tuple(reversed(one.together)))
    lit = replace(walked.tests[-1], row=100)
    tests = tuple(wrong_look if row is one else row for row in walked.tests)
    assert not examine(replace(walked, tests=tests)).ready
    assert examine(replace(walked, tests=(*tests, again, lit))).ready
    single = replace(one, row=99, outlet=one.together[0], pressed="device", together=(), tripped=(one.together[0],))
    assert not examine(replace(walked, tests=(*tests, single, lit))).ready


def test_an_outlet_at_odds_says_where_to_stand_and_what_to_open():
    true = replace(KITCHEN, points=tuple(replace(p, feed=Feed("K1", "line")) if p.id == "K2" else p for p in KITCHEN.points))
    report = examine(walked_in_rounds(KITCHEN, true))
    says = next(finding.says for finding in report.findings if finding.kind == "contradicted")
    assert says.endswith(
        "First look again: open the same round (K1 K3), look at K2 only, put all on, and write a row: outlet `K1 K3`, pressed `round`, "
        "tripped `K1 K3`, K2 alone under went_dead or stayed_live, reset `yes` if all came back. If it was dead, see it live with all "
        "on and write that too: outlet `K2`, pressed `none`, tripped `none`, stayed_live `K2`. Still so? Open K1 alone (row: outlet "
        "K1, pressed device) and look at K1 and K2. Then correct the map or the wiring."), says
    assert next(finding.says for finding in report.findings if finding.kind == "map-correction").startswith("Look again first, as said at K2.")


def test_a_map_that_rounds_contradict_is_corrected():
    true = replace(KITCHEN, points=tuple(replace(p, feed=Feed("K1", "line")) if p.id == "K2" else p for p in KITCHEN.points))
    report = examine(walked_in_rounds(KITCHEN, true))
    correction = next(finding for finding in report.findings if finding.kind == "map-correction")
    assert [change.as_json() for change in correction.changes] == [
        {"point": "K2", "from": "K1 load", "to": "K1 line", "same_effect": ["B1"]}]


def test_rows_as_a_tradesperson_writes_them(tmp_path):
    """B5 and B7 off together, then B5 and the button of K1's neighbour: read from the file, the pair in company is told."""
    folder = small_job(tmp_path / "job")
    report = examine(read_job(folder))
    assert report.ready and report.evidence.company is None, "without a round nothing is reckoned otherwise"
    with (folder / "trip_tests.csv").open("a", encoding="utf-8") as file:
        file.write("2026-05-13,B7 K1,round,,,K1,K1 K2 K3,rest of house,,yes,,\n"
                   "2026-05-13,K1,none,120,correct,none,,rest of house L1,,,,last walk with all on\n")
    report = examine(read_job(folder))
    assert report.evidence.company is not None


@pytest.mark.thorough
def test_what_settles_a_disagreement_is_typed_and_makes_no_new_stop(houses):
    """One wrong look, or one fault of the map: the same round looked at again, then every contact alone with the looks that the
    sheet gives it. No device is less proved than before, and a wrong look is settled by the first row."""
    tried = 0
    for seed in range(houses // 10):
        rng = Random(seed)
        true = random_house(rng) if seed % 2 else whole_house(rng, 6)
        job = walked_in_rounds(true if seed % 3 else wrong(true, rng), true)
        if seed % 3:
            job = one_look_wrong(job, rng)
        report, copper = examine(job), wiring(true)
        for again in looks_again(report.evidence):
            tried += 1
            after = examine(with_row(job, copper, again.row.outlet, "round", again.row.tripped, again.outlets, again.row.together))
            assert stops(after) <= stops(report), (seed, stops(after) - stops(report))
            assert after.ready or not seed % 3 or len(looks_again(report.evidence)) > 1
        for ask in round_asks(report, Left(report.proof), missing=True) if looks_again(report.evidence) else ():
            if ask.pressed in ("device", "breaker") and ask.outlet not in Left(report.proof).plan.alone:
                after = examine(with_row(job, copper, ask.outlet, ask.pressed, (ask.outlet,) if ask.pressed == "device" else (), ask.looks))
                assert stops(after) <= stops(report), (seed, ask, stops(after) - stops(report))
    assert tried > houses // 20


def stops(report: Report) -> set[tuple[str, str]]:
    """But for what no map can explain any more: a wrong look and a right one."""
    return {(finding.kind, finding.points[0]) for finding in report.findings if finding.level == "stop" and finding.kind != "cannot-both-be"}


def one_look_wrong(job: Job, rng: Random) -> Job:
    row = rng.choice([row for row in job.tests if row.together])
    id = rng.choice([*row.went_dead, *row.stayed_live])
    flipped = replace(row, went_dead=tuple({*row.went_dead} ^ {id}), stayed_live=tuple({*row.stayed_live} ^ {id}))
    return replace(job, tests=tuple(flipped if test is row else test for test in job.tests))


def with_row(job: Job, copper, outlet: str, pressed: str, tripped: tuple[str, ...], looks: tuple[str, ...],
             together: tuple[str, ...] = ()) -> Job:
    """One row more, as the copper tells it, and these seen live with all on."""
    on = live(copper, {*together, *tripped, *(() if together else (outlet,))})
    row = replace(job.tests[0], row=99, outlet=outlet, pressed=pressed, tripped=tripped, reset=True, volts=None, wiring=None, together=together,
                  went_dead=tuple(id for id in looks if id not in on), stayed_live=tuple(id for id in looks if id in on),
                  where=Where("trip_tests.csv", 900))
    lit = replace(job.tests[-1], row=100, outlet=looks[0], went_dead=(), stayed_live=looks, volts=None, wiring=None, where=Where("trip_tests.csv", 901))
    return replace(job, tests=(*job.tests, row, lit))
