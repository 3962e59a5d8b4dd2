"""The same from the files: in a job folder that has every key, each text of each file is planted, one at a time."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from house import CASES

from sitegen.commands.composed import compose_all
from sitegen.errors import JobUnreadable
from sitegen.job import read_job
from sitegen.job.records import Job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme
from sitegen.publish.write import write_binder

pytestmark = pytest.mark.thorough

FOLDER = CASES / "every_key"
PLANTED = "Castellan, 19 ALDER-Court, 44 71"
SECRET = re.compile(rb"castellan|19.{0,3}alder|44.?71", re.I)
# What is read and kept apart, or not kept at all (of a drawn room its name in a further language, which the points give);
# everything else is stopped.
SILENT = {"home", "private", "position", "room"}


def texts_of(name: str, text: str) -> Iterator[tuple[int, int, str]]:
    """Where each text of a file begins and ends, and the key that it stands below."""
    if name.endswith(".csv"):
        header, start = text.split("\n")[0].split(","), text.index("\n") + 1
        for line in text[start:].splitlines():
            for key, cell in zip(header, line.split(",")):
                yield start, start + len(cell), key
                start += len(cell) + 1
    elif name.endswith(".md"):
        yield from ((found.start(), found.end(), "note") for found in re.finditer(r"(?<=# ).+|^\w.+", text, re.M))
    else:
        yield from _scalars(yaml.compose(text, Loader=yaml.SafeLoader), "")


def _scalars(node: yaml.Node, key: str) -> Iterator[tuple[int, int, str]]:
    if isinstance(node, yaml.ScalarNode):
        yield node.start_mark.index, node.end_mark.index, key
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _scalars(item, key)
    else:
        for name, value in node.value:
            yield from _scalars(value, key if key in ("home", "private") or re.fullmatch("[a-z]{2}", name.value) and key
                                and name.value in ("en", "es") else name.value)


def plants() -> list[tuple[Path, int, int, str]]:
    files = sorted(path for path in FOLDER.rglob("*") if path.suffix in (".yaml", ".csv", ".md"))
    return [(path.relative_to(FOLDER), *found) for path in files for found in texts_of(path.name, path.read_text("utf-8"))]


def planted(folder: Path, path: Path, start: int, end: int) -> None:
    text = (folder / path).read_text("utf-8")
    put = PLANTED if path.suffix == ".md" else json.dumps(PLANTED)
    (folder / path).write_text(text[:start] + put + text[end:], "utf-8")


def is_stopped(folder: Path) -> bool:
    """`check` cannot read it, or tells of all three."""
    try:
        job: Job = read_job(folder)
    except JobUnreadable:
        return True
    said = " ".join(finding.says for finding in examine(job).findings
                    if finding.level == "stop" and finding.kind in ("private-in-public", "owner-named"))
    return all(f"`{key}`" in said for key in ("home: address", "private: gate code", "home: name"))


@pytest.fixture(scope="module")
def silent(tmp_path_factory) -> list[tuple[Path, int, int, str]]:
    """The plants that `check` lets pass."""
    folder = Path(shutil.copytree(FOLDER, tmp_path_factory.mktemp("planted") / "job"))
    assert not is_stopped(folder)
    found = []
    for path, start, end, key in plants():
        planted(folder, path, start, end)
        if not is_stopped(folder):
            found.append((path, start, end, key))
        shutil.copy(FOLDER / path, folder / path)
    return found


def test_every_text_of_every_file_is_tried() -> None:
    tried = plants()
    assert len(tried) > 250 and {str(path) for path, *_ in tried} == {
        "job.yaml", "protection_map.yaml", "trip_tests.csv", "visits.yaml", "phrases.yaml", "notes/care.md", "notes/es/care.md"}


def test_check_stops_what_is_planted_but_where_it_is_kept_apart(silent: list[tuple[Path, int, int, str]]) -> None:
    assert {key for *_, key in silent} == SILENT


def test_what_check_lets_pass_reaches_no_byte_of_the_site(silent: list[tuple[Path, int, int, str]], tmp_path: Path) -> None:
    """All of it at once."""
    folder = Path(shutil.copytree(FOLDER, tmp_path / "job"))
    for path, start, end, _ in sorted(silent, key=lambda plant: -plant[1]):
        planted(folder, path, start, end)
    write_binder(compose_all(examine(read_job(folder)), theme := open_theme(), draft=True), theme, tmp_path / "out", {})
    site = [path for path in (tmp_path / "out" / "site").rglob("*") if path.is_file()]
    assert len(site) > 20 and [path.name for path in site if SECRET.search(path.read_bytes())] == []
    assert SECRET.search((tmp_path / "out" / "print" / "binder.html").read_bytes())
