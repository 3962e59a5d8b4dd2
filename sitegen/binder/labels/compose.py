"""Takes the desk; gives every label of the house as plain data: only what was shown is claimed.

A label says more in three words than a page in thirty: where nobody saw an outlet go off with a device it says "Try".
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ..desk import Desk
from ..months import testing_order
from .device import device_label
from .door import door_label
from .outlet import outlet_label
from .records import DeviceLabel, LabelSet, SheetLabel, Strip
from .sticking import in_panels, rooms_in_order, sticking
from .strips import breaker_strip, ground_mark, plate_strip


def compose_labels(desk: Desk, others: Iterable[Desk] = ()) -> LabelSet:
    """The pictures of all devices, and what the job wants on sheets; `others`: the desks of its further languages."""
    others = tuple(others)
    stock = desk.job.file.labels
    second = next((other for other in others if other.words.language in stock.languages[1:]), None)
    rooms = rooms_in_order(desk)
    devices, sheet, strips = _set(desk, second, rooms)
    for other in (other for other in others if other.words.language in stock.also_in):
        _, labels, more = _set(other, None, rooms_in_order(other))
        sheet += [replace(label, language=other.words.language) for label in labels]
        strips += [replace(strip, language=other.words.language) for strip in more if strip.purpose != "ground"]
    return LabelSet(tuple(devices), tuple(sheet), tuple(strips), sticking(desk, rooms, sheet, strips))


def _set(desk: Desk, second: Desk | None, rooms: list[str]) -> tuple[list[DeviceLabel], list[SheetLabel], list[Strip]]:
    """The labels of all devices; then what the job wants on sheets and strips."""
    job, tree = desk.job, desk.tree
    wanted = set(job.file.labels.wanted)
    devices = {id: device_label(desk, id, second) for id in tree.devices}
    outlets = sorted(labelled(desk), key=lambda id: rooms.index(desk.point(id).room))
    # Breakers share one door: where its label is wanted none of them has its own on it.
    sheet: list[SheetLabel] = [devices[id] for id in testing_order(desk) if "device" in wanted
                               and not ("door" in wanted and id in job.breaker)]
    sheet += [door_label(desk, panel) for panel in job.panels if "door" in wanted]
    sheet += [outlet_label(desk, id, second) for id in outlets if "outlet" in wanted]
    strips = [plate_strip(desk, id) for id in outlets if "plate" in wanted and desk.point(id).kind.has_face]
    strips += [breaker_strip(desk, breaker) for breaker in in_panels(desk) if "breaker" in wanted]
    strips += [ground_mark(desk, id) for id in tree.outlets if "ground" in wanted and _ungrounded(desk, id)]
    return list(devices.values()), sheet, strips


def labelled(desk: Desk) -> tuple[str, ...]:
    """The outlets that get a label: receptacles and appliances that are no devices; lights where `label_at` says so."""
    points = (desk.point(id) for id in desk.tree.outlets)
    return tuple(point.id for point in points
                 if not point.kind.opens and (not point.kind.by_name or point.label_at))


def _ungrounded(desk: Desk, outlet: str) -> bool:
    """Where a GFCI stands in for the ground: a strip on anything else would dress up what may not stay."""
    point = desk.point(outlet)
    return point.kind.has_face and not point.grounded and bool(desk.tree.protected_by(outlet))
