"""Where tests find the repository and its cases, and the one builder of small jobs: changes in, a job folder out."""

from __future__ import annotations

import functools
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import html5lib

from sitegen.job import read_job
from sitegen.protection.examine import Report, examine

ROOT = Path(__file__).resolve().parent.parent
CASES = ROOT / "tests" / "cases"
READING = CASES / "reading"
FINDINGS = CASES / "findings"
BASE = FINDINGS / "base"    # two circuits, four devices and what they protect, all of it shown

Change = tuple[str, str, str]    # a file, what stands in it once, what to write in its place


def small_job(folder: Path, *changes: Change, of: Path = BASE) -> Path:
    """A copy of a job folder with changes."""
    shutil.copytree(of, folder)
    for change in changes:
        edit(folder, *change)
    return folder


def edit(folder: Path, file: str, old: str, new: str) -> None:
    """Write `new` where `old` stands, once, in a file of the folder."""
    text = (folder / file).read_text("utf-8")
    assert text.count(old) == 1, (file, old)
    (folder / file).write_text(text.replace(old, new), "utf-8")


def report_of(folder: Path) -> Report:
    return examine(read_job(folder))


def body(page: Path) -> str:
    """All that is to be read on a page, on one line."""
    return re.sub(r"\s+", " ", " ".join(texts(parsed(page).find("body"))))


def texts(node) -> Iterator[str]:
    """What is to be read in a node: no script."""
    yield node.text or ""
    for child in node:
        if child.tag != "script" and isinstance(child.tag, str):
            yield from texts(child)
        yield child.tail or ""


def parsed(page: Path):
    """The tree of a page, as html5lib reads it in strict mode: it raises on every parse error. It is kept: do not change it."""
    return _parsed(page.read_bytes())


@functools.cache
def _parsed(html: bytes):
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
