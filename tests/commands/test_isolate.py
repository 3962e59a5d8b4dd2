"""`isolate` as it is called: its plan, its JSON, what it refuses, and what a visit or a hole in the proof makes it say."""

import json

import pytest
from house import READING, edit, small_job

from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.isolate.symptoms import SYMPTOMS
from sitegen.protection.tree import Tree

pytestmark = pytest.mark.thorough


MAP = """panels:
  - {id: P1, at: Garage}
circuits:
  - number: 5
    panel: P1
    serves: Counter left of the sink
    breaker: {id: B5, space: 5, type: standard}
    points:
      - {id: K1, is: gfci receptacle, room: Pantry, at: above the shelf, fed_from: B5}
      - {id: D1, is: receptacle, room: Dining, at: below the window, fed_from: K1 line}
      - {id: K2, is: receptacle, room: Kitchen, at: by the pantry door, fed_from: K1 load}
      - {id: K3, is: receptacle, room: Kitchen, at: toward the corner, fed_from: K2}
      - {id: K4, is: gfci receptacle, room: Kitchen, at: left of the sink, fed_from: K3}
      - {id: K5, is: receptacle, room: Kitchen, at: in the corner, fed_from: K4 load}
  - number: 7
    panel: P1
    serves: Counter right of the sink
    breaker: {id: B7, space: 7, type: standard}
    points:
      - {id: K6, is: gfci receptacle, room: Kitchen, at: right of the sink, fed_from: B7}
      - {id: S1, is: switch, room: Kitchen, at: by the door, fed_from: K6 line}
"""
TESTS = """date,outlet,pressed,tripped,went_dead,stayed_live,reset
2026-05-12,K1,device,K1,K1 K2 K3 K4 K5,rest of house,yes
2026-05-12,K4,device,K4,K4 K5,rest of house,yes
"""


@pytest.fixture
def kitchen(tmp_path):
    """The run of a counter: K1, K2, K3, K4 and K5, the last behind K4; D1 on LINE."""
    folder = small_job(tmp_path / "kitchen", of=READING / "sound")
    (folder / "protection_map.yaml").write_text(MAP, "utf-8")
    (folder / "trip_tests.csv").write_text(TESTS, "utf-8")
    return folder


def told(capsys, *words: object) -> str:
    assert main(["isolate", *map(str, words)]) == 0
    return " ".join(capsys.readouterr().out.split())


