"""Takes a binder on disk; gives the house that it tells of, read from its list and its service pages."""

from __future__ import annotations

import hashlib
import json
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from ...binder.compare import House
from ...errors import CallError
from ...publish.folder import LIST
from ...publish.labels.files import FOLDER

SERVICE = "site/service-record"
COLUMNS = 9     # of the points of a circuit's page, behind the id


def house_of_binder(folder: Path) -> House:
    """CallError: a file of the binder is missing or is no such file."""
    try:
        made = json.loads((folder / LIST).read_text("utf-8"))
        return _house(folder, made)
    except OSError as error:
        name = Path(error.filename or LIST).name
        raise CallError(f"{folder} is no whole binder: {name} is missing or cannot be read. Bind it again, or name its job folder.") from None
    except (ValueError, KeyError, TypeError, IndexError):
        raise CallError(f"{folder} is no binder of this tool, or a page of it was changed. Bind it again, or name its job folder.") from None


def _house(folder: Path, made: dict[str, Any]) -> House:
    pages = {path: _digest(folder / path) for path in made["pages"]}
    breakers, handles = {}, {}
    feeds: dict[str, str] = {}
    places: dict[str, str] = {}
    for path in sorted((folder / SERVICE).glob("*/index.html")):
        page = _Page(path)
        if len(page.facts) < 3 or not page.facts[1].startswith(f"{path.parent.name.rpartition('-')[0]}: "):
            continue        # no circuit, or the service record in another language
        rows = {id: cells for id, cells in page.rows.items() if len(cells) == COLUMNS}
        breaker, _, what = page.facts[2].partition(": ")
        breakers[breaker] = what.split(". ")[0]
        handles[breaker] = page.facts[1], what.split(",")[0]      # panel and space: where its handle is
        feeds |= {id: re.sub(r",.*", "", cells[2]) for id, cells in rows.items()}
        places |= {id: ", ".join(cells[1].split(" \u00b7 ")[:2]) for id, cells in rows.items()}
    devices = {id: "; ".join((cells[0], cells[3])) for id, cells in _Page(folder / SERVICE / "index.html").rows.items()}
    cuts = {row["id"]: row["goes_dead"] for row in made["devices"]}
    protects = {row["id"]: row["protects"] for row in made["devices"]}
    outlets = {}
    for row in made["outlets"]:
        id = row["id"]
        before = _nearest_first([one for one in cuts if id in cuts[one]], cuts)
        outlets[id] = {"goes_to": before[0] if before else _breaker(id, feeds),
                       "protected_by": [one for one in before if id in protects[one]]}
    labels = _labels(folder, made, outlets, {**places, **handles})
    return House(made["job"], outlets, breakers | devices, feeds, labels, pages, places)


def _digest(path: Path) -> bytes:
    return hashlib.sha256(path.read_bytes()).digest()


def _nearest_first(devices: list[str], cuts: dict[str, list[str]]) -> list[str]:
    """What stands before an outlet stands in one row: the nearer one cuts less, and of two that cut the same the later."""
    order = list(cuts)
    return sorted(devices, key=lambda id: (len(cuts[id]), -order.index(id)))


def _breaker(id: str, feeds: dict[str, str]) -> str:
    met = set()
    while id in feeds and id not in met:
        met.add(id)
        id = feeds[id].split(" ")[0]
    return id


def _labels(folder: Path, made: dict[str, Any], outlets: dict[str, Any], places: dict[str, object]) -> dict[str, object]:
    """What labels say: of a device in so many words; of an outlet what its page says first and where that is."""
    labels: dict[str, object] = {}
    for row in made["devices"]:
        drawn = (folder / FOLDER / f"{row['id']}.svg").read_text("utf-8")
        labels[row["id"]] = _within(r'aria-label="([^"]*)"', drawn), row.get("qr")
    stuck = re.findall(r"^([A-Z0-9-]+):", (folder / FOLDER / "where.txt").read_text("utf-8"), re.MULTILINE)
    for row in made["outlets"]:
        if row["id"] in stuck:
            title = _within(r"<title>(.*?)</title>", (folder / row["page"]).read_text("utf-8"))
            labels[row["id"]] = labels.get(row["id"]), title, places.get(outlets[row["id"]]["goes_to"])
    return labels


def _within(pattern: str, text: str) -> str:
    """What the pattern holds; ValueError where the text has none such."""
    for found in re.finditer(pattern, text):
        return found[1]
    raise ValueError(pattern)


class _Page(HTMLParser):
    """The facts of a service page, and the rows of its first table that begin with an id."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.facts: list[str] = []
        self.rows: dict[str, list[str]] = {}
        self._cells: list[str] | None = None
        self._text: list[str] | None = None
        self.feed(path.read_text("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "th" and ("scope", "row") in attrs:
            self._cells = []
        if tag in ("th", "td", "dd"):
            self._text = []

    def handle_data(self, data: str) -> None:
        if self._text is not None:
            self._text.append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag in ("th", "td", "dd") and self._text is not None:
            text, self._text = " ".join("".join(self._text).split()), None
            if tag == "dd":
                self.facts.append(text)
            elif self._cells is not None:
                self._cells.append(text)
        if tag == "tr" and self._cells is not None:
            self.rows[self._cells[0]] = self._cells[1:]
            self._cells = None
