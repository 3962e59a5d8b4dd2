"""The entry `fill` of a point in, what is in its box out: volume, conductors by gauge, yokes, clamps."""

from __future__ import annotations

import re

from ..read.fields import Fields
from ..read.keys import Key, Keys, flag, number, word
from ..records import Fill

_GAUGES = ("18", "16", "14", "12", "10", "8", "6")


def _counts(fields: Fields, key: str) -> tuple[tuple[int, str], ...] | None:
    """`4 of 12, 2 of 14`, or a list of such texts."""
    found = []
    for item in fields.items(key, "counts", "how many of which gauge", "write it as `4 of 12, 2 of 14`"):
        for part in (item.text or "").split(","):
            counted = re.fullmatch(r"\s*([0-9]{1,3}) of ([0-9]{1,2})\s*", part)
            if counted is None or counted[2] not in _GAUGES:
                fields.fault(item, f"`{part.strip()}` in `{key}` is no count of a gauge", "how many of which AWG, 18 to 6",
                             "write it as `4 of 12, 2 of 14`")
            else:
                found.append((int(counted[1]), counted[2]))
    return tuple(found) or None


FILL = Keys("`fill`", Fill, Key("cu_in", number("cu in", 1000, above_zero=True), must=True), Key("wires", _counts, must=True),
            Key("grounds", _counts), Key("yokes", _counts), Key("clamps", flag), Key("set_back", number("in", 20)),
            Key("surface", word({"combustible": True, "noncombustible": False}), into="combustible"))


def read_fill(fields: Fields, key: str) -> Fill | None:
    fill = fields.fields(key, FILL)
    read = fill.record() if fill else {}
    return Fill(**read) if read.get("cu_in") and read.get("wires") else None
