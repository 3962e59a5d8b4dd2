"""The entry of one point in, its record out: all that a point may say apart from its id, kind and feed."""

from __future__ import annotations

import re
from collections.abc import Collection
from types import MappingProxyType

from ..read.fields import Fields, Keys
from ..read.ids import Named, Names
from ..read.pictures import photo_name
from ..read.values import quantity
from ..records import Feed, Point
from .former import former_ids

POINT = Keys(
    "this point",
    required=("id", "is", "room", "at", "fed_from"),
    optional=("use", "place", "looks", "height", "behind", "switched_by", "grounded", "feet_to_sink", "needs",
              "not_proved", "label_at", "device", "box", "position", "photo", "note", "length_ft",
              "yoke", "half", "voltage", "was", "share", "may_hold", "new_box"),
    texts=frozenset({"room", "at", "use", "looks", "height", "behind", "not_proved", "label_at", "note"}))
_DEVICE = Keys("`device`", optional=("rating", "class", "make", "model", "date code", "date_code", "installed"),
               texts=frozenset({"rating", "class", "make", "model", "date code", "date_code", "installed"}))
_NEEDS = {"gfci": "gfci"}
_SHARE = {"alone": "alone", "never": "never"}
_MAY_HOLD = {"receptacle": "receptacle", "faceless": "faceless", "none": "none"}
_LONGEST = 10_000  # ft: more is a slip of the pen
_VOLTAGES = (120, 208, 240)  # V


def read_point(fields: Fields, named: Named | None, circuit: str, feed: Feed | None, names: Names,
               photos: Collection[str] | None) -> Point | None:
    """The record of one point; None where a part that it cannot be without is at fault.

    `photos` are the files in photos/, None to judge none. `check_yokes` finds the faults of `yoke` and `half`.
    """
    grounded = fields.flag("grounded")
    room, at = fields.text("room"), fields.text("at")
    more = {
        "place": (fields.text("place") or "").casefold() or None,  # a word of the rules, not of a page
        "switched_by": _switches(fields, names),
        "grounded": grounded is not False,
        "feet_to_sink": fields.number("feet_to_sink", "ft", _LONGEST),
        "needs": fields.word("needs", _NEEDS),
        "device": MappingProxyType(_device(fields)),
        "box": fields.written("box"),
        "position": fields.written("position"),
        "photo": photo_name(fields, fields.node("photo"), "photo", photos),
        "length_ft": fields.number("length_ft", "ft", _LONGEST),
        "yoke": (fields.text("yoke") or "").upper() or None,
        "half": (fields.text("half") or "").casefold() or None,
        "voltage": _voltage(fields),
        "was": former_ids(fields),
        **_for_the_plan(fields, named),
    }
    texts = {key: fields.text(key) for key in ("use", "looks", "height", "behind", "not_proved", "label_at", "note")}
    if named is None or named.kind is None or feed is None or not room or not at:
        return None
    return Point(named.id, named.kind, circuit, room, at, feed, fields.where, **texts, **more)


def _voltage(fields: Fields) -> float:
    volts = fields.number("voltage", "V", 1000, above_zero=True)
    if volts is not None and volts not in _VOLTAGES:
        fields.fault(fields.values["voltage"], f"`voltage: {volts:g}` is not known", "120, 208 or 240 V",
                     "write the voltage that it is made for, not the one that was read")
    return volts or 120.0


def _for_the_plan(fields: Fields, named: Named | None) -> dict[str, object]:
    """What only the plan of devices asks."""
    share, may_hold = fields.word("share", _SHARE), fields.word("may_hold", _MAY_HOLD)
    kind = named.kind if named else None
    if share and kind and not kind.is_outlet:
        fields.fault(fields.values["share"], f"`share: {share}` at {named.words}", "an outlet", "remove `share` here")
    if may_hold == "receptacle" and kind:
        volts, half = fields.text("voltage"), fields.node("yoke")
        what = named.words if not kind.has_face else "half of a duplex" if half else f"{volts} V" if _not_120(volts) else None
        if what:
            fields.fault(fields.values["may_hold"], f"`may_hold: receptacle` at {what}",
                         "a receptacle for 120 V that is one point", "write `faceless` or `none`, or correct what it is")
    return {"share": share, "may_hold": may_hold, "new_box": fields.flag("new_box") is True}


def _not_120(volts: str | None) -> bool:
    return (quantity(volts, "V", 1000) or 120) != 120 if volts else False


def _switches(fields: Fields, names: Names) -> tuple[str, ...]:
    """The ids in `switched_by`: one id, ids parted by blanks or commas, or a list."""
    known = [id for id, named in names.table.items() if named.kind and named.kind.switches]
    found = []
    for item in fields.items("switched_by", "ids", "ids of wall switches", "write it as `[S1, S2]`"):
        for word in re.findall(r"[^\s,]+", item.text or ""):
            named = names.find(word, item.where, "the id of a wall switch", "correct the id, or add the switch",
                               fields.faults, among=("point",), first=known)
            if named and (named.what != "point" or named.kind and not named.kind.switches):
                fields.fault(item, f"`{named.id}` is {named.words}", "the id of a wall switch",
                             "write the id of the switch, or correct what it is")
            found.append(word.upper())
    return tuple(dict.fromkeys(found))


def _device(fields: Fields) -> dict[str, str]:
    device = fields.fields("device", _DEVICE)
    if device is None:
        return {}
    if device.node("date code") and device.node("date_code"):
        device.fault(device.values["date_code"], "`date code` and `date_code` both stand in `device`", "one of the two",
                     "remove one")
    texts = {key.replace("_", " "): device.text(key) for key in device.values if key in _DEVICE.known}
    return {key: text for key, text in texts.items() if text}
