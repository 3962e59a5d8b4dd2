"""The amendments of `code` in; words as they are, or what they change in the rules, each with its reason.

Which rules there are is not known here: the reasoning says so where one names none.
"""

from __future__ import annotations

from .read.fields import Fields
from .read.keys import Key, Keys, small, text, word
from .read.nodes import Node
from .read.values import fold
from .records import Amendment

AMENDMENT = Keys("this amendment", Amendment, *(Key(does, small, into=None) for does in ("drop", "add", "level")), Key("places", into=None),
                 Key("to", word({level: level for level in ("stop", "fix", "know")})), Key("reason", text, must=True))
_DOES = ("drop", "add", "level")
_SHAPE = "write each as `- {drop: afci, places: [kitchen], reason: whose amendment it is}`"


def amendments_text(code: Fields, key: str) -> str | None:
    """Amendments in words; None where they are entries."""
    return None if _entries(code, key) else code.text(key)


def amendment_entries(code: Fields, key: str) -> tuple[Amendment, ...]:
    node = code.node(key)
    for item in (node.items if node else None) or ():
        if item.pairs is None:
            code.fault(item, f"`{item.written}` in `{key}` is no amendment", "a map", _SHAPE)
    found = (_amendment(Fields(node, AMENDMENT, code.faults, code.languages)) for node in _entries(code, key))
    return tuple(one for one in found if one)


def _entries(code: Fields, key: str) -> tuple[Node, ...]:
    """The maps of the list at the key, or the one map that has a key of an amendment."""
    node = code.node(key)
    if node is None:
        return ()
    if node.items is None:
        return (node,) if any(pair.key in AMENDMENT.known for pair in node.pairs or ()) else ()
    return tuple(item for item in node.items if item.pairs is not None)


def _amendment(fields: Fields) -> Amendment | None:
    written = [(does, rule) for does in _DOES if (rule := small(fields, does))]
    reason, to = fields.text("reason"), fields.record()["to"] if fields.node("to") else None
    places = tuple(fold(item.text or "").casefold() for item in fields.items("places", "places", "words of `place`", "write it as `[kitchen]`"))
    if len(written) != 1:
        fields.fault(fields, f"{len(written) or 'none'} of `drop`, `add` and `level` in this amendment", "one of them", _SHAPE)
        return None
    [(does, rule)] = written
    if (does == "level") != (to is not None):
        fields.fault(fields, f"`{does}` {'without' if does == 'level' else 'with'} `to`", "`to` with `level`, and only there",
                     "write it as `- {level: afci, to: know, reason: ...}`")
        return None
    if does == "add" and not places:
        fields.fault(fields, "`add` without `places`", "the places where the rule holds too", "write it as `- {add: gfci-wet-places, places: [dining], reason: ...}`")
        return None
    return Amendment(does, rule, places, to, reason, fields.where) if reason else None
