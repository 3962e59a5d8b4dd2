"""Takes where a conductor may be open; gives the sheet of `isolate --dead`, and where the break is for whatever one break can leave dead."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ....protection.isolate import Broken, Run, broken
from ....protection.isolate.meters import Metered
from ....protection.isolate.symptoms import PART_DEAD
from ....protection.proof import Proof
from ....protection.say import both, names, place
from ....protection.tree import Tree
from .parts import NO_TEST_TELLS, also_live, closing, opening, openings, step_in_short, step_line
from .records import FaultSheet, Line, Part, bullets, plain


def broken_sheet(proof: Proof, found: Broken, metered: Iterable[Metered]) -> FaultSheet:
    tree = proof.tree
    lines = [*bullets(PART_DEAD.openings)]
    wrong = [id for id in tree.order if id in proof.evidence.contradicted and any(id in run.dead for run in found.runs)]
    if wrong:
        lines += plain([f"Tests and map do not agree about {both(wrong)}: clear that with `sitegen check` before a box is opened."])
    for run in found.runs:
        lines += [*plain(_run(tree, run)), *(step_line(tree, step) for step in run.plan.steps)]
    return FaultSheet(_verdict(found), (*opening(PART_DEAD), Part("The openings", (*lines, *plain(_elsewhere(tree, found)))),
                                        *closing(tree, PART_DEAD, metered)))


def by_what_is_dead(tree: Tree, device: str) -> Iterator[Line]:
    """Each set of outlets that one break leaves dead while all else behind the device is live, and where that break is."""
    outlets = tree.outlets_of(tree.goes_dead(device))
    sets = dict.fromkeys(tuple(one for one in outlets if one in {id, *tree.below(id)}) for id in tree.goes_dead(device) if id != device)
    for dead in filter(None, sets):
        for run in broken(tree, dead, set(outlets) - set(dead)).runs:
            yield Line(f"{both(dead)} dead, the rest live: between {place(tree.job, run.boxes[0])} and {place(tree.job, run.boxes[-1])}, at "
                       f"most {openings(run.plan.worst.openings)}.", "-", tuple(step_in_short(step) for step in run.plan.steps))


def _verdict(found: Broken) -> str:
    breaks = len(found.runs) + len(found.no_power)
    return f"Part stays dead and nothing tripped: {breaks} break{'s' * (breaks != 1)} at the least" \
        + (f", and {len(found.own)} of its own" if found.own else "") + "."


def _elsewhere(tree: Tree, found: Broken) -> Iterator[str]:
    for top, dead in found.no_power:
        yield f"{both(dead)}: nothing live is known on the circuit. A device is open, or the break is at or before " \
              f"{place(tree.job, top)}: `sitegen trace JOB {top}`, then look at every outlet of the circuit."
    for id in found.own:
        yield f"{place(tree.job, id)}: dead though power goes on beyond it: its own pigtail, its device, or a switch."
    for id in found.unknown:
        yield f"{place(tree.job, id)}: nobody knows what feeds it; find its feed first."


def _run(tree: Tree, run: Run) -> Iterator[str]:
    yield f"{both(run.dead)} dead: between {place(tree.job, run.boxes[0])} and {place(tree.job, run.boxes[-1])}, one of " \
          f"{names(run.boxes)} or a cable between them."
    yield from also_live(tree, run.dead[0])
    if len(run.boxes) > 2:
        yield f"Which of them feeds which, where no device stands between, is the map's word: {NO_TEST_TELLS}"
    if run.look:
        yield f"Look first at {names(run.look)}, and ask again: live or dead, each shortens it without a box opened."
    if run.boxes[0] in tree.job.breaker:
        yield f"{run.boxes[0]} is in the panel: open it last, and only by the licensed electrician."
    yield f"At most {openings(run.plan.worst.openings)}, {run.plan.expected.openings:.1f} on average. Everything dead, breaker off " \
          "and locked."
