"""Takes the walk-through sheet; gives what its page for the phone has to know, as data that its script compares and never works out:
the tests in walking order, the places, what each device and breaker cuts by the map. Nothing of home, private or ledger."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ...job.trips import COLUMNS
from ...protection.sighting import DEAD_VOLTS
from ..answer.places import at_of
from ..desk import Desk, room_and_spot
from ..walking import doorways
from .mark import mark, places_line
from .rounds import RoundPage
from .sheet import Press, WalkSheet, room_of, walking_order


def walk_data(desk: Desk, sheet: WalkSheet) -> dict[str, Any]:
    """Everything on the page; ids in feed order, tests and rooms in walking order."""
    tree, job = desk.tree, desk.job
    tests = [_numbered(test, number) for number, test in enumerate(_tests(desk, sheet), 1)]
    return {
        "job": sheet.job, "title": sheet.title, "missing": sheet.missing, "mark": mark(desk.report.job),
        "columns": [*COLUMNS, "time", "page"], "places": places_line(desk.report.job), "people": people(desk), "told": list(sheet.told),
        "latest": max((row.date.isoformat() for row in job.tests), default=""),
        "rooms": list(dict.fromkeys(room_of(desk, id) for id in walking_order(desk, tree.outlets, doorways(job)))),
        "tests": tests, "outlets": [_outlet(desk, id) for id in tree.outlets], "openers": [_opener(desk, id) for id in _openers(desk)],
        "map": map_data(desk), "words": desk.words.get("walk.page"),
    }


def map_data(desk: Desk) -> dict[str, Any]:
    """What the page holds a tap against: sets that were worked out here."""
    tree, evidence = desk.tree, desk.evidence
    return {
        "cuts": {id: list(tree.outlets_of(tree.goes_dead(id))) for id in _openers(desk)},
        "guards": {id: list(found) for id in tree.outlets if (found := tree.protected_by(id))},
        "bare": [id for id in tree.outlets if not desk.point(id).grounded],
        "unknown": [id for id in tree.outlets if id in tree.unknown],
        "partners": {id: list(found) for id in tree.outlets if (found := evidence.partners(id))},
        "circuits": [{"outlets": list(tree.outlets_of(ids)), "openers": [id for id in (circuit.breaker, *ids) if id in _openers(desk)]}
                     for circuit in tree.circuits for ids in ([id for id, _ in tree.walk(circuit)],)],
        "dead_volts": DEAD_VOLTS,
    }


def people(desk: Desk) -> list[str]:
    """Who may be testing: whoever wrote rows, the latest first, then the contractor."""
    wrote = [row.by for row in reversed(desk.evidence.record) if row.by]
    return list(dict.fromkeys((*wrote, *filter(None, (desk.job.file.contractor.get("name"),)))))


def _openers(desk: Desk) -> tuple[str, ...]:
    """Every breaker and protective device, in feed order."""
    tree = desk.tree
    ids = (id for circuit in tree.circuits for id in (circuit.breaker, *(id for id, _ in tree.walk(circuit) if tree.kind(id).opens)))
    return tuple(dict.fromkeys(ids))


def _outlet(desk: Desk, id: str) -> dict[str, Any]:
    point, kind = desk.point(id), desk.tree.kind(id)
    return {"id": id, "room": point.room, "at": at_of(desk, id), "use": point.use or "", "switch": list(point.switched_by),
            "plugs": kind.plugs, "light": kind.by_name, "apart": point.not_proved or ""}


def _opener(desk: Desk, id: str) -> dict[str, Any]:
    if id in desk.job.breaker:
        room, spot = room_and_spot(desk.panel_of(id))
        serves = " · ".join(circuit.serves for circuit in desk.job.circuits if circuit.breaker == id)
        return {"id": id, "room": room, "at": spot, "space": desk.job.breaker[id].space, "serves": serves, "test": desk.tree.kind(id).opens}
    return {"id": id, "room": desk.point(id).room, "at": at_of(desk, id), "space": "", "serves": "", "test": True}


def _numbered(test: dict[str, Any], number: int) -> dict[str, Any]:
    return {"key": f"{number} {test['pressed']} {test['outlet']}", **test}


def _tests(desk: Desk, sheet: WalkSheet) -> Iterator[dict[str, Any]]:
    """The rows of the sheet in its order. The tester reads before it is pressed, so a reading there is no test of its own."""
    pressed = {press.outlet for press in sheet.presses if press.pressed == "tester"}
    for page in sheet.again:
        yield _round(page, "again")
    for look in sheet.first:
        if look.plugs and look.id not in pressed:
            yield _test(desk, look.id, "none", ())
    for page in sheet.rounds:
        yield _round(page, "round")
    for press in (*sheet.presses, *sheet.handles):
        yield _of_press(desk, press)
    if sheet.last:
        yield {**_test(desk, sheet.rows[-1][0], "none", tuple(id for _, looks in sheet.last for id, _ in looks)), "part": "last"}


def _of_press(desk: Desk, press: Press) -> dict[str, Any]:
    return _test(desk, press.outlet, press.pressed, tuple(look.id for look in press.looks))


def _test(desk: Desk, id: str, pressed: str, looks: tuple[str, ...]) -> dict[str, Any]:
    return {"part": pressed, "pressed": pressed, "outlet": id, "room": room_of(desk, id), "looks": list(looks)}


def _round(page: RoundPage, part: str) -> dict[str, Any]:
    """What is opened, in that order; `own`: by its own TEST."""
    return {"part": part, "pressed": page.pressed, "outlet": " ".join(page.open), "room": "", "heading": page.heading.plain,
            "open": list(page.open), "own": list(page.tests), "looks": [id for _, looks in page.rooms for id, _ in looks]}
