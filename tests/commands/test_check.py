"""What `check` adds for the next walk and for the map: missing tests and corrections, in words and in JSON."""

import json

from house import edit

from sitegen.cli import main


def said(folder, capsys):
    main(["check", str(folder), "--json"])
    return json.loads(capsys.readouterr().out)


def test_missing_tests_are_lines_to_walk(job, capsys):
    edit(job, "trip_tests.csv", ",K3,device,,,K3,K3 K4,rest of house L1,,yes,,\n", "")
    edit(job, "trip_tests.csv", ",K2,tester,121,correct,K1,K2,,0,yes,,\n", "")
    assert main(["check", str(job)]) == 1
    out = capsys.readouterr().out
    assert out.split("\n\n")[-2].splitlines() == [
        "Still to be tested (2 presses):",
        "  Press TEST on K3 (Kitchen, by the stove) and look at: K1 (Kitchen, left of the sink), K2 (Kitchen, right of the "
        "window), K3 itself, K4 (Dining, by the door), D1 (Dining, below the window).",
        "  Plug the tester in at K2 (Kitchen, right of the window), read it and press its button."]
    assert said(job, capsys)["missing_tests"] == [
        {"outlet": "K3", "pressed": "device", "look_at": ["K1", "K2", "K3", "K4", "D1"]},
        {"outlet": "K2", "pressed": "tester", "look_at": []}]


def test_nothing_is_missing_from_a_ready_job_nor_listed_while_something_is_contradicted(job, capsys):
    assert said(job, capsys)["missing_tests"] == []
    edit(job, "trip_tests.csv", ",K2,tester,121,correct,K1,K2,,0,yes,,\n", "")
    edit(job, "protection_map.yaml", "fed_from: K1 line", "fed_from: K1 load")
    assert said(job, capsys)["missing_tests"] == []


def test_a_correction_carries_its_changes(job, capsys):
    edit(job, "protection_map.yaml", "fed_from: K1 line", "fed_from: K1 load")
    [finding] = [f for f in said(job, capsys)["findings"] if f["kind"] == "map-correction"]
    assert finding == {"kind": "map-correction", "level": "fix", "where": "protection_map.yaml:13", "points": ["D1"],
                       "says": "In the map, line 13: `fed_from: K1 load` -> `fed_from: K1 line`, for D1 (Dining, below the "
                               "window); fed from B5 it would be the same. With this change the map explains every test. Write it "
                               "only if it is really wired so: then D1 is not protected against shock. If it should be, leave "
                               "the map, move the wire to the load terminals, and test again.",
                       "changes": [{"point": "D1", "from": "K1 load", "to": "K1 line", "same_effect": ["B5"]}]}


def test_exchanged_breakers_are_an_exchange(job, capsys):
    text = (job / "protection_map.yaml").read_text("utf-8")
    for old, new in (("id: B5", "id: BX"), ("fed_from: B5", "fed_from: BX"), ("B7", "B5"), ("BX", "B7")):
        text = text.replace(old, new)
    text = text.replace("type: standard", "type: TYPE").replace("type: afci", "type: standard").replace("TYPE", "afci")
    (job / "protection_map.yaml").write_text(text, "utf-8")
    first = [f for f in said(job, capsys)["findings"] if f["kind"] == "map-correction"][0]
    assert first["changes"] == [{"exchange": ["B5", "B7"]}] or first["changes"] == [{"exchange": ["B7", "B5"]}]


def test_the_first_check_of_a_job_without_tests_is_a_page(example, tmp_path, capsys):
    """60 points and 18 devices: what one walk-through settles is told a line a room; the JSON has every finding all the same."""
    assert main(["begin", str(tmp_path / "new"), "--like", str(example)]) == 0
    capsys.readouterr()
    assert main(["check", str(tmp_path / "new")]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) <= 50 and lines[2] == "Nothing was tested yet"
    assert "  Laundry: look at W1 W2" in lines and not [line for line in lines if line.startswith("  STOP")]
    assert len(said(tmp_path / "new", capsys)["findings"]) > 90


def test_a_round_or_a_handle_is_something_that_was_tried(job, capsys):
    """Only a job of readings alone has its walk told on one page."""
    rows = (job / "trip_tests.csv").read_text().splitlines()
    for kept in ("none", "breaker"):
        some = ["2026-05-08" + row for row in rows[2:] if row.split(",")[2] == kept]
        (job / "trip_tests.csv").write_text("\n".join([rows[0], *some]) + "\n")
        main(["check", str(job)])
        assert some and ("Nothing was tested yet" in capsys.readouterr().out) == (kept == "none")
