"""The commands as they are called: what they print, and their exit codes."""

import io
import json
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from house import ROOT, edit

from sitegen.cli import COMMANDS, main


def test_check_says_ready_first(job, capsys):
    assert main(["check", str(job)]) == 0
    out = capsys.readouterr().out
    assert out.splitlines()[0] == "READY: 4 protective devices proved, 6 outlets shown to be guarded against shock."


def test_check_groups_what_to_do_by_room(job, capsys):
    edit(job, "trip_tests.csv", ",K4,tester,120,correct,K3,K4,,0,yes,,\n", "")
    assert main(["check", str(job)]) == 1
    assert capsys.readouterr().out.splitlines()[:6] == [
        "NOT READY: 1 thing to put right before the handover.", "", "Dining",
        "  STOP K4 (Dining, by the door) has no tester reading. Plug the tester in and write what it says.",
        "       protection_map.yaml:12",
        "  KNOW D1 (Dining, below the window) has no protection against shock on this map. Its page says so."]


def test_check_json_has_the_shape_others_rely_on(job, capsys):
    assert main(["check", str(job), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["job"] == "small" and said["ready"] is True
    assert list(said["points"]) == ["K1", "K2", "K3", "K4", "D1", "F1", "DW", "S1", "L1"]
    assert said["points"]["K4"] == {"protected_by": ["K3", "K1"], "proved_by": ["K3", "K1"],
                                    "reset_order": ["B5", "K1", "K3"], "proof": "proved"}
    assert said["points"]["D1"] == {"protected_by": [], "proved_by": [], "reset_order": ["B5"], "proof": "unprotected"}
    assert said["points"]["F1"] == {"protected_by": [], "proved_by": [], "reset_order": ["B7"], "proof": "not-an-outlet"}
    assert said["points"]["S1"]["reset_order"] == ["B7", "F1"]
    assert said["devices"] == {
        "B5": {"protects": [], "goes_dead": ["K1", "K2", "K3", "K4", "D1"], "proof": "proved"},
        "K1": {"protects": ["K1", "K2", "K3", "K4"], "goes_dead": ["K1", "K2", "K3", "K4"], "proof": "proved"},
        "K3": {"protects": ["K3", "K4"], "goes_dead": ["K3", "K4"], "proof": "proved"},
        "F1": {"protects": ["DW", "L1"], "goes_dead": ["DW", "S1", "L1"], "proof": "proved"}}
    finding = next(one for one in said["findings"] if one["kind"] != "no-book")
    assert finding == {"kind": "unprotected", "level": "know", "where": "protection_map.yaml:13", "points": ["D1"],
                       "says": "D1 (Dining, below the window) has no protection against shock on this map. Its page says so."}


def test_a_job_that_cannot_be_read_says_every_fault_and_exits_2(job, capsys):
    edit(job, "protection_map.yaml", "fed_from: K1 load", "fed_from: K1")
    edit(job, "trip_tests.csv", ",K2,tester", ",K22,tester")
    assert main(["check", str(job)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "protection_map.yaml:10: " in said.err and "trip_tests.csv:3: " in said.err and "Traceback" not in said.err


def test_a_folder_that_is_not_there_exits_2(tmp_path, capsys):
    assert main(["check", str(tmp_path / "nowhere")]) == 2
    assert capsys.readouterr().err


@pytest.mark.parametrize("asked", ["K4", "k4"])
def test_trace_says_what_to_press_first(job, capsys, asked):
    assert main(["trace", str(job), asked]) == 0
    out = capsys.readouterr().out
    assert out.splitlines()[:3] == ["K4: Dining · by the door", "", "Press RESET on K3"]
    assert out.index("K3: Kitchen, by the stove") < out.index("K1: Kitchen, left of the sink") < out.index("B5: Garage")


def test_trace_of_an_unknown_id_exits_2_with_the_near_match(job, capsys):
    assert main(["trace", str(job), "K44"]) == 2
    assert capsys.readouterr().err == "no outlet or device `K44` in job `small`. Did you mean `K4`? Ask by an id of the map, or by room and appliance.\n"


def test_trace_of_a_switch_exits_2(job, capsys):
    assert main(["trace", str(job), "S1"]) == 2
    assert "`S1` is neither an outlet nor a protective device" in capsys.readouterr().err


def test_a_draft_without_any_day_to_count_from_says_what_to_write(job, tmp_path, capsys):
    """No handover, no test: the reminders have nothing to begin after; nothing is written and nothing breaks."""
    edit(job, "job.yaml", "handover: 2026-05-12\n", "")
    header = (job / "trip_tests.csv").read_text("utf-8").splitlines()[0]
    (job / "trip_tests.csv").write_text(header + "\n", "utf-8")
    assert main(["check", str(job)]) == 1
    assert main(["bind", str(job), "--draft", "--out", str(tmp_path / "out")]) == 2
    assert "Write `handover: YYYY-MM-DD` in job.yaml, even for a draft." in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
    edit(job, "job.yaml", "id: small\n", "id: small\nhandover: 2026-05-12\n")
    assert main(["bind", str(job), "--draft", "--out", str(tmp_path / "out")]) == 0


def test_an_unknown_theme_exits_2(job, tmp_path, capsys):
    assert main(["bind", str(job), "--out", str(tmp_path / "out"), "--theme", "lampligth"]) == 2
    assert capsys.readouterr().err == "no theme `lampligth`; there is lamplight. Did you mean `lamplight`?\n"
    assert not (tmp_path / "out").exists()


def test_bind_writes_to_output_and_the_job_id(job, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["bind", "job"]) == 0
    assert (tmp_path / "output" / "small" / "binder.json").is_file()
    assert "Binder written to output/small: " in capsys.readouterr().out


def test_a_word_missing_from_the_theme_fails_the_build(job, tmp_path, monkeypatch, capsys):
    """Nothing is written when the theme lacks one word."""
    from sitegen.publish import theme

    folder = tmp_path / "themes"
    shutil.copytree(theme.themes_folder(), folder)
    words = folder / "lamplight" / "words" / "en" / "page.yaml"
    words.write_text(words.read_text("utf-8").replace("  heading: Still no power, or off again?\n", ""), "utf-8")
    monkeypatch.setattr(theme, "themes_folder", lambda: folder)
    assert main(["bind", str(job), "--out", str(tmp_path / "out")]) == 2
    assert "the words of language `en` have no `cases.heading`" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("asked, first", [
    ("dishwasher", "DW: Kitchen · left of the cabinet · dishwasher"),
    ("kitchen light", "L1: Kitchen · over the sink"),
    ("the lamp over the SINK", "L1: Kitchen · over the sink"),
    ("dining door", "K4: Dining · by the door")])
def test_trace_answers_an_office_line(job, capsys, asked, first):
    """By room and appliance, in the words of a caller."""
    assert main(["trace", str(job), *asked.split()]) == 0
    assert capsys.readouterr().out.splitlines()[0] == first


def test_trace_lists_what_fits_when_several_do(job, capsys):
    assert main(["trace", str(job), "dining"]) == 0
    assert capsys.readouterr().out.splitlines() == [
        "2 places fit `dining`. Ask again with one of these ids:",
        "  K4: Dining · by the door. Press RESET on K3: Kitchen.",
        "  D1: Dining · below the window. Push breaker 5 OFF, then ON: Garage."]


def test_trace_of_words_that_fit_nothing_exits_2(job, capsys):
    assert main(["trace", str(job), "swimming", "pool"]) == 2
    assert capsys.readouterr().err.startswith("no outlet or device `swimming pool` in job `small`.")


def test_trace_says_when_a_wall_switch_must_be_on(job, capsys):
    assert main(["trace", str(job), "L1"]) == 0
    assert "- Its wall switch on? by the door" in capsys.readouterr().out


def test_check_on_a_terminal_wraps_and_colours_and_piped_it_does_neither(job):
    """Colour is never the only sign: without it every line still says its level."""
    from sitegen.commands.check.sheet import check_text
    from sitegen.job import read_job
    from sitegen.protection.examine import examine

    report = examine(read_job(job))
    plain, terminal = check_text(report), check_text(report, width=60, colour=True)
    assert "\x1b" not in plain and "  KNOW D1" in plain
    bare = re.sub(r"\x1b\[[\d;]*m", "", terminal)
    assert terminal != bare and max(map(len, bare.splitlines())) < 60
    assert " ".join(bare.split()) == " ".join(plain.split())


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_a_terminal_gets_our_colours_and_no_sign_of_the_input(job, monkeypatch):
    """ESC of a job or of a call is shown by its number; Control Sequence Introducer: ECMA-48."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    out, err = Terminal(), Terminal()
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "stderr", err)
    assert main(["check", str(job)]) == 0 and out.getvalue().startswith("\x1b[1;32mREADY\x1b[0m: ")
    assert main(["trace", str(job), "zzqq\x1b[2J\u202e"]) == 2
    edit(job, "job.yaml", "id: small", 'id: small\n"\\e[31mx": 1')
    edit(job, "trip_tests.csv", ",K2,tester", ",K\u200e2,tester")
    assert main(["check", str(job)]) == 2
    assert not re.search("[\x1b\u202e\u200e]", err.getvalue())
    assert "U+001B" in err.getvalue() and "U+202E" in err.getvalue() and "U+200E" in err.getvalue()


@pytest.mark.parametrize("name", COMMANDS)
def test_help_has_an_example_that_the_command_takes(name, capsys):
    """Its words are taken: what it ends with is that there is no such job."""
    with pytest.raises(SystemExit):
        main([name, "--help"])
    example = re.search(r"example: sitegen (.*)", " ".join(capsys.readouterr().out.split()))[1]
    if name != "begin":
        assert main(example.split()) == 2
        assert "usage:" not in capsys.readouterr().err


def test_the_package_is_called_as_a_module():
    ran = subprocess.run([sys.executable, "-m", "sitegen", "--help"], capture_output=True, text=True)
    assert ran.returncode == 0 and "COMMAND" in ran.stdout


def test_the_wheel_brings_themes_and_starter(job, tmp_path):
    """Laid out as pyproject.toml says, far from the checkout."""
    wheel = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["hatch"]["build"]["targets"]["wheel"]
    for source, to in ({name: name for name in wheel["packages"]} | wheel["force-include"]).items():
        shutil.copytree(ROOT / source, tmp_path / "site" / to, ignore=shutil.ignore_patterns("__pycache__"), dirs_exist_ok=True)
    for words in (["begin", "new"], ["bind", str(job), "--out", "out"]):
        ran = subprocess.run([sys.executable, "-m", "sitegen", *words], cwd=tmp_path / "site", capture_output=True, text=True)
        assert ran.returncode == 0, ran.stderr
    assert (tmp_path / "site/new/job.yaml").is_file() and (tmp_path / "site/out/site/index.html").is_file()
    where = subprocess.run([sys.executable, "-c", "from sitegen.publish.theme import themes_folder; print(themes_folder())"],
                           cwd=tmp_path / "site", capture_output=True, text=True).stdout.strip()
    assert Path(where) == tmp_path / "site/sitegen/_data/themes"
