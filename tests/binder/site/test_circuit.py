"""What the service record says of feeds, of what keeps a box live, and of what stands in the panel."""

import re

import pytest
from house import edit, parsed, report_of, small_job

from sitegen.binder.desk import Desk
from sitegen.binder.paper.compose import print_binder
from sitegen.binder.site.circuit import circuit_sheet, feed_line
from sitegen.binder.site.place import place_pages
from sitegen.binder.site.service import service_index
from sitegen.binder.site.visits import visit_records
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme


def desk_of(job) -> Desk:
    return Desk(examine(job), open_theme().words("en"))


@pytest.fixture
def house(example) -> Desk:
    return desk_of(read_job(example))


def fed(desk: Desk, id: str) -> str:
    [row] = [row for row in circuit_sheet(desk, desk.job.circuit[desk.job.point[id].circuit]).rows if row.id == id]
    return row.fed


@pytest.mark.parametrize(("id", "says"), [
    ("L2", "J2, 4 ft"), ("J2", "S3, switched, 18 ft"), ("L8", "S9, switched, 16 ft"), ("M1", "S9 box, always hot, 26 ft"),
    ("S6", "S5 box, always hot, 20 ft"), ("S12", "S5, travellers, 15 ft"), ("K9", "S1, switched, 5 ft"), ("K1", "B5 to LINE, 46 ft"), ("K4", "K3 to LINE, 24 ft"),
    ("K2", "K1 LOAD, 9 ft"), ("D1", "K1 LINE, 22 ft")])
def test_a_point_says_what_it_hangs_on_and_where_it_arrives(house, id, says):
    """J2 hangs on a switch and has none written: the light behind it tells that it is switched."""
    assert fed(house, id) == says


def test_a_way_behind_a_switch_says_whether_the_switch_cuts_it(house):
    """The smoke alarm in the box of the garage switch is not switched."""
    line = feed_line(house, house.job.circuit["P1-6"])
    assert "S9 switched → L8" in line and "S9 always hot → M1 → S5" in line
    assert "S3 switched → J2 → L2" in feed_line(house, house.job.circuit["P1-15"])


@pytest.mark.parametrize(("behind", "leg"), [
    ("", None), ("{id: L9, is: light, room: Hall, at: ceiling, fed_from: J9, switched_by: S9}", "switched"),
    ("{id: L9, is: light, room: Hall, at: ceiling, fed_from: J9}", "hot"),
    ("{id: L9, is: light, room: Hall, at: ceiling, fed_from: J9, switched_by: S9},"
     "{id: L8, is: light, room: Hall, at: wall, fed_from: J9}", "both")])
def test_what_a_junction_behind_a_switch_is_brought_follows_from_what_hangs_on_it(tmp_path, behind, leg):
    own = ("protection_map.yaml", "  - number: 7\n", "  - number: 9\n    panel: P1\n    serves: Hall\n"
           "    breaker: {id: B9, space: 9, type: standard}\n    points: [\n      {id: S9, is: switch, room: Hall, at: by the door, fed_from: B9},"
           "\n      {id: J9, is: junction, room: Attic, at: above it, fed_from: S9}" + (", " + behind if behind else "") + "]\n  - number: 7\n")
    desk = Desk(report_of(small_job(tmp_path / "job", own)), open_theme().words("en"))
    assert desk.tree.leg("J9") == leg
    assert ("not written" in fed(desk, "J9")) is (leg is None)


def test_a_shared_neutral_and_other_sources_stand_wherever_a_technician_looks(old_house):
    """Circuits 2, 4, 6 and 8 hang on one neutral; a generator feeds the panel."""
    desk = desk_of(old_house)
    for number in ("2", "4", "6", "8"):
        facts = dict(circuit_sheet(desk, old_house.circuit[f"P1-{number}"]).facts)
        assert re.match("Circuit [2468](, circuit [2468]){2} and circuit [2468] of panel P1 share a neutral: B2, B6, B8 off and locked together", facts["Shared neutral"])
        assert facts["Also supplied by"] == "generator"
    index = service_index(desk)
    assert all("share a neutral" in serves for key, _, serves in index.circuits if key in ("P1-2", "P1-4", "P1-6", "P1-8"))
    assert all("share a neutral" in device.details for device in index.devices if device.id in ("K1", "B2", "B6", "B8"))
    assert "share a neutral" not in " ".join(device.details for device in index.devices if device.id not in ("K1", "B2", "B6", "B8"))
    for sheet in print_binder(desk, place_pages(desk)).sheets:
        assert ("neutral shared with" in " ".join(sheet.record)) is (sheet.place.id in ("K1", "B2"))


