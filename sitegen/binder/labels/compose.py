"""Takes the desk; gives every label of the house as plain data: only what was shown is claimed.

A label says more in three words than a page in thirty: where nobody saw an outlet go off with a device it says "Try".
"""

from __future__ import annotations

from collections.abc import Iterable

from ..desk import Desk
from ..months import testing_order
from .device import device_label
from .door import door_label
from .outlet import outlet_label
from .records import LabelSet, SheetLabel
from .sticking import in_panels, rooms_in_order, sticking
from .strips import breaker_strip, ground_mark, plate_strip


def compose_labels(desk: Desk, others: Iterable[Desk] = ()) -> LabelSet:
    """The pictures of all devices, and what the job wants on sheets; `others`: the desks of its further languages."""
    second = next((other for other in others if other.words.language in desk.job.file.labels.languages[1:]), None)
    job, tree = desk.job, desk.tree
    wanted = set(job.file.labels.wanted)
    devices = {id: device_label(desk, id, second) for id in tree.devices}
    rooms = rooms_in_order(desk)
    outlets = sorted(labelled(desk), key=lambda id: rooms.index(desk.point(id).room))
    sheet: list[SheetLabel] = [devices[id] for id in testing_order(desk) if "device" in wanted]
    sheet += [door_label(desk, panel) for panel in job.panels if "door" in wanted]
    sheet += [outlet_label(desk, id, second) for id in outlets if "outlet" in wanted]
    strips = [plate_strip(desk, id) for id in outlets if "plate" in wanted and desk.point(id).kind.has_face]
    strips += [breaker_strip(desk, breaker) for breaker in in_panels(desk) if "breaker" in wanted]
    strips += [ground_mark(desk, id) for id in tree.outlets if "ground" in wanted and _ungrounded(desk, id)]
    return LabelSet(tuple(devices.values()), tuple(sheet), tuple(strips), sticking(desk, rooms, sheet, strips))


def labelled(desk: Desk) -> tuple[str, ...]:
    """The outlets that get a label: receptacles and appliances that are no devices; lights where `label_at` says so."""
    points = (desk.point(id) for id in desk.tree.outlets)
    return tuple(point.id for point in points
                 if not point.kind.opens and (not point.kind.by_name or point.label_at))


def _ungrounded(desk: Desk, outlet: str) -> bool:
    """Where a GFCI stands in for the ground: a strip on anything else would dress up what may not stay."""
    point = desk.point(outlet)
    return point.kind.has_face and not point.grounded and bool(desk.tree.protected_by(outlet))
