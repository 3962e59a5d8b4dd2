"""Takes the proof; gives the outlets about which a sighting disagrees with the map, and what that points to."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ...protection.maps import impossible
from ...protection.rounds import House, looks_alone, stands
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, names, place
from ..sighting import Clash, opened

ONE_BY_ONE = 4  # what is opened to settle a disagreement, before the sheet alone says what to look at


def contradicted(proof: Proof) -> Iterator[Finding]:
    """Outlets about which a sighting disagrees with the map; one finding an outlet and way of disagreeing."""
    told: dict[tuple[str, str], list[Clash]] = {}
    dead = {(clash.outlet, clash.row) for clash in proof.evidence.clashes if clash.because == "dead"}
    miswired = impossible.set_aside(proof.evidence).miswired
    for clash in proof.evidence.clashes:
        if clash.outlet in miswired and clash.because == "live" and clash.row.tripped == (clash.outlet,):
            continue  # its own face stayed live: said by the exchanged terminals
        if clash.because == "tester opened" and (clash.outlet, clash.row) in dead:
            continue  # the same fact, seen at the same press
        if clash.outlet == clash.row.outlet and clash.row == proof.evidence.own_test(clash.outlet) \
                and proof.why_failed(clash.outlet):
            continue  # said once, by the device's failed TEST
        if proof.is_asked(clash.outlet):
            continue  # said by what its label asks
        told.setdefault((clash.outlet, clash.because), []).append(clash)
    for clashes in told.values():
        first = min(clashes, key=lambda clash: clash.row.row)
        more = f" ({len(clashes)} rows say so.)" if len(clashes) > 1 else ""
        points = tuple(dict.fromkeys((first.outlet, *opened(first.row))))
        yield Finding("contradicted", "stop", first.row.where, points, _disagrees(proof, first) + more + _settle(proof, clashes))


def _moved(proof: Proof, when: date) -> str:
    """A wire that was moved after the handover is no fault: then a visit says so."""
    handover = proof.tree.job.file.handover
    return " A wire moved since the handover? Write its new feed in the map, and `refed` in visits.yaml." if handover and when > handover else ""


def _disagrees(proof: Proof, clash: Clash) -> str:
    job, row = proof.tree.job, clash.row
    open_ids = both(opened(row))
    was = "were" if row.together else "was"
    spot, when = place(job, clash.outlet), day(row.date)
    again = "" if row.together else f" Correct the map or the wiring, and test again.{_moved(proof, row.date)}"
    if clash.because == "live":
        behind = both(id for id in proof.tree.reset_order(clash.outlet) if id in opened(row))
        return f"{spot} stayed live on {when} while {open_ids} {was} open, but the map puts it behind {behind}.{again}"
    if clash.because == "dead" and not open_ids:
        return f"{spot} was dead on {when} though nothing had opened. {_power_stops(proof, clash)}"
    if clash.because == "dead":
        return f"{spot} went dead on {when} while {open_ids} {was} open, but the map does not put it there.{again}"
    if clash.because == "tester opened":
        return f"The tester pressed at {spot} on {when} opened {open_ids}, which the map does not put before it.{again}"
    return f"The tester pressed at {spot} on {when} opened nothing, {_no_trip(proof, clash.outlet)}"


def _settle(proof: Proof, clashes: list[Clash]) -> str:
    """What settles a disagreement in a round without another walk, as it is done and typed: the look again first."""
    clash = next((clash for clash in clashes if clash.row.together), None)
    if clash is None:
        return ""
    row, outlet, told = clash.row, clash.outlet, proof.evidence.company
    tripped = names(id for id in row.together if id in row.tripped) or "none"
    again = (f" First look again: open the same round ({names(row.together)}), look at {outlet} only, put all on, and write a row: "
             f"outlet `{names(row.together)}`, pressed `round`, tripped `{tripped}`, {outlet} alone under went_dead or "
             f"stayed_live, reset `yes` if all came back. If it was dead, see it live with all on and write that too: outlet "
             f"`{outlet}`, pressed `none`, tripped `none`, stayed_live `{outlet}`.")
    place_to_stand = next(iter(stands(House(proof.tree), told, (outlet,))), None) if told else None
    alone = _alone(proof, outlet, place_to_stand.contacts) if place_to_stand else "Have the box opened."
    return f"{again} Still so? {alone} Then correct the map or the wiring.{_moved(proof, row.date)}"


def _alone(proof: Proof, outlet: str, ids: tuple[str, ...]) -> str:
    """What is opened by itself, and what is looked at then."""
    def one(id: str) -> str:
        pressed = "device" if proof.tree.kind(id).opens else "breaker"
        return f"{id} alone (row: outlet {id}, pressed {pressed}) and look at {both(looks_alone(proof.tree, id, (outlet,)))}"
    if len(ids) <= ONE_BY_ONE:
        return f"Open {'; then '.join(map(one, ids))}."
    return (f"Open one at a time {', '.join(ids)}, a row for each, and look at {outlet} and at what it turns off itself: "
            f"`sitegen walk JOB --rounds --missing` has the looks.")


def _power_stops(proof: Proof, clash: Clash) -> str:
    """Where the power is lost when nothing opened: between the last outlet seen live on the way and the first seen dead."""
    job, seen = proof.tree.job, {s.outlet: s.dead for s in proof.evidence.looks(clash.row)}
    here = clash.outlet
    while (source := job.point[here].feed.source) in job.point and seen.get(source) is not False:
        here = source
    if source not in job.point:
        return "Find out why it had no power, and test again."
    side = " the load terminals of" if job.point[here].feed.side == "load" else ""
    return (f"{place(job, source)} was live, so the power stops between{side} {source} and {here}: look at the wires that "
            f"feed through in these two boxes, and test again.")


def _no_trip(proof: Proof, outlet: str) -> str:
    """What it points to when a tester opens nothing at a grounded outlet that the map says is guarded."""
    guards = both(proof.tree.protected_by(outlet))
    own = [row for device in proof.tree.protected_by(outlet) if (row := proof.evidence.shown(outlet, device))
           and row.pressed == "device"]
    if own:
        return (f"yet it goes dead when TEST is pressed on {both(dict.fromkeys(row.outlet for row in own))}. So it is behind "
                f"it, and its ground pin is most likely tied to neutral (a bootleg ground): that reads correct and gives the "
                f"tester nothing to leak to. Try the tester at a known good one first; else do not use it, and have the box "
                f"opened.")
    return (f"but the map says that {guards} guards it. It may not be behind it, the device may be bad, or the ground pin "
            f"may have no ground. Press TEST on {guards} and look here; do not use it before it is known.")
