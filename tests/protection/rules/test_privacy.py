"""What is private never reaches the site: planted in every text of every record, one at a time, in each language.

Nothing here lists the texts: records, fields and marks are found in the types, so that a new field is tried without a word.
"""

from __future__ import annotations

import collections.abc
import dataclasses
import re
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from house import BASE

from sitegen.commands.composed import compose_all
from sitegen.errors import Where
from sitegen.job import read_job
from sitegen.job.kinds import POINTS, Kind
from sitegen.job.records import Job, Printed, Says
from sitegen.job.records.texts import Mark, Text, marks
from sitegen.protection.examine import examine
from sitegen.protection.rules import FINDINGS, privacy
from sitegen.publish.theme import open_theme
from sitegen.publish.write import write_binder

pytestmark = pytest.mark.thorough

HOME = {"name": "Castellan family", "address": "19 Alder Court, Larkmoor"}
PRIVATE = {"gate code": "4471", "alarm": "Blue heron, then 90210 twice"}
PLAIN = {str: "plain", date: date(2026, 5, 12), time: time(9), int: 1, float: 1.0, bool: True, Kind: POINTS["light"],
         Where: Where("protection_map.yaml", 7)}
PLANTED = {"at 19 ALDER-Court": "private-in-public", "gate 44-71#": "private-in-public", "the Castellans": "owner-named"}


@dataclass(frozen=True)
class Leaf:
    """A text of a record, by the types."""

    record: type
    field: str
    mark: Mark | None


class Planter:
    """Makes a job of one thing each from the types alone; one of its texts is the planted one."""

    def __init__(self, target: int = -1, planted: str = "") -> None:
        self.target, self.planted = target, planted
        self.leaves: list[Leaf] = []

    def record(self, cls: type, above: tuple[type, ...] = (), apart: Mark | None = None) -> Any:
        """`apart`: below a field that is marked so."""
        hints = typing.get_type_hints(cls, include_extras=True)
        values = {field.name: self.value(hints[field.name], Leaf(cls, field.name, apart or marks(cls).get(field.name)), (*above, cls))
                  for field in dataclasses.fields(cls) if field.init}
        return cls(**values)

    def value(self, hint: Any, leaf: Leaf, above: tuple[type, ...]) -> Any:
        origin, args = typing.get_origin(hint), typing.get_args(hint)
        if origin is typing.Annotated:
            return self.value(args[0], leaf, above)
        if origin in (typing.Union, types.UnionType):
            return self.value(next(arg for arg in args if arg is not type(None)), leaf, above)
        if origin is tuple:
            return tuple(self.value(arg, leaf, above) for arg in args if arg is not ...)
        if origin is collections.abc.Mapping:
            if above.count(args[1]) > 1:
                return {}               # a note in another language has no others
            key = dataclasses.replace(leaf, mark=leaf.mark if leaf.mark is Mark.APART else None)
            return {self.value(args[0], key, above): self.value(args[1], leaf, above)}
        if hint is str:
            return self.text(leaf)
        return PLAIN[hint] if hint in PLAIN else self.record(hint, above, leaf.mark if leaf.mark is Mark.APART else None)

    def text(self, leaf: Leaf) -> str:
        """Twice where it may be one text a language: as a plain one, and in a further language alone."""
        tries = 2 if leaf.mark in (Mark.SAID, Mark.NOTED) else 1
        at = [len(self.leaves) + turn == self.target for turn in range(tries)]
        self.leaves += [leaf] * tries
        if at[-1] and tries == 2:
            return Text.of({"en": "plain", "es": self.planted}, "en")
        return self.planted if at[0] else PLAIN[str]


LEAVES = (planter := Planter()).record(Job) and planter.leaves


def planted_jobs(planted: str) -> Iterator[tuple[Leaf, Job]]:
    for target, leaf in enumerate(LEAVES):
        job = Planter(target, planted).record(Job)
        yield leaf, dataclasses.replace(job, file=dataclasses.replace(job.file, home=HOME, private=PRIVATE))


def findings(job: Job) -> list[Any]:
    return list(privacy.private_in_public(types.SimpleNamespace(tree=types.SimpleNamespace(job=job))))


@pytest.mark.parametrize(("planted", "kind"), PLANTED.items())
def test_what_is_private_is_stopped_in_every_text_and_in_each_language(planted: str, kind: str) -> None:
    """The kinds of finding are those of the table of rules, so `check` is not ready and `bind` writes nothing."""
    missed = [leaf for leaf, job in planted_jobs(planted) if leaf.mark is not Mark.APART
              and not any(found.kind == kind and found.level == "stop" for found in findings(job))]
    assert missed == []


