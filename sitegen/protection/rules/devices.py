"""Takes the proof; gives what its devices still owe: a TEST never pressed or failed, a handle not tried."""

from __future__ import annotations

from collections.abc import Iterator

from ...job.records import TripTest
from ...protection.maps import impossible
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, names, place, things
from ..sighting import DEAD_VOLTS


def unfed(row: TripTest) -> bool:
    """Nothing was opened, and the face had no volts before the press: nothing is known of the device."""
    return row.volts is not None and row.volts <= DEAD_VOLTS and not row.tripped


def no_supply(proof: Proof) -> Iterator[Finding]:
    """A device whose face read 0 V: power first, before any word about protection."""
    job = proof.tree.job
    for device in proof.tree.devices:
        rows = [row for row in proof.evidence.rows if row.outlet == device and row.volts is not None]
        if rows and (rows[-1].volts or 0) <= DEAD_VOLTS and not rows[-1].tripped:
            before = [id for id in proof.tree.reset_order(device) if id != device]
            yield Finding("no-supply", "stop", rows[-1].where, (device,),
                          f"{place(job, device)} read {rows[-1].volts:g} V on {day(rows[-1].date)}: it has no supply, or it was open. Nothing can be "
                          f"said of its protection yet. Look at {both(before) or 'its feed'} first and get power there, press RESET, then TEST.")


def device_failed(proof: Proof) -> Iterator[Finding]:
    """A device whose own TEST failed."""
    job = proof.tree.job
    miswired = impossible.set_aside(proof.evidence).miswired
    for device in proof.tree.devices:
        why, row = proof.why_failed(device), proof.evidence.own_test(device)
        if why is None or row is None or unfed(row):
            continue
        if why == "face live" and device in miswired:
            continue  # said as such
        if why == "did not reset" and row.together:
            continue  # said of the whole round
        told = {
            "opened nothing": "opened nothing. It protects nobody: have it seen to, then test again.",
            "opened another": f"opened {names(row.tripped)}, not {device} alone. Find out which button belongs to which "
                              f"device, correct the map or the row, and test again.",
            "face live": _face_live(proof, device, row),
            "did not reset": _no_reset(proof, device, row),
        }[why]
        yield Finding("device-failed", "stop", row.where, (device,),
                      f"{place(job, device)}: its own TEST of {day(row.date)} {told}")


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


def device_untested(proof: Proof) -> Iterator[Finding]:
    """A device whose own TEST was never pressed, or did not show what a TEST must show."""
    job = proof.tree.job
    no_reset: set[int] = set()
    for device, state in proof.devices.items():
        if state != "untested":
            continue
        row = proof.evidence.own_test(device)
        where = row.where if row else things(job, device).where
        if row and any(clash.row is row and clash.because == "live" for clash in proof.evidence.clashes):
            continue  # said by the outlet that stayed live
        if proof.test_voided(device):
            continue  # said with what the visit took away
        if row and row.together and row.reset is None:
            if row.row not in no_reset:
                no_reset.add(row.row)
                yield Finding("device-untested", "stop", where, tuple(id for id in proof.devices if id in row.together),
                              f"The round with {both(row.together)} open on {day(row.date)} does not say whether all came back. If all "
                              f"did, write `yes` under reset; if not, `no`. Until then it proves no device.")
            continue
        yield Finding("device-untested", "stop", where, (device,), _untested(proof, device, row))


def _untested(proof: Proof, device: str, row: TripTest | None) -> str:
    """What its TEST has still to show."""
    job = proof.tree.job
    if row is None:
        return (f"{place(job, device)} was never tested by its own TEST. Press TEST, see what goes dead, press "
                f"RESET, and write the row.")
    if row.reset is None:
        return (f"{place(job, device)}: its own TEST of {day(row.date)} does not say whether it reset. Press TEST "
                f"and RESET again, and write yes or no under reset.")
    if row.together and proof.evidence.voided:
        return (f"{place(job, device)}: its own TEST of {day(row.date)} was told apart in the rounds by outlets that a visit "
                f"touched since. The presses that are still to be made tell it again.")
    if row.together:
        return (f"{place(job, device)}: the rounds walked so far do not show that its own TEST of {day(row.date)} alone turned "
                f"{'its own slots' if proof.tree.kind(device).has_face else 'something'} off. Walk the rounds that are left, "
                f"or press TEST on it alone and look at every outlet behind it.")
    if proof.tree.kind(device).has_face:
        return (f"{place(job, device)}: its own TEST of {day(row.date)} does not show its own face dead with all "
                f"it must cut. Press TEST again and look at its own slots and at every outlet behind it.")
    return (f"{place(job, device)}: its own TEST of {day(row.date)} does not show any outlet dead that it must "
                f"cut. Press TEST again and look at every outlet behind it.")


def guard_held(proof: Proof) -> Iterator[Finding]:
    """A tester press that opened something, but none of the devices that guard people there."""
    job = proof.tree.job
    for (outlet, pressed), row in proof.evidence.presses.items():
        guards = proof.tree.protected_by(outlet) if pressed == "tester" else ()
        if guards and row.tripped and not set(row.tripped) & set(guards) and outlet not in proof.evidence.contradicted:
            yield Finding("guard-held", "stop", row.where, (outlet, *guards),
                          f"The tester pressed at {place(job, outlet)} on {day(row.date)} opened {names(row.tripped)}, "
                          f"which does not guard against shock, and not {both(guards)}. Press it again.")


def not_by_tester(proof: Proof) -> Iterator[Finding]:
    """A tester leaks 6 to 9 mA (UL 1436, as reported): no AFCI, no protection of equipment at 30 mA and no plain breaker answers to that."""
    job = proof.tree.job
    for (outlet, pressed), row in proof.evidence.presses.items():
        if pressed == "tester" and row.tripped and not proof.tree.protected_by(outlet) and outlet not in proof.evidence.contradicted \
                and not any(proof.tree.kind(id).stops_shock for id in row.tripped):
            yield Finding("not-by-tester", "stop", row.where, (outlet, *row.tripped),
                          f"The tester pressed at {place(job, outlet)} on {day(row.date)} opened {both(row.tripped)}, and a tester's 6 to 9 mA cannot: "
                          f"by the map nothing there answers below 30 mA. Read what stands on {both(row.tripped)}, correct the map, or find the GFCI "
                          f"that opened, and press again.")


def handle_not_tried(proof: Proof) -> Iterator[Finding]:
    """Breakers whose handle nobody tried: pages only say how they are marked."""
    for breaker in proof.tree.breakers:
        if proof.evidence.handle(breaker) is None and not _told_in_company(proof, breaker):
            tried = any(breaker in row.together or (row.outlet, row.pressed) == (breaker, "breaker") for row in proof.evidence.record_of(breaker))
            nobody = "its handle was not tried since a visit" if tried else "nobody tried its handle"
            yield Finding("handle-not-tried", "know", things(proof.tree.job, breaker).where, (breaker,),
                          f"{place(proof.tree.job, breaker)}: {nobody}. Pages call it \"marked breaker "
                          f"{proof.tree.job.breaker[breaker].space}\".")


def _told_in_company(proof: Proof, breaker: str) -> bool:
    """True where rounds show an outlet behind it, opened by its TEST."""
    return any(proof.evidence.handle_tried(id, breaker) for id in proof.tree.outlets_of(proof.tree.on_breaker(breaker)))
