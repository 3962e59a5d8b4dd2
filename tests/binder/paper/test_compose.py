"""What the sheets of paper say: facts as plain data, before any layout."""

import re
from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from dateutil.rrule import rrulestr
from house import BASE

from sitegen.binder.desk import Desk
from sitegen.binder.paper.compose import print_binder
from sitegen.binder.paper.log import log, monthly_days
from sitegen.binder.paper.records import PrintBinder
from sitegen.binder.paper.where import bare
from sitegen.binder.site.panel import panel_page
from sitegen.binder.site.place import place_pages
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme


def paper(job) -> PrintBinder:
    desk = Desk(examine(job), open_theme().words("en"))
    return print_binder(desk, place_pages(desk))


@pytest.fixture(scope="module")
def small():
    return read_job(BASE)


@pytest.fixture(scope="module")
def house(example):
    return read_job(example)


def test_the_feed_of_a_circuit_is_one_line(small):
    """A side is written where there are terminals; a fork begins anew; K1's line terminals feed D1."""
    data = paper(small)
    feeds = {sheet.place.id: sheet.feeds for sheet in (*data.sheets, *data.breakers)}
    assert feeds["K3"] == feeds["K1"] == feeds["B5"] == ("B5 → K1 LINE. K1 LOAD → K2 → K3 LINE. K3 LOAD → K4. K1 LINE → D1",)
    assert feeds["F1"] == ("B7 → F1 LINE. F1 LOAD → DW. F1 LOAD → S1 switched → L1",)


def test_every_wire_of_the_map_stands_once_in_the_feed_lines(house):
    """Read back from the lines, the feed is the map's: every point, its source and its side, each once, and whether a switch cuts it."""
    wires = []
    data = paper(house)
    for sheet in (*data.sheets, *data.breakers):
        for line in sheet.feeds:
            found = []
            for chain in line.split(". "):
                links = [re.sub(" (switched|always hot|travellers)$", "", link) for link in chain.split(" → ")]
                found += list(zip(links, (link.split()[0] for link in links[1:]), strict=False))
            wires.append(frozenset(found))
            assert len(found) == len(set(found)), line
    told = {wire for line in wires for wire in line}
    circuits = {house.circuit[house.point[id].circuit].key for _, id in told}
    mapped = {(f"{p.feed.source} {p.feed.side.upper()}" if p.feed.side else p.feed.source, p.id)
              for p in house.points if p.circuit in circuits}
    assert told == mapped and len(told) > 30


def test_the_twelve_dates_are_those_of_the_calendars_rule(house):
    """dateutil reads the RRULE (RFC 5545) that the reminders carry; the first test falls after the handover."""
    desk = Desk(examine(house), open_theme().words("en"))
    rule = rrulestr(house.file.reminders.day.rrule, dtstart=datetime(2026, 5, 13))
    expected = [day.date() for day, _ in zip(rule, range(12), strict=False)]
    assert monthly_days(desk) == tuple(expected)
    assert len(log(desk).heads) == 12 and log(desk).heads[0] == ("6 Jun", "2026")
    for late in (date(2026, 6, 6), date(2026, 6, 5)):
        moved = monthly_days(Desk(examine(replace(house, file=replace(house.file, handover=late))), desk.words))[0]
        assert moved == (date(2026, 7, 4) if late.day == 6 else late + timedelta(days=1))


def test_the_log_names_what_a_breaker_feeds(house):
    """A row each press of the round: of a breaker its space and its circuits, of a button its place."""
    rows = dict(paper(house).log.rows)
    assert rows["5"] == house.circuit["P1-5"].serves and rows["K1"].startswith("Pantry, ") and len(rows) == 18


def test_what_has_no_shown_protection_is_named_and_nothing_else(house):
    """The page of the house names every outlet with slots of which no shock protection was shown, or why it was not proved."""
    report, data = examine(house), paper(house)
    bare_ones = [p for p in house.points if p.kind.has_face and not report.proof.proved_by(p.id)]
    told = {(room, thing) for room, things in data.house.unguarded for thing in things.split(", ")}
    assert told == {(p.room, p.use or p.at) for p in bare_ones} and len(told) > 5
    points = tuple(replace(p, not_proved="behind a cabinet") if p.id == bare_ones[0].id else p for p in house.points)
    said = " ".join(things for _, things in paper(replace(house, points=points)).house.unguarded)
    assert f"{bare_ones[0].use or bare_ones[0].at} (not proved: behind a cabinet)" in said


