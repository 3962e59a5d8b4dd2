"""Takes the proof; gives what the contractor has to hear, as a list of findings made by a list of functions.

Levels: `stop` keeps the job from being ready, `fix` should be mended, `know` is only told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from ...job.language import untranslated
from ...job.records import TripTest
from ..evidence import DEAD_VOLTS, Clash, opened
from ..finding import Finding
from ..maps import correct as corrections, impossible
from ..proof import Proof
from ..say import both, day, names, place, things
from . import panels as panel_rules, printed, privacy as public, readings


def device_untested(proof: Proof) -> Iterator[Finding]:
    """A device whose own TEST was never pressed, or did not show what a TEST must show."""
    job = proof.tree.job
    for device, state in proof.devices.items():
        if state != "untested":
            continue
        row = proof.evidence.own_test(device)
        where = row.where if row else things(job, device).where
        if row and any(clash.row is row and clash.because == "live" for clash in proof.evidence.clashes):
            continue  # said by the outlet that stayed live
        if row is None:
            says = (f"{place(job, device)} was never tested by its own TEST. Press TEST, see what goes dead, press "
                    f"RESET, and write the row.")
        elif row.reset is None:
            says = (f"{place(job, device)}: its own TEST of {day(row.date)} does not say whether it reset. Press TEST "
                    f"and RESET again, and write yes or no under reset.")
        elif proof.tree.kind(device).has_face:
            says = (f"{place(job, device)}: its own TEST of {day(row.date)} does not show its own face dead with all "
                    f"it must cut. Press TEST again and look at its own slots and at every outlet behind it.")
        else:
            says = (f"{place(job, device)}: its own TEST of {day(row.date)} does not show any outlet dead that it must "
                    f"cut. Press TEST again and look at every outlet behind it.")
        yield Finding("device-untested", "stop", where, (device,), says)


def device_failed(proof: Proof) -> Iterator[Finding]:
    """A device whose own TEST failed."""
    job = proof.tree.job
    for device in proof.tree.devices:
        why, row = proof.why_failed(device), proof.evidence.own_test(device)
        if why is None or row is None:
            continue
        if why == "face live" and device in impossible.set_aside(proof.evidence).miswired:
            continue  # said as such
        told = {
            "opened nothing": "opened nothing. It protects nobody: have it seen to, then test again.",
            "opened another": f"opened {names(row.tripped)}, not {device} alone. Find out which button belongs to which "
                              f"device, correct the map or the row, and test again.",
            "face live": _face_live(proof, device, row),
            "did not reset": _no_reset(proof, device, row),
        }[why]
        yield Finding("device-failed", "stop", row.where, (device,),
                      f"{place(job, device)}: its own TEST of {day(row.date)} {told}")


def not_shown(proof: Proof) -> Iterator[Finding]:
    """A receptacle or appliance that was not shown behind a device the map gives it."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        missing = proof.not_shown(outlet)
        point = job.point[outlet]
        if not missing or point.kind.by_name or point.not_proved or outlet in proof.evidence.contradicted:
            continue
        yield Finding("not-shown", "stop", point.where, (outlet, *missing),
                      f"{place(job, outlet)} was not shown to go dead with {names(missing)}. Press TEST on "
                      f"{names(missing)} and look at this outlet, or press the tester here.")


def _face_live(proof: Proof, device: str, row: TripTest) -> str:
    """Its own face stayed live, and nothing behind it was seen dead."""
    seen = {s.outlet: s.dead for s in proof.evidence.looks(row)}
    behind = [id for id in proof.tree.outlets_of(proof.tree.goes_dead(device)) if id != device and seen.get(id) is False]
    if behind:
        return (f"left its own face live, and {both(behind)} behind it too. Its contacts are most likely welded: it protects "
                f"nobody. Do not use it; have it replaced, and test again.")
    return ("left its own face live, and nothing was seen dead. Its contacts may not open, or its line and load may be "
            "exchanged: do not use it, have it seen to, and test again.")


