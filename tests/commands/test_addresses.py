"""A printed address never dies: whatever is renamed, taken out or moved, it answers for its own thing or nothing is bound."""

import re
import shutil
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import hypothesis.strategies as st
import pytest
import yaml
from house import BASE
from hypothesis import given, settings

from sitegen.binder.compose import compose
from sitegen.commands.press import remember
from sitegen.errors import JobUnreadable, LabelError
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.html import render_pages
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.thorough

THEME = open_theme()
FIRST = date(2026, 5, 12)

class House:
    """A job folder under change; `thing` of a map entry stays the same whatever the entry is called."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        shutil.copytree(BASE, folder)
        self.job = yaml.load((folder / "job.yaml").read_text(), Loader=yaml.BaseLoader)
        self.job["labels"] = {"outlet_qr": "yes"}
        self.map = yaml.load((folder / "protection_map.yaml").read_text(), Loader=yaml.BaseLoader)
        self.rows = [line.split(",") for line in (folder / "trip_tests.csv").read_text().splitlines()]
        for number, entry in enumerate(self.entries()):
            entry["thing"] = number
        self.day = FIRST
        self.owner: dict[str, int] = {}     # printed address -> thing
        self.save()

    def entries(self):
        for circuit in self.map["circuits"]:
            yield circuit["breaker"]
            yield from circuit["points"]

    def entry(self, id):
        return next(entry for entry in self.entries() if entry["id"] == id)

    def ids(self):
        return sorted(entry["id"] for entry in self.entries())

    def save(self) -> None:
        def plain(value):
            if isinstance(value, dict):
                return {key: plain(inner) for key, inner in value.items() if key != "thing"}
            return [plain(inner) for inner in value] if isinstance(value, list) else value

        (self.folder / "job.yaml").write_text(yaml.safe_dump(self.job))
        (self.folder / "protection_map.yaml").write_text(yaml.safe_dump(plain(self.map)))
        (self.folder / "trip_tests.csv").write_text("\n".join(",".join(row) for row in self.rows) + "\n")

    def rename(self, id, new, told) -> None:
        entry = self.entry(id)
        entry["id"] = new
        if told:
            entry["was"] = [id, *entry.get("was", [])]
        for other in self.entries():
            for key in ("fed_from", "switched_by"):
                if key in other:
                    other[key] = " ".join(new if word == id else word for word in other[key].split())
        self.rows = [[" ".join(new if word == id else word for word in cell.split(" ")) for cell in row] for row in self.rows]

    def said_the_same(self, id) -> bool:
        """Of two names exchanged and said to be the same, one alone removed or moved tells nobody of the exchange."""
        return id in self.entry(id).get("was", ())

    def remove(self, id, told) -> None:
        fed = {word for entry in self.entries() for key in ("fed_from", "switched_by") for word in entry.get(key, "").split()}
        if id in fed or "space" in self.entry(id):
            return
        if self.said_the_same(id):
            return
        for circuit in self.map["circuits"]:
            circuit["points"] = [point for point in circuit["points"] if point["id"] != id]
        self.rows = [[" ".join(word for word in cell.split(" ") if word != id) for cell in row]
                     for row in self.rows if row[1] != id]
        if told:
            self.map.setdefault("removed", []).append({"id": id, "note": "Taken out."})

    def move(self, id, told) -> None:
        entry = self.entry(id)
        if "at" in entry and not self.said_the_same(id):
            entry["at"] += " (moved)"
            if told:
                entry["was"] = [id, *entry.get("was", [])]

    def take(self, id, told) -> None:
        """Give the id of something that is gone to something else."""
        free = sorted({url.split("/")[-2] for url in self.owner} - set(self.ids()))
        if free:
            self.rename(id, free[0], told)

    def swap(self, id, other, told) -> None:
        """Exchange two ids; with the word that each is still the same."""
        if id == other:
            return
        for old, new in ((id, "TEMP"), (other, id), ("TEMP", other)):
            self.rename(old, new, False)
        if told:
            self.entry(id)["was"], self.entry(other)["was"] = [id], [other]

    def host(self, told) -> None:
        old = self.job["base_url"]
        self.job["base_url"] = f"https://h{len(self.job.get('forwarded', []))}.example"
        if told:
            self.job["forwarded"] = [old, *self.job.get("forwarded", [])]

    def report(self):
        self.save()
        try:
            report = examine(read_job(self.folder))
        except JobUnreadable:
            return None
        return report if report.ready else None

    def press(self) -> None:
        report = self.report()
        if report is None:
            return
        self.day += timedelta(days=1)
        binder = compose(report, THEME.words("en"))
        try:
            printed = remember(report.job, binder.labels, self.folder, self.day)
        except LabelError:      # moved so often that its place does not fit on a label any more
            return
        for label in printed:
            if label.holds and label.purpose != "door":
                self.owner[label.holds] = self.entry(label.id)["thing"]

    def check(self) -> bool:
        """True where the job is bound; then every printed address answers, and for its own thing."""
        report = self.report()
        if report is None:
            return False
        binder = compose(report, THEME.words("en"))
        now = {entry["thing"]: entry["id"] for entry in self.entries()}
        kept = {row["url"]: row["page"] for row in binder.addresses}
        [edition] = binder.editions
        needed = tuple(page for page in edition.pages if page.path in kept.values())
        pages = dict(render_pages(replace(binder, editions=(replace(edition, pages=needed),)), THEME))
        for url, thing in self.owner.items():
            html = pages[kept[url]].decode()
            heads = re.search(r'<span class="tag[^"]*">([A-Z0-9-]+)</span></span></header>', html)
            gone = "no longer in this house" in html
            assert gone or heads and heads[1] == now.get(thing), (url, heads and heads[1], now.get(thing))
        return True


def changes():
    told = st.booleans()
    return st.lists(st.one_of(
        st.tuples(st.just("rename"), st.integers(0, 10), st.sampled_from(["K1", "K2", "K3", "K4", "F1", "N1", "N2"]), told),
        st.tuples(st.just("remove"), st.sampled_from([2, 5, 8, 9]), told),
        st.tuples(st.just("move"), st.integers(0, 10), told),
        st.tuples(st.just("take"), st.integers(0, 10), told), st.tuples(st.just("host"), told),
        st.tuples(st.just("swap"), st.integers(0, 10), st.integers(0, 10), told), st.tuples(st.just("press"))), min_size=1, max_size=7)


@settings(max_examples=settings.default.max_examples // 4)
@given(changes())
def test_any_sequence_of_renames_removals_and_moves_keeps_every_printed_address(tmp_path_factory, steps):
    house = House(tmp_path_factory.mktemp("house") / "job")
    house.press()
    assert house.owner and house.check()
    for name, *words in steps:
        if name == "press":
            house.press()
        elif name == "host":
            house.host(*words)
        else:
            id = house.ids()[words[0] % len(house.ids())]
            if name == "rename" and words[1] in house.ids():
                continue
            if name == "swap":
                words[1] = house.ids()[words[1] % len(house.ids())]
            getattr(house, name)(id, *words[1:])
        house.check()
