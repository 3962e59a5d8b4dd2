"""Takes a plan of openings behind a device; gives what `isolate` prints: safety, free cuts, the record, the plan, readings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...protection.isolate import Box, Isolation, Step, Suspect
from ...protection.isolate.symptoms import SAFETY, STOP, Symptom
from ...protection.proof import Proof
from ...protection.say import both, day, names, place
from ...protection.tree import Tree
from .. import wrapped
from .asked import Metered

NO_TEST_TELLS = "no trip test can tell it. What a box shows goes before what is drawn."
READINGS = (
    "Dead, plugs out, meter proved. Hot to ground: under 30 kohm a GFCI may trip, at 20 kohm or less it must (arithmetic: 120 V at "
    "4 and 6 mA, UL 943 Class A).",
    "Neutral to ground near 0, LOAD lifted: neutral touches ground (common practice). Under 1 megohm: suspect; clean is over range "
    "(common practice).",
    "A multimeter does not clear damp: 250 or 500 V insulation tester, devices lifted, hot and neutral together to ground "
    "(common practice). Kilohms hot to neutral are electronics (common practice).",
)


def isolation_text(proof: Proof, found: Isolation, symptom: Symptom, metered: Iterable[Metered]) -> str:
    lines = [f"{place(proof.tree.job, found.device)}: {symptom.title}", "", *safety(), "", "FIRST, without opening anything",
             *numbered(symptom.free)]
    lines += ["", "WHAT THE RECORD SAYS", *(f"  {line}" for line in _record(proof, found))]
    lines += ["", *_openings(proof.tree, found, symptom)]
    return wrapped([*lines, *closing(proof.tree, symptom, metered)])


def safety() -> list[str]:
    return ["SAFETY", *(f"  - {line}" for line in SAFETY)]


def numbered(lines: Iterable[str]) -> Iterator[str]:
    return (f"  {number}. {line}" for number, line in enumerate(lines, 1))


def closing(tree: Tree, symptom: Symptom, metered: Iterable[Metered]) -> Iterator[str]:
    """What was read, what readings and observations mean, and when to stop."""
    told = [f"  {place(tree.job, one.at)}, {one.what} {one.value}: {one.meaning.says} ({one.meaning.sure})." for one in metered]
    yield from ["", "YOUR READINGS", *told] if told else []
    yield from ["", "READINGS", *(f"  - {line}" for line in READINGS)]
    yield from ["", "WHAT IT POINTS TO"]
    for one in symptom.tellings:
        does_not = f" It does not show {one.not_shown}." if one.not_shown else ""
        yield f"  - {one.seen[0].upper()}{one.seen[1:]}: {one.points_to}.{does_not} ({one.sure})"
    yield from ["", "WHEN TO STOP", *(f"  - {line}" for line in STOP)]


def _record(proof: Proof, found: Isolation) -> Iterator[str]:
    job, zone = proof.tree.job, found.zone
    for touch in proof.evidence.standing.touches:
        disturbed = [box for box in zone.disturbed if touch.visit and set(zone.points[box]) & touch.boxes]
        if disturbed:
            yield f"A visit on {day(touch.date)} disturbed {both(disturbed)}: looked at first."
    here = {found.device, *zone.here, *(id for ids in zone.points.values() for id in ids)}
    for visit in job.visits:
        for one in (one for one in visit.readings if one.at in here):
            state = f" ({one.state})" if one.state else ""
            yield f"Read on {day(visit.date)} at {one.at}: {one.what} {one.value:g} {one.unit}{state}. Not to be mixed with today's."
    if found.contradicted:
        yield f"Tests and map do not agree about {both(found.contradicted)}: clear that with `sitegen check` before a box is opened."
    if found.not_shown:
        yield f"No test that counts showed {both(found.not_shown)} behind {found.device}: what is dead while it is out tells."
    for ids in found.same_place:
        yield f"Which of {names(ids)} feeds which is the map's word: {NO_TEST_TELLS}"
    behind: dict[str, list[str]] = {}
    for id, why in zone.left_out:
        behind.setdefault(why, []).append(id)
    for why, ids in behind.items():
        yield f"Not in the plan: {names(ids)}; {why_left_out(why)}."
    yield from also_live(proof.tree, found.device)
    circuits = [circuit for circuit in job.circuits if circuit.breaker == found.device]
    if len(circuits) > 1:
        yield f"Circuits {both(circuit.number for circuit in circuits)} both hang on {found.device}: read each by itself first."
    yield f"On {'it' if found.device in job.breaker else 'LOAD'}: {_boxes(found)}."


def also_live(tree: Tree, id: str) -> Iterator[str]:
    """What keeps a box live, or its neutral carrying current, with the breaker of this point off."""
    if shared := tree.shares_neutral(id):
        breakers = dict.fromkeys(circuit.breaker for circuit in shared)
        yield f"Circuits {both(circuit.number for circuit in shared)} share a neutral: {both(breakers)} off and locked, every hot " \
              "lifted. Another circuit's current flows in that neutral; were it open, up to 240 V would stand across loads: unplug " \
              "those of all these circuits."
    if sources := tree.other_sources(id):
        yield f"Also supplied by {both(sources)}: off and locked too."


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


def _openings(tree: Tree, found: Isolation, symptom: Symptom) -> Iterator[str]:
    yield "THE OPENINGS" if symptom.by != "device" else "THE DEVICE"
    yield from (f"  - {line}" for line in symptom.openings)
    if symptom.by == "dead":
        yield f"  Ask with what is dead and what is live: `sitegen isolate JOB {found.device} --dead IDS --live IDS`."
    elif symptom.by == "order":
        yield f"  In this order: {', '.join(place(tree.job, box.id) for box in in_order(found)) or 'nothing hangs on it'}."
    elif symptom.by == "plan" and is_feeder(tree, found.device):
        panels = [panel.id for panel in tree.job.panels if panel.fed_from == found.device]
        yield f"  {found.device} feeds {both(panels)}: every breaker there off, then the feeder; then on, one by one. No plan by boxes."
    elif symptom.by == "plan":
        yield from _plan(tree, found)


def _plan(tree: Tree, found: Isolation) -> Iterator[str]:
    plan, left = found.plan, found.left
    if not found.side.boxes:
        yield f"  Nothing hangs there by the map: {found.device} itself, what is in its box, or a load."
        return
    if left.bad:
        yield from (f"  Found: the cable from {one} to {other} reads bad with both ends open." for one, other in left.cables)
    elif not left.parts and not left.cables:
        yield f"  Nothing reads bad: not behind {found.device}, but {found.device} itself or a load" \
              + (f"; or a box that is open: {both(left.opened)}" if left.opened else "") + ". Read each way once more."
        return
    if plan.steps:
        yield f"  {_promise(found)}"
    if not left.opened:
        yield f"  0. {_step_0(tree, found.device)} All good: {found.device} itself, or a load."
    for (source, toward), step in zip(found.toward, plan.starts):
        yield f"     cable at {source} toward {toward}{'' if left.bad else ' bad'}: step {step}"
    if not left.bad:
        yield from (f"     cable from {one} to {other} bad: it is that cable" for one, other in left.cables)
    for step in plan.steps:
        yield from step_text(tree, step)


def _promise(found: Isolation) -> str:
    plan = found.plan
    several = " for each that reads bad" if found.left.bad and len(plan.starts) > 1 else ""
    best = "no plan is better" if found.best else f"the search was cut off: at most {found.above:.0f} % above the best"
    reach = f" (reach {plan.expected.reach:.1f}, at most {plan.worst.reach:g})" if any(b.reach > 1 for b in found.side.boxes) else ""
    first = " of those that open the disturbed boxes first" if found.zone.disturbed and found.best else ""
    return f"At most {plan.worst.openings:g} opening{'s' * (plan.worst.openings != 1)}{several}, {plan.expected.openings:.1f} on " \
           f"average{reach}; by the likelihoods that --json lists {best}{first}."


def _step_0(tree: Tree, device: str) -> str:
    breaker = tree.breaker_of(device)
    if device == breaker:
        return f"{breaker} off, locked, tested dead. The circuit's hot and neutral lifted in the panel; each cable read by itself."
    return f"{breaker} off, locked, tested dead. {device} opened, every LOAD hot and neutral lifted; each LOAD cable read by itself."


def step_text(tree: Tree, step: Step) -> Iterator[str]:
    yield f"  {step.number}. Open {place(tree.job, step.open)}. It can be in {_suspects(step.suspects)}."
    for lead in step.leads:
        yield f"     cable to {lead.toward} bad: {f'step {lead.step}' if lead.step else 'it is that cable'}"
    yield f"     none bad: {step.open} itself"


def _suspects(suspects: Iterable[Suspect]) -> str:
    return ", ".join(one if isinstance(one, str) else f"{one[0]}-{one[1]}" for one in suspects)
