"""What each kind of label says: only what was shown, and where to go first."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import groupby, permutations

import pytest
from house import BASE, small_job
from houses import holed_house

from sitegen.binder.desk import Desk
from sitegen.binder.desk.claims import Claims
from sitegen.binder.labels.compose import compose_labels
from sitegen.binder.labels.records import DeviceLabel, DoorLabel, LabelSet, OutletLabel, Strip
from sitegen.binder.walking import doorways, passed
from sitegen.job import read_job
from sitegen.job.labels.purposes import PURPOSES
from sitegen.job.records import Job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

WORDS = open_theme().words("en")


def labels_of(job: Job, phone: str = "203-555-0101", **stock: object) -> LabelSet:
    stock = {"wanted": tuple(PURPOSES)} | stock
    file = replace(job.file, labels=replace(job.file.labels, **stock), contractor={"firm": "Fern Electric", "phone": phone})
    return compose_labels(Desk(examine(replace(job, file=file)), WORDS))


@pytest.fixture
def small(tmp_path):
    """The small job with changes: small((file, old, new), ...) -> its labels."""
    def make(*changes: tuple[str, str, str]) -> LabelSet:
        return labels_of(read_job(small_job(tmp_path / "job", *changes)))
    return make


def outlets(labels: LabelSet) -> dict[str, OutletLabel]:
    return {label.id: label for label in labels.sheet if isinstance(label, OutletLabel)}


def said(label: OutletLabel) -> str:
    return " ".join(filter(None, (label.ask, label.act, label.how, label.where, label.at, label.doubt, label.own)))


def strips(labels: LabelSet, kind: str) -> dict[str, Strip]:
    return {strip.id: strip for strip in labels.strips if strip.purpose == kind}


def plain(strip: Strip) -> list[str]:
    return [" / ".join(line.plain for line in offer) for offer in strip.offers]


def test_outlet_labels_name_the_nearest_device_and_where_it_is(small):
    """K4 stands behind K3 and K1: K3. D1 hangs on K1's line terminals: the breaker alone. A device or light has none."""
    found = outlets(small())
    assert {id: said(label) for id, label in found.items()} == {
        "K2": "No power? RESET K1 in KITCHEN left of the sink This outlet: K2",
        "K4": "No power? RESET K3 in KITCHEN by the stove This outlet: K4",
        "D1": "No power? Breaker 5 OFF, then ON, once GARAGE panel by the side door This outlet: D1",
        "DW": "No power? RESET F1 in KITCHEN above the counter This one: DW",
    }


def test_outlet_labels_say_when_to_leave_it_and_whom_to_call(small):
    found = outlets(small())
    assert found["K2"].stop == "Pops out twice? Wet, hot, burnt smell? Press nothing. Call 203-555-0101."
    assert found["D1"].stop == "Off again? Leave it OFF. Wet, hot, burnt smell? Touch nothing. Call 203-555-0101."
    alone = outlets(labels_of(read_job(BASE), phone=""))
    assert {label.stop for label in alone.values()} == {"Wet, hot, burnt smell? Touch nothing."}


def test_a_light_has_a_label_where_label_at_says_so(small):
    found = outlets(small(("protection_map.yaml", "switched_by: S1", "switched_by: S1, label_at: by its switch")))
    assert said(found["L1"]) == "No power? RESET F1 in KITCHEN above the counter This one: L1"


def test_an_outlet_not_shown_is_never_told_firmly(small):
    """Nobody saw K4 go off with K3: "Try", on the label and on the strip; the others stay firm."""
    labels = small(("trip_tests.csv", ",K4,tester,120,correct,K3,K4,,0,yes,,\n", ""),
                   ("trip_tests.csv", ",K3,device,,,K3,K3 K4,rest of house L1", ",K3,device,,,K3,K3,"))
    found = outlets(labels)
    assert said(found["K4"]) == ("No power? Try RESET on K3 in KITCHEN by the stove Not proved. It may be elsewhere. "
                                 "This outlet: K4")
    assert plain(strips(labels, "plate")["K4"]) == [
        "No power? Try RESET on K3 in KITCHEN, by the stove (not proved)", "No power? Try RESET on K3 in KITCHEN (not proved)",
        "No power? Try RESET on K3 / in KITCHEN (not proved)", "Try RESET on K3 / in KITCHEN (not proved)"]
    assert found["K2"].act == "RESET K1" and not found["K2"].doubt


