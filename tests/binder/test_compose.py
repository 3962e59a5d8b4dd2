"""What the homeowner's pages say: only what was shown, in their words."""

import itertools
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from house import BASE, parsed, report_of, small_job

from sitegen.binder.answer.answer import outlet_answer
from sitegen.binder.compose import compose
from sitegen.binder.desk import Desk
from sitegen.binder.site.start import together_page
from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

NEVER = ("receptacle", "receptacles", "protective device", "line", "lines", "load", "loads", "feed", "feeds", "fed",
         "upstream", "downstream", "faceless", "trip", "trips", "tripped", "protected by", "protected", "goes dead",
         "safe to use", "code-compliant", "guaranteed")


@cache
def text_of(path: Path) -> str:
    return re.sub(r"\s+", " ", " ".join(parsed(path).find("body").itertext()))


def homeowner_pages(bound):
    return [path for path in (bound / "site").rglob("*.html") if "service-record" not in path.parts]


def test_words_a_homeowner_must_not_meet(bound):
    """The second column of the word table stands on none of their pages, nor in their calendars."""
    paths = homeowner_pages(bound)
    assert len(paths) > 25
    for path in paths:
        text = text_of(path).casefold()
        for word in NEVER:
            assert not re.search(rf"\b{re.escape(word)}\b", text), (path, word)
    for path in (bound / "site" / "reminders").glob("*.ics"):
        text = path.read_bytes().decode().replace("\r\n ", "").casefold()
        for word in NEVER:
            assert not re.search(rf"\b{re.escape(word)}\b", text), (path, word)


def test_no_finding_and_no_code_section_stands_on_a_homeowners_page(bound):
    for path in homeowner_pages(bound):
        text = text_of(path)
        assert not re.search(r"\b\d{3}\.\d+\(|NEC\b|STOP\b|protection_map|trip_tests", text), path


def test_address_and_private_things_stay_on_paper(bound, example):
    job = read_job(example)
    secrets = [job.file.home["address"], *job.file.private.values()]
    for path in (bound / "site").rglob("*"):
        if path.is_file():
            for secret in secrets:
                assert secret.encode() not in path.read_bytes(), (path, secret)
    assert job.file.home["address"] in text_of(bound / "print" / "binder.html")


@pytest.fixture
def small(tmp_path):
    """The small job with changes: small((file, old, new), ...) -> its folder."""
    return lambda *changes: small_job(tmp_path / "job", *changes)


def binder_of(folder):
    return compose(report_of(folder), open_theme().words("en"))


def page(binder, id):
    [found] = [page.data for page in binder.pages if page.path == f"site/{id}/index.html"]
    return found


def test_the_nearest_button_comes_first_and_the_breaker_last(small):
    """K4 stands behind K3 and K1: press K3, then K1 unless something before K3 works, then breaker 5, and back in the order of the feed."""
    answer = page(binder_of(small()), "K4").answer
    assert answer.headline.plain == "Press RESET on K3"
    [stuck] = [case for case in answer.cases if "will not click" in case.title.plain]
    says = [piece.plain if hasattr(piece, "plain") else piece.id for piece in stuck.says]
    assert says.index("K1") < says.index("B5")
    assert says[-2:] == ["Then press RESET once more, in this order: K1 K3",
                         "Still no power? Stop. Call Fern Electric, 203-555-0101"]
    assert says.index("Does one of these work: left of the sink; right of the window? Stop. Call. Else:") < says.index("K1") < says.index("K1 will not click?")


def test_where_nothing_else_hangs_on_the_button_before_nobody_is_asked_for_it(small):
    """DW is a button of its own now and all that F1 turns off."""
    alone = binder_of(small(("protection_map.yaml", "      - {id: DW, is: appliance, room: Kitchen, at: left of the cabinet, use: dishwasher, fed_from: F1 load}",
                             "      - {id: DW, is: gfci receptacle, room: Kitchen, at: left of the cabinet, fed_from: F1 load}"),
                            ("protection_map.yaml", "fed_from: F1 load}\n      - {id: L1", "fed_from: B7}\n      - {id: L1"),
                            ("trip_tests.csv", ",F1,device,,,F1,DW L1,", ",DW,device,,,DW,DW,rest of house L1,,yes,,\n,F1,device,,,F1,DW,")))
    [stuck] = [case for case in page(alone, "DW").answer.cases if "will not click" in case.title.plain]
    assert "F1 will not click?" in [piece.plain for piece in stuck.says if hasattr(piece, "plain")]     # nothing else hangs on it


