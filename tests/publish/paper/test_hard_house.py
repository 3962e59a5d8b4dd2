"""A house that is hard to print: many outlets, long words, three buttons one behind the other."""

import random
from dataclasses import replace

import pytest
from houses import FILE, walk_through
from publish.paper.prints import SIZES, leaves_are_whole, nothing_is_split, printed, write

from sitegen.errors import Where
from sitegen.job.kinds import BREAKERS, POINTS
from sitegen.job.map.walls import walls_of
from sitegen.job.records import Breaker, Circuit, Feed, Job, Panel, Point
from sitegen.job.records.plans import Door, Position, RoomPlan, WallRun
from sitegen.protection.examine import examine

pytestmark = pytest.mark.browser

CORNERS = ((0.0, 0.0), (26.0, 0.0), (26.0, 22.0), (0.0, 22.0))     # ft


def hard_house() -> Job:
    """Three buttons one behind the other, twenty-two outlets on the first, long words, a long name, eight walls to draw."""
    where = Where("protection_map.yaml", 1)
    room, at = "Downstairs kitchen", "left-hand counter, by the pantry door"
    points = []
    for number in range(1, 23):
        device = number in (1, 8, 15)
        kind = POINTS["gfci receptacle" if device else "receptacle"]
        feed = Feed(points[-1].id, "load" if points[-1].kind.opens else None) if points else Feed("B5")
        points.append(Point(f"KITCH-{number}", kind, "P1-5", room, f"{at}, number {number}", feed, where,
                            use="freezer" if number % 7 == 0 else "coffee maker or kettle",
                            height="about four feet from the floor", behind="behind the tall boxes of the pantry shelf",
                            drawn_at=on_wall(room, number)))
    file = replace(FILE, title="Whole house with garage, both baths and the outdoor kitchen by the old barn",
                   contractor={"firm": "Bramble Hollow Electric and Sons of Larkmoor", "phone": "(203) 555-0147"},
                   base_url="https://records.bramble-hollow-electric.example/homes")
    breaker = Breaker("B5", BREAKERS["afci"], "5", 20.0, 1, where)
    circuit = Circuit("P1-5", "5", "P1", "Counter", "B5", None, None, None, where)
    runs = tuple(WallRun(f"{half} counter of the {wall.name} wall", wall.name, start, start + wall.length / 2, True, 2.0, where)
                 for wall in walls_of(CORNERS) for half, start in (("left", 0.0), ("right", wall.length / 2)))
    plan = RoomPlan(room, CORNERS, (Door("south", 11.0, 13.0, "Hall", True, where),), (), runs, where)
    return walk_through(Job(file, (Panel("P1", "Garage, behind the workbench by the side door", where),), (breaker,),
                            (circuit,), tuple(points), (), rooms=(plan,)), random.Random(1))


def on_wall(room: str, number: int) -> Position:
    """The outlets stand about evenly along the eight halves of the walls."""
    wall = walls_of(CORNERS)[number % 4]
    at = wall.length * ((number // 4) / 6 + 0.08)
    return Position(room, *wall.at(at), wall.name, at, 3.5)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("drawn", (True, False), ids=("drawn", "undrawn"))
def test_the_worst_house_still_fits(chromium, tmp_path, size, drawn):
    """Fronts on one page and words inside their panels, though cases and list have to go on overleaf and the drawings need pages
    of their own; DRAFT on every page. Without a plan of its rooms it has no drawings and is whole too."""
    job = hard_house()
    one = write(job if drawn else replace(job, rooms=()), tmp_path, draft=True)["en"]
    assert any(side.rows < len(sheet.off) for sheet, side in zip(one.data.sheets, one.layout.sides, strict=True))
    assert any(side.cases < len(sheet.place.answer.cases) for sheet, side in zip(one.data.sheets, one.layout.sides, strict=True))
    assert max(len(laid.apart) for laid in one.layout.backs) == (3 if drawn else 1)
    paper = replace(one, size=size, texts=tuple(printed(chromium, one.html, size)))
    leaves_are_whole(paper)
    assert all("DRAFT" in text for text in paper.texts)
    nothing_is_split(chromium, one.html)


def test_the_worst_house_is_proved():
    """Its walk-through proves every device: otherwise its sheets would say less than they can."""
    report = examine(hard_house())
    assert set(report.proof.devices.values()) == {"proved"} and len(report.tree.outlets) == 22


def test_rules_too_long_for_one_panel_of_the_folded_sheet_stand_on_two(chromium, tmp_path):
    """What to try first heads the panel before them; every panel still holds its words."""
    job = hard_house()
    job = replace(job, panels=(*job.panels, *(replace(job.panels[0], id=f"P{number}") for number in range(2, 12))))
    one = write(job, tmp_path)["en"]
    heads = [panel.heads for panel in (*one.layout.folded[0].inside, *one.layout.folded[0].outside)]
    assert heads == [(), ("tries",), ("rules",), ("first",)]
    nothing_is_split(chromium, one.html)
