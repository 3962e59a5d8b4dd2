"""`was` and `removed` of the map in; the ids that things had before, and the things that are gone, out.

An id that stood on a label is never given to another thing: whoever scans the old label would be led to the wrong button.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from ...errors import Fault
from ..read.fields import Fields
from ..read.ids import Names, read_id
from ..read.keys import Key, Keys, text
from ..records import Breaker, Point, Removed

_REMOVED = Keys("this removed thing", Removed, Key("id", must=True), Key("note", text), Key("see"))


def former_ids(fields: Fields, key: str) -> tuple[str, ...]:
    """The ids in `was`: one id, ids parted by blanks or commas, or a list."""
    found: list[str] = []
    for item in fields.items(key, "ids", "the ids that it had before", "write it as `[K1, K7]`"):
        for word in re.findall(r"[^\s,]+", item.text or ""):
            if id := read_id(word, item.where, fields.faults):
                found.append(id)
    return tuple(dict.fromkeys(found))


def read_removed(root: Fields, names: Names) -> list[Removed]:
    """The things that the map once had."""
    removed: list[Removed] = []
    for fields in root.entries("removed", _REMOVED)[0]:
        written, see = fields.text("id"), fields.text("see")
        id = read_id(written, fields.values["id"].where, fields.faults) if written else None
        now = names.find(see, fields.values["see"].where, "the id of what is there now", "correct the id, or leave it out",
                         fields.faults, among=("point", "breaker")) if see else None
        if id:
            removed.append(Removed(id=id, see=now.id if now else None, where=fields.where, **fields.record()))
    return removed


def check_former(things: Iterable[Breaker | Point], removed: Iterable[Removed], names: Names, faults: list[Fault]) -> None:
    """Every former id leads to one thing, and none is in use by another. `was` with its own id says that it is the same."""
    taken: dict[str, str] = {}
    for thing in things:
        for id in thing.was:
            if id == thing.id:
                continue
            if id in names.table:
                _in_use(thing, f"`was: {id}` of {thing.id}", id, names, faults)
            elif id in taken:
                faults.append(Fault(thing.where, f"`was: {id}` of {thing.id}, but {id} is {taken[id]} already",
                                    "an id that became one thing", "leave `was` with the one that it became"))
            taken.setdefault(id, f"what {thing.id} was")
    for gone in removed:
        if gone.id in names.table:
            _in_use(gone, f"{gone.id} in `removed`", gone.id, names, faults)
        elif gone.id in taken:
            faults.append(Fault(gone.where, f"{gone.id} in `removed`, but {gone.id} is {taken[gone.id]} already",
                                "an id that is gone, once", "leave it in one of the two places"))
        taken.setdefault(gone.id, "removed")


def _in_use(at: Breaker | Point | Removed, met: str, id: str, names: Names, faults: list[Fault]) -> None:
    other = names.table[id]
    faults.append(Fault(at.where, f"{met}, but line {other.where.line} gives {id} to {other.words}",
                        "an id that is never given to another thing: its old label still hangs on a wall",
                        f"give the thing in line {other.where.line} a new id, or correct this one"))
