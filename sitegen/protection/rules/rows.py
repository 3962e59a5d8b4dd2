"""Takes the proof; gives what rows of the trip tests leave open or say twice."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ...job.records import Point, TripTest
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, names, place
from ..sighting import DEAD_VOLTS
from .devices import unfed


def not_accounted(proof: Proof) -> Iterator[Finding]:
    """A device whose own TEST leaves outlets of its circuit unlooked at."""
    job = proof.tree.job
    for device in proof.tree.devices:
        row = proof.evidence.own_test(device)
        missing = [id for id in proof.not_accounted(device) if id not in proof.evidence.voided]
        if row is not None and row.together:
            missing = [id for id in missing if id not in proof.evidence.contradicted]  # what is at odds there is said already
        if row is None or not missing or unfed(row):
            continue
        if row.together and proof.devices[device] == "untested":
            continue  # said already: rounds are left
        if row.together:
            yield Finding("not-accounted", "stop", row.where, (device, *missing),
                          f"{place(job, device)}: the rounds walked so far do not tell whether it turns off {names(missing)} on the "
                          f"same circuit. Walk the rounds that are left, or press TEST on it alone and look.")
            continue
        yield Finding("not-accounted", "stop", row.where, (device, *missing),
                      f"{place(job, device)}: its own TEST of {day(row.date)} says nothing of {names(missing)} on the "
                      f"same circuit. Press TEST again and look, or write `rest of circuit` if they were seen live.")


def no_reading(proof: Proof) -> Iterator[Finding]:
    """A receptacle that a device protects and where no tester was read."""
    for point in _not_read(proof, guarded=True):
        yield Finding("no-reading", "stop", point.where, (point.id,),
                      f"{place(proof.tree.job, point.id)} has no tester reading. Plug the tester in and write what it says.")


def unread(proof: Proof) -> Iterator[Finding]:
    """A receptacle that nothing protects and where no tester was read; it does not block, and should be read too."""
    for point in _not_read(proof, guarded=False):
        yield Finding("unread", "fix", point.where, (point.id,),
                      f"{place(proof.tree.job, point.id)} has no tester reading. Nothing guards it, so read it all the same: it may "
                      f"be wired wrong.")


def _not_read(proof: Proof, guarded: bool) -> Iterator[Point]:
    for outlet in proof.tree.outlets:
        point = proof.tree.job.point[outlet]
        if point.kind.has_face and bool(proof.tree.protected_by(outlet)) is guarded and outlet not in proof.evidence.readings \
                and not point.not_proved:
            yield point


def did_not_reset(proof: Proof) -> Iterator[Finding]:
    """Any press after which something did not come back."""
    job = proof.tree.job
    latest: dict[tuple[str, str], TripTest] = {}
    for row in proof.evidence.rows:
        if row.reset is not None and proof.evidence.counts(row):
            latest[row.outlet, row.pressed] = row
    for row in latest.values():
        if row.reset or (row.pressed == "device" and proof.why_failed(row.outlet) == "did not reset"):
            continue
        if row.together:
            yield Finding("did-not-reset", "stop", row.where, row.together,
                          f"After the round with {both(row.together)} open on {day(row.date)}, not all of them came back. Find out "
                          f"which and why, mend it, and test it again.")
            continue
        yield Finding("did-not-reset", "stop", row.where, (row.outlet, *row.tripped),
                      f"After the press at {place(job, row.outlet)} on {day(row.date)}, {both(row.tripped) or 'it'} did "
                      f"not reset. Find out why, mend it, and test again.")


def opened_unpressed(proof: Proof) -> Iterator[Finding]:
    """Something opened in a round that nobody pressed."""
    job = proof.tree.job
    for row in proof.evidence.presses.values():
        unpressed = [id for id in row.tripped if row.together and id not in row.together]
        if unpressed:
            yield Finding("opened-unpressed", "stop", row.where, tuple(unpressed),
                          f"In the round with {both(row.together)} on {day(row.date)}, {both(place(job, id) for id in unpressed)} "
                          f"opened though nobody pressed it. Find out why. Until then it counts as open in this round, and as no "
                          f"test of it.")


def not_lit_again(proof: Proof) -> Iterator[Finding]:
    """Outlets dead in a round that nobody saw live afterwards on the same day."""
    days: dict[date, dict[str, TripTest]] = {}
    for sighting in (s for look in proof.evidence.stand if look.row.together for s in look.dark):
        if proof.evidence.not_lit_again(sighting):
            days.setdefault(sighting.row.date, {})[sighting.outlet] = sighting.row
    for when, outlets in days.items():
        last = max(outlets.values(), key=lambda row: row.row)
        ids = [id for id in proof.tree.outlets if id in outlets]
        yield Finding("not-lit-again", "fix", last.where, tuple(ids),
                      f"{names(ids)} {'was' if len(ids) == 1 else 'were'} dead in rounds on {day(when)}, and nobody saw "
                      f"{'it' if len(ids) == 1 else 'them'} live later that day, so these looks count for nothing. End a day of "
                      f"rounds with a walk with all on, and write it as a row with `pressed: none`.")


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


def names_no_outlet(proof: Proof) -> Iterator[Finding]:
    """A row that names a switch, a junction or a device without slots as dead or live."""
    job = proof.tree.job
    for row in proof.evidence.rows:
        odd = [id for id in row.went_dead + row.stayed_live if not proof.tree.is_outlet(id)]
        if odd:
            yield Finding("names-no-outlet", "fix", row.where, tuple(odd),
                          f"{both(place(job, id) for id in odd)}: only an outlet, a light or an appliance can be seen "
                          f"dead or live, so this part of the row counts for nothing.")
