"""The desk: texts in one language, claims that hang on none, and a draft where the job is not ready."""

from dataclasses import replace

import pytest
from house import BASE, READING, report_of

from sitegen.binder.answer.places import spot
from sitegen.binder.desk import Desk, room_and_spot
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

EN, ES = (open_theme().words(language) for language in ("en", "es"))


def test_texts_follow_the_language_and_claims_do_not(example):
    report = report_of(example)
    english, spanish = Desk(report, EN), Desk(report, ES, "es")
    assert (spot(english, "K1").room, spot(spanish, "K1").room) == ("Pantry", "Despensa")
    assert all(english.claims.turns_off(id) == spanish.claims.turns_off(id) for id in report.tree.devices)
    assert english.job is report.job and spanish.report is report


def test_what_is_not_ready_is_a_draft_whatever_was_asked_for():
    report = report_of(BASE)
    assert [Desk(report, EN).draft_mark, Desk(report, ES, "es", as_draft=True).draft_mark] == [None, "BORRADOR"]
    assert Desk(examine(replace(report.job, tests=())), EN).draft_mark == "DRAFT"


def test_circuits_stand_panel_by_panel_from_the_first_space_on():
    """A space may be `2/4` or `13A`: its first number counts."""
    desk = Desk(report_of(READING / "old_house"), EN)
    panels = [panel.id for panel in desk.job.panels]
    spaces = [(panels.index(one.panel), desk.job.breaker[one.breaker].space) for one in desk.by_space()]
    numbers = [(panel, int("".join(filter(str.isdigit, space.partition("/")[0])))) for panel, space in spaces]
    assert numbers == sorted(numbers) and len(numbers) == len(desk.job.circuits)


@pytest.mark.parametrize("at, room, place", [("Garage, by the side door", "Garage", "by the side door"), ("Hall", "Hall", "")])
def test_a_panels_place_has_a_room_and_a_spot(at, room, place):
    panel = replace(report_of(BASE).job.panels[0], at=at)
    assert room_and_spot(panel) == (room, place)
