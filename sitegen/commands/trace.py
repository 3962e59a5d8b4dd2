"""`sitegen trace`: what to press for an outlet or a device, nearest first, then what next, in words."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from ..binder.answer import Answer, Case, Spot, device_answer, outlet_answer, place
from ..binder.claims import Claims
from ..binder.search import matches
from ..binder.words import Words
from ..errors import CallError, nearest
from ..job.printed import now_called
from ..protection.examine import Report
from ..publish.theme import open_theme
from . import report_of


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("words", metavar="WORDS", nargs="+", help="an id, or a room and what is there: garage freezer")


def run(call: argparse.Namespace) -> int:
    report = report_of(call.job)
    print(trace_text(report, open_theme().words(report.job.file.languages[0]), " ".join(call.words)), end="")
    return 0


def trace_text(report: Report, words: Words, asked: str) -> str:
    """The answer for one outlet or device; where the words fit several, the list of them.

    Raises CallError when the job has nothing that fits.
    """
    claims = Claims(report)
    now = now_called(report.job, asked.strip().upper()) or asked
    if asked.strip().upper() in {gone.id for gone in report.job.removed}:
        raise CallError(f"{asked.strip().upper()} was taken out of this house (`removed` in the map); ask for a room or a thing.")
    ids = find(claims, words, now)
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
    if id in claims.report.job.breaker and not claims.report.tree.kind(id).opens:
        yield from _on(claims, words, id)
        return
    answer = _answer_of(claims, words, id)
    yield from _answer(answer)
    target = answer.spot.id if answer.spot and answer.spot.has_page else None
    if target:
        yield ""
        yield words.text("turns_off.heading", id=target) + ":"
        yield from (f"  {item}: {place(claims, words, item)}" for item in claims.turns_off(target))
    file = claims.report.job.file.contractor
    yield ""
    yield " ".join(filter(None, (words.text("call.heading") + ":", file.get("firm"), file.get("phone"))))


def _on(claims: Claims, words: Words, breaker: str) -> Iterator[str]:
    """A breaker without a TEST: what hangs on it by the map."""
    yield ""
    outlets = claims.report.tree.outlets_of(claims.report.tree.goes_dead(breaker))
    yield f"On it by the map{'' if claims.breaker_tried(breaker) else '; nobody tried its handle'}:"
    yield from (f"  {id}: {place(claims, words, id)}" for id in outlets)


def _answer_of(claims: Claims, words: Words, id: str) -> Answer:
    if claims.report.tree.kind(id).opens:
        return device_answer(claims, words, id, "")
    return outlet_answer(claims, words, id)


def find(claims: Claims, words: Words, asked: str) -> tuple[str, ...]:
    """The ids meant: one by its id in any case, else every outlet whose place or use has all the words."""
    report = claims.report
    id = asked.strip().upper()
    known = {*report.tree.outlets, *report.tree.devices, *report.job.breaker}
    if id in known:
        return (id,)
    spaces = {breaker.space.upper(): breaker.id for breaker in report.job.breakers}
    if id.startswith("BREAKER ") and id.removeprefix("BREAKER ").strip() in spaces:
        return (spaces[id.removeprefix("BREAKER ").strip()],)
    if id in report.job.point:
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
    if answer.why:
        yield answer.why.plain + "."
    if answer.spot:
        yield "  " + _spot(answer.spot)
    if answer.doubt:
        yield "  " + answer.doubt.plain
    if answer.wet:
        yield "  " + answer.wet
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