def _no_reset(proof: Proof, device: str, row: TripTest) -> str:
    """It opened and did not come back."""
    behind = proof.tree.goes_dead(device)
    others = [s.outlet for s in proof.evidence.looks(row) if s.dead and s.outlet not in behind]
    if others:
        return (f"was not followed by a reset, and {both(others)}, which {device} does not feed, had no power either. So the "
                f"supply of both is most likely gone, before {device}: look at the breaker and at what stands before them, "
                f"get power back, and test again.")
    return ("was not followed by a reset. It may have no supply, a fault or a plugged-in load behind it, line and load "
            "exchanged with a lock-out, or be worn out. Check its supply, unplug all that is on it, and press RESET; if it "
            "still does not hold, have it seen to, and test again.")


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
        told.setdefault((clash.outlet, clash.because), []).append(clash)
    for clashes in told.values():
        first = min(clashes, key=lambda clash: clash.row.row)
        more = f" ({len(clashes)} rows say so.)" if len(clashes) > 1 else ""
        points = tuple(dict.fromkeys((first.outlet, *opened(first.row))))
        yield Finding("contradicted", "stop", first.row.where, points, _disagrees(proof, first) + more)


def _disagrees(proof: Proof, clash: Clash) -> str:
    job, row = proof.tree.job, clash.row
    open_ids = both(opened(row))
    spot, when = place(job, clash.outlet), day(row.date)
    again = "Correct the map or the wiring, and test again."
    if clash.because == "live":
        behind = both(id for id in proof.tree.reset_order(clash.outlet) if id in opened(row))
        return f"{spot} stayed live on {when} while {open_ids} was open, but the map puts it behind {behind}. {again}"
    if clash.because == "dead" and not open_ids:
        return f"{spot} was dead on {when} though nothing had opened. {_power_stops(proof, clash)}"
    if clash.because == "dead":
        return f"{spot} went dead on {when} while {open_ids} was open, but the map does not put it there. {again}"
    if clash.because == "tester opened":
        return f"The tester pressed at {spot} on {when} opened {open_ids}, which the map does not put before it. {again}"
    return f"The tester pressed at {spot} on {when} opened nothing, {_no_trip(proof, clash.outlet)}"


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


def guard_held(proof: Proof) -> Iterator[Finding]:
    """A tester press that opened something, but none of the devices that guard people there."""
    job = proof.tree.job
    for (outlet, pressed), row in proof.evidence.presses.items():
        guards = proof.tree.protected_by(outlet) if pressed == "tester" else ()
        if guards and row.tripped and not set(row.tripped) & set(guards) and outlet not in proof.evidence.contradicted:
            yield Finding("guard-held", "stop", row.where, (outlet, *guards),
                          f"The tester pressed at {place(job, outlet)} on {day(row.date)} opened {names(row.tripped)}, "
                          f"which does not guard against shock, and not {both(guards)}. Press it again.")


def not_accounted(proof: Proof) -> Iterator[Finding]:
    """A device whose own TEST leaves outlets of its circuit unlooked at."""
    job = proof.tree.job
    for device in proof.tree.devices:
        row, missing = proof.evidence.own_test(device), proof.not_accounted(device)
        if row is None or not missing:
            continue
        yield Finding("not-accounted", "stop", row.where, (device, *missing),
                      f"{place(job, device)}: its own TEST of {day(row.date)} says nothing of {names(missing)} on the "
                      f"same circuit. Press TEST again and look, or write `rest of circuit` if they were seen live.")


def no_reading(proof: Proof) -> Iterator[Finding]:
    """A receptacle that a device protects and where no tester was read."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        point = job.point[outlet]
        if point.kind.has_face and proof.tree.protected_by(outlet) and outlet not in proof.evidence.readings \
                and not point.not_proved:
            yield Finding("no-reading", "stop", point.where, (outlet,),
                          f"{place(job, outlet)} has no tester reading. Plug the tester in and write what it says.")


def did_not_reset(proof: Proof) -> Iterator[Finding]:
    """Any press after which something did not come back."""
    job = proof.tree.job
    latest: dict[tuple[str, str], TripTest] = {}
    for row in proof.evidence.rows:
        if row.reset is not None:
            latest[row.outlet, row.pressed] = row
    for row in latest.values():
        if row.reset or (row.pressed == "device" and proof.why_failed(row.outlet) == "did not reset"):
            continue
        yield Finding("did-not-reset", "stop", row.where, (row.outlet, *row.tripped),
                      f"After the press at {place(job, row.outlet)} on {day(row.date)}, {both(row.tripped) or 'it'} did "
                      f"not reset. Find out why, mend it, and test again.")


def volts_after(proof: Proof) -> Iterator[Finding]:
    """A row that says one thing of its own outlet and measures another."""
    job = proof.tree.job
    for row in proof.evidence.presses.values():
        if row.volts_after is None:
            continue
        if row.outlet in row.went_dead and row.volts_after > DEAD_VOLTS:
            said = f"is written as dead, but {row.volts_after:g} V were left; dead is {DEAD_VOLTS:g} V or less"
        elif row.outlet in row.stayed_live and row.volts_after <= DEAD_VOLTS:
            said = f"is written as live, but {row.volts_after:g} V were left"
        else:
            continue
        yield Finding("volts-after", "stop", row.where, (row.outlet,),
                      f"{place(job, row.outlet)} {said}. Measure again with a load or a low-impedance tester.")


def unread(proof: Proof) -> Iterator[Finding]:
    """A receptacle that nothing protects and where no tester was read; it does not block, and should be read too."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        point = job.point[outlet]
        if point.kind.has_face and not proof.tree.protected_by(outlet) and outlet not in proof.evidence.readings \
                and not point.not_proved:
            yield Finding("unread", "fix", point.where, (outlet,),
                          f"{place(job, outlet)} has no tester reading. Nothing guards it, so read it all the same: it may be "
                          f"wired wrong.")