def test_a_breaker_is_a_fact_only_where_its_handle_was_tried(small):
    labels = small(("trip_tests.csv", ",B5,breaker,,,none,K1 K2 K3 K4 D1,rest of house L1,,yes,,\n", ""))
    assert outlets(labels)["D1"].act == "Breaker marked 5"
    assert plain(strips(labels, "breaker")["B5"]) == ["Counter (handle not tried)"]
    assert plain(strips(labels, "breaker")["B7"]) == ["Sink cabinet"]


def test_a_breaker_that_was_tried_is_not_called_untried_where_nobody_knows_what_feeds_its_outlets(small):
    own = ("protection_map.yaml", "  - number: 7\n", "  - number: 9\n    panel: P1\n    serves: Workshop\n"
           "    breaker: {id: B9, space: 9, amps: 20, type: standard}\n    points:\n"
           "      - {id: R9, is: receptacle, room: Shop, at: by the door, fed_from: unknown, not_proved: not traced}\n  - number: 7\n")
    tried = ("trip_tests.csv", ",B5,breaker,", ",B9,breaker,,,none,R9,,,yes,,\n,B5,breaker,")
    assert plain(strips(small(own, tried), "breaker")["B9"]) == ["Workshop (tried, not traced)"]


def test_behind_a_plain_breaker_alone_the_breaker_is_named(small):
    """A standard breaker is not a device: no "Try", and once only."""
    own = ("protection_map.yaml", "  - number: 7\n", "  - number: 9\n    panel: P1\n    serves: Freezer\n"
           "    breaker: {id: B9, space: 9, amps: 20, type: standard}\n    points:\n"
           "      - {id: R9, is: receptacle, room: Dining, at: behind the freezer, fed_from: B9}\n  - number: 7\n")
    marked = outlets(small(own))["R9"]
    assert said(marked) == "No power? Breaker marked 9 OFF, then ON, once GARAGE panel by the side door This outlet: R9"


def test_plate_strips_say_the_same_in_fewer_words(small):
    found = strips(small(), "plate")
    assert plain(found["K2"])[0] == "No power? RESET K1 in KITCHEN, left of the sink"
    assert plain(found["D1"]) == ["No power? Breaker 5 / OFF, then ON, once, GARAGE panel, by the side door",
                                  "No power? Breaker 5 / OFF, then ON, once, GARAGE panel",
                                  "No power? Breaker 5 / OFF, then ON, once"]
    assert [run.text for run in found["K2"].offers[0][0] if run.look == "tag"] == ["K1"]
    assert (found["K2"].width_mm, found["K2"].height_mm) == (66.0, 7.0)


def test_breaker_strips_stand_in_the_order_of_spaces_and_say_their_kind(small):
    found = strips(small(), "breaker")
    assert [(strip.lead, plain(strip), strip.mark) for strip in found.values()] == [
        ("5", ["Counter"], "AFCI"), ("7", ["Sink cabinet"], "")]


def test_device_labels_by_kind(small):
    found = {label.id: label for label in small().devices}
    assert (found["K1"].act, found["K1"].rule) == ("RESETS", "Each month: TEST turns it off, RESET on. If not, call.")
    assert found["K1"].serves[0] == "Kitchen: this outlet, right of the window"
    assert found["K1"].order == ("K3 first for what it turns off (2).",)
    assert found["K3"].order == ("No click? First RESET K1 in Kitchen.",)
    assert found["K1"].wet == "Wet, hot, burnt smell? Touch nothing."
    assert found["B5"].act == "OFF, then ON resets" and "RESET." not in found["B5"].rule
    assert found["B5"].room == "Garage, breaker 5"
    assert found["K1"].code == "https://small.example/K1/"


