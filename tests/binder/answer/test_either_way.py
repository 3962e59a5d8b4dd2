"""A light between two 3-way switches: no page, label or sheet asks for an ON position that they do not have."""

from house import report_of, small_job

from sitegen.binder.answer.answer import outlet_answer
from sitegen.binder.desk import Desk
from sitegen.binder.walk.rounds import switch_on
from sitegen.publish.theme import open_theme

MAP = "protection_map.yaml"
TWO = (MAP, "{id: S1, is: switch, room: Kitchen, at: by the door, fed_from: F1 load}",
       "{id: S1, is: 3-way switch, room: Kitchen, at: by the door, fed_from: F1 load}\n"
       "      - {id: S2, is: 3-way switch, room: Kitchen, at: by the patio, fed_from: S1}")


def test_either_switch_is_flipped(tmp_path):
    light = (MAP, "fed_from: S1, switched_by: S1", "fed_from: S2, switched_by: [S1, S2]")
    desk = Desk(report_of(small_job(tmp_path / "job", TWO, light)), open_theme().words("en"))
    look = outlet_answer(desk, "L1").first.lines[0].plain
    assert look == "Flip its wall switches, one by one: by the door, by the patio"
    assert switch_on(desk, "L1") == " (lit by S1 S2, either way)"