def test_the_page_of_the_house_has_what_a_new_owner_asks(house):
    """Firm, license, permit, inspection, warranty, handover; nothing private."""
    facts = dict(paper(house).house.facts)
    for name in ("Firm", "License", "Permit", "Inspected", "Warranty until", "Handed over on"):
        assert facts[name], name
    assert not {house.file.home["address"], *house.file.private.values()} & set(facts.values())


def test_the_rules_of_the_folded_sheet_are_those_of_the_pages(house):
    """K4 stands behind K1, so K1 comes first; a breaker once, twice only where it guards people."""
    data = paper(house)
    assert "K4 will not click? First K1, Pantry." in [text.plain for text in data.stop_rules]
    twice = [text.plain for text in data.breaker_rules if "once more" in text.plain]
    people = [house.breaker[c.breaker].space for c in house.circuits if house.breaker[c.breaker].kind.stops_shock]
    assert len(twice) == 1 and twice[0].partition(":")[0].removeprefix("Only ").split(", ") == sorted(people, key=int)
    for said in (data.directories[0].twice, panel_page(Desk(examine(house), open_theme().words("en")), house.panels[0]).twice):
        assert [text.plain for text in said] == twice
    assert [cell.space for cell in data.directories[0].face.cells if cell.twice] == sorted(people, key=int)


def test_the_cupboard_sheet_names_every_outlet_and_no_private_number(house):
    data = paper(house)
    for point in house.points:
        if point.kind.is_outlet:
            assert any(target.room == point.room and (point.use or point.at) in target.things for target in data.targets)
    said = " ".join(f"{t.room} {t.where} {t.things} {t.press.plain}" for t in data.targets)
    assert all(secret not in said for secret in (*house.file.private.values(), house.file.home["address"]))


def test_spots_with_commas_are_parted_by_a_clearer_mark(house):
    """A list of things has commas between them only where none of them has one of its own."""
    data = paper(house)
    rows = [target.things for target in data.targets] + [things for sheet in data.sheets for _, things in sheet.not_on]
    spots = {point.use or point.at for point in house.points}
    assert {" · " in row for row in rows} == {True, False}
    for row in rows:
        assert row in spots or set(row.split(" · " if " · " in row else ", ")) <= spots, row


def test_the_directory_explains_every_abbreviation(house):
    """NEC 408.4(A), as reported: every circuit by its purpose, told apart; abbreviations explained."""
    data = paper(house)
    assert sum(len(one.rows) for one in data.directories) == len(house.circuits)
    for one in data.directories:
        spaces = [int(re.match(r"\d+", row.space)[0]) for row in one.rows]
        assert spaces == sorted(spaces)
        assert len({row.serves for row in one.rows}) == len(one.rows)
        assert {row.kind.split()[0] for row in one.rows} == {short for short, _ in one.legend}


def test_a_panel_fed_by_another_says_so(house):
    """A subpanel's directory names the breaker it hangs on; another source of power is a warning."""
    panels = (*house.panels, replace(house.panels[0], id="P9", at="Shed", fed_from=house.circuits[0].breaker,
                                     also_supplied_by=("generator",)))
    [shed] = [one for one in paper(replace(house, panels=panels)).directories if one.panel == "P9"]
    assert shed.power == (f"This panel gets its power from breaker {house.breaker[house.circuits[0].breaker].space} here: "
                          f"{house.panels[0].at}.", "Power may be on from another source: generator.")


def test_an_address_is_typed_without_its_scheme():
    assert bare("https://bhe.example/7/K1/") == bare("HTTPS://BHE.EXAMPLE/7/K1/") == "bhe.example/7/K1"
    assert bare("https://bhe.example/") == "bhe.example" and bare(None) == ""


def test_this_house_names_whom_else_the_pages_say_to_call_or_has_a_line_to_write_it_on(house):
    """The contractor's or the home's own key gives the number; it stands once."""
    firm = {key: value for key, value in house.file.contractor.items() if not key.endswith("company")}
    house = replace(house, file=replace(house.file, contractor=firm))
    given = replace(house, file=replace(house.file, contractor={**firm, "power company": "555-0190"}))
    [power, heat] = [row for row in paper(given).house.facts if row[0].lower().endswith("company")]
    assert power == ("Power company", "555-0190") and heat[0] == "Heating company" and set(heat[1]) == {"_"}
    at_home = replace(house, file=replace(house.file, home={**house.file.home, "heating company": "555-0191"}))
    assert ("Heating company", "555-0191") in paper(at_home).house.facts
