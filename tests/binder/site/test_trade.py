"""The technician's pages of a breaker, a device and a panel: what is known, what is not, and how old what was seen is."""

import re

import pytest
from house import edit, report_of, small_job

from sitegen.binder.desk import Desk
from sitegen.binder.paper.compose import print_binder
from sitegen.binder.site.circuit import circuit_sheet
from sitegen.binder.site.live import live_rows
from sitegen.binder.site.place import place_pages
from sitegen.binder.site.trade.device import trade_device
from sitegen.binder.site.trade.index import index
from sitegen.binder.site.trade.panel import trade_panel
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

MAP = "protection_map.yaml"


def desk_of(job) -> Desk:
    return Desk(examine(job), open_theme().words("en"))


@pytest.fixture(scope="module")
def house(example) -> Desk:
    return desk_of(read_job(example))


def test_what_stays_live_with_each_device_out_is_seen_or_as_drawn(house, tmp_path):
    rows = {row.id: row for row in live_rows(house, house.job.circuit["P1-5"])}
    assert list(rows) == ["B5", "K1", "K4"]
    assert rows["B5"].opens == "the hot only" and rows["K1"].live == "K1 LINE; D1, seen live 18 May 2027"
    assert rows["K4"].live == "K4 LINE; K1, D1, K2, D2, K3, seen live 18 May 2027"
    folder = small_job(tmp_path / "job", ("trip_tests.csv", ",K3,device,,,K3,K3 K4,rest of house L1,,yes,,\n", ""))
    desk = Desk(report_of(folder), open_theme().words("en"))
    assert live_rows(desk, desk.job.circuit["P1-5"])[2].live == "K3 LINE; K1, K2, D1, as drawn"


@pytest.mark.parametrize(("device", "says"), [
    ("class: A, date code: 15W27", "hot and neutral (Class A"), ("class: A, date code: 15W26", "not written"), ("class: A, date code: '0126'", "not written"),
    ("date code: 26W07", "not written"), ("class: A, installed: 2026-04-28", "not written")])
def test_a_receptacle_type_opens_both_conductors_by_the_rule_of_2015_where_its_date_code_tells(tmp_path, device, says):
    """UL 943 as reported: Class A receptacle types from 29 June 2015 on, which began week 27; the day of installing tells nothing."""
    folder = small_job(tmp_path / "job")
    edit(folder, MAP, "at: left of the sink, fed_from: B5}", f"at: left of the sink, fed_from: B5, device: {{{device}}}}}")
    desk = Desk(report_of(folder), open_theme().words("en"))
    facts = dict(trade_device(desk, "K1").facts)
    assert says in facts["Opens"] and facts["Self test"].startswith("yes" if "Class A" in says else "not known")


def test_what_is_written_of_both_poles_goes_before_the_rule_and_breakers_are_not_judged(tmp_path):
    folder = small_job(tmp_path / "job")
    edit(folder, MAP, "at: left of the sink, fed_from: B5}", "at: left of the sink, fed_from: B5, device: {class: A, date code: 26W07}, both_poles: no}")
    edit(folder, MAP, "{id: B5, space: 5, amps: 20, type: afci}", "{id: B5, space: 5, amps: 20, type: afci, device: {class: A, date code: 26W07}}")
    desk = Desk(report_of(folder), open_theme().words("en"))
    assert dict(trade_device(desk, "K1").facts)["Opens"] == "the hot only"
    breaker = dict(trade_device(desk, "B5").facts)
    assert "not written" in breaker["Opens"] and breaker["Self test"].startswith("not judged")


def test_own_tests_say_what_of_them_is_void_and_that_a_breaker_was_opened_by_its_handle(house):
    k1 = [row for row in trade_device(house, "K1").tests if row[0] == "11 May 2026"]
    assert all(row[-1].startswith("Void for K2 D2 K3 K4 K5 since the visit of 18 May 2027.") for row in k1) and k1
    assert [row[2] for row in trade_device(house, "B6").tests] == ["its handle, with K1 F1 A1 B6 B14, one walk", "with B7 B9 B4 B6 B12, one walk"]


def test_a_standard_breaker_opens_the_hot_only(house):
    """Common practice, no source."""
    assert dict(trade_device(house, "B4").facts)["Opens"] == "the hot only"


