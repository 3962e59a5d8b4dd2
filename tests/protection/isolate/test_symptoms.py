"""The lists, row by row against what electricians and inspectors described in public: an observation, what it points to, and what
it does not show. Rows marked * there were seen, and what they point to was concluded: these say so. No standard stands behind the
others but where the list says one. The names of the tests are the rows."""

import pytest

from sitegen.protection.isolate.symptoms import SAFETY, SEEN, SYMPTOMS, Telling


def telling(symptom: str, *words: str) -> Telling:
    """The one observation of a list that has all these words in it."""
    [found] = [one for one in SYMPTOMS[symptom].tellings if all(word in one.seen for word in words)]
    return found


def holds(one: Telling, *points_to: str, not_shown: str = "", seen: bool = False) -> None:
    assert all(word in one.points_to for word in points_to) and not_shown in one.not_shown
    assert (one.sure == SEEN) is seen
    assert not not_shown or not_shown not in one.points_to, "it may not claim what it does not show"


def test_test_pops_own_slots_dead_all_load_children_dead():
    holds(telling("test-dead", "own slots go dead", "every outlet on LOAD goes dead"), "wired as drawn", not_shown="a ground")


def test_test_pops_own_slots_stay_live_downstream_dies():
    holds(telling("test-dead", "own slots stay live", "downstream dies"), "line and load exchanged", "before 2015", "put in again",
          not_shown="hot and neutral exchanged")


def test_test_pops_own_slots_and_downstream_stay_live():
    holds(telling("test-dead", "own slots and all downstream stay live"), "welded", "protects nothing", not_shown="a wrong map", seen=True)


def test_reads_correct_tester_trips_nothing_dead_on_own_test():
    holds(telling("test-dead", "reads correct", "own TEST"), "neutral joined to the ground pin", not_shown="unprotected", seen=True)


def test_new_device_no_power_no_reset_just_replaced():
    holds(telling("no-reset", "a new device", "just replaced"), "line and load exchanged", "lock-out", "no supply", not_shown="defective")


def test_own_slots_dead_a_claimed_point_stays_live():
    holds(telling("test-dead", "own slots dead", "stays live"), "on LINE", "another feed", not_shown="a bad device", seen=True)


def test_tester_at_a_grounded_outlet_no_trip():
    holds(telling("test-dead", "an outlet with a ground"), "not behind that device", "or the device is bad")


def test_tester_at_an_ungrounded_outlet_no_trip():
    holds(telling("test-dead", "an outlet without a ground"), "nothing", not_shown="unprotected")


def test_test_on_the_last_of_a_series_only_that_one_opens():
    holds(telling("trips", "last of devices in series"), "normal", not_shown="devices before it are bad", seen=True)


@pytest.mark.parametrize("symptom", ["trips", "now-and-then", "at-once"])
def test_real_leak_at_the_end_of_a_series_any_or_all_open(symptom):
    holds(telling(symptom, "real leak", "any or all"), "normal", not_shown="fault is at the one that opened")


def test_device_resets_own_slots_live_all_load_children_dead():
    holds(telling("part-dead", "resets", "own slots are live", "all outlets on its LOAD are dead"),
          "between its LOAD terminals and the first outlet", not_shown="a trip")


def test_some_load_children_live_later_ones_dead():
    holds(telling("part-dead", "some outlets on LOAD are live"), "last live or the first dead", not_shown="the device")


def test_device_will_not_reset_and_points_not_on_its_load_are_dead():
    holds(telling("no-reset", "not on its LOAD are dead"), "no supply", "before both", not_shown="a bad device", seen=True)
    assert "no supply" in SYMPTOMS["no-reset"].free[0], "asked before anything is unplugged"


@pytest.mark.parametrize("symptom", ["trips", "now-and-then"])
def test_holds_with_loads_off_pops_when_one_fixed_load_goes_on(symptom):
    one = telling(symptom, "loads off", "one fixed load")
    assert "neutral is not on LOAD" in one.points_to and "leaks" in one.points_to and "overload" in one.not_shown


def test_pops_as_soon_as_the_other_hot_carries_current():
    holds(telling("trips", "other hot of a three-wire run"), "shared neutral beyond LOAD", not_shown="bad device")


def test_afci_trips_ordinary_breaker_holds_neutral_to_ground_closed():
    holds(telling("trips", "AFCI trips", "circuit lifted"), "neutral touches ground in one box", not_shown="bad AFCI")


def test_hot_neutral_0_hot_ground_120_neutral_ground_120():
    holds(telling("part-dead", "hot to neutral 0 V", "neutral to ground 120 V"), "open neutral upstream",
          not_shown="hot and ground reversed", seen=True)


def test_tester_reading_changes_when_a_load_is_plugged_in_nearby():
    holds(telling("part-dead", "reading changes"), "open ground", "open neutral", not_shown="hot and neutral reversed")


def test_trips_only_in_rain_or_humidity():
    holds(telling("now-and-then", "rain"), "outdoor or damp point", not_shown="a bad device")


def test_one_leg_rises_while_the_other_falls():
    """Two loads in series across 240 V share it by their resistance (circuit arithmetic)."""
    holds(telling("dim", "other rises"), "open or loose neutral", "service", not_shown="a bad breaker")
    assert "main OFF; the power company" in SYMPTOMS["dim"].free[0]


def test_no_list_resets_to_see_whether_the_fault_is_still_there():
    """29 CFR 1910.334(b)(2), as reported: no closing again by hand until it is known to be safe."""
    for one in SYMPTOMS.values():
        for line in (*one.free, *one.openings):
            assert line.count("RESET") <= 1 or "was pressed already" in line, line
    assert sum("One RESET for one change, never to see" in line for line in SAFETY) == 1
    assert "No further closing" in SYMPTOMS["at-once"].free[0]


def test_free_cuts_come_before_openings():
    for one in SYMPTOMS.values():
        assert one.free and one.openings and not any("Open " in line and "opened" in line for line in one.free)


def test_every_observation_says_how_sure_it_is():
    assert {t.sure for one in SYMPTOMS.values() for t in one.tellings} == {"standard", "common practice", SEEN}