def test_a_device_of_which_nothing_was_shown_claims_nothing(small):
    labels = small(("trip_tests.csv", ",F1,device,,,F1,DW L1,rest of house,,yes,,\n", ""))
    found = {label.id: label for label in labels.devices}
    assert (found["F1"].act, found["F1"].serves) == ("", ("Not yet seen what it turns off",))


def test_no_room_is_claimed_whole(small):
    """A room's name never stands alone on a device label: "Kitchen" would mean all of it."""
    for label in small().devices:
        for serves in label.serves:
            assert re.search(r"\d|:", serves), serves


def test_the_door_label_holds_emergency_rule_and_number(small):
    [door] = [label for label in small().sheet if isinstance(label, DoorLabel)]
    assert door.danger == ("Someone is being shocked? Do not touch them. Turn off the main switch. Call 911.",
                           "Fire, smoke: get out. Call 911.")
    assert door.rules[0] == "Open this door only. Never the cover with screws."
    assert door.call == "Call Fern Electric: 203-555-0101" and door.code == "https://small.example/"


def test_without_a_number_the_door_label_has_a_line_to_write_on():
    [door] = [label for label in labels_of(read_job(BASE), phone="").sheet if isinstance(label, DoorLabel)]
    assert door.call.startswith("Electrician: ____")


def test_a_subpanels_door_says_where_the_main_breaker_is(small):
    labels = small(("protection_map.yaml", '"Garage, by the side door"}', '"Garage, by the side door", main: {at: here}}'),
                   ("protection_map.yaml", "circuits:\n",
                    '  - {id: P2, at: "Shed, by the bench", fed_from: B9, also_supplied_by: generator}\ncircuits:\n'
                    "  - {number: 9, panel: P1, serves: Shed, breaker: {id: B9, space: 9, amps: 30, type: standard}, points: []}\n"))
    door = {label.id: label for label in labels.sheet if isinstance(label, DoorLabel)}["P2"]
    assert "Turn off the breaker marked MAIN (Garage, by the side door)." in door.danger[0] and not door.fewest
    assert door.danger[-1] == "Also supplied by: generator. Parts may stay live."


# NEC 406.4(D)(2), as reported (the exact words of the marks).
NO_GROUND, BOTH = "No Equipment Ground", "GFCI Protected \u00b7 No Equipment Ground"


def marks(labels: LabelSet) -> dict[str, str]:
    return {id: plain(strip)[0].replace("\u00a0", " ") for id, strip in strips(labels, "ground").items()}


def test_ungrounded_receptacles_get_the_marks_of_the_code(small):
    """K2 was shown behind K1: both marks. K3 is a GFCI itself: the one mark. D1 has none before it: no strip dresses it up."""
    labels = small(
        ("protection_map.yaml", "room: Kitchen, at: right of the window", "grounded: false, room: Kitchen, at: right of the window"),
        ("protection_map.yaml", "room: Dining, at: below the window", "grounded: false, room: Dining, at: below the window"),
        ("protection_map.yaml", "room: Kitchen, at: by the stove", "grounded: false, room: Kitchen, at: by the stove"))
    assert marks(labels) == {"K2": BOTH, "K3": NO_GROUND}


def test_gfci_protected_is_marked_only_where_it_is_proved(small):
    """Without K1's own TEST the device is not proved: no such mark."""
    labels = small(
        ("protection_map.yaml", "room: Kitchen, at: right of the window", "grounded: false, room: Kitchen, at: right of the window"),
        ("trip_tests.csv", ",K1,device,,,K1,K1 K2 K3 K4,rest of house L1,,yes,,\n", ""))
    assert marks(labels) == {"K2": NO_GROUND}


def test_no_label_claims_protection(example):
    """Apart from the marks that the code demands, no word of it; nothing firm without a sighting."""
    job = read_job(example)
    labels, report = labels_of(job), examine(job)
    texts = [said(label) for label in outlets(labels).values()]
    texts += [" ".join((label.act, *label.serves, label.rule)) for label in labels.devices]
    texts += [text for strip in labels.strips if strip.purpose != "ground" for text in plain(strip)]
    assert len(texts) > 60
    for text in texts:
        assert not re.search(r"protect|guard|safe\b|GFCI", text, re.IGNORECASE), text
    for id, label in outlets(labels).items():
        if label.act.startswith("RESET"):
            assert report.evidence.shown(id, label.act.split()[1]), id


