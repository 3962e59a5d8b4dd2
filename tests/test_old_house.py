"""An older house: two-wire circuits without a ground, a reversed device, a bootleg ground, unknown feeds, a subpanel.

The whole output is kept, so that every sentence can be read aloud where it will be read.
"""


import pytest
from house import CASES

from sitegen.binder.answer.answer import outlet_answer
from sitegen.binder.desk import Desk
from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

HOUSE, OLDER = CASES / "old_house", CASES / "older_house"


def test_check_says_what_a_colleague_would(capsys):
    assert main(["check", str(HOUSE)]) == 1
    assert capsys.readouterr().out == (HOUSE / "expected.txt").read_text("utf-8")


def test_a_house_of_two_wires_one_neutral_and_aluminum_is_judged_as_an_inspector_would(capsys):
    """Read aloud: existing wiring is told, what is new or guards nobody stops, what is not known is asked for."""
    assert main(["check", str(OLDER)]) == 1
    assert capsys.readouterr().out == (OLDER / "expected.txt").read_text("utf-8")
    main(["check", str(OLDER), "--rules"])
    assert capsys.readouterr().out == (OLDER / "rules.txt").read_text("utf-8")


def test_recover_says_what_the_tests_support(capsys):
    assert main(["recover", str(HOUSE)]) == 0
    assert capsys.readouterr().out == (HOUSE / "recovered.txt").read_text("utf-8")


def test_the_pages_of_a_workshop_behind_a_subpanel():
    """The feeder comes first in the order and last on the page; the generator is named. The outlet of unknown feed stayed
    live in the own TEST of all three devices, so it is no reset problem, and nothing is said to guard it."""
    report = examine(read_job(HOUSE))
    words = open_theme().words("en")
    assert report.tree.reset_order("W2") == ("B20", "B2")
    bench = outlet_answer(Desk(report, words), "W1")
    assert bench.headline.plain == "Push breaker 2 OFF, then ON"
    assert "Power may be on from another source: generator." in bench.hints
    [last] = [case for case in bench.cases if case.title.plain == "Everything on this breaker panel is dead"]
    assert any(getattr(piece, "id", "") == "B20" for piece in last.says)
    bed = outlet_answer(Desk(report, words), "E1")
    assert bed.headline.plain == "Push the breaker marked 5 OFF, then ON"
    assert bed.why.plain == "This is not a reset problem"
    assert report.proof.outlet("E1") == "untested" and report.tree.protected_by("E1") == ()


@pytest.mark.thorough
def test_a_draft_of_it_can_be_bound(tmp_path, capsys):
    """Unready, it is refused; as a draft everything is written and marked."""
    assert main(["bind", str(HOUSE), "--out", str(tmp_path / "out")]) == 1
    assert not (tmp_path / "out").exists()
    assert main(["bind", str(HOUSE), "--out", str(tmp_path / "out"), "--draft"]) == 0
    assert "DRAFT" in (tmp_path / "out" / "site" / "W1" / "index.html").read_text("utf-8")
    capsys.readouterr()