def test_the_texts_that_are_tried_are_all_of_them() -> None:
    """Some of those a reader would look for first, the ones that leaked once among them."""
    tried = {(leaf.record.__name__, leaf.field) for leaf in LEAVES}
    assert tried >= {("Panel", "at"), ("Door", "leads_to"), ("Thing", "name"), ("WallRun", "name"), ("Removed", "note"),
                     ("Note", "text"), ("Note", "title"), ("JobFile", "contractor"), ("JobFile", "punch_list"),
                     ("JobFile", "base_url"), ("TripTest", "by"), ("Point", "photo"), ("Point", "device"), ("Wire", "awg")}
    assert privacy.private_in_public in FINDINGS
    apart = {(leaf.record.__name__, leaf.field) for leaf in LEAVES if leaf.mark is Mark.APART and leaf.record is not Says}
    assert apart == {("JobFile", "home"), ("JobFile", "private"), ("JobFile", "forwarded"), ("JobFile", "lines"), ("Printed", "place"),
                     ("Printed", "holds")}


@pytest.mark.parametrize(("home", "private", "text"), [
    ({"name": "Hall family"}, {}, "by the hall door"), ({"name": "Will and Rose Wood"}, {}, "it will cut wood, rose lamp"),
    ({"name": "Lee family"}, {}, "in the lee of the wall"), ({"name": "Castellan Family"}, {}, "Family room"),
    ({"address": "19 Alder Court, Larkmoor"}, {}, "119 Alder Court"), ({"address": "12 Main Street"}, {}, "space 12, main panel"),
    ({"address": "5 Elm St"}, {}, "5 elms stand outside"), ({}, {"gate": "4471"}, "model 144712"),
    ({}, {"dog": "Rex", "key": "none"}, "Rex none"), ({}, {"note": "since 2019, 4 times"}, "NEC 2019, 4 times"),
    ({"emergency": "911911"}, {}, "911911"), ({}, {"key": "kitchen"}, "kitchen")])
def test_what_only_looks_private_is_left_alone(home: dict[str, str], private: dict[str, str], text: str) -> None:
    """A binder that cannot be made because a street or a family is named like a word of the house helps nobody."""
    job = Planter().record(Job)
    job = dataclasses.replace(job, file=dataclasses.replace(job.file, title=text, home=home, private=private))
    assert findings(job) == []


@pytest.mark.parametrize(("home", "private", "text"), [
    *((HOME, PRIVATE, text) for text in (
        "19 Alder Court, Larkmoor", "19 Alder Ct.", "19AlderCourt", "No. 19, Alder", "https://h.example/19%20alder%20court",
        "4471", "44 71", "blue  HERON, then 90210, twice", "90210", "castellan family", "CASTELLAN's", "Castéllan")),
    ({"name": "Hall family"}, {}, "the Hall family's freezer"), ({"name": "The Halls"}, {}, "Mrs. Halls"),
    ({"name": "Anna Garcia-Lopez"}, {}, "for anna"), ({"name": "Anna Garcia-Lopez"}, {}, "GARCIA LOPEZ"),
    ({"name": "O'Neil"}, {}, "ONeil's"), ({"address": "19 Alder Court Larkmoor"}, {}, "19 Alder Court"),
    ({"address": "Apartment, 19 Alder Court\nLarkmoor"}, {}, "19 alder ct"), ({"address": "12 Main Street"}, {}, "12 main st."),
    ({"address": "Calle Olmo 19, Larkmoor"}, {}, "calle olmo, 19"), ({"phone": "(203) 555-0147"}, {}, "203.555.0147"),
    ({"address": Text.of({"en": "Elm Court 3", "es": "Patio del Olmo 3"}, "en")}, {}, "patio del olmo 3"),
    ({}, {"dog": "Biscuit"}, "mind biscuit"), ({}, {"gate": "#4471*"}, "&#52;471"), ({}, {"alarm": "A44B1"}, "a-44-b1")])
def test_a_value_is_found_however_it_is_spelled(home: dict[str, str], private: dict[str, str], text: str) -> None:
    job = Planter().record(Job)
    job = dataclasses.replace(job, file=dataclasses.replace(job.file, title=text, home=home, private=private))
    [finding] = findings(job)
    assert finding.level == "stop" and "`title`" in finding.says


def test_what_is_marked_as_apart_reaches_no_page_of_the_site(tmp_path: Path) -> None:
    """All of it at once in one small house, each with words of its own; the paper shows that they are looked for rightly."""
    job = read_job(BASE)
    home = {"name": "Apart one", "address": "Apart two", "school": "Apart three"}
    label = Printed("K9", "device", date(2026, 5, 12), "Apart four", "Apart five", Where("printed_labels.yaml", 5),
                    Says("Apart eight", None, (), (), "Apart nine"))
    file = dataclasses.replace(job.file, home=home, private={"gate": "Apart six"}, forwarded=("https://apart-seven.example",))
    binder = compose_all(examine(dataclasses.replace(job, file=file, printed=(label,))), theme := open_theme(), draft=True)
    write_binder(binder, theme, tmp_path / "out", {})
    site = [path for path in (tmp_path / "out" / "site").rglob("*") if path.is_file()]
    assert len(site) > 10
    assert [path.name for path in site if re.search(rb"apart[ -](one|two|three|four|five|six|seven|eight|nine)", path.read_bytes(), re.I)] == []
    paper = (tmp_path / "out" / "print" / "binder.html").read_text("utf-8")
    assert all(f"Apart {word}" in paper for word in ("one", "two", "three", "six"))