def test_a_device_has_its_conductors_by_terminal_and_every_own_test_with_its_age(house):
    page = trade_device(house, "K6")
    assert page.conductors == (("LINE", "from B7", "52 ft, 12 AWG Cu NM-B"), ("LOAD", "to K7", "8 ft, 12 AWG Cu NM-B"), ("LOAD", "to K8", "19 ft, 12 AWG Cu NM-B"))
    assert [(row[0], row[1]) for row in page.tests] == [("18 May 2027", "0 mo"), ("11 May 2026", "before it was put in"),
                                                         ("11 May 2026", "before it was put in"), ("11 May 2026", "before it was put in")]
    assert all("Void since the visit of 18 May 2027" in row[-1] for row in page.tests[1:])
    assert dict(page.facts)["Installed"] == "18 May 2027; 0 mo old on 18 May 2027, the last day of this record"
    assert page.void == (("18 May 2027", "K6 K7 K8"),)
    assert {row[0]: row[2] for row in page.cuts} == {id: "tester here, 18 May 2027" for id in ("K6", "K7", "K8")}


def test_an_empty_load_side_is_told_from_one_that_nobody_looked_at(tmp_path):
    folder = small_job(tmp_path / "job")
    edit(folder, MAP, "fed_from: K3 load}", "fed_from: K2}")
    desk = Desk(report_of(folder), open_theme().words("en"))
    assert trade_device(desk, "K3").conductors[-1][:2] == ("LOAD", "nothing drawn; whether it was looked at is not written")
    edit(folder, MAP, "at: by the stove, fed_from: K2}", "at: by the stove, fed_from: K2, load_empty: yes}")
    desk = Desk(report_of(folder), open_theme().words("en"))
    assert trade_device(desk, "K3").conductors[-1][:2] == ("LOAD", "nothing, looked at")


def test_a_panel_shows_both_sides_spares_and_the_directory(house):
    """NEC 408.4(A), as reported: each circuit by its purpose, told apart from all others."""
    page = trade_panel(house, house.job.panels[0])
    facts = dict(page.facts)
    assert facts["Main"] == "in this panel, 125 A" and facts["Bonding"].startswith("neutral and equipment ground joined")
    assert [left[1][0].says if left and not left[1][0].breaker else "" for left, _ in page.rows[:3]] == ["spare", "spare", ""]
    assert [right[1][0].breaker for _, right in page.rows if right] == ["B2", "B4", "B6", "B8", "B10", "B12", "B14", "B16"]
    assert len(page.directory) == len(house.job.circuits) and len({line.serves for line in page.directory}) == len(page.directory)


def test_a_shared_neutral_and_other_sources_stand_on_top_of_every_page(old_house):
    desk = desk_of(old_house)
    for notices in (trade_device(desk, "B2").notices, trade_device(desk, "K1").notices, circuit_sheet(desk, old_house.circuit["P1-2"]).notices):
        assert "B2, B6, B8 off and locked together" in notices[0] and "generator" in notices[1]
    panels = [trade_panel(desk, panel) for panel in old_house.panels]
    assert all("generator" in page.notices[0] for page in panels)
    assert any("off and locked together" in line.shares for page in panels for line in page.directory)


def test_a_panel_says_of_neutrals_sources_and_legs_that_nothing_is_written(house, old_house):
    facts = dict(trade_panel(house, house.job.panels[0]).facts)
    assert facts["Shared neutral"] == facts["Other sources"] == "not written" and "not measured" in facts["Legs"]
    told = [dict(trade_panel(desk_of(old_house), panel).facts) for panel in old_house.panels]
    assert any("off and locked together" in facts["Shared neutral"] for facts in told) and any(facts["Other sources"] == "generator" for facts in told)


def test_spares_and_neutrals_are_found_at_the_panel_and_a_box_on_its_device(house):
    [panel] = [entry for entry in index(house) if entry.name == "P1"]
    assert {"spare", "neutral", "main", "legs"} <= set(panel.known.split())
    assert dict(trade_device(house, "K1").facts)["Box"] == "easy; pigtail; cables: 3; 23 cu in"


