"""Takes the proof; gives what the tester's readings say beyond dead and live: wiring words, volts, presses that show little."""

from __future__ import annotations

from collections.abc import Iterator

from ...job.records import TripTest
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, place, things
from .devices import unfed

# What a three-lamp tester's words point to (common practice, no source); what to do next.
MEANINGS = {
    "open ground": "The ground pin has no ground. If the old wiring has none, write `grounded: false`; else find the break.",
    "open neutral": "The neutral is broken at this outlet or before it. Do not use it; find the break.",
    "open hot": "No power on the hot side: switched off, tripped, or broken before this outlet. Find out which.",
    "hot/neutral reversed": "Hot and neutral are exchanged at this outlet or before it. Do not use it; correct the wires.",
    "hot/ground reversed": "This is mostly an open neutral with something plugged in downstream, seldom hot and ground "
                           "exchanged. Unplug everything on the circuit and read again. Do not use it.",
    "reversed": "This may mean line and load exchanged, hot and neutral exchanged, or an open neutral read as hot and ground "
                "exchanged. Read again and write which.",
}
_OTHER = "Find out what it means, have the wiring there seen to, and read it again."

# ANSI C84.1 Table 1, utilization voltage, V: (lowest of B, lowest of A, highest of A, highest of B). From memory: likely.
RANGES = {120.0: (104.0, 108.0, 126.0, 127.0), 208.0: (180.0, 187.0, 218.0, 220.0), 240.0: (208.0, 216.0, 252.0, 254.0)}

SAFE = 0.10  # farther from the nominal voltage than this a neutral may be loose: a stop; common practice, no source

DROP = 0.03  # of the nominal voltage: NEC 210.19 informational note, as reported; advice and no rule


def wrong_reading(proof: Proof) -> Iterator[Finding]:
    """A latest reading that is other than correct."""
    job = proof.tree.job
    for outlet, row in proof.evidence.readings.items():
        if outlet not in job.point or row.wiring == "correct":
            continue
        if row.wiring == "open ground" and not job.point[outlet].grounded:
            continue
        yield Finding("wrong-reading", "stop", row.where, (outlet,),
                      f"{place(job, outlet)} read `{row.wiring}` on {day(row.date)}, not correct. "
                      f"{MEANINGS.get(row.wiring or '', _OTHER)}")


def reads_ground(proof: Proof) -> Iterator[Finding]:
    """A point said to have no ground that reads correct."""
    job = proof.tree.job
    for outlet, row in proof.evidence.readings.items():
        if outlet in job.point and not job.point[outlet].grounded and row.wiring == "correct" and outlet not in proof.evidence.contradicted:
            yield Finding("reads-ground", "fix", row.where, (outlet,),
                          f"{place(job, outlet)} is written `grounded: false` and read correct on {day(row.date)}. "
                          f"Either it has a ground, or neutral is tied to its ground pin: find out which.")


def reading_changed(proof: Proof) -> Iterator[Finding]:
    """Two readings of one outlet on one day that say different things."""
    job = proof.tree.job
    for outlet, last in proof.evidence.readings.items():
        before = [row for row in proof.evidence.record_of(outlet) if row.outlet == outlet and row.wiring and row.date == last.date]
        other = next((row for row in before if row.wiring != last.wiring), None)
        if other and outlet in job.point:
            yield Finding("reading-changed", "know", last.where, (outlet,),
                          f"{place(job, outlet)} read `{other.wiring}` and later `{last.wiring}` on {day(last.date)}. If "
                          f"nothing was mended in between, a reading that changes with what is plugged in nearby points to "
                          f"an open ground or an open neutral.")


def volts_before(proof: Proof) -> Iterator[Finding]:
    """Volts outside the ranges of ANSI C84.1 at an outlet."""
    job = proof.tree.job
    for outlet, row in latest_volts(proof).items():
        ranges = RANGES.get(job.point[outlet].voltage)
        if ranges is None or row.volts is None or ranges[1] <= row.volts <= ranges[2]:
            continue
        spot = f"{place(job, outlet)} had {row.volts:g} V on {day(row.date)}"
        if ranges[0] <= row.volts <= ranges[3]:
            yield Finding("volts-range-b", "know", row.where, (outlet,),
                          f"{spot}: inside Range B of ANSI C84.1, outside Range A ({ranges[1]:g} to {ranges[2]:g} V).")
        else:
            level = "fix" if abs(row.volts / job.point[outlet].voltage - 1) <= SAFE else "stop"
            yield Finding("volts-outside", level, row.where, (outlet,),
                          f"{spot}: outside Range B of ANSI C84.1 ({ranges[0]:g} to {ranges[3]:g} V). Look for a loose "
                          f"connection or neutral, measure at the panel, and ask the power company if it is the same there.")


