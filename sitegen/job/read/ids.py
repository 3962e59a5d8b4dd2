"""Ids as they are written in, one table out: every reference to a panel, breaker or point is looked up in it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field, replace

from ...errors import Fault, Where, nearest
from ..kinds import Kind

# Microsoft, "Naming Files, Paths, and Namespaces" (from memory): names that a Windows file system keeps for devices.
FILE_SYSTEM_NAMES = frozenset(
    {"CON", "PRN", "AUX", "NUL"} | {f"{port}{number}" for port in ("COM", "LPT") for number in range(1, 10)})
# AND and NOTHING: a cell of the trip tests may say them, and an id of that name would be passed over there.
FORMAT_WORDS = frozenset(
    {"ALL", "NONE", "UNKNOWN", "REST", "OF", "CIRCUIT", "HOUSE", "LINE", "LOAD", "AND", "NOTHING"})

_UNKNOWN = "unknown id "
_MANY = 5    # ids of one file: beyond that it is the map that lacks them

_SOUGHT = 50    # near matches of a map: each is a look at every id

_ID = re.compile(r"[A-Z0-9][A-Z0-9-]{0,7}")


@dataclass(frozen=True, slots=True)
class Named:
    """What an id stands for, as far as the map could be read."""

    id: str
    what: str                  # panel | breaker | point | removed
    kind: Kind | None          # None: a panel, what is gone, or a kind that could not be read
    where: Where
    circuit: str = ""          # the circuit that it is on, as a sentence names it: "circuit 5"

    @property
    def words(self) -> str:
        """What it is, for a sentence: "a switch"."""
        if self.what == "removed":
            return "something that is gone"
        if self.kind is None:
            return f"a {self.what}"
        article = "an" if self.kind.name[0] in "aeiou" else "a"
        return f"{article} {self.kind.name}{' breaker' if self.what == 'breaker' else ''}"


@dataclass(slots=True)
class Names:
    """All ids of the map, those of entries that had another fault included."""

    table: dict[str, Named] = field(default_factory=dict)
    spoilt: set[str] = field(default_factory=set)    # ids that were refused where they were given: faults already
    # panel, breaker, circuit, point: entries of it could not be read
    missing: set[str] = field(default_factory=set)
    sought: int = 0     # how often a near match was

    def add(self, named: Named, faults: list[Fault]) -> bool:
        """Enter an id; a second one is a fault, the first stands, and what kind it is counts as not read."""
        first = self.table.setdefault(named.id, named)
        if first is not named:
            self.table[named.id] = replace(first, kind=None)
            faults.append(Fault(
                named.where, f"the id `{named.id}` stands twice: line {first.where.line} gives it to {first.words}",
                "ids that no other panel, breaker or point has", "give one of the two another id"))
        return first is named

    def find(self, written: str, where: Where, expected: str, do: str, faults: list[Fault], *,
             among: Collection[str] = (), first: Collection[str] = (), own: str | None = None) -> Named | None:
        """What an id stands for; None and a fault where nothing has it.

        `among` names what it may be (panel, breaker, point): where such entries could not be read, an id that is not
        found may be one of theirs and is no fault. Near matches are sought in `first`, then everywhere, never in `own`.
        """
        word = written.upper()
        if word in self.table:
            return self.table[word]
        if word not in self.spoilt and self.missing.isdisjoint(among):
            fitting = [id for id, named in self.table.items() if named.what in among and id != own]
            self.sought += 1
            near = "" if self.sought > _SOUGHT else nearest(word, set(fitting).intersection(first)) or nearest(word, fitting)
            faults.append(Fault(where, f"{_UNKNOWN}`{written}`", expected, do, near))
        return None


def unknown_once(faults: Iterable[Fault], map_file: str) -> Iterator[Fault]:
    """The faults, with what the other files say of ids that the map has not told once an id; of many, once a file: then it is
    most likely the map that lacks them."""
    unknown: dict[str, dict[str, list[Fault]]] = {}
    for fault in faults:
        if fault.met.startswith(_UNKNOWN) and fault.where.file != map_file:
            unknown.setdefault(fault.where.file, {}).setdefault(fault.met.upper(), []).append(fault)
        else:
            yield fault
    for by_id in unknown.values():
        firsts = [min(same, key=lambda fault: fault.where) for same in by_id.values()]
        if len(firsts) > _MANY:
            first = min(firsts, key=lambda fault: fault.where)
            some = ", ".join(fault.met.removeprefix(_UNKNOWN) for fault in firsts[:_MANY])
            yield Fault(first.where, f"{len(firsts)} ids that the map has not: {some} and others", "ids of the map",
                        f"see first whether {map_file} is whole, then correct the ids")
        else:
            for first, same in zip(firsts, by_id.values()):
                lines = len({fault.where.line for fault in same}) - 1
                more = f" (and in {lines} more line{'s' if lines > 1 else ''})" if lines else ""
                yield replace(first, met=first.met + more)


def read_id(written: str, where: Where, faults: list[Fault]) -> str | None:
    """An id in capitals; None and a fault where it cannot be one."""
    word = written.upper()
    if word in FILE_SYSTEM_NAMES or word in FORMAT_WORDS:
        why = "a file system keeps" if word in FILE_SYSTEM_NAMES else "these files use as a word"
        faults.append(Fault(where, f"the id `{written}` is a name that {why}", "an id such as K1", "write another id"))
        return None
    if not _ID.fullmatch(word) or not written.isascii():
        faults.append(Fault(where, f"`{written}` cannot be an id",
                            "at most 8 letters, digits and hyphens, no hyphen first", "write a short, plain id"))
        return None
    return word
