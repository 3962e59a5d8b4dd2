"""The sheet for the inspector, and that nothing of it stands on a homeowner's page."""

from dataclasses import replace

import yaml
from house import CASES

from sitegen.binder.compose import compose
from sitegen.binder.desk import Desk
from sitegen.binder.paper.inspector import inspector_sheet, without_keys
from sitegen.job import read_job
from sitegen.job.records import Amendment, Code
from sitegen.protection.examine import examine
from sitegen.protection.rules.code.judge import judged
from sitegen.protection.rules.code.table import RULES
from sitegen.protection.say import day
from sitegen.publish.theme import open_theme

OLDER = CASES / "older_house"


def sheet_of(job):
    return inspector_sheet(Desk(examine(job), open_theme().words("en")))


def in_edition(job, edition, *changes):
    return replace(job, file=replace(job.file, code=Code("NEC", edition, None, changes)))


def test_it_lists_every_circuit_device_and_outlet_of_the_example(example):
    job = read_job(example)
    sheet, report = sheet_of(job), examine(job)
    assert len(sheet.circuits) == len(job.circuits) and [row[0] for row in sheet.devices] == list(report.tree.devices)
    assert sorted(row[0] for _, rows in sheet.rooms for row in rows) == sorted(report.tree.outlets)
    k5 = next(row for _, rows in sheet.rooms for row in rows if row[0] == "K5")
    row = report.evidence.readings["K5"]
    [shown] = {report.evidence.shown("K5", device).date for device in ("K4", "K1", "B5")}
    assert k5[1:] == ("receptacle · sink counter, in the left corner · stand mixer", "K4 K1", "B5", f"K4 K1 B5 {day(shown)}",
                      f"correct, {row.volts:g} V, {day(row.date)}")
    assert next(row for row in sheet.devices if row[0] == "F2")[2] == ("20 A 125 V, class A, Tarnwick, GB20-W, date code 25W49, "
                                                                       "installed 29 April 2026, torque 14 lbf-in, screwdriver no. 3")
    assert next(row[-1] for row in sheet.circuits if row[0] == "8") == f"all {day(report.evidence.handle_tried('A1', 'B8').date)}"


def test_an_older_house_has_its_readings_its_aluminum_and_its_ungrounded_outlets_on_the_sheet():
    """What the tests and the record have against it stands beside the rules, what stops first; a handle that was tried only in part says so."""
    sheet = sheet_of(read_job(OLDER))
    levels = [level for level, _ in sheet.beside]
    assert levels == sorted(levels, reverse=True) and {"stop", "fix"} == set(levels)
    for told in ("E1 (Bedroom, bed) has no tester reading", "Circuit 11 is aluminum", "outside Range B", "K1 (Kitchen, left of the sink) guards circuit 5"):
        assert any(told in says for _, says in sheet.beside), told
    assert next(row[1] for _, rows in sheet.rooms for row in rows if row[0] == "F1") == "receptacle, no equipment ground · by the door"
    assert [level for level, *_ in sheet.against] == sorted((level for level, *_ in sheet.against), key=["stop", "fix", "know"].index)
    assert dict(sheet.facts)["Panel P2"].endswith("generator. Neutral and ground: not written. A generator is kept apart from the utility by: not written.")
    assert not any("`" in says or "Write" in says for _, says in sheet.beside)
    assert [row[-1] for row in sheet.circuits] == ["–", "–", "all 15 June 2026", "–", "–", "–"]


def test_what_is_unguarded_stands_with_its_reason_and_what_the_book_has_against_it_with_its_section(example):
    """The refrigerator outlet, more than 6 ft from the sink: 2020 no, 2023 yes (210.8(A)(6), as reported)."""
    job = read_job(example)
    now, later = sheet_of(job), sheet_of(in_edition(job, "2023"))
    assert now.against == () and any(text.startswith("R1 (Kitchen") and "under the 2020 edition" in text for text in now.exceptions)
    assert any(text.startswith("N1 (Garage") and text.partition("shock. ")[2] == f"The record says: {job.point['N1'].note}" for text in now.exceptions)    # 210.8(F), 2023
    furnace = ("fix", "NEC 2023, 210.8(F), from memory")
    assert [(level, source) for level, _, source, _ in later.against] == [("stop", "NEC 2023, 210.8(A)(6)"), furnace]
    town = Amendment("drop", "gfci-kitchen", ("kitchen",), None, "Town ordinance 9-1", job.file.where)
    amended = sheet_of(in_edition(job, "2023", town))
    assert [one[0] for one in amended.against] == ["fix"] and dict(amended.facts)["Amendments"] == "210.8(A)(6), (7) (kitchen): not asked. Town ordinance 9-1"


def test_what_could_not_be_judged_is_said(example):
    assert any("does not give what is in the box for F2, K1" in text for text in sheet_of(read_job(OLDER)).not_proved)
    [lights] = [text for text in sheet_of(read_job(example)).not_proved if "on the map is L9" in text]
    assert "(NEC 2020, 210.70(A), from memory). About L9, Y2 and Y1: drawn are doors to no room of the map, Garage to side yard" in lights
    assert any(text.endswith("E1 and E2: no light is on the map, though circuit 11 says Bedroom outlets and light.") for text in sheet_of(read_job(OLDER)).not_proved)


