"""A panel as it stands: every breaker in its column and row, whatever its space is called."""

from __future__ import annotations

import pytest
from house import report_of, small_job

from sitegen.binder.desk import Desk
from sitegen.binder.panel import panel_face, place_in_words
from sitegen.publish.theme import open_theme

PANEL = '- {id: P1, at: "Garage, by the side door"}'


def desk(tmp_path, *changes, panel: str = "main: {at: here}, numbering: left, spaces: 10, spare: [1]") -> Desk:
    folder = small_job(tmp_path / "job", ("protection_map.yaml", PANEL, PANEL.replace("}", f", {panel}}}")), *changes)
    return Desk(report_of(folder), open_theme().words("en"))


def standing(desk: Desk) -> dict[str, tuple[str, int, int]]:
    """Space -> side, row from 1, rows that it takes."""
    return {cell.space: ("left" if place.left else "right", place.row + 1, place.rows)
            for place in panel_face(desk, "P1").places for cell in place.cells}


@pytest.mark.parametrize("side, other", [("left", "right"), ("right", "left")])
def test_odd_numbers_stand_on_the_side_that_numbering_starts_on(tmp_path, side, other):
    """Across and down: 1 and 2 in the first row, 3 and 4 in the second (common practice of North American panels, no source)."""
    found = standing(desk(tmp_path, panel=f"numbering: {side}, spaces: 10"))
    assert found == {str(number): (side if number % 2 else other, (number + 1) // 2, 1) for number in range(1, 11)}


def test_two_poles_take_two_rows_of_one_column_and_two_of_a_space_share_it(tmp_path):
    two = desk(tmp_path, ("protection_map.yaml", "space: 5,", "space: 5/7, poles: 2,"), ("protection_map.yaml", "space: 7,", "space: 9A,"))
    found = standing(two)
    assert found["5/7"] == ("left", 3, 2) and "7" not in found and found["9A"] == ("left", 5, 1)
    assert place_in_words(two, "B5") == "left column, third down" and panel_face(two, "P1").main == "turns off the whole house"
    shared = desk(tmp_path / "b", ("protection_map.yaml", "space: 5,", "space: 9B,"), ("protection_map.yaml", "space: 7,", "space: 9A,"))
    assert [[cell.space for cell in place.cells] for place in panel_face(shared, "P1").places if len(place.cells) > 1] == [["9A", "9B"]]


def test_an_empty_space_is_spare_only_where_somebody_wrote_so(tmp_path):
    empty = {cell.space: cell.serves for place in panel_face(desk(tmp_path), "P1").places for cell in place.cells if not cell.breaker}
    assert empty["1"] == "spare" and set(empty.values()) - {"spare"} == {"not in this record"}


@pytest.mark.parametrize("panel", ["spaces: 10", "numbering: left", "main: {at: Outdoors}"])
def test_without_its_numbering_or_size_a_panel_is_a_list_and_no_place_is_said(tmp_path, panel):
    """Never guessed: a wrong column would send someone to another handle."""
    one = desk(tmp_path, panel=panel)
    face = panel_face(one, "P1")
    assert face.places == () and face.main == "" and [cell.breaker for cell in face.cells]
    assert all(place_in_words(one, cell.breaker) == "" for cell in face.cells)