def test_an_outlet_seen_live_with_every_button_open_is_no_reset_problem(small):
    """A plain circuit of its own whose outlet stayed live in every TEST: said; where one TEST did not look: not said."""
    own = (("protection_map.yaml", "  - number: 7\n", "  - number: 9\n    panel: P1\n    serves: Freezer\n"
            "    breaker: {id: B9, space: 9, type: standard}\n    points:\n"
            "      - {id: R1, is: receptacle, room: Hall, at: in the corner, use: freezer, fed_from: B9}\n  - number: 7\n"),
           ("trip_tests.csv", ",B5,breaker", ",R1,none,121,correct,none,,,,,,\n,B5,breaker"))
    binder = binder_of(small(*own))
    assert page(binder, "R1").answer.headline.plain == "Push the breaker marked 9 OFF, then ON"
    assert page(binder, "R1").answer.why.plain == "This is not a reset problem"
    steps = [step.plain for step in page(binder, "R1").answer.steps]
    assert any("the one marked 9" in step for step in steps)


def test_where_one_test_did_not_look_no_more_is_said_than_known(small):
    folder = small(("protection_map.yaml", "  - number: 7\n", "  - number: 9\n    panel: P1\n    serves: Freezer\n"
                    "    breaker: {id: B9, space: 9, type: standard}\n    points:\n"
                    "      - {id: R1, is: receptacle, room: Hall, at: in the corner, use: freezer, fed_from: B9}\n"
                    "  - number: 7\n"),
                   ("trip_tests.csv", ",F1,device,,,F1,DW L1,rest of house", ",F1,device,,,F1,DW L1,rest of circuit"))
    answer = page(binder_of(folder), "R1").answer
    assert answer.headline.plain == "Push the breaker marked 9 OFF, then ON"
    assert answer.why.plain == "We know of no reset button for this outlet"


def test_a_light_nobody_looked_at_is_not_claimed(small):
    """The light stands behind F1 on the map; nobody saw it go off: the page says try, and F1's list says so."""
    binder = binder_of(small(("trip_tests.csv", ",F1,device,,,F1,DW L1,", ",F1,device,,,F1,DW,")))
    light = page(binder, "L1")
    assert light.answer.headline.plain == "Try RESET on F1"
    assert light.answer.doubt.plain == "Nobody saw this one go off with F1. It may be elsewhere."
    listed = page(binder, "F1").turns_off
    assert [item.id for item in listed.items] == ["DW"] and [item.id for item in listed.not_seen] == ["L1"]
    [row] = [row for row in binder.devices if row["id"] == "F1"]
    assert row["protects"] == ["DW"] and row["goes_dead"] == ["DW", "S1", "L1"]


def test_an_outlet_that_was_not_proved_says_so(small):
    """`not_proved` does not block, and its page says to treat the outlet as unprotected."""
    folder = small(("protection_map.yaml", "at: by the door, fed_from: K3", "at: by the door, not_proved: behind a cabinet, fed_from: K3"),
                   ("trip_tests.csv", ",K4,tester,120,correct,K3,K4,,0,yes,,\n", ""),
                   ("trip_tests.csv", "K1 K2 K3 K4,rest of house L1,,yes,,\n,K3,device,,,K3,K3 K4,rest of house L1",
                    "K1 K2 K3,D1 DW L1,,yes,,\n,K3,device,,,K3,K3,D1 DW K1 K2 L1"))
    binder = binder_of(folder)
    assert not binder.frame.draft
    assert "Not proved: behind a cabinet. Treat it as unprotected." in [text.plain for text in page(binder, "K4").guard]
    assert page(binder, "K4").answer.headline.plain == "Try RESET on K3"


def test_a_wall_switch_is_named(small):
    """First of all; its room is left out, the light hangs in the same one."""
    assert page(binder_of(small()), "L1").answer.first.lines[0].plain == "Its wall switch on? by the door"


def test_a_thing_that_still_works_clears_its_button_and_only_then_is_it_said(small):
    """DW and L1 were seen to go off with F1: each page asks for the other, before any walk; K4's in its first case."""
    asks = "Does one of these work: over the sink? Then F1 is on. Stop. Call."
    assert page(binder_of(BASE), "DW").answer.first.lines[-1].plain == asks
    case = page(binder_of(BASE), "K4").answer.cases[0]
    assert case.title.plain == "Something else on K3 still works (by the stove)"
    assert case.says[0].plain == "Then K3 is on. Leave it as it is. Try another appliance in the dead outlet. Still dead? Call."
    alone = binder_of(small(("trip_tests.csv", ",F1,device,,,F1,DW L1,", ",F1,device,,,F1,DW,")))
    assert not any("Then" in line.plain for line in page(alone, "DW").answer.first.lines)


def test_the_check_names_the_place_to_go_back_to(small):
    binder = binder_of(small())
    assert page(binder, "K4").answer.steps[-1].plain == "Go back (Dining). Plug a phone charger into K4. Charging? Done."
    [name] = [run.look for run in page(binder, "K4").answer.steps[-1] if run.text == "K4"]
    assert name == "name"


def test_every_claim_carries_its_day(small):
    guard = [text.plain for text in page(binder_of(small()), "K4").guard]
    assert guard[0] == "K3 in Kitchen turned this off in the test of 8 May 2026. It was shown to work on 8 May 2026."


