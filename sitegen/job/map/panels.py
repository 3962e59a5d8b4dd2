"""The list of panels in, their records out: what each is fed from, and what else may keep it alive."""

from __future__ import annotations

import re

from ...errors import nearest
from ..read.fields import Fields
from ..read.ids import Named, Names
from ..read.keys import Key, Keys, flag, number, small, text, value, word
from ..read.values import listed
from ..records import Breaker, Main, Panel
from .circuits import Draft, enter
from .feeds import loops

_SUPPLIES = ("generator", "battery", "solar")


def enter_panels(root: Fields, names: Names) -> list[tuple[Fields, Named | None]]:
    """The panels in file order, their ids entered; None stands for an id that is not theirs alone."""
    panels, whole = root.entries("panels", _PANEL, least=1)
    if not whole:
        names.missing.add("panel")
    return [(panel, enter(panel, names, "panel")) for panel in panels]


def read_panels(entered: list[tuple[Fields, Named | None]], drafts: list[Draft], names: Names) -> list[Panel]:
    """The records; the circuits are drafted, so that a panel may be listed before its feeder."""
    panel_of = {draft.branch.breaker: draft.panel for draft in drafts if draft.breaker}
    panels: list[Panel] = []
    above: dict[str, str] = {}  # for each panel the one that its feeder breaker is in
    for fields, named in entered:
        values, feeder = fields.record(), _feeder(fields, named, drafts, names)
        upper = panel_of.get(feeder)
        if named and upper and upper != named.id:
            above[named.id] = upper
        if named and values["at"]:
            panels.append(Panel(id=named.id, fed_from=feeder, where=fields.where, **values))
    if above:
        entered[0][0].faults.extend(loops(above, {id: names.table[id].where for id in above},
                                          "a way back to the utility from every panel"))
    return panels


def check_space(fields: Fields, breaker: Breaker, panel: Panel) -> None:
    """A fault where a breaker sits past the last space of its panel, or in one that is said to be empty."""
    if panel.spaces and not all(0 < number <= panel.spaces for number in breaker.numbers):
        fields.fault(fields.values["space"], f"`space: {breaker.space}` in panel {panel.id}, which has {panel.spaces} spaces",
                     f"1 to {panel.spaces}", "correct the space, or `spaces` of the panel")
    if both := set(breaker.numbers) & set(panel.spare):
        fields.fault(fields.values["space"], f"`space: {breaker.space}`, and panel {panel.id} says that {min(both)} is spare",
                     "a breaker in a space that is not spare", "correct the space, or `spare` of the panel")


def _feeder(fields: Fields, panel: Named | None, drafts: list[Draft], names: Names) -> str | None:
    """The id of the breaker that supplies this panel; with a fault where it cannot."""
    written = fields.text("fed_from")
    if written is None:
        return None
    node = fields.values["fed_from"]
    branches = {draft.branch.breaker: draft.branch.says for draft in drafts if draft.points}
    feeders = [draft.branch.breaker for draft in drafts if draft.branch.breaker and draft.branch.breaker not in branches]
    expected = "a feeder breaker: one in another panel, of a circuit with `points: []`"
    found = names.find(written, node.where, expected, "correct the id, or add its circuit with `points: []`",
                       fields.faults, among=("breaker",), first=feeders)
    if found is None:
        return None
    if found.what != "breaker":
        fields.fault(node, f"`{found.id}` is {found.words}", expected, "write the breaker that supplies this panel")
    elif found.id in branches:
        fields.fault(node, f"`{found.id}` feeds the points of {branches[found.id]}", expected,
                     "write the breaker that supplies this panel, or give the feeder a breaker of its own")
    elif panel and any(draft.breaker and draft.branch.breaker == found.id and draft.panel == panel.id for draft in drafts):
        fields.fault(node, f"`{found.id}` is in {panel.id} itself", expected,
                     "write the breaker that supplies this panel, or leave `fed_from` out if the utility does")
    return found.id


def _also_supplied_by(fields: Fields, key: str) -> tuple[str, ...]:
    """One word, words parted by blanks or commas, or a list."""
    items = fields.items(key, "supplies", listed(_SUPPLIES, "or"), "write it as `[battery, solar]`")
    found: list[str] = []
    for item in items:
        for source in re.split(r"[\s,]+", (item.text or "").casefold()):
            if source and source not in _SUPPLIES:
                fields.fault(item, f"`also_supplied_by: {source}` is not known", listed(_SUPPLIES, "or"),
                             "write what else may supply this panel, or leave the key out", nearest(source, _SUPPLIES))
            elif source:
                found.append(source)
    return tuple(dict.fromkeys(found))


_MAIN = Keys("`main`", Main, Key("at", value, must=True), Key("amps", number("A", 4000, above_zero=True)))


def _main(fields: Fields, key: str) -> Main | None:
    """`at: here` stands for the panel itself."""
    main = fields.fields(key, _MAIN)
    read = main.record() if main else {}
    if main is None or not read["at"]:
        return None
    return Main(None if read["at"].casefold() == "here" else read["at"], read["amps"], main.where)


def _spaces(fields: Fields, key: str) -> int | None:
    """A whole number."""
    many = fields.number(key, "spaces", 84, above_zero=True)
    if many is not None and many % 1:
        fields.fault(fields.values[key], f"`spaces: {many:g}` is no whole number", "how many breakers of one pole it has room for",
                     "count them, the empty ones too")
        return None
    return int(many) if many else None


def _spare(fields: Fields, key: str) -> tuple[int, ...]:
    """Numbers of spaces: one, several parted by blanks or commas, or a list."""
    spaces = [space for item in fields.items(key, "spaces", "numbers of spaces", "write it as `[1, 3]`")
              for space in re.split(r"[\s,]+", item.text or "") if space]
    for space in spaces:
        if not re.fullmatch(r"[1-9][0-9]?", space):
            fields.fault(fields.values[key], f"`spare: {space}` is no space", "numbers of spaces", "write it as `[1, 3]`")
    return tuple(sorted({int(space) for space in spaces if re.fullmatch(r"[1-9][0-9]?", space)}))


_PANEL = Keys("this panel", Panel, Key("id", must=True), Key("at", value, must=True), Key("fed_from"),
              Key("also_supplied_by", _also_supplied_by), Key("room", value), Key("position", into="drawn_at"),
              Key("main", _main), Key("make", text), Key("bonded", flag),
              Key("numbering", word({"left": "left", "right": "right"})), Key("spaces", _spaces),
              Key("spare", _spare), Key("transfer", small))
