"""Takes the desk and a device; gives what to look at while it is tested: a lamp or a light, and never a thing that may turn or heat."""

from __future__ import annotations

from dataclasses import dataclass

from ..protection.rounds.uses import STARTS, used_as
from .answer.places import takes_a_charger, used_for
from .desk import Desk
from .desk.once import once


@dataclass(frozen=True, slots=True)
class Watch:
    """`how`: here (a lamp in the device itself) | lamp | light (a lamp or light that hangs there) | cold (the light behind a door) | none."""

    how: str
    outlet: str = ""


@once
def watch(desk: Desk, device: str) -> Watch:
    """Of what was shown to go off with it: the slots of the device, a light, slots for a lamp; else the light of a refrigerator."""
    if desk.tree.kind(device).has_face:
        return Watch("here", device)
    seen = desk.claims.turns_off(device)
    slots = sorted((id for id in seen if takes_a_charger(desk, id)), key=lambda id: desk.point(id).kind.opens)
    for how, found in (("light", [id for id in seen if _is_light(desk, id)]), ("lamp", slots),
                       ("cold", [id for id in seen if used_for(desk, id, "cold")])):
        if found:
            return Watch(how, found[0])
    return Watch("none")


def _is_light(desk: Desk, id: str) -> bool:
    """A light, or what is used as one; not a heat lamp, nor the light of a fan."""
    lit = desk.point(id).kind.by_name or used_for(desk, id, "lamp") and not desk.point(id).behind
    return lit and not used_as(desk.point(id), STARTS)
