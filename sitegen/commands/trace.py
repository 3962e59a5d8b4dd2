"""`sitegen trace`: what to press for an outlet or a device, nearest first, then what next, in words."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from ..binder.answer.answer import Answer, device_answer, outlet_answer
from ..binder.answer.cases import Case
from ..binder.answer.places import Spot, place
from ..binder.desk import Desk
from ..binder.search import matches
from ..errors import CallError, nearest
from ..job.labels.printed import now_called
from ..publish.theme import open_theme
from . import report_of


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("words", metavar="WORDS", nargs="+", help="an id, or a room and what is there: garage freezer")


def run(call: argparse.Namespace) -> int:
    report = report_of(call.job)
    words = open_theme().words(report.job.file.languages[0])
    print(trace_text(Desk(report, words), " ".join(call.words)), end="")
    return 0


def trace_text(desk: Desk, asked: str) -> str:
    """The answer for one outlet or device; where the words fit several, the list of them.

    Raises CallError when the job has nothing that fits.
    """
    now = now_called(desk.job, asked.strip().upper()) or asked
    if asked.strip().upper() in {gone.id for gone in desk.job.removed}:
        raise CallError(f"{asked.strip().upper()} was taken out of this house (`removed` in the map); ask for a room or a thing.")
    ids = find(desk, now)
    draft = ["DRAFT: this job is not ready; run check."] if desk.draft else []
    if len(ids) == 1:
        return "\n".join([*draft, *_one(desk, ids[0])]) + "\n"
    lines = [f"{len(ids)} places fit `{asked}`. Ask again with one of these ids:"]
    for id in ids:
        answer = _answer_of(desk, id)
        lines.append(f"  {id}: {place(desk, id)}. {answer.headline.plain}: {answer.spot.room}.")
    return "\n".join([*draft, *lines]) + "\n"


def _one(desk: Desk, id: str) -> Iterator[str]:
    yield f"{id}: {', '.join(_where(desk, id))}"
    if id in desk.job.breaker and not desk.tree.kind(id).opens:
        yield from _on(desk, id)
        return
    answer = _answer_of(desk, id)
    yield from _answer(answer)
    if answer.spot.test:
        target = answer.spot.id
        yield ""
        yield desk.words.text("turns_off.heading", id=target) + ":"
        yield from (f"  {item}: {place(desk, item)}" for item in desk.claims.turns_off(target))
    contractor = desk.job.file.contractor
    yield ""
    yield " ".join(filter(None, (desk.words.text("call.heading") + ":", contractor.get("firm"), contractor.get("phone"))))


def _on(desk: Desk, breaker: str) -> Iterator[str]:
    """A breaker without a TEST: what hangs on it by the map."""
    yield ""
    outlets = desk.tree.outlets_of(desk.tree.goes_dead(breaker))
    yield f"On it by the map{'' if desk.claims.breaker_tried(breaker) else '; nobody tried its handle'}:"
    yield from (f"  {id}: {place(desk, id)}" for id in outlets)


def _answer_of(desk: Desk, id: str) -> Answer:
    if desk.tree.kind(id).opens:
        return device_answer(desk, id, "")
    return outlet_answer(desk, id)


def find(desk: Desk, asked: str) -> tuple[str, ...]:
    """The ids meant: one by its id in any case, else every outlet whose place or use has all the words."""
    id = asked.strip().upper()
    known = {*desk.tree.outlets, *desk.tree.devices, *desk.job.breaker}
    if id in known:
        return (id,)
    spaces = {breaker.space.upper(): breaker.id for breaker in desk.job.breakers}
    if id.startswith("BREAKER ") and id.removeprefix("BREAKER ").strip() in spaces:
        return (spaces[id.removeprefix("BREAKER ").strip()],)
    if id in desk.job.point:
        raise CallError(f"`{id}` is neither an outlet nor a protective device; ask for what is dead, or for a device.")
    if found := matches(desk, asked):
        return found
    near = nearest(id, sorted(known))
    raise CallError(f"no outlet or device `{asked}` in job `{desk.job.file.id}`."
                    + (f" Did you mean `{near}`?" if near else "") + " Ask by an id of the map, or by room and appliance.")


def _where(desk: Desk, id: str) -> tuple[str, ...]:
    if id in desk.job.breaker:
        return (desk.panel_of(id).at, desk.words.text("answer.breaker_spot", space=desk.job.breaker[id].space))
    return (place(desk, id),)


def _answer(answer: Answer) -> Iterator[str]:
    yield ""
    yield from answer.alert
    if answer.first:
        yield answer.first.heading
        yield from (f"  - {line.plain}" for line in answer.first.lines)
        yield answer.first.also
    yield answer.headline.plain
    if answer.why:
        yield answer.why.plain + "."
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
    return f"{spot.id}: {spot.room}, {spot.at}. {spot.looks.removesuffix('.')}."
