"""Takes the desk; gives the label of a protective device."""

from __future__ import annotations

from dataclasses import replace

from ..answer.places import rain_gets_in, spot
from ..desk import Desk
from ..desk.words import in_two
from .codes import device_code
from .records import DeviceLabel
from .serves import serves


def device_label(desk: Desk, device: str, second: Desk | None) -> DeviceLabel:
    room, act, served, rule = _device_words(desk, device)
    if second:
        room_2, act_2, served_2, rule_2 = _device_words(second, device)
        # As many words of the one as of the other; what each language says of the act stands before its own words.
        least = in_two(f"{act} {served[-1]}".strip(), served_2[-1])
        served = tuple(in_two(f"{act} {one}".strip(), f"{act_2} {two}".strip()) for one, two in zip(served, served_2))
        room, act, served, rule = in_two(room, room_2), "", (*served, least), in_two(rule, rule_2)
    code, shorter = device_code(desk, device)
    label = DeviceLabel(device, room, act, served, rule, code, desk.draft_mark, *desk.label_mm, shorter, bool(second),
                        outlets=desk.claims.turns_off(device))
    return label if second or not act else _at_once(desk, label)


def _at_once(desk: Desk, label: DeviceLabel) -> DeviceLabel:
    """With the order of the hour: whoever scans nothing still knows what to press, and when to stop."""
    device = label.id
    ending = "_breaker" if desk.tree.kind(device).is_breaker else ""
    stop = desk.words.text(f"label.stop{ending or ('_scan' if label.code else '')}", phone=desk.phone) if desk.phone else ""
    return replace(label, now=desk.words.text(f"label.now{ending}"), then=desk.words.text(f"label.then{ending}"), stop=stop,
                   wet=desk.words.text("label.wet_rain" if rain_gets_in(desk, device) else "label.wet"), order=_order(desk, device))


def _order(desk: Desk, device: str) -> tuple[str, ...]:
    """Which button comes first: before this one, and for what stands behind both; that named, then counted."""
    outer = desk.claims.outer(device)
    before = [desk.words.text("label.outer", id=outer, room=desk.point(outer).room)] if outer and outer in desk.job.point else []
    named, counted = [], []
    for inner in desk.claims.inner(device):
        behind = desk.claims.turns_off(inner)
        uses = [desk.point(id).use or "" for id in behind if desk.point(id).use or id != inner]     # its own slots need no name
        counted.append(desk.words.text("label.inner_short", id=inner, count=len(behind)))
        named.append(desk.words.text("label.inner", id=inner, things=desk.words.join(list(dict.fromkeys(uses)))) if all(uses) and uses
                     else counted[-1])
    return tuple(dict.fromkeys(" ".join((*before, *some)) for some in (named, counted))) if before or named else ()


def _device_words(desk: Desk, device: str) -> tuple[str, str, tuple[str, ...], str]:
    """Room, act, what it serves, rule: in one language."""
    room, breaker = spot(desk, device).room, desk.tree.kind(device).is_breaker
    if breaker:
        room = desk.words.text("label.breaker_room", room=room, space=desk.job.breaker[device].space)
    act = desk.words.text("label.off_on" if breaker else "label.resets") if desk.claims.turns_off(device) else ""
    return room, act, serves(desk, device, len(desk.job.file.labels.languages) < 2), desk.words.text("label.rule_breaker" if breaker else "label.rule")
