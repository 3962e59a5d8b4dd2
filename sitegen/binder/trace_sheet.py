"""Takes the report and an id; gives what `trace` prints: what to press first, then what next, in words."""

from __future__ import annotations

from collections.abc import Iterator

from ..job.faults import CallError, nearest
from ..protection.examine import Report
from .answer import Answer, Case, Spot, device_answer, outlet_answer, place
from .claims import Claims
from .words import Words


def trace_text(report: Report, words: Words, asked: str) -> str:
    """The answer for one outlet or device.

    Raises CallError when the job has no such outlet or device.
    """
    id = find(report, asked)
    claims = Claims(report)
    if report.tree.kind(id).opens:
        title, answer = f"{id}: {', '.join(_where(claims, words, id))}", \
            device_answer(claims, words, id, "")
    else:
        title, answer = f"{id}: {place(claims, words, id)}", outlet_answer(claims, words, id)
    draft = [] if report.ready else ["DRAFT: this job is not ready; run check."]
    return "\n".join([*draft, title, *_answer(answer)]) + "\n"


def find(report: Report, asked: str) -> str:
    """The outlet or device of this id, in any case."""
    id = asked.strip().upper()
    known = {*report.tree.outlets, *report.tree.devices}
    if id in known:
        return id
    if id in report.job.point or id in report.job.breaker:
        raise CallError(f"`{id}` is neither an outlet nor a protective device; ask for what is dead, or for a device.")
    near = nearest(id, sorted(known))
    raise CallError(f"no outlet or device `{asked}` in job `{report.job.file.id}`."
                    + (f" Did you mean `{near}`?" if near else "") + " Ask by an id of the map.")


def _where(claims: Claims, words: Words, id: str) -> tuple[str, ...]:
    if id in claims.report.job.breaker:
        return (claims.panel_of(id).at, words.text("answer.breaker_spot", space=claims.report.job.breaker[id].space))
    return (place(claims, words, id),)


def _answer(answer: Answer) -> Iterator[str]:
    yield ""
    yield answer.headline.plain
    if answer.spot:
        yield "  " + _spot(answer.spot)
    if answer.doubt:
        yield "  " + answer.doubt.plain
    for number, step in enumerate(answer.steps, 1):
        yield f"  {number}. {step.plain}"
    yield from ("  " + hint for hint in answer.hints)
    for case in answer.cases:
        yield ""
        yield from _case(case)
    yield ""
    yield answer.rule


def _case(case: Case) -> Iterator[str]:
    yield case.title.plain + ":"
    for piece in case.says:
        yield "  " + (_spot(piece) if isinstance(piece, Spot) else piece.plain)


def _spot(spot: Spot) -> str:
    return f"{spot.id}: {spot.room}, {spot.at}. {spot.looks}."
