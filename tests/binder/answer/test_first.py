"""The cheap look before the walk: which things have it, what it asks, that no breaker goes off for one dead bulb.

That a bulb, a switch and a sensor are looked at before a breaker, and that an alarm's breaker stays on, is common practice,
no source.
"""

import re

import pytest
import yaml
from house import ROOT, report_of, small_job

from sitegen.binder.answer.answer import device_answer, outlet_answer
from sitegen.binder.desk import Desk
from sitegen.publish.theme import open_theme

LANGUAGES = ("en", "es")
# Read from the map as it is written, by none of the tool's own code.
POINTS = {point["id"]: {**point, "breaker": circuit["breaker"]["id"] if isinstance(circuit["breaker"], dict) else circuit["breaker"]}
          for circuit in yaml.safe_load((ROOT / "example_job" / "protection_map.yaml").read_text("utf-8"))["circuits"]
          for point in circuit["points"]}
TURNS = r"disposal|fan|hood|washer|door opener|furnace"


def behind_a_button(id: str) -> bool:
    """Up the feed by hand: whether a device with buttons stands before the breaker."""
    feed = POINTS[id]["fed_from"].split()
    above = POINTS.get(feed[0])
    if above is None:
        return False
    device = any(word in above["is"] for word in ("gfci", "afci", "dual-function"))
    return device and feed[-1] == "load" or behind_a_button(feed[0])


def wants_a_look(id: str) -> bool:
    kind, use = POINTS[id]["is"], POINTS[id].get("use", {}).get("en", "")
    return kind in ("light", "appliance") or kind == "receptacle" and (not behind_a_button(id) or bool(re.search(TURNS, use)))


@pytest.fixture(scope="module", params=LANGUAGES)
def desk(request) -> Desk:
    return Desk(report_of(ROOT / "example_job"), open_theme().words(request.param), "" if request.param == "en" else request.param)


def test_every_light_alarm_motor_and_breaker_only_outlet_has_the_look_and_nothing_else_has(desk):
    plain = [id for id in desk.tree.outlets if not desk.tree.kind(id).opens]
    assert len(plain) > 30
    assert {id for id in plain if outlet_answer(desk, id).first} == {id for id in plain if wants_a_look(id)}
    assert not any(device_answer(desk, id, "").first for id in desk.tree.devices)
    for id in plain:
        if first := outlet_answer(desk, id).first:
            assert 1 <= len(first.lines) <= 3, id


def test_it_stands_before_the_walk_on_the_page(bound):
    """In the order of the file: the look, when to stop, then where to go and what to press."""
    seen = 0
    for id in POINTS:
        for path in (bound / "site" / id / "index.html", bound / "site" / id / "es" / "index.html"):
            if path.is_file() and wants_a_look(id):
                text = path.read_text("utf-8").partition("</style>")[2]
                places = [text.index(f'class="{name}"') for name in ("first", "stop", "act", "spot", "steps")]
                assert places == sorted(places), path
                seen += 1
    assert seen == 2 * sum(map(wants_a_look, POINTS)) > 50


def test_no_breaker_of_an_alarm_is_pushed_for_one_dead_thing(desk):
    """Whatever hangs on the breaker of an alarm asks first whether something else on it works, and then says to stop."""
    stop = {"en": "Stop. Call.", "es": "Pare. Llame."}[desk.words.language]
    breakers = {point["breaker"] for point in POINTS.values() if "alarm" in point.get("use", {}).get("en", "")}
    uses = {id: point["use"][desk.words.language] for id, point in POINTS.items() if point["breaker"] in breakers and "use" in point}
    asked = 0
    for id in uses:
        if not desk.tree.is_outlet(id):
            continue
        answer = outlet_answer(desk, id)
        said = " ".join(line.plain for line in answer.first.lines)
        if "alarm" in POINTS[id]["use"]["en"]:
            assert "911" in said and ("Never leave its breaker off" in said or "Nunca deje su breaker en OFF" in said)
        elif answer.spot.id in breakers:
            named = [use for other, use in uses.items() if other != id and use in said]
            assert named and stop in said and all(use in answer.first.also for use in named), id
        asked += 1
    assert asked > 5