def test_a_box_is_counted_out_by_the_edition_of_the_job(house):
    """314.16(B), 2.25 cu in for 12 AWG (as reported): six conductors, a yoke for two, the grounds for one, the clamps for one: ten."""
    assert dict(trade_device(house, "K1").facts)["Box fill"] == "needs 22.5 of 23 cu in as counted, by 314.16(B) of 2020"


def test_tests_stand_the_newest_first_and_the_rest_of_the_house_as_a_count(house):
    tests = circuit_sheet(house, house.job.circuit["P1-5"]).tests
    assert [row.date for row in tests] == sorted((row.date for row in tests), reverse=True)
    assert next(row for row in tests if row.outlet == "B5" and row.pressed == "own TEST").live == "rest of house (28)"


def test_what_no_test_can_tell_is_said_cable_by_cable(house):
    """The law: outlets behind the same devices die and live together in every press."""
    says = circuit_sheet(house, house.job.circuit["P1-5"]).not_told
    assert says == ("K1, D1: all of them behind B5 alone. Which of them feeds the next is as drawn.",
                    "K2, D2, K3, K4: all of them behind B5, K1 alone. Which of them feeds the next is as drawn.")
    eleven = circuit_sheet(house, house.job.circuit["P1-11"]).not_told
    assert any(text.startswith("S1: where a switch") for text in eleven)
    single = circuit_sheet(house, house.job.circuit["P1-9"]).not_told
    assert single == ()


def test_a_shared_neutral_stands_in_the_drawing_and_in_what_stays_live(old_house):
    sheet = circuit_sheet(desk_of(old_house), old_house.circuit["P1-2"])
    [breaker] = [node for node in sheet.drawing.nodes if node.id == "B2"]
    assert breaker.alarm == "neutral shared with B6, B8 · also supplied by generator"
    assert "its neutral carries the current of B6, B8" in sheet.live[0].live


def test_a_cable_too_many_or_too_few_in_a_box_is_told(house):
    """K8 has the capped cable of the visit; F1 and its switch are one box, with the cables of both."""
    rows = {row.id: row for key in ("P1-5", "P1-7", "P1-11") for row in circuit_sheet(house, house.job.circuit[key]).rows}
    assert "cables: 2, 1 on the map" in rows["K8"].box
    assert "cables: 3;" in rows["F1"].box + ";" and "on the map" not in rows["F1"].box
    assert [id for id, row in rows.items() if "on the map" in row.box] == ["K8"]


def test_no_page_of_the_house_speaks_of_lifting_a_wire_and_those_of_the_technician_do(old_house):
    """Where a neutral is shared the technician is told what to lift; who lives there reads nothing of it, on the site or on paper."""
    desk = desk_of(old_house)
    places = place_pages(desk)
    owners = [repr(page) for page in (*places.values(), *print_binder(desk, places).sheets)]
    assert not [page for page in owners if re.search(r"\blift", page, re.I)]
    assert "lifted" in trade_device(desk, "B2").notices[0]


def test_what_a_meter_showed_at_a_visit_stands_at_its_point_with_its_own_day(house):
    rows = {row.id: row for row in circuit_sheet(house, house.job.circuit["P1-7"]).rows}
    assert rows["K8"].reading.startswith("121 V correct, 18 May 2027; 18 May 2027: insulation, hot to ground, 210 MΩ, 500 V, cable to D2 off at both ends (sound")


def test_what_no_meter_showed_is_said(house):
    """Of a device what is missing; of a circuit also where the rest was measured. No trip time is asked of what does not open on a leak."""
    facts = {id: dict(trade_device(house, id).facts)["By a meter"] for id in ("K1", "K6", "B5", "B2")}
    assert facts["K1"] == facts["B5"] == "insulation: not measured; volts under load: not measured"
    assert facts["K6"] == facts["B2"] == f"trip time of a GFCI: not measured; {facts['K1']}"
    circuits = {circuit.key: dict(circuit_sheet(house, circuit).facts)["By a meter"] for circuit in house.job.circuits}
    assert circuits["P1-5"] == "trip time of a GFCI: K1; insulation: not measured; volts under load: D2"
    assert circuits["P1-7"] == "trip time of a GFCI: not measured; insulation: K8; volts under load: not measured"
    assert "trip time" not in circuits["P1-9"]
