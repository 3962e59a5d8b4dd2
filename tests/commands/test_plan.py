"""`plan` as it is called: the case files, word for word; its JSON, its options, and the map that it writes."""

import json
from pathlib import Path

import pytest
import yaml
from house import CASES

from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.examine import examine

FILES = sorted((CASES / "plan").glob("*.yaml"))
HEADER = "date,outlet,pressed,tripped\n"


def folder_of(name: str, at: Path) -> Path:
    """The job folder of a case."""
    told = case(CASES / "plan" / f"{name}.yaml")
    folder = at / "job"
    folder.mkdir()
    file = {"id": name.replace("_", "-"), "title": "A case", **{key: told[key] for key in ("prices", "wishes", "code") if key in told}}
    (folder / "job.yaml").write_text(yaml.safe_dump(file), "utf-8")
    (folder / "protection_map.yaml").write_text(told["map"], "utf-8")
    (folder / "trip_tests.csv").write_text(HEADER, "utf-8")
    return folder


def case(path: Path) -> dict:
    return yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_case(path, tmp_path, capsys):
    """What an electrician reads is what `says` has; `chosen` tells what one would choose by hand (common practice, no source)."""
    assert main(["plan", str(folder_of(path.stem, tmp_path))]) == (1 if case(path)["says"].startswith("CANNOT") else 0)
    assert capsys.readouterr().out == case(path)["says"]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_written_map_checks_clean_of_what_was_planned(path, tmp_path, capsys):
    folder, out = folder_of(path.stem, tmp_path), tmp_path / "map.yaml"
    code = main(["plan", str(folder), "--out", str(out)])
    told = capsys.readouterr().out.splitlines()[-1]
    if code:
        assert not out.exists() and told == "No map was written."
        return
    out.rename(folder / "protection_map.yaml")
    findings = examine(read_job(folder)).findings
    assert not [finding for finding in findings if finding.kind == "needs-gfci"]
    main(["plan", str(folder)])
    assert capsys.readouterr().out.startswith("Nothing to p")   # "put in", or "plan" where nothing needs one


def test_json_has_the_shape_others_rely_on(tmp_path, capsys):
    assert main(["plan", str(folder_of("refrigerator_under_2023", tmp_path)), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"job": "refrigerator-under-2023", "priced": True, "circuits": [{
        "circuit": "7", "with": [], "panel": "P1", "breaker": "B7", "can": True, "why": [], "cost": 80, "wishes": 0, "dark": 2,
        "most": 1, "best": True,
        "devices": [{"at": "K1", "how": "receptacle", "load": [], "line": ["R1"], "zone": ["K1"], "cost": 20, "wishes": 0,
                     "stands": False},
                    {"at": "R1", "how": "new box", "load": ["R1"], "line": [], "zone": ["R1"], "cost": 60, "wishes": 0,
                     "stands": False}],
        "unguarded": [], "each": {"devices": 1, "cost": 20, "no_room": ["R1"]},
        "front": [{"most": 1, "cost": 80, "wishes": 0, "devices": 2}], "other_feeds": []}]}


def test_json_says_why_not(tmp_path, capsys):
    assert main(["plan", str(folder_of("dishwasher_without_a_box", tmp_path)), "--json", "--circuit", "11"]) == 1
    found = json.loads(capsys.readouterr().out)["circuits"]
    assert [one["circuit"] for one in found] == ["11"]
    assert found[0]["can"] is False and found[0]["cost"] is None and found[0]["devices"] == [] and len(found[0]["why"]) == 1


def test_fewer_dark_at_once_costs_more(tmp_path, capsys):
    folder = str(folder_of("kitchen_on_12_3", tmp_path))
    assert main(["plan", folder, "--most", "1", "--json"]) == 0
    one = json.loads(capsys.readouterr().out)["circuits"][0]
    assert (one["cost"], one["most"], [step["most"] for step in one["front"]]) == (76, 1, [2, 1])


def test_a_cap_that_no_plan_keeps_is_said_with_the_least(tmp_path, capsys):
    assert main(["plan", str(folder_of("garage", tmp_path)), "--most", "2"]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "No plan turns off so few outlets at once: the least is 3. Call it with `--most 3`, or give more boxes room." in out


def test_a_circuit_is_asked_for_by_number_or_by_panel_and_number(tmp_path, capsys):
    folder = str(folder_of("what_stands_stays", tmp_path))
    for asked in ("5", "p1-5"):
        assert main(["plan", folder, "--circuit", asked]) == 0
    assert main(["plan", folder, "--circuit", "55"]) == 2
    assert capsys.readouterr().err == ("no circuit `55` with points in job `what-stands-stays`. Did you mean `5`? Write its "
                                       "number as the map does.\n")


@pytest.mark.parametrize("words, says", [
    (["--most", "0"], "--most 0 leaves no outlet; write a number from 1.\n"),
    (["--out", "here/job.yaml"], "here/job.yaml is there already and was left alone; name a new file.\n"),
    (["--out", "nowhere/map.yaml"], "nowhere/map.yaml cannot be written (No such file or directory); name another file.\n")])
def test_what_cannot_be_done_is_said(words, says, tmp_path, capsys, monkeypatch):
    folder_of("garage", tmp_path).rename(tmp_path / "here")
    monkeypatch.chdir(tmp_path)
    assert main(["plan", "here", *words]) == 2
    assert capsys.readouterr().err == says