def test_no_path_asks_for_more_than_two_presses_of_one_button(small):
    """From any page: press, go up the series, the breaker once, and back. Count RESET by button along the longest path."""
    binder = binder_of(small())
    for found in binder.pages:
        if not found.path.startswith("site/") or not hasattr(found.data, "answer"):
            continue
        for case in found.data.answer.cases:
            presses: dict[str, int] = {}
            here = found.data.answer.spot.id
            if found.data.answer.spot.picture == "breaker":
                continue
            presses[here] = 1
            spot = here
            back = False
            for piece in case.says:
                if not hasattr(piece, "plain"):
                    spot = piece.id
                    continue
                tags = [run.text for run in piece if run.look == "tag"]
                if "Come back" in piece.plain:
                    tags = tags[-1:]  # the first one only asks whether it clicked
                if "press RESET there" in piece.plain:
                    presses[tags[0]] = presses.get(tags[0], 0) + 1
                elif re.search(r"press RESET (once more|on)|Press RESET (on|one more)", piece.plain, re.I):
                    for tag in tags or [here]:  # without an id: the button of the page
                        presses[tag] = presses.get(tag, 0) + 1
                    back = back or "Come back" in piece.plain
                if "will not click?" in piece.plain and back:
                    presses[here] -= 1  # the path that came back has ended; this one goes on upwards
            assert all(count <= 2 for count in presses.values()), (found.path, presses, spot)


def test_a_draft_is_marked_on_every_page_and_label(small, tmp_path, capsys):
    folder = small(("trip_tests.csv", ",K4,tester,120,correct,K3,K4,,0,yes,,\n", ""))
    assert main(["bind", str(folder), "--out", str(tmp_path / "out"), "--draft"]) == 0
    capsys.readouterr()
    for path in (tmp_path / "out").rglob("*.html"):
        assert "DRAFT" in text_of(path), path
        assert "DRAFT" in parsed(path).find(".//title").text
    binder = compose(report_of(folder), open_theme().words("en"))
    assert all(label.draft == "DRAFT" for label in (*binder.labels.devices, *binder.labels.sheet))


def test_without_a_host_there_is_no_address(small, tmp_path):
    folder = small(("job.yaml", "base_url: https://small.example\n", ""))
    binder = binder_of(folder)
    assert all(row["url"] is None for row in (*binder.devices, *binder.outlets))
    assert all(label.code is None for label in (*binder.labels.devices, *binder.labels.sheet))
    assert main(["bind", str(folder), "--out", str(tmp_path / "out")]) == 0


def test_contradicted_outlets_are_claimed_nowhere(small):
    """In a draft of a job whose map is wrong, an outlet that evidence contradicts stands in no list of what was shown."""
    report = report_of(small(("protection_map.yaml", "fed_from: K1 line", "fed_from: K1 load")))
    binder = compose(report, open_theme().words("en"))
    assert report.evidence.contradicted == {"D1"}
    assert all("D1" not in row["protects"] for row in binder.devices)
    assert "D1" not in [item.id for item in page(binder, "K1").turns_off.items]
    assert replace(binder.frame).draft


def test_two_things_dead_at_once_lead_to_the_nearest_device_that_they_share(example):
    """The first row that names both is the last device, on the way from the panel, that cuts both."""
    report = report_of(example)
    desk, tree = Desk(report, open_theme().words("en")), report.tree
    rows = together_page(desk).buttons
    named = {row.spot.id: desk.claims.turns_off(row.spot.id) for row in rows}
    pairs = 0
    for one, other in itertools.combinations(tree.outlets, 2):
        shared = [id for id in tree.reset_order(one) if id in tree.reset_order(other) and tree.kind(id).opens]
        first = next((row.spot.id for row in rows if {one, other} <= set(named[row.spot.id])), None)
        assert first == (shared[-1] if shared else None), (one, other)
        pairs += bool(shared)
    assert pairs > 20


def test_no_button_in_this_room_is_said_only_of_a_room_without_one(small):
    """The dining corner has none; the kitchen has buttons, though not for every outlet of it."""
    binder = binder_of(small())
    assert page(binder, "K4").answer.go == "No button here. Go to:"
    assert page(binder, "K2").answer.go == "" and page(binder, "D1").answer.go == "No button here. Go to:"


def test_not_the_button_here_is_said_only_where_the_outlet_was_seen_live_with_each_of_them_open(example):
    """Of the full bath's hair dryer, which hangs on the half bath; of nothing where nobody looked."""
    tested = report_of(example)
    untested = examine(replace(tested.job, tests=()))

    def said(report):
        return [id for id in report.tree.outlets if not report.tree.kind(id).opens
                and outlet_answer(Desk(report, open_theme().words("en")), id).go == "Not the button here. Go to:"]

    for id in said(tested):
        here = [one for one in tested.tree.devices if one in tested.job.point and tested.job.point[one].room == tested.job.point[id].room]
        assert here and all(tested.evidence.live_while_open(id, one) for one in here), id
    assert "T2" in said(tested) and said(untested) == []