def test_what_was_wrong_once_what_is_open_and_who_tested_stand_at_the_head(example):
    """An open ground that was mended after the final inspection; a cracked plate; an ordinance that no rule judges."""
    job = read_job(example)
    facts = dict(sheet_of(job).facts)
    assert facts["Read wrong first, correct now"].startswith("Y2 (Outdoors, patio, right of the patio door): open ground, 8 May 2026 (")
    assert "Cover plate of D2 is cracked" in facts["Still to do, by the record"] and all(one in facts["Still to do, by the record"] for one in job.file.punch_list)
    assert facts["Tests"].split("; ")[0] == "8 May 2026 (D. Verrill)"
    assert facts["Amendments"] == f"{job.file.code.amendments}\nWhat is said here in words was judged by no rule."
    assert "16 spaces, spare: 1, 3." in facts["Panel P1"] and "Main disconnect 125 A" in facts["Panel P1"]


def test_outlets_without_a_gfci_are_all_those_of_which_a_book_asks_one():
    """A three-slot outlet without a ground and a hard-wired dishwasher too; that it was there before is no reason for what stops."""
    says = {text.partition(" ")[0]: text for text in sheet_of(read_job(OLDER)).exceptions}
    assert set(says) == {"F1", "K3", "DW", "W1", "W2"} and says["F1"].endswith("The record gives no reason.")


def test_what_is_in_doubt_is_not_shown_on_one_half_of_the_sheet_alone():
    """F3 went dead with F2, and its tester opened nothing; a tester cannot have opened the B2 of 30 mA; 131 V and 109 V on one neutral."""
    sheet = sheet_of(read_job(OLDER))
    cells = {row[0]: row for _, rows in sheet.rooms for row in rows}
    assert cells["F3"][-2:] == ("in doubt, see above", "correct, 120 V, 15 June 2026, see above") and cells["F4"][-2] == "F2 15 June 2026"
    assert cells["K2"][-1].endswith("131 V, 15 June 2026, see above") and cells["K1"][-1] == "correct, 121 V, 15 June 2026"
    assert {row[0]: row[-1] for row in sheet.devices}["B2"] == "–" == cells["W1"][-2]
    assert {row[0]: row[2] for row in sheet.devices}["K1"] == "not written"
    assert [row[1] for row in sheet.circuits if row[0] == "P1 9"] == ["Kitchen counter right (shares its neutral with 5; handles not tied)"]


def test_what_a_tester_read_stays_and_what_to_write_into_the_record_goes():
    says = "H1 (Hall) read `open neutral` on 2 May 2026 (trip_tests.csv:8), not correct. Do not use it. Write `looks: x`."
    assert without_keys(says) == "H1 (Hall) read open neutral on 2 May 2026, not correct. Do not use it."


def test_every_key_that_a_rule_can_lack_has_words():
    asked = {key for path in (CASES / "code").glob("*.yaml") for key in yaml.safe_load(path.read_text("utf-8")).get("lacks", {})}
    for language in ("en", "es"):
        assert asked <= set(open_theme().words(language).get("inspector.keys"))


def test_no_rule_stands_on_a_page_of_the_site(example):
    binder = compose(examine(in_edition(read_job(example), "2023")), open_theme().words("en"))
    pages = [page for edition in binder.editions for page in edition.pages]
    assert [page.path for page in pages if "gfci-" in repr(page.data) or "210.8" in repr(page.data)] == ["print/inspector.html"]


def test_it_counts_what_was_judged_and_what_has_no_subject_and_what_was_judged_nowhere(example):
    """Every rule once. The older house has no `fill`, so its boxes are judged nowhere; without a book almost nothing applies."""
    job = read_job(example)
    for counts in (sheet_of(job).counts, older := sheet_of(read_job(OLDER)).counts):
        assert counts["rules"] == counts["judged"] + counts["nowhere"] + counts["without"] + counts["apart"]
        assert counts["apart"] == 0 and counts["without"] > 0
    assert sheet_of(job).counts["nowhere"] == 0
    assert {one.rule.name for one in judged(examine(read_job(OLDER)).proof) if one.nowhere} == {"counter-spacing", "box-fill", "lights", "transfer", "bonded-once"}
    assert older["nowhere"] == 5
    bare = sheet_of(replace(job, file=replace(job.file, code=Code(None, None)))).counts
    assert bare["apart"] == sum(not rule.any_book for rule in RULES)


def test_the_contractors_word_and_the_visits_stand_in_rows_of_their_own(example):
    job = read_job(example)
    facts = dict(sheet_of(job).facts)
    assert facts["Inspected, by the contractor's word"] == job.file.contractor["inspected"] not in facts["Contractor"]
    assert "K6" in facts[f"Work after the handover, {day(job.visits[0].date)}"]
    assert facts["Contractor"].startswith("Firm: ") and "not written" not in facts["Contractor"]
    assert facts[f"Work after the handover, {day(job.visits[0].date)}"].endswith("The record names no permit and no inspection for this work; it is judged by the edition above.")
    own = replace(job, file=replace(job.file, contractor={"van": "no. 2"}))
    assert dict(sheet_of(own).facts)["Contractor"] == "van: no. 2; License: not written; Permit: not written; Tester: not written"


def test_an_amendment_that_drops_arcs_says_that_it_covers_extensions(example):
    job = read_job(example)
    dropped = Amendment("drop", "afci", ("kitchen", "countertop"), None, "State 3", job.file.where)
    assert dict(sheet_of(in_edition(job, "2023", dropped)).facts)["Amendments"] == "210.12(B) and 210.12(E) (kitchen and countertop): not asked. State 3"
