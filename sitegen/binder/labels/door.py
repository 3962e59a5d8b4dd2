"""Takes the desk; gives the label inside the door of a panel."""

from __future__ import annotations

from ...job.records import Panel
from ..desk import Desk
from .codes import door_code
from .records import DoorLabel


def door_label(desk: Desk, panel: Panel) -> DoorLabel:
    main, here = _main(desk, panel)
    shock = desk.words.text("label.door.shock", main=main, number=desk.emergency)
    fewest = desk.words.text("label.door.shock_short", main=main, number=desk.emergency) if here else ""  # where it is must stand
    danger = [shock, desk.words.text("label.door.fire", number=desk.emergency)]
    if panel.also_supplied_by:
        names = desk.words.join([desk.words.get(f"answer.sources.{source}") for source in panel.also_supplied_by])
        danger.append(desk.words.text("label.door.other", sources=names))
    call = desk.words.text("label.door.call" if desk.phone else "label.door.blank", firm=desk.firm, phone=desk.phone)
    rules = tuple(rule.plain for rule in desk.words.many("label.door.rules"))
    code, shorter = door_code(desk, tuple(danger), fewest, rules, call)
    head = desk.words.text("label.door.head" if code else "label.door.head_without")
    return DoorLabel(panel.id, head, tuple(danger), rules, call, code, desk.draft_mark, *desk.label_mm, shorter, fewest)


def _main(desk: Desk, panel: Panel) -> tuple[str, bool]:
    """What turns the whole house off, and whether that is at this panel, as far as the record says."""
    source, words = _source(desk, panel), desk.words
    if source.main is None:
        return words.text("call.main"), True
    if source.main.at:
        return words.text("call.main_at", at=source.main.at), False
    if source is not panel:
        return words.text("call.main_here", at=source.at), False
    return words.text("label.door.main_here"), True


def _source(desk: Desk, panel: Panel) -> Panel:
    """The panel where the power of this one comes in."""
    return _source(desk, desk.panel_of(panel.fed_from)) if panel.fed_from else panel