def test_what_a_thing_works_by_is_what_is_looked_at_first(desk):
    says = {"L9": ("dusk sensor", "sensor de luz"), "L4": ("motion sensor", "sensor de movimiento"), "L7": ("wall switch", "interruptor")}
    for id, words in says.items():
        assert words[desk.further == "es"] in outlet_answer(desk, id).first.lines[0].plain


@pytest.mark.parametrize("works_by", ["dusk sensor", "motion sensor", "timer", "thermostat", "switch"])
def test_every_word_of_works_by_has_its_line(tmp_path, works_by):
    job = small_job(tmp_path / "job", ("protection_map.yaml", "switched_by: S1", f"works_by: {works_by}"))
    line = outlet_answer(Desk(report_of(job), open_theme().words("en")), "L1").first.lines[0].plain
    assert works_by in line


def test_where_nothing_was_seen_nothing_is_asked(tmp_path):
    """Among things that nobody looked at: no promise that anything is on."""
    job = small_job(tmp_path / "job")
    tests = job / "trip_tests.csv"
    tests.write_text(tests.read_text("utf-8").partition("\n")[0] + "\n", "utf-8")
    first = outlet_answer(Desk(report_of(job), open_theme().words("en")), "L1").first
    assert not any("Then" in line.plain for line in first.lines) and first.also == "Still nothing?"


def test_the_case_of_the_other_thing_is_not_said_twice(desk):
    told = 0
    for id in desk.tree.outlets:
        if not desk.tree.kind(id).opens:
            answer = outlet_answer(desk, id)
            other = any(re.search("Something else|Algo más", case.title.plain) for case in answer.cases)
            assert not (other and answer.first), id
            told += other
    assert told


def test_nobody_turns_a_gas_knob_to_see_whether_something_works(desk):
    """A spark is seen only by a turned knob (common practice, no source); it may be named as what stopped."""
    asked = 0
    for id in desk.tree.outlets:
        answer = device_answer(desk, id, "") if desk.tree.kind(id).opens else outlet_answer(desk, id)
        lines = [line.plain for line in answer.first.lines] if answer.first else []
        lines += [answer.first.also] if answer.first else []
        lines += [text for case in answer.cases for text in (case.title.plain, *(says.plain for says in case.says if hasattr(says, "plain")))]
        assert not any(re.search("spark|encendedor", line) for line in lines), id
        asked += any(re.search("one of these work|still works|Vea si funciona|aún funciona", line) for line in lines)
    assert asked > 10


def test_a_bulb_is_changed_only_where_its_socket_can_be_switched_off(desk):
    bulbs = {id: any(re.search("Takes a bulb|Usa foco", line.plain) for line in outlet_answer(desk, id).first.lines)
             for id, point in POINTS.items() if point["is"] == "light"}
    assert bulbs == {id: "sensor" not in POINTS[id].get("works_by", "") for id in bulbs} and len(set(bulbs.values())) == 2


def test_what_keeps_cold_shows_by_its_own_light_whether_it_has_power(desk):
    """In three lines at most, as everywhere."""
    shown = {id for id in desk.tree.outlets if not desk.tree.kind(id).opens and (first := outlet_answer(desk, id).first)
             and len(first.lines) <= 3 and any(re.search("Its light is on|Prende su luz", line.plain) for line in first.lines)}
    assert shown == {id for id, point in POINTS.items() if re.search("freezer|refrigerator", point.get("use", {}).get("en", "")) and point["is"] == "receptacle"}


def test_a_test_that_fails_is_named_where_the_device_guards_people(desk):
    """TEST without effect: no protection (common practice, no source); an AFCI alone guards no people."""
    named = {id for id in desk.tree.devices if device_answer(desk, id, "").test_failed}
    assert named == {id for id in desk.tree.devices if desk.tree.kind(id).stops_shock} and len(named) < len(desk.tree.devices)
