"""`yoke` and `half` of the points in, faults out: the two halves of a duplex belong together and to nothing else."""

from __future__ import annotations

from dataclasses import dataclass

from ..read.fields import Fields
from ..read.ids import Named, Names, read_id
from ..read.values import listed

HALVES = {"upper": "upper", "lower": "lower"}


@dataclass(frozen=True, slots=True)
class _Half:
    fields: Fields
    id: str            # as written, in capitals; "" where it has none
    half: str | None
    room: str | None


def check_yokes(points: list[tuple[Fields, Named | None]], names: Names) -> None:
    """Append the faults of every half and of every pair of halves."""
    yokes: dict[str, list[_Half]] = {}
    for fields, named in points:
        half = _half(fields, named)
        written = fields.text("yoke")
        yoke = read_id(written, fields.values["yoke"].where, fields.faults) if written else None
        if yoke:
            yokes.setdefault(yoke, []).append(half)
    for yoke, halves in yokes.items():
        _check_pair(yoke, halves, names)


def _half(fields: Fields, named: Named | None) -> _Half:
    yoke, half = fields.node("yoke"), fields.node("half")
    if yoke and not half:
        fields.fault(yoke, f"`yoke: {yoke.written}` without `half`", "`yoke` and `half` together",
                     "add `half: upper` or `half: lower`")
    if half and not yoke:
        fields.fault(half, f"`half: {half.written}` without `yoke`", "`yoke` and `half` together",
                     "add `yoke:` with one name for both halves")
    if (yoke or half) and named and named.kind and not named.kind.has_face:
        fields.fault(yoke or half, f"`{named.id}` is {named.words}, which has no halves", "a receptacle",
                     "remove `yoke` and `half`, or correct what it is")
    return _Half(fields, (fields.text("id") or "").upper(), fields.word("half", HALVES), fields.text("room"))


def _check_pair(yoke: str, halves: list[_Half], names: Names) -> None:
    first, last = halves[0], halves[-1]
    node, faults = last.fields.values["yoke"], last.fields
    other = names.table.get(yoke)
    if other and yoke not in [half.id for half in halves]:
        faults.fault(first.fields.values["yoke"], f"the yoke `{yoke}` has the id of {other.words} in line "
                     f"{other.where.line}", "a name of its own, or the id of one of its two points",
                     "write another name at both halves")
    if len(halves) > 2:
        ids = listed(half.id for half in halves)
        faults.fault(node, f"the yoke `{yoke}` stands at {len(halves)} points: {ids}", "two points a yoke",
                     "give each duplex a name of its own")
    elif len(halves) == 1:
        if "point" not in names.missing:  # its other half may be a point that could not be read
            faults.fault(node, f"the yoke `{yoke}` stands at one point alone", "two points a yoke, upper and lower",
                         "write the other half as a point, or remove `yoke` and `half`")
    else:
        if first.half and first.half == last.half:
            faults.fault(last.fields.values["half"], f"both points of yoke `{yoke}` are its {last.half} half",
                         "one upper and one lower half", "correct one of the two")
        if first.room and last.room and first.room.casefold() != last.room.casefold():
            faults.fault(last.fields.values["room"], f"the halves of yoke `{yoke}` are in two rooms: {first.room} and "
                         f"{last.room}", "one room", "correct the room, or the yoke of one of the two")
