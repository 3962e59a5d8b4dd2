"""Takes the report and the words of a caller; gives what `trace` prints: what to press first, then what next, in words."""

from __future__ import annotations

from collections.abc import Iterator

from ..job.faults import CallError, nearest
from ..protection.examine import Report
from .answer import Answer, Case, Spot, device_answer, outlet_answer, place
from .claims import Claims
from .search import matches
from .words import Words


def trace_text(report: Report, words: Words, asked: str) -> str:
    """The answer for one outlet or device; where the words fit several, the list of them.

    Raises CallError when the job has nothing that fits.
    """
    claims = Claims(report)
    ids = find(claims, words, asked)
    draft = [] if report.ready else ["DRAFT: this job is not ready; run check."]
    if len(ids) == 1:
        return "\n".join([*draft, *_one(claims, words, ids[0])]) + "\n"
    lines = [f"{len(ids)} places fit `{asked}`. Ask again with one of these ids:"]
    for id in ids:
        answer = _answer_of(claims, words, id)
        where = f": {answer.spot.room}" if answer.spot else ""
        lines.append(f"  {id}: {place(claims, words, id)}. {answer.headline.plain}{where}.")
    return "\n".join([*draft, *lines]) + "\n"


def _one(claims: Claims, words: Words, id: str) -> Iterator[str]:
    yield f"{id}: {', '.join(_where(claims, words, id))}"
    yield from _answer(_answer_of(claims, words, id))


def _answer_of(claims: Claims, words: Words, id: str) -> Answer:
    if claims.report.tree.kind(id).opens:
        return device_answer(claims, words, id, "")
    return outlet_answer(claims, words, id)


def find(claims: Claims, words: Words, asked: str) -> tuple[str, ...]:
    """The ids meant: one by its id in any case, else every outlet whose place or use has all the words."""
    report = claims.report
    id = asked.strip().upper()
    known = {*report.tree.outlets, *report.tree.devices}
    if id in known:
        return (id,)
    if id in report.job.point or id in report.job.breaker:
        raise CallError(f"`{id}` is neither an outlet nor a protective device; ask for what is dead, or for a device.")
    if found := matches(claims, words, asked):
        return found
    near = nearest(id, sorted(known))
    raise CallError(f"no outlet or device `{asked}` in job `{report.job.file.id}`."
                    + (f" Did you mean `{near}`?" if near else "") + " Ask by an id of the map, or by room and appliance.")


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
