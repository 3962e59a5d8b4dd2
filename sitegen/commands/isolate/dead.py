"""Takes where a conductor may be open; gives what `isolate --dead` prints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...protection.isolate import Broken, Run
from ...protection.isolate.symptoms import PART_DEAD
from ...protection.proof import Proof
from ...protection.say import both, names, place
from ...protection.tree import Tree
from .. import wrapped
from .asked import Metered
from .sheet import NO_TEST_TELLS, also_live, closing, numbered, safety, step_text


def broken_text(proof: Proof, found: Broken, metered: Iterable[Metered]) -> str:
    tree = proof.tree
    lines = [_verdict(found), "", *safety(), "", "FIRST, without opening anything", *numbered(PART_DEAD.free), ""]
    lines += ["THE OPENINGS", *(f"  - {line}" for line in PART_DEAD.openings)]
    wrong = [id for id in tree.order if id in proof.evidence.contradicted and any(id in run.dead for run in found.runs)]
    if wrong:
        lines += [f"  Tests and map do not agree about {both(wrong)}: clear that with `sitegen check` before a box is opened."]
    for run in found.runs:
        lines += _run(tree, run)
    for top, dead in found.no_power:
        lines.append(f"  {both(dead)}: nothing live is known on the circuit. A device is open, or the break is at or before "
                     f"{place(tree.job, top)}: `sitegen trace JOB {top}`, then look at every outlet of the circuit.")
    lines += [f"  {place(tree.job, id)}: dead though power goes on beyond it: its own pigtail, its device, or a switch."
              for id in found.own]
    lines += [f"  {place(tree.job, id)}: nobody knows what feeds it; find its feed first." for id in found.unknown]
    return wrapped([*lines, *closing(tree, PART_DEAD, metered)])


def _verdict(found: Broken) -> str:
    breaks = len(found.runs) + len(found.no_power)
    return f"Part stays dead and nothing tripped: {breaks} break{'s' * (breaks != 1)} at the least" \
        + (f", and {len(found.own)} of its own" if found.own else "") + "."


def _run(tree: Tree, run: Run) -> Iterator[str]:
    yield f"  {both(run.dead)} dead: between {place(tree.job, run.boxes[0])} and {place(tree.job, run.boxes[-1])}, one of " \
          f"{names(run.boxes)} or a cable between them."
    yield from (f"  {line}" for line in also_live(tree, run.dead[0]))
    if len(run.boxes) > 2:
        yield f"  Which of them feeds which, where no device stands between, is the map's word: {NO_TEST_TELLS}"
    if run.look:
        yield f"  Look first at {names(run.look)}, and ask again: live or dead, each shortens it without a box opened."
    if run.boxes[0] in tree.job.breaker:
        yield f"  {run.boxes[0]} is in the panel: open it last, and only by the licensed electrician."
    yield f"  At most {run.plan.worst.openings:g} opening{'s' * (run.plan.worst.openings != 1)}, " \
          f"{run.plan.expected.openings:.1f} on average. Everything dead, breaker off and locked."
    for step in run.plan.steps:
        yield from step_text(tree, step)