def refused(capsys, *words: object) -> str:
    assert main(["isolate", *map(str, words)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    return said.err.strip()


def as_json(capsys, *words: object) -> dict:
    assert main(["isolate", *map(str, words), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_a_device_that_trips_is_found_from_the_middle_in_two_openings(kitchen, capsys):
    """Opened in order from the device, the same run takes three."""
    said = told(capsys, kitchen, "K1")
    assert "At most 2 openings beyond step 0, the box of K1, 1.7 on average; by likelihoods that are guesses, no plan is better." in said
    assert "1. Open K3 (Kitchen, toward the corner). It can be in K1-K2, K2, K2-K3, K3, K3-K4, K4. " \
           "cable to K2 bad: step 2 cable to K4 bad: step 3 none bad: K3 itself" in said
    assert "Not in the plan: K5; behind K4, which is tripped first" in said


def test_a_device_that_trips_is_found_where_a_visit_disturbed_it_first(example, capsys):
    """Of the run K2, D2, K3, K4 the visit opened K2 and D2; whoever opened in order from the device to the end would need four."""
    said = told(capsys, example, "K1")
    assert "A visit on 18 May 2027 disturbed K2 and D2: looked at first." in said
    assert "At most 3 openings beyond step 0, the box of K1, 2.0 on average" in said
    assert "1. Open K2 (Kitchen, left counter, by the pantry door). It can be in K1-K2, K2, K2-D2, D2, K2-K3, K3, K3-K4, K4. " \
           "cable to K1 bad: it is that cable cable to D2 bad: step 2 cable to K3 bad: step 3" in said


def test_what_dims_is_asked_of_a_breaker(kitchen, capsys):
    assert "name its breaker, B5" in refused(capsys, kitchen, "K1", "--symptom", "dim")
    assert "Outlets in feed order: K1 D1 K2 K3 K4 K5" in told(capsys, kitchen, "B5", "--symptom", "dim")


def test_the_way_of_the_page_is_safety_then_free_cuts_then_openings_then_readings(kitchen, capsys):
    said = told(capsys, kitchen, "K1")
    heads = ["SAFETY", "FIRST, WITHOUT OPENING ANYTHING", "WHAT THE RECORD SAYS", "THE OPENINGS", "READINGS", "WHAT IT POINTS TO",
             "WHEN TO STOP"]
    assert [said.index(head) for head in heads] == sorted(said.index(head) for head in heads)
    assert said.index("Breaker OFF, locked and tagged") < said.index("FIRST")


def test_an_order_that_no_test_can_tell_is_not_taken_as_proved(kitchen, capsys):
    said = told(capsys, kitchen, "K1")
    assert "Which of K2 K3 K4 feeds which is the map's word: no trip test can tell it." in said
    assert said.index("the map's word") < said.index("1. Open")
    assert as_json(capsys, kitchen, "K1")["unproved_order"] == [["K2", "K3", "K4"]]


def test_json_has_the_shape_others_rely_on(kitchen, capsys):
    found = as_json(capsys, kitchen, "k4")
    assert found == {
        "job": "elm-court-12", "device": "K4", "symptom": "trips", "aim": "least",
        "zone": {"boxes": [{"id": "K5", "points": ["K5"], "reach": 1, "suspect": 4, "cable": 1, "fed_from": "K4"}],
                 "here": [], "left_out": []},
        "disturbed": [], "unproved_order": [], "not_shown": [], "contradicted": [],
        "expected": {"reach": 1.0, "openings": 1.0}, "worst": {"reach": 1, "openings": 1}, "fewest_openings": 1, "best": True,
        "above": 0.0, "read_bad": False, "found": [], "first": [{"from": "K4", "toward": "K5", "step": 1}],
        "steps": [{"step": 1, "open": "K5", "suspects": [["K4", "K5"], "K5"],
                   "leads": [{"cable": ["K4", "K5"], "toward": "K4", "bad": {"found": "cable"}}], "none": {"found": "box"}}],
        "order": [], "readings": []}


def test_every_device_and_symptom_can_be_asked(example, capsys, monkeypatch):
    job = read_job(example)
    tree = Tree(job)
    monkeypatch.setattr("sitegen.commands.isolate.read_job", lambda folder: job)
    for device in (*tree.devices, *tree.breakers):
        for symptom in (name for name in SYMPTOMS if name != "dim" or device in tree.breakers):
            assert SYMPTOMS[symptom].title in told(capsys, example, device, "--symptom", symptom)
            as_json(capsys, example, device, "--symptom", symptom)


VISIT = """- date: 2027-06-03
  why: trips now and then
  done:
    - {opened: K2}
"""


def test_what_a_visit_disturbed_is_looked_at_first(job, capsys):
    before = as_json(capsys, job, "K1")
    assert before["disturbed"] == [] and before["steps"][0]["open"] == "K2"
    edit(job, "protection_map.yaml", "fed_from: K1 load}", "fed_from: K1 load, reach: 9}")
    assert as_json(capsys, job, "K1")["steps"][0]["open"] == "K3"
    (job / "visits.yaml").write_text(VISIT, "utf-8")
    found = as_json(capsys, job, "K1")
    assert found["disturbed"] == ["K2"] and found["steps"][0]["open"] == "K2"
    said = told(capsys, job, "K1")
    assert "A visit on 3 June 2027 disturbed K2: looked at first." in said
    assert "No test that counts showed K2 and K3 behind K1: what is dead while it is out tells." in said


def test_readings_of_a_visit_stand_with_their_day(kitchen, capsys):
    (kitchen / "visits.yaml").write_text(VISIT + """  readings:
    - {at: K3, what: hot to ground, megohms: 210, state: LOAD lifted}
    - {at: K6, what: leakage, milliamps: 1}
""", "utf-8")
    said = told(capsys, kitchen, "K1")
    assert "Read on 3 June 2027 at K3: hot to ground 210 megohms (LOAD lifted). Not to be mixed with today's." in said
    assert "leakage" not in said.partition("THE OPENINGS")[0].partition("WHAT THE RECORD")[2]


def test_readings_go_on_from_the_boxes_that_are_open(kitchen, capsys):
    said = told(capsys, kitchen, "K1", "--read", "K3:K2=bad", "k3:k4=GOOD")
    assert "Cable at K1 toward K2: step 1. 1. Open K2" in said and "0. B5 off" not in said
    assert "Found: the cable from K3 to K4 reads bad with both ends open." in told(
        capsys, kitchen, "K1", "--read", "K3:K4=bad", "K4:K3=bad")


def test_all_good_is_not_behind_the_device(kitchen, capsys):
    assert "Nothing reads bad: not behind K1, but K1 itself or a load." in told(capsys, kitchen, "K1", "--read", "K1:K2=good")


def test_opposite_readings_are_refused_and_both_named(kitchen, capsys):
    assert refused(capsys, kitchen, "K1", "--read", "K2:K3=bad", "K4:K3=good") == (
        "--read K2:K3=bad and K4:K3=good cannot both be right: they read the same cable and all that hangs on it between open boxes. "
        "Read both again.")


@pytest.mark.parametrize(("words", "says"), [
    (["K44"], "no device or breaker `K44` in job `elm-court-12`. Did you mean `K4`? Ask by an id of the map."),
    (["K2"], "K2 is a receptacle, and nothing hangs on load terminals of it. Name a protective device or a breaker; for an outlet that "
             "is dead write `--dead K2`."),
    ([], "name the device or breaker that will not hold, or with --dead the outlets that are dead though nothing tripped."),
    (["K1", "--read", "K2:K5=bad"], "--read K2:K5=bad: no cable from K2 to K5 on this map. From K2 cables go to K1, K3. If the box shows "
                                    "another, stop and correct the map first."),
    (["K1", "--read", "D1:K1=bad"], "--read D1:K1=bad: D1 is no box on the load side of K1. Name a box of its plan, or K1."),
    (["K1", "--read", "K2-K3"], "--read `K2-K3` is not a reading; write the open box, the box that the cable goes to, and what was read, as "
                                "K3:K2=bad or K3:K4=good."),
    (["K1", "--hunch", "D1"], "--hunch D1 is not on the load side of K1. Name points of its plan."),
    (["K1", "--symptom", "now-and-then", "--worst"], "--read and --worst go with a plan of openings; `now-and-then` has none."),
    (["--dead", "K5", "--live", "K5,K4"], "K5 stands under --dead and under --live. Look again, and write it under one."),
    (["--live", "K5"], "--live alone tells nothing; write with --dead which outlets are dead."),
    (["--dead", "S1"], "--dead names S1, a switch. Name outlets: what was found dead or live there."),
    (["--dead", "K5", "--symptom", "trips"], "--dead and --live go with `part-dead` alone: nothing tripped, and part stays dead. Leave the "
                                             "other options out."),
    (["K6", "--dead", "K5"], "K5 is not behind K6 on this map. Leave the device out, or correct the map.")])
def test_what_cannot_be_used_is_said_with_what_to_do(kitchen, capsys, words, says):
    assert refused(capsys, kitchen, *words) == says


def test_part_dead_is_between_two_boxes(kitchen, capsys):
    assert as_json(capsys, kitchen, "--dead", "K5", "--live", "K4")["runs"] == [{
        "boxes": ["K4", "K5"], "dead": ["K5"], "look": [],
        "steps": [{"step": 1, "open": "K4", "suspects": ["K4", ["K4", "K5"], "K5"],
                   "leads": [{"cable": ["K4", "K5"], "toward": "K5", "bad": {"step": 2}}], "none": {"found": "box"}},
                  {"step": 2, "open": "K5", "suspects": [["K4", "K5"], "K5"],
                   "leads": [{"cable": ["K4", "K5"], "toward": "K4", "bad": {"found": "cable"}}], "none": {"found": "box"}}]}]
    assert "At most 2 openings" in told(capsys, kitchen, "K4", "--symptom", "part-dead", "--dead", "K5", "--live", "K4")


def test_an_outlet_that_nobody_looked_at_is_looked_at_first(kitchen, capsys):
    assert "Look first at K2, and ask again" in told(capsys, kitchen, "--dead", "K3 K5", "--live", "K1")


def test_dead_with_power_beyond_is_its_own_pigtail(kitchen, capsys):
    found = as_json(capsys, kitchen, "--dead", "K2", "--live", "K3")
    assert (found["runs"], found["own"]) == ([], ["K2"])


def test_nothing_live_known_sends_to_trace(kitchen, capsys):
    assert as_json(capsys, kitchen, "--dead", "K5")["no_power"] == [{"before": "K1", "dead": ["K5"]}]
    assert "`sitegen trace JOB K1`" in told(capsys, kitchen, "--dead", "K5")


def test_a_feeder_has_no_plan_by_boxes(tmp_path, capsys):
    old = small_job(tmp_path / "old", of=READING / "old_house")
    feeder, panel = next((panel.fed_from, panel.id) for panel in read_job(old).panels if panel.fed_from)
    assert f"{feeder} feeds {panel}: every breaker there off, then the feeder; then on, one by one. No plan by boxes." \
        in told(capsys, old, feeder)
    assert as_json(capsys, old, feeder)["steps"] == []


def test_a_shared_neutral_is_told_before_a_box_is_opened(tmp_path, capsys):
    """A technician's life: the other hot's current flows in the neutral that is lifted."""
    old = small_job(tmp_path / "old", of=READING / "old_house")
    job = read_job(old)
    for circuit in (circuit for circuit in job.circuits if circuit.shares_neutral_with):
        said = told(capsys, old, circuit.breaker)
        for number in (circuit.number, *(job.circuit[key].number for key in circuit.shares_neutral_with)):
            assert number in said.partition(" share a neutral:")[0].rpartition("Circuits ")[2]
        assert "every hot lifted" in said and said.index("share a neutral") < said.index("THE OPENINGS")
    assert "share a neutral: B2, B6 and B8 off and locked" in told(capsys, old, "--dead", "G1", "--live", "K1")


def test_an_outlet_that_tests_contradict_is_cleared_first(job, capsys):
    edit(job, "trip_tests.csv", ",K1,device,,,K1,K1 K2 K3 K4,", ",K1,device,,,K1,K1 K3 K4,")
    assert as_json(capsys, job, "K1")["contradicted"] == ["K2"]
    assert "Tests and map do not agree about K2: clear that with `sitegen check` before a box is opened." in told(capsys, job, "K1")
    assert "do not agree about K2" in told(capsys, job, "--dead", "K2", "--live", "K1")


def test_a_meters_value_stands_with_what_it_means(kitchen, capsys):
    found = as_json(capsys, kitchen, "K1", "--reading", "K3 h-g 18k", "K1 trip 6 mA 24 ms", "k2 n-g OL")["readings"]
    assert [(one["at"], one["what"], one["value"], one["sure"], one["bad"]) for one in found] == [
        ("K3", "hot to ground", "18000 ohm", "arithmetic", True), ("K1", "trip", "6 mA in 0.024 s", "standard", False),
        ("K2", "neutral to ground", "over range", "common practice", False)]
