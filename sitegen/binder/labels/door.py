"""Takes the desk; gives the label inside the door of a panel."""

from __future__ import annotations

from ...job.records import Panel
from ..desk import Desk
from .codes import door_code
from .records import DoorLabel


def door_label(desk: Desk, panel: Panel) -> DoorLabel:
    shock = desk.words.text("label.door.shock", number=desk.emergency)
    fewest = desk.words.text("label.door.shock_short", number=desk.emergency)
    if panel.fed_from:
        fewest = ""     # where MAIN is must stand
        main = _source(desk, panel)
        shock = desk.words.text("label.door.shock_elsewhere", at=main.at, number=desk.emergency)
    danger = [shock, desk.words.text("label.door.fire", number=desk.emergency)]
    if panel.also_supplied_by:
        names = desk.words.join([desk.words.get(f"answer.sources.{source}") for source in panel.also_supplied_by])
        danger.append(desk.words.text("label.door.other", sources=names))
    call = desk.words.text("label.door.call" if desk.phone else "label.door.blank", firm=desk.firm, phone=desk.phone)
    rules = tuple(rule.plain for rule in desk.words.many("label.door.rules"))
    code, shorter = door_code(desk, tuple(danger), fewest, rules, call)
    head = desk.words.text("label.door.head" if code else "label.door.head_without")
    return DoorLabel(panel.id, head, tuple(danger), rules, call, code, desk.draft_mark, *desk.label_mm, shorter, fewest)


def _source(desk: Desk, panel: Panel) -> Panel:
    """The panel where the power of this one comes in."""
    return _source(desk, desk.panel_of(panel.fed_from)) if panel.fed_from else panel
