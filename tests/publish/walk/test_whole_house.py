"""A whole house by taps in Chromium: the rows that are written by hand, READY, and a wrong wire told."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace

import pytest
from house import BASE, CASES, report_of
from publish.walk.taps import data_of, expected, page_of, walked

from sitegen.cli import main
from sitegen.job.records import Feed

pytestmark = pytest.mark.browser
PHONES = {"360x640": {"width": 360, "height": 640}, "320x560": {"width": 320, "height": 560}}


def a_phone(chromium, size):
    return chromium.new_context(viewport=PHONES[size], has_touch=True, is_mobile=True)


def entered(folder, text, capsys):
    """What `check` says once the file is entered."""
    taps = folder / "taps.csv"
    taps.write_text(text, "utf-8")
    assert main(["enter", str(folder), str(taps)]) == 0
    capsys.readouterr()
    code = main(["check", str(folder), "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_the_example_by_taps(example, chromium, tmp_path, capsys):
    """Every test of the example still to be made, no letter typed: its rows byte for byte, READY, at most 7 taps a test."""
    folder = shutil.copytree(example, tmp_path / "job")
    (folder / "visits.yaml").unlink()
    (folder / "trip_tests.csv").write_text("# job-26-041\ndate,outlet,pressed,volts,wiring,tripped,went_dead,stayed_live,volts_after,reset,by,note\n")
    report = report_of(folder)
    data = data_of(report)
    context = a_phone(chromium, "360x640")
    walker = walked(context.new_page(), page_of(report, tmp_path), report.job, report.job, data)
    text = walker.file()
    context.close()
    assert text.split("\n", 3)[3] == expected(report.job, report.job, data, "Dana Verrill")
    with capsys.disabled():
        print(f"\n{len(data['tests'])} tests in {walker.taps} taps, {walker.taps / len(data['tests']):.2f} a test")
    assert walker.taps <= 7 * len(data["tests"])
    code, checked = entered(folder, text, capsys)
    assert code == 0 and checked["ready"]


@pytest.mark.parametrize("size", PHONES)
def test_rounds_and_single_presses_by_taps(chromium, size, tmp_path, capsys):
    """Readings, rounds, what is open alone, handles, the tester, a last walk: the rows of the case, which was written by hand from the map."""
    folder = shutil.copytree(BASE, tmp_path / "job")
    (folder / "trip_tests.csv").write_text("date,outlet,pressed,volts,wiring,tripped,went_dead,stayed_live,volts_after,reset,by,note\n")
    report = report_of(folder)
    context = a_phone(chromium, size)
    walker = walked(context.new_page(), page_of(report, tmp_path, missing=False, rounds=True), report.job, report.job, data_of(report, False, True))
    text = walker.file()
    context.close()
    assert not walker.kept and text.split("\n", 2)[2] == (CASES / "walk" / "small.csv").read_text("utf-8")
    code, checked = entered(folder, text, capsys)
    assert code == 0 and checked["ready"]


def test_one_wrong_wire_is_told_and_corrected(chromium, tmp_path, capsys):
    """The map has K4 behind K3's LOAD; in the wall it hangs on LINE. The walker taps what is there and keeps it."""
    folder = shutil.copytree(BASE, tmp_path / "job")
    (folder / "trip_tests.csv").write_text("date,outlet,pressed,volts,wiring,tripped,went_dead,stayed_live,volts_after,reset,by,note\n")
    report = report_of(folder)
    true = replace(report.job, points=tuple(replace(p, feed=Feed("K3", "line")) if p.id == "K4" else p for p in report.job.points))
    context = a_phone(chromium, "360x640")
    walker = walked(context.new_page(), page_of(report, tmp_path), report.job, true, data_of(report))
    text = walker.file()
    context.close()
    assert walker.kept and "looked again: K4" in text
    code, checked = entered(folder, text, capsys)
    assert code == 1 and not checked["ready"]
    assert any("K4" in finding["says"] and "fed_from: K3 line" in finding["says"] for finding in checked["findings"]), checked["findings"]
