"""Takes a plan of openings behind a device; gives the sheet of `isolate`: safety, free cuts, the record, the plan, readings."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from ....protection.isolate import Box, Isolation
from ....protection.isolate.meters import Metered
from ....protection.isolate.symptoms import Symptom
from ....protection.proof import Proof
from ....protection.say import both, day, names, place
from ....protection.tree import Tree, bus_leg
from .dead import by_what_is_dead
from .parts import NO_TEST_TELLS, also_live, closing, opening, openings, step_line
from .records import FaultSheet, Line, Part, bullets, plain


def fault_sheet(proof: Proof, found: Isolation, symptom: Symptom, metered: Iterable[Metered] = ()) -> FaultSheet:
    tree = proof.tree
    return FaultSheet(f"{place(tree.job, found.device)}: {symptom.title}", (
        *opening(symptom), Part("What the record says", plain(_record(proof, found, symptom))),
        Part("The device" if symptom.by == "device" else "The openings", (*bullets(symptom.openings), *_openings(tree, found, symptom))),
        *closing(tree, symptom, metered)))


def _record(proof: Proof, found: Isolation, symptom: Symptom) -> Iterator[str]:
    tree, job, zone = proof.tree, proof.tree.job, found.zone
    for touch in proof.evidence.standing.touches:
        if touch.visit and touch.boxes & {found.device, *zone.here}:
            yield f"A visit on {day(touch.date)} disturbed {found.device} itself: look there first, at its terminals."
        disturbed = [box for box in zone.disturbed if touch.visit and set(zone.points[box]) & touch.boxes]
        if disturbed:
            yield f"A visit on {day(touch.date)} disturbed {both(disturbed)}: looked at first."
    here = {found.device, *zone.here, *(id for ids in zone.points.values() for id in ids)}
    for visit in job.visits:
        for one in (one for one in visit.readings if one.at in here):
            state = f" ({one.state})" if one.state else ""
            also = f" at {one.also:g} amps" if one.unit == "volts" and one.also else f" in {one.also:g} ms" if one.also else ""
            yield f"Read on {day(visit.date)} at {one.at}: {one.what} {one.value:g} {one.unit}{also}{state}. Not to be mixed with today's."
    yield from _read_wrong(proof, here)
    yield from _asked(tree, found, symptom)
    dark = {found.device, *tree.goes_dead(found.device)}
    if beside := [id for id in tree.same_circuit(found.device) if tree.is_outlet(id) and id not in dark | tree.unknown]:
        yield f"Not behind {found.device}, on the same circuit: {names(beside)}. Live there: the way from the panel is good so far."
    if found.contradicted:
        yield f"Tests and map do not agree about {both(found.contradicted)}: clear that with `sitegen check` before a box is opened."
    if found.not_shown:
        yield f"No test that counts showed {both(found.not_shown)} behind {found.device}: what is dead while it is out tells."
    for together in found.same_place:
        yield f"Which of {names(together)} feeds which is the map's word: {NO_TEST_TELLS}"
    behind: dict[str, list[str]] = {}
    for id, why in (one for one in zone.left_out if symptom.by not in ("dead", "device", "feed") or one[1] == "unknown"):
        behind.setdefault(why, []).append(id)
    for why, ids in behind.items():
        yield f"Not in the plan: {names(ids)}; {why_left_out(why)}."
    yield from also_live(tree, found.device)
    circuits = [circuit for circuit in job.circuits if circuit.breaker == found.device]
    if len(circuits) > 1:
        yield f"Circuits {both(circuit.number for circuit in circuits)} both hang on {found.device}: read each by itself first."
    if symptom.by == "feed":
        return
    on = _boxes(found) if symptom.by not in ("dead", "device") else ", ".join(id for id in tree.goes_dead(found.device) if id != found.device)
    yield f"On {'it' if found.device in job.breaker else 'LOAD'}: {on}."


def _asked(tree: Tree, found: Isolation, symptom: Symptom) -> Iterator[str]:
    """What the record has for one symptom alone."""
    if symptom.by == "order":
        wet = [id for id in tree.goes_dead(found.device) if tree.job.point[id].place == "outdoor"]
        yield f"Outdoors by the record: {both(wet)}." if wet else "Nothing on it, as drawn, is marked as outdoors."
        boxes = [*([found.device] if found.device in tree.job.point else []), *(box.id for box in found.side.boxes)]
        if boxes:
            counted = (f"{id} {tree.job.point[id].cables or tree.cables_drawn(id)}" for id in boxes)
            yield f"Cables in each box, as counted or else as drawn: {', '.join(counted)}."
    if symptom.by == "feed":
        yield _one_leg(tree, found.device)


def _read_wrong(proof: Proof, ids: Collection[str]) -> Iterator[str]:
    """What a tester once showed wrong there, and what it showed last."""
    for row in proof.evidence.record_of(*ids):
        if row.outlet in ids and row.wiring not in (None, "", "correct"):
            last = proof.evidence.readings.get(row.outlet)
            then = f"; {last.wiring} on {day(last.date)}" if last and last is not row and last.wiring else ""
            yield f"{row.outlet} read {row.wiring} on {day(row.date)}{then}."


def _one_leg(tree: Tree, breaker: str) -> str:
    """Single poles beside it on one leg, by the usual numbering of spaces."""
    mine, panel = tree.job.breaker[tree.breaker_of(breaker)], tree.panel_of[tree.breaker_of(breaker)]
    leg = bus_leg(mine.space)
    if mine.poles != 1:
        return f"{mine.id} has {mine.poles} poles, on both legs: read each."
    if leg is None:
        return "Which leg it is on is not known: measure."
    beside = [one.id for one in tree.job.breakers if one is not mine and one.poles == 1 and tree.panel_of[one.id] == panel and bus_leg(one.space) == leg]
    return f"On the leg of {mine.id} too, by the usual numbering of spaces (measure it): {names(beside) if beside else 'none'}."


def _boxes(found: Isolation) -> str:
    """Each box with the other points in it."""
    with_others = (box.id + (f" (with {names(others)})" if (others := found.zone.points[box.id][1:]) else "") for box in found.side.boxes)
    here = f"; in its own box {names(found.zone.here)}" if found.zone.here else ""
    return (", ".join(with_others) or "nothing more") + here


def why_left_out(why: str) -> str:
    return "its feed is unknown: it may be on it and is not on the map" if why == "unknown" else \
        f"{why}, which is tripped first; if {why.removeprefix('behind ')} open lets this one hold, isolate that one"


def is_feeder(tree: Tree, device: str) -> bool:
    return any(panel.fed_from == device for panel in tree.job.panels)


def has_plan(tree: Tree, found: Isolation, symptom: Symptom) -> bool:
    return symptom.by == "plan" and bool(found.plan.steps) and not is_feeder(tree, found.device)


def in_order(found: Isolation) -> list[Box]:
    """By suspicion for its reach, what a visit disturbed first: best while no reading is bad (exchange of neighbours)."""
    return sorted(found.side.boxes, key=lambda box: (not box.first, -box.suspect / box.reach))


def _openings(tree: Tree, found: Isolation, symptom: Symptom) -> Iterator[Line]:
    if symptom.by == "dead":
        yield Line("With one break, by what is dead. The conductor that is open reads bad:", "")
        yield from by_what_is_dead(tree, found.device)
    elif symptom.by == "order":
        order = in_order(found)
        yield Line(f"In this order, at most {openings(len(order))}: {', '.join(place(tree.job, box.id) for box in order)}." if order else
                   "Nothing hangs there by the map.", "")
    elif symptom.by == "feed":
        outlets = [id for id in tree.outlets_of(tree.same_circuit(found.device)) if id not in tree.unknown]
        yield Line(f"Outlets in feed order: {names(outlets)}. At most 2 openings: the box of the first that falls, and the box before it, "
                   "of the very first the panel; more where one between them was not read." if outlets else
                   "No outlet is drawn on it: its own terminals, or what feeds the panel.", "")
    elif symptom.by == "device":
        yield Line(f"By the record: {'; '.join(_terminals(tree, found.device))}. At most 1 opening, {_own_box(tree, found.device)}.", "")
    elif symptom.by == "plan" and is_feeder(tree, found.device):
        panels = [panel.id for panel in tree.job.panels if panel.fed_from == found.device]
        yield Line(f"{found.device} feeds {both(panels)}: every breaker there off, then the feeder; then on, one by one. No plan by boxes.", "")
    elif symptom.by == "plan":
        yield from _plan(tree, found)


def _terminals(tree: Tree, device: str) -> Iterator[str]:
    """What its terminals hold, its type and its age."""
    point = tree.job.point.get(device)
    if point:
        yield f"LINE from {point.feed.source}" + (f" {point.feed.side.upper()}" if point.feed.side else "")
    for side in ("line", "load") if point else (None,):
        on = [one.id for one in tree.job.points if one.feed.source == device and one.feed.side == side]
        on += [] if point else [panel.id for panel in tree.job.panels if panel.fed_from == device]
        if on or side != "line":
            yield f"{side.upper() if side else 'load terminal'} to {names(on) if on else 'nothing drawn'}"
    if plate := (point or tree.job.breaker[device]).device:
        yield ", ".join(f"{name} {value}" for name, value in plate.items())


def _own_box(tree: Tree, device: str) -> str:
    return "in the panel" if device in tree.job.breaker else f"the box of {device}"


def _plan(tree: Tree, found: Isolation) -> Iterator[Line]:
    plan, left = found.plan, found.left
    if not found.side.boxes:
        yield Line(f"Nothing hangs there by the map: {found.device} itself, what is in its box, or a load.", "")
        return
    if left.bad:
        yield from plain(f"Found: the cable from {one} to {other} reads bad with both ends open." for one, other in left.cables)
    elif not left.parts and not left.cables:
        yield Line(f"Nothing reads bad: not behind {found.device}, but {found.device} itself or a load"
                   + (f"; or a box that is open: {both(left.opened)}" if left.opened else "") + ". Read each way once more.", "")
        return
    if plan.steps:
        yield Line(_promise(tree, found), "")
    first = tuple(f"cable at {source} toward {toward}{'' if left.bad else ' bad'}: step {step}"
                  for (source, toward), step in zip(found.toward, plan.starts))
    if not left.bad:
        first += tuple(f"cable from {one} to {other} bad: it is that cable" for one, other in left.cables)
    if left.opened:
        yield from plain(f"{way[0].upper()}{way[1:]}." for way in first)
    else:
        yield Line(f"{_step_0(tree, found.device)} All good: {found.device} itself, or a load.", "0.", first)
    yield from (step_line(tree, step) for step in plan.steps)


def _promise(tree: Tree, found: Isolation) -> str:
    plan = found.plan
    several = " for each that reads bad" if found.left.bad and len(plan.starts) > 1 else ""
    best = "no plan is better" if found.best else f"the search was cut off: at most {found.above:.0f} % above the best"
    reach = f" (counted by how hard a box is to reach {plan.expected.reach:.1f}, at most {plan.worst.reach:g})" if any(b.reach > 1 for b in found.side.boxes) else ""
    first = " of those that open the disturbed boxes first" if found.zone.disturbed and found.best else ""
    own = "what is open already" if found.left.opened else f"step 0, {_own_box(tree, found.device)}"
    return f"At most {openings(plan.worst.openings)}{several} beyond {own}, {plan.expected.openings:.1f} on " \
           f"average{reach}; by likelihoods that are guesses, {best}{first}."


def _step_0(tree: Tree, device: str) -> str:
    breaker = tree.breaker_of(device)
    if device == breaker:
        return f"{breaker} off, locked, tested dead. The circuit's hot and neutral lifted in the panel; each cable read by itself."
    return f"{breaker} off, locked, tested dead. {device} opened, every LOAD hot and neutral lifted; each LOAD cable read by itself."
