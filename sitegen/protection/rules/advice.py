"""Takes the proof; gives advice that stands in no rule, marked as ours or as common practice."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ...job.records import Breaker, Point
from ..finding import Finding
from ..isolate.copper import OHMS, drop
from ..proof import Proof
from ..say import both, place
from .code.house import means

PRACTICE, OURS = "Common practice, no rule:", "Ours, no rule:"

CRITICAL = ("refrigerator", "freezer", "sump", "opener", "medical", "alarm")

# Leakage of appliances, mA: 0.5 plugged in, 0.75 hard-wired (US limits, as reported); cable 0.95 uA/ft, computed from a measurement of NM 14-2.
# A Class A device holds below 4 mA (UL 943, as reported).
PLUGGED, WIRED, CABLE, HOLDS = 0.5, 0.75, 0.00095, 4.0

SHARE, DROP = 0.8, 0.03     # of the breaker's amps; of 120 V: an informational note of NEC 210.19, and no rule


def critical_shared(proof: Proof) -> Iterator[Finding]:
    """What must not stop behind a device that something else can open, worst outdoors."""
    tree, job = proof.tree, proof.tree.job
    for device in tree.devices:
        behind = tree.protects(device)
        vital = [id for id in behind if any(means(job.point[id].use, use) for use in CRITICAL)]
        others = [id for id in behind if id not in vital and not job.point[id].kind.by_name]
        if vital and others:
            wet = [id for id in others if job.point[id].place == "outdoor"]
            worst = f" (in a wet place: {both(wet)})" if wet else ""
            yield Finding("advice-critical", "know", job.point[vital[0]].where, (vital[0], device),
                          f"{PRACTICE} {both(f'{id} ({job.point[id].use})' for id in vital)} must not stop unseen, and {place(job, device)} also "
                          f"opens for what hangs at {both(others)}{worst}. Give it a circuit or a device of its own, or see that the owner knows.")


def dark_room(proof: Proof) -> Iterator[Finding]:
    """All lights of a room behind the device that an outlet of the same room can open."""
    tree, job = proof.tree, proof.tree.job
    rooms: dict[str, list[Point]] = {}
    for point in job.points:
        rooms.setdefault(point.room, []).append(point)
    lit = {room: points for room, points in rooms.items() if any(point.kind.by_name for point in points)}
    for device in tree.devices:
        behind = set(tree.protects(device))
        for room, points in lit.items():
            lights = [point.id for point in points if point.kind.by_name]
            outlets = [point.id for point in points if point.kind.has_face and point.id in behind]
            if outlets and set(lights) <= behind:
                yield Finding("advice-dark-room", "know", job.point[lights[0]].where, (lights[0], device),
                              f"{PRACTICE} the only light of {room} ({both(lights)}) goes off with {place(job, device)}, which what is plugged in at "
                              f"{both(outlets)} can open. Feed one light from elsewhere.")


def reset_behind_storage(proof: Proof) -> Iterator[Finding]:
    """Buttons where things are stored."""
    job = proof.tree.job
    for point in job.points:
        if point.kind.opens and point.place in ("pantry", "closet", "cabinet"):
            yield Finding("advice-storage", "know", point.where, (point.id,),
                          f"{PRACTICE} the buttons of {place(job, point.id)} are where things are stored. Tell the owner to keep them clear, and put "
                          f"its label where it is seen.")


def protected_twice(proof: Proof) -> Iterator[Finding]:
    """Harmless, and a search for whoever looks at one only."""
    tree, job = proof.tree, proof.tree.job
    series: dict[tuple[str, ...], list[str]] = {}
    for id in tree.outlets:
        if len(tree.protected_by(id)) > 1:
            series.setdefault(tree.protected_by(id), []).append(id)
    for devices, outlets in series.items():
        yield Finding("advice-twice", "know", job.point[outlets[0]].where, tuple(dict.fromkeys((*outlets, *devices))),
                      f"{PRACTICE} {both(outlets)} {'is' if len(outlets) == 1 else 'are'} protected twice, by {both(devices)}. That is harmless; either of them "
                      f"may open, so the page names both.")


def reads_as_digits(proof: Proof) -> Iterator[Finding]:
    """An id that looks like a number on a label or is heard as one on the phone."""
    job = proof.tree.job
    things: tuple[Breaker | Point, ...] = (*job.breakers, *job.points)
    odd = [thing for thing in things if re.fullmatch(r"[0-9OI-]+", thing.id)]
    if odd:
        yield Finding("advice-digits", "know", odd[0].where, tuple(thing.id for thing in odd),
                      f"{OURS} {both(thing.id for thing in odd)} read{'s' if len(odd) == 1 else ''} as a number, and is taken for a breaker's. Begin an id "
                      f"with a letter other than O or I.")


def standing_leakage(proof: Proof) -> Iterator[Finding]:
    """An estimate of what leaks with nothing wrong, against what a device holds."""
    tree, job = proof.tree, proof.tree.job
    for device in tree.devices:
        behind = [job.point[id] for id in tree.goes_dead(device)] if tree.kind(device).stops_shock else []
        plugged = sum(1 for point in behind if point.kind.has_face and point.use)
        wired = sum(1 for point in behind if point.kind.is_outlet and not point.kind.has_face and not point.kind.by_name)
        feet = sum(point.length_ft or 0 for point in behind if point.id != device)
        leaks = plugged * PLUGGED + wired * WIRED + feet * CABLE
        if leaks >= HOLDS:
            yield Finding("advice-leakage", "know", (job.breaker.get(device) or job.point[device]).where, (device,),
                          f"{OURS} an estimate for {place(job, device)}: {leaks:.1f} mA may leak with nothing wrong ({plugged} plugged in at {PLUGGED:g} mA, "
                          f"{wired} hard-wired at {WIRED:g} mA, {feet:g} ft of cable at 0.95 uA/ft), and it holds only below {HOLDS:g} mA. "
                          f"Part the outlets on two devices if it opens for no reason.")


def voltage_drop(proof: Proof) -> Iterator[Finding]:
    """An estimate at the farthest outlet of each circuit."""
    job, far = proof.tree.job, []
    for circuit in proof.tree.circuits:
        amps, ohms = job.breaker[circuit.breaker].amps, OHMS.get(circuit.wire.awg) if circuit.wire and circuit.wire.metal == "copper" else None
        ways = [(sum(job.point[one].length_ft or 0 for one in proof.tree.way_up(id)), id) for id, _ in proof.tree.walk(circuit)
                if proof.tree.is_outlet(id) and not job.point[id].kind.by_name and job.point[id].voltage == 120 and all(job.point[one].length_ft is not None for one in proof.tree.way_up(id))]
        if amps and ohms and ways:
            feet, id = max(ways)
            lost = drop(amps * SHARE, feet, ohms) / 120
            if lost > DROP:
                far.append((id, f"{id} {lost:.1%} ({feet:g} ft of {circuit.wire.awg if circuit.wire else ''} AWG, {amps * SHARE:g} A)"))
    if far:
        yield Finding("advice-drop", "know", job.point[far[0][0]].where, tuple(id for id, _ in far),
                      f"{OURS} estimates of the voltage lost at the farthest outlets, over 3 %: {'; '.join(says for _, says in far)}. Basis: 80 % of the "
                      f"breaker's amps all the way, solid copper at 75 C. 3 % is a note in the NEC and no rule.")
