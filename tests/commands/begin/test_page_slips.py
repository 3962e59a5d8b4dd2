"""The rough-in page where something has to be put right: slips, terminals, spaces and numbers that are taken, what nobody could find."""

import pytest
from commands.begin.roughed import BREAKER, RUN, STEPS, begun, feeds
from tapping import Thumb

pytestmark = pytest.mark.browser

def test_a_kind_that_gets_terminals_asks_for_each_that_hangs_on_it(phone, tmp_path):
    thumb = Thumb(phone)
    for step in [*BREAKER, "next", "is receptacle", "room Hall", "at by the door", "next", "is receptacle", "room Hall", "at left wall",
                 "branch", "is receptacle", "room Hall", "at far wall", "branch", "is receptacle", "room Hall", "at right wall",
                 "list", "point H1", "fact point is H1", "is gfci receptacle"]:
        thumb.tap(step)
    assert "H2 hangs on H1" in phone.text_content("main")
    thumb.tap("load")
    assert "H3 hangs on H1" in phone.text_content("main")
    thumb.tap("line")
    thumb.tap("nobody")
    assert feeds(begun(phone, tmp_path)) == {"H1": "B5", "H2": "H1 load", "H3": "H1 line", "H4": "unknown"}
    for step in ("list", "point H1", "fact point is H1", "is light", "list"):
        thumb.tap(step)
    assert "LOAD" not in phone.text_content("main") and "LINE" not in phone.text_content("main")


def test_slips_are_put_right(phone, tmp_path):
    """Undo, another source with all that hangs on the point, another space, another id, something taken out."""
    thumb = Thumb(phone)
    for step in [*STEPS, "undo", "point K2", "fact point from K2", "from K1", "line", "list", "point K3", "fact point from K3", "others", "from L1",
                 "list", "point D1", "fact point id D1"]:
        thumb.tap(step)
    for text, says in (("K1", "K1 is taken"), ("K-LOAD", "no word of the files"), ("line", "no word of the files"), ("123456789", "at most 8")):
        phone.fill("#typed", text)
        thumb.tap("take")
        assert says in phone.text_content("#bad")
    thumb.type("e9")
    assert "The box says D1. Write E9 on it." in phone.text_content("main")
    for step in ("list", "point K1", "more", "out"):
        thumb.tap(step)
    assert "K2 D2 hang on it" in phone.text_content("main")
    for step in ("list", "point D2", "more", "out", "sure", "breaker B5", "fact breaker space B5", "space 6", "list", "panel P1",
                 "fact panel at P1", "at Basement"):
        thumb.tap(step)
    job = begun(phone, tmp_path)
    assert job.panels[0].at == "Basement"
    assert feeds(job) == {"K1": "B6", "K2": "K1 line", "K3": "L1", "E9": "K2", "G1": "B7", "L1": "B7"}
    assert [(id, job.point[id].circuit) for id in ("K2", "K3", "E9")] == [("K2", "P1-6"), ("K3", "P1-7/9"), ("E9", "P1-6")]
    assert [(one.key, one.breaker) for one in job.circuits] == [("P1-6", "B6"), ("P1-7/9", "B7")]


def test_two_poles_take_no_space_of_another_breaker(phone, tmp_path):
    thumb = Thumb(phone)
    for step in [*BREAKER, *RUN[0], "list", "breaker"]:
        thumb.tap(step)
    assert not thumb.has("space 5") and phone.text_content(".keys.grid :nth-child(5)") == "5"    # no other key has moved to its place
    thumb.tap("space 3")
    assert "would take space 5 as well" in phone.text_content("main") and not thumb.has("two 30")
    thumb.tap("back")
    phone.fill("#typed", "3/5")
    thumb.tap("take")
    assert phone.text_content("#bad") == "Space 5 is taken in this panel."
    thumb.type("3/7")
    for step in ("two 30", "type standard"):
        thumb.tap(step)
    for step in ("list", "breaker B3", "fact breaker size B3", "one 30"):
        thumb.tap(step)
    assert {(one.id, one.space, one.poles) for one in begun(phone, tmp_path).breakers} == {("B5", "5", 1), ("B3", "3", 1)}


def test_a_circuit_has_a_number_of_its_own(phone, tmp_path):
    """Two of one number in a panel would be read as one circuit; one that was not numbered is none."""
    thumb = Thumb(phone)
    for step in [*BREAKER, *RUN[0], "list", "breaker B5", "second", "back", "second"]:
        thumb.tap(step)
    for text, says in (("5", "5 is taken"), ("B7", "as on the panel")):
        phone.fill("#typed", text)
        thumb.tap("take")
        assert says in phone.text_content("#bad")
    thumb.type("7")
    for step in ("next", "from B5 c2", "is light", "room Hall", "at ceiling", "list", "breaker", "space 7", "one 20", "type standard", "next",
                 "is light", "room Hall", "at by the door", "more", "fact point note L2"):
        thumb.tap(step)
    thumb.type("Wrong")
    for step in ("more", "fact point note L2", "nobody"):
        thumb.tap(step)
    job = begun(phone, tmp_path)
    assert {(one.key, one.breaker) for one in job.circuits} == {("P1-5", "B5"), ("P1-7", "B5"), ("P1-7-2", "B7")}
    assert [(point.id, point.circuit, point.note) for point in job.points] == [("K1", "P1-5", None), ("L1", "P1-7", None), ("L2", "P1-7-2", None)]


def test_what_nobody_could_find_is_unknown(phone, tmp_path):
    thumb = Thumb(phone)
    for step in [*BREAKER, *RUN[0], "next", "nobody", "is receptacle", "room Hall", "at by the door"]:
        thumb.tap(step)
    assert feeds(begun(phone, tmp_path)) == {"K1": "B5", "H1": "unknown"}
