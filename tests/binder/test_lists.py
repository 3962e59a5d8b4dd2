"""What pages claim of random houses whose walk-through has holes: never more than was seen, and nothing breaks."""

from dataclasses import replace
from random import Random

from houses import random_house, walk_through

from sitegen.binder.desk import Desk
from sitegen.binder.compose import compose
from sitegen.binder.lists import flatten, turns_off
from sitegen.commands.check import check_json, check_text
from sitegen.protection.examine import examine
from sitegen.publish.html import render_pages
from sitegen.publish.theme import open_theme


def holed(seed: int):
    """A true house, a walk-through of which rows are struck out and cells emptied."""
    rng = Random(seed)
    job = walk_through(random_house(rng), rng)
    keep = rng.random()
    rows = (row for row in job.tests if rng.random() < keep)
    return replace(job, tests=tuple(replace(row, went_dead=row.went_dead[::2]) if rng.random() < 0.2 else row for row in rows))


def test_a_list_names_only_what_was_seen_to_go_off(houses):
    words = open_theme().words("en")
    listed = 0
    for seed in range(houses):
        desk = Desk(examine(holed(seed)), words)
        for device in desk.tree.devices:
            made = turns_off(desk, device)
            outlets = [item.id for item in flatten(made.items) if desk.tree.is_outlet(item.id)]
            assert set(outlets) == set(desk.claims.turns_off(device)) and len(outlets) == len(set(outlets)), (seed, device)
            assert bool(made.items) == bool(made.days), (seed, device)
            listed += len(outlets)
    assert listed > houses


def test_a_binder_can_be_made_of_any_house(houses):
    """Whatever was not looked at: check speaks and every page is written, as a draft where it has to be."""
    theme = open_theme()
    words = theme.words("en")
    for seed in range(houses // 4):
        report = examine(holed(seed))
        assert check_text(report) and check_json(report)
        pages = dict(render_pages(compose(report, words), theme))
        assert len(pages) > len(report.tree.outlets)
