"""What an ordinary spreadsheet calls things: takes its header and its cells, gives them in the words of a map.

Only names are turned, never what they leave open: a side that is not written stays unwritten.
"""

from __future__ import annotations

import csv
import io
import re

from ...job.kinds import POINTS
from ...job.read.rows import DELIMITERS

# Column of ours -> what people write above it, in small letters with _ for blanks (common practice, no source).
COLUMNS: dict[str, tuple[str, ...]] = {
    "id": ("tag", "outlet", "outlet_id", "point", "point_id", "label", "no", "no.", "#"),
    "is": ("kind", "what", "what_it_is", "outlet_type", "device_type"),
    "at": ("where", "location", "spot", "place_in_room"), "room": ("area",),
    "fed_from": ("fed_by", "from", "feed", "fed", "feeds_from", "source", "upstream"),
    "circuit": ("ckt", "cct", "circuit_no", "circuit_no.", "circuit_#"),
    "amps": ("amp", "a", "breaker_size"), "note": ("notes", "remark", "remarks", "comment", "comments")}
# Kind of ours -> its other names.
KINDS: dict[str, tuple[str, ...]] = {
    "receptacle": ("outlet", "plug", "duplex", "recep", "recept", "duplex outlet", "duplex receptacle", "receptacle outlet"),
    "gfci receptacle": ("gfci", "gfi", "gfci outlet", "gfi outlet", "gfci recep", "gfi receptacle"),
    "afci receptacle": ("afci", "afci outlet"), "dual-function receptacle": ("dual-function", "dual function", "dual function outlet"),
    "faceless gfci": ("blank face gfci", "blank-face gfci", "dead front gfci", "dead-front gfci"),
    "light": ("lamp", "fixture", "luminaire", "light fixture"), "switch": ("wall switch", "light switch"),
    "3-way switch": ("3-way", "3 way switch", "three-way switch", "three way switch"),
    "4-way switch": ("4-way", "4 way switch", "four-way switch", "four way switch"),
    "junction": ("junction box", "j-box", "jbox", "j box", "splice", "splice box"), "appliance": ("hard-wired", "hardwired", "hard wired")}
_KIND = {name: kind for kind, names in KINDS.items() for name in names}
_HOME_RUN = frozenset(("panel", "the panel", "breaker", "the breaker", "home run", "homerun", "main panel"))
_SIDE = re.compile(r"(\S+?)[\s(/,-]+(line|load)\)?(?:\s+(?:side|terminals?))?", re.IGNORECASE)
_AMPS = re.compile(r"([0-9]+)\s*a(?:mps?)?\.?(?:[\s,]+(\S.*))?", re.IGNORECASE)
_TYPES = {"gfi": "gfci", "dual function": "dual-function", "df": "dual-function"}
_PARTED = re.compile(r"\s*[,:;]\s*|\s+[-\u2013\u2014]\s+")
IN_ROOM = "TO WRITE: where in the room"

Cells = dict[tuple[str, str], str]      # (part of the map, its key) -> what is written


def with_our_header(text: str, ours: tuple[str, ...]) -> tuple[str, dict[str, str]]:
    """The sheet with the columns of its header called as we call them, and what each was called before."""
    lines = text.split("\n")
    at = next((at for at, line in enumerate(lines) if any(sign.isalnum() for sign in line)), None)
    if at is None or lines[at].count('"') % 2:
        return text, {}
    delimiter = max(DELIMITERS, key=lines[at].count)
    names = next(csv.reader([lines[at]], delimiter=delimiter))
    plain = [re.sub(r"[ -]+", "_", " ".join(name.split()).casefold()) for name in names]
    called: dict[str, str] = {}
    for column, others in COLUMNS.items():
        other = next((name for name in others if name in plain), None)
        if other and column not in plain:
            called[column] = names[plain.index(other)].strip()
            plain[plain.index(other)] = column
    if "is" not in plain and "type" in plain:
        called["is"], plain[plain.index("type")] = names[plain.index("type")].strip(), "is"
    if "circuit" not in plain and "breaker" in plain:
        called["circuit"], plain[plain.index("breaker")] = names[plain.index("breaker")].strip(), "circuit"
    if not called:
        return text, {}
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator="").writerow(
        [mine if mine in ours else name for mine, name in zip(plain, names)])
    lines[at] = out.getvalue()
    return "\n".join(lines), called


def in_our_words(cells: Cells, has_room: bool) -> Cells:
    """One row. `has_room`: the sheet has a column of rooms; else the room stands before the place, parted by a comma."""
    found = dict(cells)
    kind = found.get(("point", "is"), "").casefold()
    if kind not in POINTS and kind in _KIND:
        found["point", "is"] = _KIND[kind]
    if side := _SIDE.fullmatch(found.get(("point", "fed_from"), "")):
        found["point", "fed_from"] = f"{side[1]} {side[2].casefold()}"
    if not has_room and (where := found.get(("point", "at"))):
        room, *rest = _PARTED.split(where, maxsplit=1)
        found["point", "room"], found["point", "at"] = room, rest[0] if rest else IN_ROOM
    return found | _breaker(found)


def _breaker(cells: Cells) -> Cells:
    """`20A GFCI` and `5` under `breaker` are no ids; `Breaker 5` under `circuit` is 5."""
    written, number = cells.get(("breaker", "id"), ""), cells.get(("circuit", "number"), "")
    found: Cells = {}
    if size := _AMPS.fullmatch(written):
        del cells["breaker", "id"]
        found["breaker", "amps"] = size[1]
        if size[2]:
            found["breaker", "type"] = _TYPES.get(size[2].casefold(), size[2])
    elif written.isdecimal():
        found["breaker", "id"], found["breaker", "space"] = f"B{written}", cells.get(("breaker", "space"), written)
    if named := re.fullmatch(r"(?:breaker|circuit|ckt|b|#)[\s.#]*([0-9][0-9/]*)", number, re.IGNORECASE):
        found["circuit", "number"] = named[1]
    return cells | found


def is_home_run(fed_from: str, number: str) -> bool:
    """True of a feed that is the circuit's own breaker, whatever it is called: "panel", "breaker 5"."""
    return fed_from.casefold() in _HOME_RUN | {f"breaker {number}", f"ckt {number}", f"circuit {number}"}


def told(called: dict[str, str]) -> str:
    """One line: which column was read as which."""
    pairs = ", ".join(f"`{name}` as {column}" for column, name in called.items())
    return f"Read {pairs}.\n" if called else ""
