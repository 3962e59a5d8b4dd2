"""What pages, labels, calendars and JSON say after a visit: nothing that was shown before the day about what was touched."""

from datetime import timedelta
from random import Random

from houses import DAY, done, walked_house
from visited import random_visits, touched

from sitegen.binder.answer.lists import flatten
from sitegen.binder.answer.places import at_of
from sitegen.binder.compose import compose
from sitegen.binder.desk import Desk
from sitegen.binder.months import monthly_test
from sitegen.binder.site.place import place_page
from sitegen.commands.check.sheet import check_json
from sitegen.protection.examine import examine
from sitegen.protection.maps.missing import missing_tests
from sitegen.publish.theme import open_theme


def visited_house(seed):
    """A visited house of which nothing was tested since, and all that stands at or behind a touched box, by the copper."""
    visited = random_visits(Random(f"pages {seed}"), walked_house(seed), walk_between=False)
    found = [touched(before, after, visit) for visit, before, after
             in zip(visited.job.visits, visited.wirings, visited.wirings[1:])]
    return visited.job, set().union(*(boxes for boxes, _ in found)), set().union(*(behind for _, behind in found))


def test_nothing_shown_before_the_day_is_said_of_what_was_touched(houses):
    words, told = open_theme().words("en"), 0
    old = words.day(DAY)
    for seed in range(houses // 2):
        job, boxes, behind = visited_house(seed)
        report = examine(job)
        desk, claims = Desk(report, words), Desk(report, words).claims
        told += bool(behind & set(report.tree.outlets))
        for device in report.tree.devices:
            lists = (claims.turns_off(device), claims.not_on(device, report.tree.outlets), claims.protects(device))
            assert not behind & {id for ids in lists for id in ids}, (seed, device)
            assert not (device in boxes and claims.day_of_device(device)), (seed, device)
            steps = " ".join(step.plain for step in monthly_test(desk, device).steps)
            assert not any(f"{at_of(desk, id)}." in steps for id in behind if id in job.point and id != device), (seed, device)
        for id in dict.fromkeys((*report.tree.devices, *report.tree.outlets)):
            page = place_page(desk, id)
            if id in behind and report.tree.kind(id).is_outlet:
                assert old not in " ".join(text.plain for text in page.guard), (seed, id)
                assert not (claims.breaker_tried(id) and not report.tree.kind(id).opens), (seed, id)
                assert not (report.tree.devices and claims.no_reset_problem(id)), (seed, id)    # without a device there is no reset
            if id in boxes and report.tree.kind(id).opens:
                assert old not in page.dated, (seed, id)
            if page.turns_off:
                assert not behind & {item.id for item in flatten(page.turns_off.items)} - set(report.tree.devices), (seed, id)
    assert told > houses // 4


def test_labels_and_lists_for_machines_say_as_little(houses):
    words = open_theme().words("en")
    for seed in range(houses // 10):
        job, boxes, behind = visited_house(seed)
        report = examine(job)
        binder, checked = compose(report, words), check_json(report)
        for row in binder.devices:
            assert not behind & set(row["protects"]), (seed, row["id"])
        for label in binder.labels.devices:
            assert not behind & set(label.outlets), (seed, label.id)
        for id in behind & set(report.tree.outlets):
            assert checked["points"][id]["proved_by"] == [], (seed, id)
            assert checked["points"][id]["proof"] in ("untested", "unprotected"), (seed, id)
        for id in boxes & set(report.tree.devices):
            assert checked["devices"][id]["proof"] == "untested", (seed, id)


def test_pages_say_when_it_was_changed_and_when_it_was_shown_again(houses):
    words, told = open_theme().words("en"), 0
    later = DAY + timedelta(days=400)
    for seed in range(houses // 10):
        job, _, behind = visited_house(seed)
        before, after = examine(job), None
        after = examine(done(job, missing_tests(before.proof), day=later))
        assert after.ready, seed
        desk, desk_before = Desk(after, words), Desk(before, words)
        for id in behind & set(after.tree.outlets):
            since = desk_before.claims.not_shown_since(id)
            says = " ".join(text.plain for text in place_page(desk_before, id).guard)
            assert (since is not None) == ("It was not tested since" in says), (seed, id)
            assert desk.claims.not_shown_since(id) is None or after.tree.kind(id).by_name, (seed, id)
            for device in after.proof.proved_by(id):
                told += 1
                assert any(device in text.plain and f"in the test of {words.day(later)}" in text.plain
                           for text in place_page(desk, id).guard), (seed, id, device)
    assert told > houses // 10


def test_a_reminder_keeps_its_identity_and_its_first_day(houses):
    words = open_theme().words("en")
    for seed in range(houses // 10):
        job, _, _ = visited_house(seed)
        before = {name: event for name, calendar in compose(examine(walked_house(seed)), words).calendars for event in calendar.events}
        for name, calendar in compose(examine(job), words).calendars:
            for event in calendar.events:
                old = before.get(name)
                if old:
                    assert (event.uid, event.start, event.rule) == (old.uid, old.start, old.rule)
                    assert event.sequence == len(job.visits) and event.stamp == job.visits[-1].date