def needs_gfci(proof: Proof) -> Iterator[Finding]:
    """A point that needs protection against shock and has none on the map."""
    job = proof.tree.job
    for id in proof.tree.order:
        point = job.point[id]
        if point.needs == "gfci" and not proof.tree.protected_by(id):
            yield Finding("needs-gfci", "stop", point.where, (id,),
                          f"{place(job, id)} needs GFCI protection, and on the map no device gives it any. Feed it from "
                          f"the load terminals of one, or correct the map.")
        elif point.needs == "gfci" and point.not_proved:
            yield Finding("needs-gfci-not-proved", "fix", point.where, (id,),
                          f"{place(job, id)} needs GFCI protection, and it was not proved: {point.not_proved}.")


def feed_unknown(proof: Proof) -> Iterator[Finding]:
    """A receptacle or appliance whose feed nobody knows and that has no device of its own."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        point = job.point[outlet]
        if proof.outlet(outlet) == "untested" and not proof.tree.protected_by(outlet) and not point.kind.by_name \
                and not point.not_proved:
            seen = dict.fromkeys(both(s.opened) for s in proof.evidence.sightings if s.outlet == outlet and s.dead and s.opened)
            hint = f" It went dead while {', or while '.join(seen)} was open; `sitegen recover` may place it." if seen else ""
            yield Finding("feed-unknown", "stop", point.where, (outlet,),
                          f"{place(job, outlet)}: nobody knows what feeds it, so nothing can be said to protect it. Find "
                          f"its feed, or write `not_proved:` with the reason.{hint}")


def shared_neutral(proof: Proof) -> Iterator[Finding]:
    """A GFCI of one pole with a shared neutral behind it sees half of the current and opens."""
    tree, job = proof.tree, proof.tree.job
    for circuit in tree.circuits:
        partners = [job.circuit[key] for key in circuit.shares_neutral_with]
        if not partners:
            continue
        breaker = job.breaker[circuit.breaker]
        ids = [breaker.id] if breaker.poles == 1 else []
        ids += [id for id, _ in tree.walk(circuit)]
        for id in ids:
            behind = set(tree.goes_dead(id)) - {id} if tree.kind(id).stops_shock else set()
            if behind:
                yield Finding("shared-neutral", "fix", things(job, id).where, (id,),
                              f"{place(job, id)} guards circuit {circuit.number}, which shares its neutral with circuit "
                              f"{both(partner.number for partner in partners)}: one pole cannot see the other's current. "
                              f"Use a two-pole device, or part the neutrals before its load terminals.")
        first = all(circuit.key < partner.key for partner in partners)  # told once for all that share
        if first and breaker.poles == 1 and all(partner.breaker != breaker.id for partner in partners):
            yield Finding("multiwire-handles", "know", circuit.where, (breaker.id,),
                          f"Circuit {circuit.number} shares its neutral with circuit "
                          f"{both(partner.number for partner in partners)}. Both handles must be tied to move together "
                          f"(NEC 210.4(B), from memory).")


def names_no_outlet(proof: Proof) -> Iterator[Finding]:
    """A row that names a switch, a junction or a device without slots as dead or live."""
    job = proof.tree.job
    for row in proof.evidence.rows:
        odd = [id for id in row.went_dead + row.stayed_live if not proof.tree.is_outlet(id)]
        if odd:
            yield Finding("names-no-outlet", "fix", row.where, tuple(odd),
                          f"{both(place(job, id) for id in odd)}: only an outlet, a light or an appliance can be seen "
                          f"dead or live, so this part of the row counts for nothing.")


def unlooked_lights(proof: Proof) -> Iterator[Finding]:
    """Lights that nobody looked at while a device before them was open."""
    job = proof.tree.job
    for outlet in proof.tree.outlets:
        if not proof.tree.kind(outlet).by_name or outlet in proof.evidence.contradicted:
            continue
        missing = [id for id in proof.tree.reset_order(outlet)
                   if proof.tree.kind(id).opens and not proof.evidence.shown(outlet, id)]
        if missing:
            yield Finding("light-not-looked-at", "know", job.point[outlet].where, (outlet, *missing),
                          f"Nobody looked at the light {place(job, outlet)} while {both(missing)} was open. Its page "
                          f"says so.")


def told_not_proved(proof: Proof) -> Iterator[Finding]:
    """Outlets that the contractor says could not be proved."""
    for point in proof.tree.job.points:
        if point.not_proved and point.kind.is_outlet:
            yield Finding("not-proved", "know", point.where, (point.id,),
                          f"{place(proof.tree.job, point.id)} was not proved: {point.not_proved}. Its page says that it is "
                          f"to be treated as unprotected.")


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


def handle_not_tried(proof: Proof) -> Iterator[Finding]:
    """Breakers whose handle nobody tried: pages only say how they are marked."""
    for breaker in proof.tree.breakers:
        if (breaker, "breaker") not in proof.evidence.presses:
            yield Finding("handle-not-tried", "know", things(proof.tree.job, breaker).where, (breaker,),
                          f"{place(proof.tree.job, breaker)}: nobody tried its handle. Pages call it \"marked breaker "
                          f"{proof.tree.job.breaker[breaker].space}\".")


def lacks_language(proof: Proof) -> Iterator[Finding]:
    """Texts that a further language of the job lacks; pages print the first language there, marked."""
    for lack in untranslated(proof.tree.job):
        id = "circuit " + lack.id if lack.what == "circuit" else lack.id
        says = f"{id} has no words in language `{lack.language}` for {both(f'`{key}`' for key in lack.keys)}. "
        if lack.what == "note":
            says = f"notes/{id}.md has no page in language `{lack.language}`. Write it as notes/{lack.language}/{id}.md."
        else:
            says += f"Write it as `{lack.keys[0]}: {{{proof.tree.job.file.languages[0]}: ..., {lack.language}: ...}}`."
        yield Finding("untranslated", "fix", lack.where, (lack.id,) if lack.what == "point" else (), says)


def job_file(proof: Proof) -> Iterator[Finding]:
    """What job.yaml leaves open and pages would need."""
    file = proof.tree.job.file
    if not file.contractor.get("phone"):
        yield Finding("no-phone", "fix", file.where, (), "job.yaml gives no phone of the contractor, so the pages "
                      "cannot say whom to call. Write contractor: phone.")
    if file.handover is None:
        yield Finding("no-handover", "fix", file.where, (), "job.yaml gives no handover date. Reminders start after "
                      "the last trip test instead. Write handover as YYYY-MM-DD.")
    if file.base_url is None and file.labels.qr == "address":
        yield Finding("no-host", "know", file.where, (), "job.yaml gives no base_url, so labels carry no QR code. For a house without a host `labels: {qr: text}` "
                      "puts the answer itself into the codes.")


Rule = Callable[[Proof], Iterable[Finding]]
FINDINGS: tuple[Rule, ...] = (
    impossible.fits_no_map, device_failed, device_untested, contradicted,
    corrections.map_correction, guard_held, not_shown, not_accounted, no_reading, unread,
    readings.wrong_reading, readings.reading_changed, did_not_reset, volts_after, needs_gfci, feed_unknown,
    shared_neutral, readings.volts_before, readings.volts_differ, readings.never_live, names_no_outlet,
    readings.reads_ground, readings.press_shows_nothing, readings.far_one_opened,
    readings.breaker_not_tripped_by_tester, readings.bears_on_nothing, unprotected, told_not_proved,
    unlooked_lights, handle_not_tried, panel_rules.same_space, panel_rules.wire_too_small, lacks_language, public.spelled_twice,
    public.private_in_public, public.owner_named, printed.printed_host, printed.printed_id, printed.printed_gone, job_file,
)


def find(proof: Proof) -> tuple[Finding, ...]:
    """Every finding, in the order of the list above."""
    return tuple(finding for rule in FINDINGS for finding in rule(proof))
