"""Someone who walks a house with the page: taps what the copper answers, and counts the taps. What the rows should be is written
here a second time, by hand as it were, without anything of the page."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from houses import live, wiring
from tapping import Thumb, open_page

from sitegen.binder.desk import Desk
from sitegen.binder.walk.mark import mark
from sitegen.binder.walk.phone import walk_data
from sitegen.binder.walk.sheet import walk_sheet
from sitegen.job.records import Job
from sitegen.protection.examine import Report, examine
from sitegen.protection.rounds.report import Left
from sitegen.protection.tree import Tree
from sitegen.publish.theme import open_theme
from sitegen.publish.walk_file import walk_page

BEGIN = datetime(2027, 6, 1, 9, 0, 0)
ROWS = ("date", "outlet", "pressed", "volts", "wiring", "tripped", "went_dead", "stayed_live", "volts_after", "reset", "by", "note", "time", "page")


def data_of(report: Report, missing: bool = True, rounds: bool = False) -> dict[str, Any]:
    desk = Desk(report, open_theme().words("en"))
    return walk_data(desk, walk_sheet(desk, missing, Left(report.proof) if rounds else None))


def page_of(report: Report, folder: Path, missing: bool = True, rounds: bool = False) -> Path:
    """The page of a job as a file."""
    theme = open_theme()
    out = folder / "walk.html"
    out.write_bytes(walk_page(data_of(report, missing, rounds), theme.words("en"), theme))
    return out


def expected(job: Job, true: Job, data: dict[str, Any], by: str) -> str:
    """The rows that a careful person writes at this walk, each test a minute after the one before."""
    out = io.StringIO()
    writer = csv.DictWriter(out, ROWS, lineterminator="\n")
    for number, test in enumerate(data["tests"]):
        found = answer(true, Tree(job), test, number)
        writer.writerow({"date": "2027-06-01", "outlet": test["outlet"], "pressed": test["pressed"], "by": by, "page": mark(job),
                         "time": (BEGIN + timedelta(minutes=number)).strftime("%H:%M:%S"), **found["row"]})
    return out.getvalue()


def answer(true: Job, tree: Tree, test: dict[str, Any], number: int) -> dict[str, Any]:
    """What the copper of `true` answers to a test: what opened, what was seen, and the cells of the row. The outlets asked for are
    looked at, and behind a TEST the rest of the house but lights and what nobody can reach."""
    graph = wiring(true)
    volts, id = f"{120 + number % 10 / 10:g}", test["outlet"]
    if test["part"] in ("round", "last"):
        on = live(graph, set(test.get("open", ())))
        return {"tapped": [o for o in test["looks"] if o not in on or tree.kind(o).by_name], "dead": set(test["looks"]) - on}
    if test["pressed"] == "none":
        return {"volts": volts, "row": {"volts": volts, "wiring": "correct", "tripped": "none", "stayed_live": id}}
    opened = (id,) if test["pressed"] == "device" else tuple(Tree(true).protected_by(id)[:1])
    on = live(graph, set(opened))
    if test["pressed"] == "tester":
        dead = id not in on
        return {"volts": volts, "opened": opened, "dead": dead, "row": {
            "volts": volts, "wiring": "correct", "tripped": " ".join(opened) or "none", "went_dead": id if dead else "", "stayed_live": "" if dead else id,
            "volts_after": "0.1" if dead else "", "reset": "yes" if opened else ""}}
    rest = {o for o in tree.outlets if not tree.kind(o).by_name and not tree.job.point[o].not_proved and o not in tree.goes_dead(id)}
    looked = [o for o in tree.outlets if o in test["looks"] or o in rest]
    return {"opened": opened, "tapped": [o for o in looked if o not in rest or o not in on], "dead": {o for o in looked if o not in on}, "row": {
        "tripped": id, "went_dead": " ".join(o for o in looked if o not in on), "stayed_live": " ".join(o for o in looked if o in on), "reset": "yes"}}


class Walker(Thumb):
    """A thumb that makes tests; what it kept against the map."""

    def __init__(self, page: Any, file: Path) -> None:
        super().__init__(page)
        self.kept: list[str] = []
        page.clock.set_fixed_time(BEGIN)
        open_page(page, file.as_uri())

    def first(self, begins: str) -> str:
        """Tap the first key whose name begins so; its whole name."""
        key = next(key for key in self.keys() if key.startswith(begins))
        self.tap(key)
        return key

    def any(self, begins: str) -> bool:
        return any(key.startswith(begins) for key in self.keys())

    def begin(self) -> None:
        if self.any("by "):
            self.first("by ")
        else:
            self.tap("other")
            self.page.fill("#who", "A. Fern")
            self.tap("take who")
        for key in ("now", "told", "go"):
            self.tap(key)

    def at_odds(self) -> None:
        """What does not fit the map is looked at again, and kept."""
        while self.any("keep "):
            self.kept.append(self.first("keep "))

    def test(self, test: dict[str, Any], found: dict[str, Any]) -> None:
        """One test, from its first question to its row."""
        for id in test.get("open", ()):
            self.tap(f"r {id}")
        if "open" in test:
            self.tap("walk")
        if "volts" in found:
            whole, _, tenth = found["volts"].partition(".")
            for key in ("correct", f"v{whole}", f"t{tenth or 0}"):
                self.tap(key)
        if "opened" in found:
            opened = found["opened"]
            self.tap(f"o {opened[0]}" if opened else "nothing")
            self.at_odds()
        if "volts" in found and "opened" in found:
            self.tap("l0.1" if found["dead"] else "live")
        for id in found.get("tapped", ()):
            self.look(id, "dead" if id in found["dead"] else "live")
        self.at_odds()
        if "tapped" in found and self.has("house"):
            self.tap("house")
            self.tap("yes")
        self.tap("save")

    def look(self, id: str, what: str) -> None:
        """DEAD or LIVE; the room is opened first where it is closed."""
        if not self.has(f"{what} {id}"):
            self.tap("room " + self.page.evaluate("id => OUTLET[id].room", id))
        self.tap(f"{what} {id}")

    def file(self) -> str:
        """Back to the list, and the text of all rows."""
        if self.has("back"):
            self.tap("back")
        for key in ("send", "text"):
            self.tap(key)
        return str(self.page.locator("#text").input_value())


def walked(page: Any, file: Path, job: Job, true: Job, data: dict[str, Any], tests: Iterable[dict[str, Any]] | None = None) -> Walker:
    """The whole walk, a minute a test."""
    walker = Walker(page, file)
    walker.begin()
    walker.tap("next")
    tree, walker.taps = Tree(job), 0
    for number, test in enumerate(data["tests"] if tests is None else tests):
        page.clock.set_fixed_time(BEGIN + timedelta(minutes=number))
        walker.test(test, answer(true, tree, test, number))
    return walker


def without_tests(report: Report) -> Report:
    """The job before its walk-through."""
    return examine(replace(report.job, tests=(), visits=()))
