"""The monthly round: every device once, one time wherever it is named, and nothing that turns or heats is switched on for it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from house import BASE, ROOT, report_of, small_job

from sitegen.binder import months
from sitegen.binder.desk import Desk
from sitegen.binder.months import monthly_test
from sitegen.binder.reminders import device_calendar, house_calendar
from sitegen.binder.round import A_BREAKER, A_BUTTON, A_ROOM, STEP, monthly_round
from sitegen.binder.watch import watch
from sitegen.job import read_job
from sitegen.job.kinds import BREAKERS, POINTS
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

# What may turn or heat: common practice, no source. The last three have a word for a lamp in them.
TURNS_OR_HEATS = ("disposal", "range hood", "dishwasher", "washer", "gas dryer", "sump pump", "table saw", "space heater", "kettle",
                  "garage door opener", "bath fan", "heat lamp", "ceiling fan light", "lamp with a heater")


def desk_of(folder, language="en") -> Desk:
    return Desk(report_of(folder), open_theme().words(language), "" if language == "en" else language)


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_device_of_the_example_stands_once_in_walking_order(language):
    desk = desk_of(ROOT / "example_job", language)
    whole = monthly_round(desk)
    order = months.testing_order(desk)
    assert [row.id for row in whole.buttons] == [id for id in order if id not in desk.job.breaker]
    assert sorted(row.id for row in whole.presses) == sorted(order) and not whole.held
    rooms = [row.what.partition(",")[0] for row in whole.buttons]
    assert len(set(rooms)) == 1 + sum(one != other for one, other in zip(rooms, rooms[1:]))    # no room is entered twice


def test_one_time_is_named_everywhere():
    """25 minutes: 7 buttons, 11 breakers and the rooms of two walks, by the map; rounded up to 5."""
    desk = desk_of(ROOT / "example_job")
    walks = [{"Pantry", "Dining corner", "Kitchen", "Hall", "Laundry", "Garage", "Living room", "Bedroom"},
             {"Hall", "Half bath", "Full bath", "Garage", "Outdoors"}]
    counted = 7 * A_BUTTON + 11 * A_BREAKER + sum(map(len, walks)) * A_ROOM
    assert counted == 22.5 and STEP == 5
    [event] = house_calendar(desk).events
    assert monthly_round(desk).minutes == event.minutes == 25
    assert "About 25 minutes." in event.description and event.alarm == "Monthly round: about 25 minutes"
    [one] = device_calendar(desk, "K1").events
    assert one.minutes == STEP and "About 5 minutes." in one.description


def test_the_calendar_says_the_whole_round():
    desk = desk_of(ROOT / "example_job")
    [event] = house_calendar(desk).events
    for row in monthly_round(desk).presses:
        assert f"{row.label} · {row.what}: {row.how}" in event.description
    assert "Medical equipment on one of these? Do not press." in event.description


@pytest.mark.parametrize("kind, use", [(kind, use) for kind in ("receptacle", "appliance") for use in TURNS_OR_HEATS]
                         + [("light", use) for use in TURNS_OR_HEATS[-3:]])
def test_nothing_that_turns_or_heats_is_watched(tmp_path, kind, use):
    """All that hangs on a blank plate with buttons: of such a thing only free slots are used, for a lamp of one's own."""
    job = read_job(small_job(tmp_path / "job"))
    points = tuple(replace(point, use=use, kind=POINTS[kind]) if point.id in ("DW", "L1") else point for point in job.points)
    desk = Desk(examine(replace(job, points=points)), open_theme().words("en"))
    seen = watch(desk, "F1")
    assert seen.how == ("lamp" if kind == "receptacle" and "pump" not in use and "opener" not in use else "none"), seen
    said = " ".join((monthly_test(desk, "F1").steps[0].plain, *(row.how for row in monthly_round(desk).presses)))
    assert f"{use}, Kitchen" not in said and not (seen.how == "none" and use in said)


def test_what_a_failed_test_means_goes_by_the_kind():
    """An AFCI guards against fire and a gfpe equipment: never "no protection" of them."""
    job = read_job(BASE)
    for kind, says in (("afci", "Fire guard"), ("gfpe", "Equipment guard"), ("gfci", "No protection")):
        breakers = tuple(replace(breaker, kind=BREAKERS[kind]) if breaker.id == "B5" else breaker for breaker in job.breakers)
        desk = Desk(examine(replace(job, breakers=breakers)), open_theme().words("en"))
        steps = " ".join(step.plain for step in monthly_test(desk, "B5").steps)
        assert ("No protection" in steps) == (kind == "gfci")
        assert any(says in means.plain for _, means in monthly_round(desk).results)


def test_medical_equipment_is_not_pressed(tmp_path):
    folder = small_job(tmp_path / "job", ("protection_map.yaml", "at: by the door, fed_from: K3 load",
                                          "at: by the door, use: oxygen concentrator, fed_from: K3 load"))
    desk = desk_of(folder)
    whole = monthly_round(desk)
    assert {row.id for row in whole.held} == {"K1", "K3", "B5"} and not {row.id for row in whole.presses} & {"K1", "K3", "B5"}
    [step] = monthly_test(desk, "K3").steps
    assert step.plain == "Medical equipment is on K3. Do not press TEST. Ask its supplier."


def test_a_breaker_of_several_panels_is_named_with_its_room():
    job = read_job(BASE)
    panels = (*job.panels, replace(job.panels[0], id="P2", at="Shed, by the door", room=None))
    desk = Desk(examine(replace(job, panels=panels)), open_theme().words("en"))
    assert "5 (Garage)" in [row.label for row in monthly_round(desk).presses]
