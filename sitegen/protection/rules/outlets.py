"""Takes the proof; gives what its outlets still owe, and what their pages will say of them."""

from __future__ import annotations

from collections.abc import Iterator

from ..finding import Finding
from ..proof import Proof
from ..say import both, names, place
from .code.judge import needs_by_book


def not_shown(proof: Proof) -> Iterator[Finding]:
    """A receptacle or appliance that was not shown behind a device the map gives it."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        missing = proof.not_shown(outlet)
        point = job.point[outlet]
        if not missing or point.kind.by_name or point.not_proved or outlet in proof.evidence.contradicted \
                or outlet in proof.evidence.voided:
            continue
        yield Finding("not-shown", "stop", point.where, (outlet, *missing),
                      f"{place(job, outlet)} was not shown to go dead with {names(missing)}. Press TEST on "
                      f"{names(missing)} and look at this outlet, or press the tester here.")


def needs_gfci(proof: Proof) -> Iterator[Finding]:
    """A point that needs protection against shock and has none on the map."""
    job, by_book = proof.tree.job, needs_by_book(proof)
    for id in proof.tree.order:
        point = job.point[id]
        if id in by_book and not proof.tree.protected_by(id):
            continue  # said with its section
        if point.needs == "gfci" and not proof.tree.protected_by(id):
            yield Finding("needs-gfci", "stop", point.where, (id,),
                          f"{place(job, id)} needs GFCI protection, and on the map no device gives it any. Feed it from "
                          f"the load terminals of one, or correct the map.")
        elif (point.needs == "gfci" or id in by_book) and point.not_proved:
            yield Finding("needs-gfci-not-proved", "fix", point.where, (id,),
                          f"{place(job, id)} needs GFCI protection, and it was not proved: {point.not_proved}.")


def feed_unknown(proof: Proof) -> Iterator[Finding]:
    """A receptacle or appliance whose feed nobody knows and that has no device of its own."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        point = job.point[outlet]
        if proof.outlet(outlet) == "untested" and not proof.tree.protected_by(outlet) and not point.kind.by_name \
                and not point.not_proved:
            seen = dict.fromkeys(both(look.opened) for look in proof.evidence.stand if look.dead & proof.tree.bit[outlet] and look.opened)
            hint = f" It went dead while {', or while '.join(seen)} was open; `sitegen recover` may place it." if seen else ""
            yield Finding("feed-unknown", "stop", point.where, (outlet,),
                          f"{place(job, outlet)}: nobody knows what feeds it, so nothing can be said to protect it. Find "
                          f"its feed, or write `not_proved:` with the reason.{hint}")


def unprotected(proof: Proof) -> Iterator[Finding]:
    """Receptacles that no device guards against shock, room by room; told, since it may be meant so."""
    job = proof.tree.job
    rooms: dict[str, list[str]] = {}
    for outlet in proof.tree.outlets:
        point = job.point[outlet]
        if point.kind.has_face and proof.outlet(outlet) == "unprotected" and point.needs != "gfci":
            rooms.setdefault(point.room, []).append(outlet)
    for outlets in rooms.values():
        have, pages = ("has", "Its page says so") if len(outlets) == 1 else ("have", "Their pages say so")
        yield Finding("unprotected", "know", job.point[outlets[0]].where, tuple(outlets),
                      f"{both(place(job, id) for id in outlets)} {have} no protection against shock on this map. {pages}.")


def told_not_proved(proof: Proof) -> Iterator[Finding]:
    """Outlets that the contractor says could not be proved."""
    for point in proof.tree.job.points:
        if point.not_proved and point.kind.is_outlet:
            yield Finding("not-proved", "know", point.where, (point.id,),
                          f"{place(proof.tree.job, point.id)} was not proved: {point.not_proved}. Its page says that it is "
                          f"to be treated as unprotected.")


def unlooked_lights(proof: Proof) -> Iterator[Finding]:
    """Lights that nobody looked at while a device before them was open."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        if not proof.tree.kind(outlet).by_name or outlet in proof.evidence.contradicted or outlet in proof.evidence.voided:
            continue
        missing = [id for id in proof.tree.reset_order(outlet)
                   if proof.tree.kind(id).opens and not proof.evidence.shown(outlet, id)]
        if missing:
            yield Finding("light-not-looked-at", "know", job.point[outlet].where, (outlet, *missing),
                          f"Nobody looked at the light {place(job, outlet)} while {both(missing)} was open. Its page "
                          f"says so.")
