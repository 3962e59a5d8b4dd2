"""`recover` as it is called: the small kitchen with every feed struck out."""

import json
import re

import pytest
from house import small_job

from sitegen.cli import main


@pytest.fixture
def job(tmp_path):
    folder = small_job(tmp_path / "job")
    path = folder / "protection_map.yaml"
    path.write_text(re.sub(r"fed_from: [\w ]+", "fed_from: unknown", path.read_text("utf-8")), "utf-8")
    return folder


def test_json_has_the_shape_others_rely_on(job, capsys):
    assert main(["recover", str(job), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {
        "points": {"K1": "B5", "K2": "K1 load", "K3": "K1 load", "K4": "K3 load", "D1": "B5", "F1": "B7", "DW": "F1 load",
                   "L1": "F1 load"},
        "unknown": ["S1"]}


def test_the_lines_are_map_lines(job, capsys):
    assert main(["recover", str(job)]) == 0
    out = capsys.readouterr().out.splitlines()
    assert out[0] == "From the trip tests alone: 8 points placed, 1 that no test made so far can tell. The map was not changed."
    assert '  - {id: K4, is: receptacle, room: "Dining", at: "by the door", fed_from: K3 load}' in out
    assert '  - {id: S1, is: switch, room: "Kitchen", at: "by the door", fed_from: unknown}' in out
    assert "  Where these hang, which nobody can see dead or live: S1 (Kitchen, by the door)." in out


def test_a_breaker_that_no_test_spoke_of_is_said_to_be_taken_from_the_list(job, capsys):
    path = job / "trip_tests.csv"
    path.write_text(path.read_text("utf-8").replace(",B7,breaker,,,none,DW L1,rest of house,,yes,,\n", ""), "utf-8")
    assert main(["recover", str(job), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["points"]["F1"] == "B7"
    assert main(["recover", str(job)]) == 0
    assert "  Whether the breaker is right: no test spoke of B7, so it was taken from the list of the circuit. Switch its handle " \
           "off and look." in capsys.readouterr().out.splitlines()


def test_tests_that_cannot_be_nested_are_reported(job, capsys):
    path = job / "trip_tests.csv"
    path.write_text(path.read_text("utf-8").replace(",F1,device,,,F1,DW L1,", ",F1,device,,,F1,DW L1 K4,"), "utf-8")
    assert main(["recover", str(job)]) == 0
    out = capsys.readouterr().out
    assert "K4 (Dining, by the door) was dead with K1 open (trip_tests.csv:7) and with F1 open (trip_tests.csv:10)" in out


def test_a_folder_that_cannot_be_read(tmp_path, capsys):
    assert main(["recover", str(tmp_path / "none")]) == 2
