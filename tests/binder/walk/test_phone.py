"""What the page for the phone is told: the rows of the sheet, once each; after a visit its retests alone; sets, and no wiring."""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import date

import pytest
from house import BASE, report_of
from publish.walk.taps import data_of, without_tests

from sitegen.protection.examine import examine


def asked(data):
    return [(test["outlet"], test["pressed"]) for test in data["tests"]]


def test_a_visit_asks_for_its_retests(example):
    """The example before the rows of its visit: what the new K6, and D2 on its new feed, have left worth nothing."""
    whole = report_of(example)
    before = examine(replace(whole.job, tests=tuple(row for row in whole.job.tests if row.date < date(2027, 1, 1))))
    found = asked(data_of(before))
    assert {("K6", "device"), ("D2", "none"), ("K1", "device"), ("B7", "device")} <= set(found) and len(found) == 15
    assert not data_of(whole)["tests"]


@pytest.mark.parametrize("missing", [True, False])
@pytest.mark.parametrize("rounds", [True, False])
def test_every_row_of_the_sheet_is_there_once(missing, rounds):
    """A reading where the tester is pressed anyway is that press."""
    data = data_of(without_tests(report_of(BASE)), missing, rounds)
    found = asked(data)
    assert len({test["key"] for test in data["tests"]}) == len(found)
    testers = {outlet for outlet, pressed in found if pressed == "tester"}
    assert not [test for test in data["tests"] if test["pressed"] == "none" and test["part"] != "last" and test["outlet"] in testers]
    assert {"K1", "K2", "K3", "K4"} <= {outlet for outlet, pressed in found if pressed in ("tester", "none")}


def test_sets_in_feed_order_and_nothing_of_the_wiring(tmp_path):
    data = data_of(report_of(shutil.copytree(BASE, tmp_path / "job")), False)
    assert data["map"]["cuts"]["K1"] == ["K1", "K2", "K3", "K4"] and data["map"]["cuts"]["F1"] == ["DW", "L1"]
    assert data["map"]["guards"]["K4"] == ["K3", "K1"] and "D1" not in data["map"]["guards"]
    assert [outlet["id"] for outlet in data["outlets"]] == ["K1", "K2", "K3", "K4", "D1", "DW", "L1"]
    assert data["people"] == ["A. Fern"] and "fed_from" not in str({name: value for name, value in data.items() if name != "words"})
