"""What pages claim of random houses whose walk-through has holes: never more than was seen, and nothing breaks."""

import pytest
from houses import holed_house

from sitegen.binder.answer.lists import flatten, turns_off
from sitegen.binder.compose import compose
from sitegen.binder.desk import Desk
from sitegen.commands.check.sheet import check_json, check_text
from sitegen.publish.html import render_pages
from sitegen.publish.theme import open_theme


def test_a_list_names_only_what_was_seen_to_go_off(houses):
    words = open_theme().words("en")
    listed = 0
    for seed in range(houses):
        desk = Desk(holed_house(seed), words)
        for device in desk.tree.devices:
            made = turns_off(desk, device)
            outlets = [item.id for item in flatten(made.items) if desk.tree.is_outlet(item.id)]
            assert set(outlets) == set(desk.claims.turns_off(device)) and len(outlets) == len(set(outlets)), (seed, device)
            assert bool(made.items) == (made.seen != words.text("turns_off.nothing")), (seed, device)
            listed += len(outlets)
    assert listed > houses


@pytest.mark.thorough
def test_a_binder_can_be_made_of_any_house(houses):
    """Whatever was not looked at: check speaks and every page is written, as a draft where it has to be."""
    theme = open_theme()
    words = theme.words("en")
    for seed in range(houses // 10):
        report = holed_house(seed)
        assert check_text(report) and check_json(report)
        pages = dict(render_pages(compose(report, words), theme))
        assert len(pages) > len(report.tree.outlets)