def test_in_any_house_a_firm_label_was_seen(houses):
    """With rows of a truthful walk-through left out at random: RESET K1 stands only where that was seen."""
    firm = tried = 0
    for seed in range(houses // 4):
        report = holed_house(seed)
        claims = Claims(report)
        for id, label in outlets(labels_of(report.job)).items():
            if label.act.startswith("RESET "):
                firm += 1
                assert claims.day_shown(id, label.act.split()[1])
            elif label.act.startswith("Try "):
                tried += 1
                assert label.doubt
    assert min(firm, tried) > houses / 10


def test_order_of_the_sheet_and_the_list(small):
    """Device labels as one walks, doors, outlets room by room; the list has each label once, by its room."""
    labels = small()
    kinds = [type(label) for label in labels.sheet]
    assert kinds == sorted(kinds, key=[DeviceLabel, DoorLabel, OutletLabel].index)
    sticks = [stick for _, some in labels.rooms for stick in some]
    assert sorted(stick.number for stick in sticks if not stick.on_strips) == list(range(len(labels.sheet)))
    assert sorted(stick.number for stick in sticks if stick.on_strips) == list(range(len(labels.strips)))
    assert [room for room, _ in labels.rooms][-1] == "Garage"


def test_label_at_is_where_it_is_stuck(small):
    labels = small(("protection_map.yaml", "at: left of the sink, fed_from: B5", "at: left of the sink, fed_from: B5, label_at: inside the cabinet"))
    [stick] = [stick for _, some in labels.rooms for stick in some if (stick.id, stick.name) == ("K1", "device label")]
    assert stick.where == "inside the cabinet"


def test_the_list_goes_thing_by_thing(small):
    """All that is stuck at one outlet stands together; in the room of a panel the door comes before its breakers."""
    rooms = {room: [stick.id for stick in some] for room, some in small().rooms}
    assert [id for id, _ in groupby(rooms["Kitchen"])] == ["K3", "K1", "F1", "K2", "DW"]
    assert rooms["Garage"] == ["P1", "B5", "B7"] and rooms["Dining"] == ["K4", "K4", "D1", "D1"]


def test_rooms_follow_the_doors_that_are_drawn(example):
    """No walk through the drawn doors passes fewer doorways than the list does from its first room: by trying out (on the
    first seven rooms) every order."""
    job = read_job(example)
    rooms = [room for room, _ in labels_of(job).rooms]
    steps = doorways(job)
    assert passed(rooms, steps) <= min(passed((rooms[0], *rest, *rooms[7:]), steps) for rest in permutations(rooms[1:7]))


def test_what_is_not_wanted_is_not_made():
    labels = labels_of(read_job(BASE), wanted=("outlet",))
    assert {type(label) for label in labels.sheet} == {OutletLabel} and not labels.strips
    assert len(labels.devices) == 4     # a picture of every device all the same


def test_a_second_set_says_the_same_in_its_language_and_stands_behind_the_first(example):
    """Every label of the first set once more, to the same page; marks that a code demands stand in English alone."""
    job = read_job(example)
    report = examine(job)
    made = compose_labels(Desk(report, open_theme().words("en")), [Desk(report, open_theme().words("es"), "es")])
    for labels in (made.sheet, made.strips):
        first = [label for label in labels if not label.language]
        again = [label for label in labels if label.language == "es"]
        assert list(labels) == [*first, *again]
        assert sorted((one.purpose, one.id) for one in again) == sorted((one.purpose, one.id) for one in first if one.purpose != "ground")
        code = {(one.purpose, one.id): one.code for one in first}
        assert all(one.code == code[one.purpose, one.id] for one in again)
    spanish = {label.id: label for label in made.sheet if label.language and label.purpose == "device"}
    assert spanish["K1"].now == "¿No hay corriente? Presione RESET." and spanish["K1"].order[0].startswith("Primero K4 para: hervidor")
    assert not any(label.language for label in made.devices)
    names = [stick.name for _, sticks in made.rooms for stick in sticks]
    assert "device label" in names and "device label (es)" in names
