"""The entry of one point in, its record out: all that a point may say apart from its id, kind and feed."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from types import MappingProxyType
from typing import Any

from ...errors import nearest
from ..read.fields import Fields
from ..read.ids import Named, Names
from ..read.keys import Key, Keys, flag, number, small, text, value, word, written
from ..read.pictures import photo_name
from ..read.values import fold, listed, quantity
from ..records import Feed, Point
from .fill import read_fill
from .former import former_ids

_LONGEST = 10_000  # ft: more is a slip of the pen
_DEAREST = 100    # times an easy receptacle: more is a slip of the pen
_MOST_CABLES = 9   # in one box: more is a slip of the pen
ACCESS = ("easy", "behind", "ladder", "attic")
_VOLTAGES = (120, 208, 240)  # V


def read_point(fields: Fields, named: Named | None, circuit: str, feed: Feed | None, names: Names,
               photos: Collection[str] | None) -> Point | None:
    """The record of one point; None where a part that it cannot be without is at fault.

    `photos` are the files in photos/, None to judge none. `check_halves` finds the faults of `yoke` and `half`.
    """
    values = fields.record()
    switches, photo = _switches(fields, names), photo_name(fields, fields.node("photo"), "photo", photos)
    _judge_for_the_plan(fields, named, values)
    _judge_device(fields, named)
    if named is None or named.kind is None or feed is None or not values["room"] or not values["at"]:
        return None
    return Point(id=named.id, kind=named.kind, circuit=circuit, feed=feed, where=fields.where, switched_by=switches,
                 photo=photo, **values)


def _voltage(fields: Fields, key: str) -> float | None:
    volts = fields.number(key, "V", 1000, above_zero=True)
    if volts is not None and volts not in _VOLTAGES:
        fields.fault(fields.values[key], f"`voltage: {volts:g}` is not known", "120, 208 or 240 V",
                     "write the voltage that it is made for, not the one that was read")
    return volts


def _reach(fields: Fields, key: str) -> int | None:
    times = fields.number(key, "times", _DEAREST, above_zero=True)
    if times is not None and times != int(times):
        fields.fault(fields.values[key], f"`{key}: {times:g}` is not a whole number", "times an easy receptacle, from 1",
                     "write 1 for a box that is opened at once, 3 for one that takes three times as long")
        return None
    return None if times is None else int(times)


def _yoke(fields: Fields, key: str) -> str | None:
    return (fields.text(key) or "").upper() or None


def _judge_for_the_plan(fields: Fields, named: Named | None, values: Mapping[str, Any]) -> None:
    """What only the plan of devices asks."""
    share, kind = values.get("share"), named.kind if named else None
    if share and named and kind and not kind.is_outlet:
        fields.fault(fields.values["share"], f"`share: {share}` at {named.words}", "an outlet", "remove `share` here")
    if values.get("may_hold") == "receptacle" and named and kind:
        volts, half = fields.text("voltage"), fields.node("yoke")
        what = named.words if not kind.has_face else "half of a duplex" if half else f"{volts} V" if _not_120(volts) else None
        if what:
            fields.fault(fields.values["may_hold"], f"`may_hold: receptacle` at {what}",
                         "a receptacle for 120 V that is one point", "write `faceless` or `none`, or correct what it is")


def _judge_device(fields: Fields, named: Named | None) -> None:
    """What only a device with line and load terminals can say."""
    for key in ("load_empty", "both_poles"):
        if fields.node(key) and named and named.kind and not named.kind.has_sides:
            fields.fault(fields.values[key], f"`{key}` at {named.words}", "a device with line and load terminals",
                         f"remove `{key}` here, or correct what it is")


def check_load_empty(points: list[tuple[Fields, Named | None]], feeds: Mapping[str, Feed]) -> None:
    """A fault where `load_empty: yes` stands at a device on whose load terminals the map hangs something."""
    for fields, named in points:
        on_load = [id for id, feed in feeds.items() if named and (feed.source, feed.side) == (named.id, "load")]
        if on_load and fields.flag("load_empty"):
            fields.fault(fields.values["load_empty"], f"`load_empty: yes`, and {on_load[0]} is fed from `{feeds[on_load[0]]}`",
                         "one of the two", "remove `load_empty`, or correct that feed")


def _not_120(volts: str | None) -> bool:
    return (quantity(volts, "V", 1000) or 120) != 120 if volts else False


def _switches(fields: Fields, names: Names) -> tuple[str, ...]:
    """The ids in `switched_by`: one id, ids parted by blanks or commas, or a list."""
    found: list[str] = []
    items = fields.items("switched_by", "ids", "ids of wall switches", "write it as `[S1, S2]`")
    known = [id for id, named in names.table.items() if named.kind and named.kind.switches] if items else []
    for item in items:
        for id in re.findall(r"[^\s,]+", item.text or ""):
            named = names.find(id, item.where, "the id of a wall switch", "correct the id, or add the switch",
                               fields.faults, among=("point",), first=known)
            if named and (named.what != "point" or named.kind and not named.kind.switches):
                fields.fault(item, f"`{named.id}` is {named.words}", "the id of a wall switch",
                             "write the id of the switch, or correct what it is")
            found.append(id.upper())
    return tuple(dict.fromkeys(found))


def read_device(fields: Fields, key: str) -> Mapping[str, str] | None:
    device = fields.fields(key, DEVICE)
    if device is None:
        return None
    if device.node("date code") and device.node("date_code"):
        device.fault(device.values["date_code"], "`date code` and `date_code` both stand in `device`", "one of the two",
                     "remove one")
    texts = {name.replace("_", " "): device.text(name) for name in device.values if name in DEVICE.known}
    return MappingProxyType({name: said for name, said in texts.items() if said})


MARKS = ("tr", "wr", "in-use cover", "co/alr", "copper pigtails", "no equipment ground", "gfci protected")


def _marks(fields: Fields, key: str) -> tuple[str, ...] | None:
    """What stands on a receptacle or its plate."""
    if fields.node(key) is None:
        return None
    items = fields.items(key, "marks", listed(MARKS, "or"), "write it as `[TR, WR]`")
    for item in items:
        if fold(item.text or "").casefold() not in MARKS:
            fields.fault(item, f"`{item.written}` in `marks` is not known", listed(MARKS, "or"), "write what stands on it, such as `TR`",
                         nearest(item.text or "", MARKS))
    return tuple(fold(item.text or "").casefold() for item in items)


WORKS_BY = ("dusk sensor", "motion sensor", "timer", "thermostat", "switch")
DEVICE = Keys("`device`", None, *map(Key, ("rating", "class", "make", "model", "date code", "date_code", "installed", "torque")),
               texts=True)
POINT = Keys(
    "this point", Point,
    Key("id", must=True), Key("is", must=True, into="kind"), Key("room", value, must=True), Key("at", value, must=True),
    Key("fed_from", must=True, into="feed"),
    Key("use", value), Key("place", small), Key("looks", value), Key("height", value), Key("behind", value), Key("switched_by"),
    Key("grounded", flag), Key("feet_to_sink", number("ft", _LONGEST)), Key("needs", word({"gfci": "gfci"})),
    Key("not_proved", text), Key("label_at", value), Key("device", read_device), Key("box", written), Key("position", into="drawn_at"),
    Key("photo"), Key("note", text), Key("length_ft", number("ft", _LONGEST)), Key("yoke", _yoke), Key("half", small),
    Key("voltage", _voltage), Key("was", former_ids), Key("share", word({"alone": "alone", "never": "never"})),
    Key("may_hold", word({"receptacle": "receptacle", "faceless": "faceless", "none": "none"})), Key("new_box", flag),
    Key("reach", _reach),
    Key("feet_to_tub", number("ft", _LONGEST)), Key("work", word({name: name for name in ("new", "moved", "replaced", "existing")})),
    Key("finished", flag), Key("slots", word({"2": 2, "3": 3})), Key("single", flag),
    Key("works_by", word({name: name for name in WORKS_BY})), Key("marks", _marks), Key("fill", read_fill),
    Key("joint", word({name: name for name in ("pigtail", "through device")})), Key("load_empty", flag),
    Key("access", word({name: name for name in ACCESS})), Key("cables", word({str(n): n for n in range(1, _MOST_CABLES + 1)})), Key("both_poles", flag))