def test_circuits_of_one_number_have_their_panel_in_their_name(old_house):
    names = [name for _, name, _ in service_index(desk_of(old_house)).circuits]
    assert "Circuit 2, panel P1" in names and "Circuit 2, panel P2" in names and "Circuit 4" in names
    assert len(set(names)) == len(names)


def test_every_breaker_stands_in_the_list_with_its_make(house):
    devices = {device.id: device for device in service_index(house).devices}
    assert set(devices) == {*house.job.breaker, *house.tree.devices}
    assert devices["B4"].state == "Breaker handle tried on 11 May 2026" and "HS-120" in devices["B4"].details
    assert devices["B5"].details == "20 A, Hollin, HA-120, date code 26W04, torque 20 lbf-in, no. 3"


def test_every_id_in_a_cell_leads_to_its_row(bound):
    """Row by row as html5lib reads them; the row that a link names exists."""
    pages = {path: parsed(path) for path in (bound / "site" / "service-record").rglob("index.html")}
    rows = {(path, row.get("id")) for path, page in pages.items() for row in page.iter("tr")}
    links = 0
    for path, page in pages.items():
        for link in (link for table in page.iter("table") for link in table.iter("a") if "#" in link.get("href")):
            file, _, anchor = link.get("href").partition("#")
            assert anchor == link.text and ((path.parent / file).resolve() if file else path, anchor) in rows, (path, link.get("href"))
            links += 1
    assert links > 500
    five = pages[bound / "site" / "service-record" / "P1-5" / "index.html"]
    [row] = [row for row in five.iter("tr") if row.get("id") == "K4"]
    assert [link.get("href") for link in row.iter("a")][:2] == ["../../service-record/K4/index.html", "#K3"]


def test_the_contractor_stands_by_rows_with_a_name_in_words(house, job):
    facts = dict(service_index(house).facts)
    assert facts["Firm"] == "Bramble Hollow Electric" and facts["License"] == "ME-20417"
    assert not any("firm:" in value for value in facts.values())
    edit(job, "job.yaml", "contractor: {", "contractor: {van: two, ")
    assert ("van", "two") in service_index(Desk(report_of(job), open_theme().words("en"))).facts


def test_that_it_stayed_live_with_another_device_out_is_no_test_of_an_outlet(house):
    """The TESTs of the visit named the rest of the house as live: the outdoor outlets were last tested at the handover."""
    tested = {node.id: node.tested for node in circuit_sheet(house, house.job.circuit["P1-8"]).drawing.nodes}
    assert tested["Y1"] == tested["Y2"] == "test 11 May 2026"


def test_a_loaded_voltage_stands_beside_that_of_its_own_day_and_the_cable_as_drawn(house):
    """77 ft of solid 12 AWG, out and back, 1.93 ohm in 1000 ft (NEC Chapter 9 Table 8, from memory: sure), 12.4 A: 3.69 V. The
    tester read 120.7 V at D2 on the day of the visit, 120.4 V a year before."""
    [visit] = visit_records(house, {"D2"})
    [said] = [text for text in visit.readings if text.startswith("D2")]
    assert "117.2 V (12.4 A) (3.50 V below idle, 2.9 %: within 3 %; the cable as drawn loses 3.02 V cool (20 C) to 3.69 V hot (75 C) at 12.4 A" in said
    [other] = [text for text in visit.readings if text.startswith("K8")]
    assert "210 MΩ, 500 V, cable to D2 off at both ends (sound, if the volts were 250 or 500; common practice)" in other