def volts_differ(proof: Proof) -> Iterator[Finding]:
    """Outlets of one circuit whose volts differ more than a sound run explains."""
    job = proof.tree.job
    volts = latest_volts(proof)
    for circuit in proof.tree.circuits:
        here = {id: volts[id] for id, _ in proof.tree.walk(circuit)
                if id in volts and job.point[id].voltage == 120 and volts[id].volts is not None}
        if len(here) < 2:
            continue
        low, high = min(here, key=lambda id: here[id].volts or 0), max(here, key=lambda id: here[id].volts or 0)
        difference = (here[high].volts or 0) - (here[low].volts or 0)
        if difference > DROP * 120:
            risen = (here[high].volts or 0) > RANGES[120.0][2]
            why = "a failing neutral: a load or a long run lowers volts and never raises them" if risen else \
                "a load in use, a long run or a loose connection"
            yield Finding("volts-differ", "fix" if risen else "know", here[low].where, (low, high),
                          f"{place(job, low)} had {here[low].volts:g} V and {place(job, high)} {here[high].volts:g} V on one "
                          f"circuit: {difference:.1f} V apart, more than 3 %. Look for {why}.")


def latest_volts(proof: Proof) -> dict[str, TripTest]:
    job = proof.tree.job
    return {row.outlet: row for row in proof.evidence.rows
            if row.volts is not None and row.outlet in job.point and job.point[row.outlet].kind.is_outlet
            and not (job.point[row.outlet].kind.opens and unfed(row))}


def never_live(proof: Proof) -> Iterator[Finding]:
    """An outlet seen dead that no row ever saw live: it may have been dead from the start."""
    job, evidence = proof.tree.job, proof.evidence
    live = proof.tree.bits(row.outlet for row in evidence.rows if (row.volts or 0) > 0)
    for row in evidence.rows:
        live |= evidence.saw(row).live
    dead = {s.outlet: s.row for look in reversed(evidence.stand) for s in look.without(live).dark}
    for outlet in proof.tree.outlets:
        if outlet in dead and not job.point[outlet].not_proved:
            yield Finding("never-live", "fix", dead[outlet].where, (outlet,),
                          f"{place(job, outlet)} was seen dead and never live in any row. See it live first, then dead, and "
                          f"write the row again.")


def press_shows_nothing(proof: Proof) -> Iterator[Finding]:
    """A plug-in tester pressed where there is no ground: it leaks to the ground pin, so no trip shows nothing."""
    job = proof.tree.job
    for (outlet, pressed), row in proof.evidence.presses.items():
        if pressed == "tester" and not row.tripped and proof.tree.protected_by(outlet) and not proof.evidence.has_ground(row):
            guards = both(proof.tree.protected_by(outlet))
            yield Finding("press-shows-nothing", "know", row.where, (outlet,),
                          f"The tester pressed at {place(job, outlet)} on {day(row.date)} opened nothing. There is no ground "
                          f"there, so that shows nothing either way; only the own TEST of {guards} counts.")


def far_one_opened(proof: Proof) -> Iterator[Finding]:
    """Of a series, another than the nearest opened on a tester's press: that is normal."""
    job = proof.tree.job
    for (outlet, pressed), row in proof.evidence.presses.items():
        guards = proof.tree.protected_by(outlet) if pressed == "tester" else ()
        if len(guards) > 1 and row.tripped and guards[0] not in row.tripped and set(row.tripped) <= set(guards):
            yield Finding("series", "know", row.where, (outlet, *guards),
                          f"At {place(job, outlet)} the tester opened {both(row.tripped)} and not {guards[0]}. That is "
                          f"normal: {both(guards)} stand in series, and any of them may open on a real leak.")


def breaker_not_tripped_by_tester(proof: Proof) -> Iterator[Finding]:
    """A GFCI or dual-function breaker whose TEST was pressed and that no tester ever opened."""
    job = proof.tree.job
    opened_by_tester = {id for row in proof.evidence.rows
                        if row.pressed == "tester" and proof.evidence.counts(row) for id in row.tripped}
    for device in proof.tree.devices:
        kind = proof.tree.kind(device)
        if kind.is_breaker and kind.stops_shock and proof.devices[device] == "proved" and device not in opened_by_tester:
            yield Finding("breaker-not-tripped", "know", things(job, device).where, (device,),
                          f"{place(job, device)} passed its own TEST, and no tester at an outlet ever opened it. Press the "
                          f"tester at one grounded outlet on it.")


def bears_on_nothing(proof: Proof) -> Iterator[Finding]:
    """A row from which nothing can be told."""
    for row in proof.evidence.rows:
        said = proof.evidence.saw(row) or row.wiring or row.volts is not None or row.tripped
        if not said and row.pressed in ("none", "breaker"):
            yield Finding("bears-on-nothing", "know", row.where, (row.outlet,),
                          f"This row about {place(proof.tree.job, row.outlet)} says neither what was dead nor what was live "
                          f"nor what the tester read, so it counts for nothing.")
