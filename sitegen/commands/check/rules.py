"""Takes the report; gives what `check --rules` prints: every rule for this job, where it stands, what it needed, whether it was judged."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ...protection.examine import Report
from ...protection.rules.code.book import VERIFIED, Book, book_of
from ...protection.rules.code.judge import Judged, all_ids, judged
from ...protection.say import both

HEAD = ("Each rule in our own words: the text of the book is not repeated here. Sections and editions are as public pages report them, or from "
        "memory where it says so; the book was not read for this list. Local amendments, the authority having jurisdiction and a licensed "
        "electrician decide. This is no inspection. Not on it, among much else: receptacles along the walls of rooms (210.52(A)), the service, its size "
        "and grounding, disconnects, working space, wiring methods.")
IN_WORDS = "Amendments that are written in words are judged by no rule."
ADVICE = "What `check` marks as ours or as common practice is advice and stands in no rule."


def rules_text(report: Report) -> str:
    book = book_of(report.job.file.code)
    lines = [_named(book), HEAD, ADVICE, *[IN_WORDS][:bool(report.job.file.code.amendments)]]
    if unknown := [id for id in report.tree.order if id in report.tree.unknown]:
        lines.append(f"Nothing was judged at {both(unknown)}: nobody knows what feeds {'it' if len(unknown) == 1 else 'them'}.")
    for one in judged(report.proof):
        lines += ["", *_rule(one, book)]
    return "\n".join(lines) + "\n"


def _named(book: Book) -> str:
    if book.edition is None:
        return f"{book.named} is not known here: only what holds whatever the book is judged." if book.named else \
            "job.yaml names no book: only what holds whatever the book is judged."
    later = f", taken as {VERIFIED} and not verified" if book.edition > VERIFIED else ""
    return f"Judged by the NEC of {book.edition}{later}, as job.yaml says."


def _rule(one: Judged, book: Book) -> Iterator[str]:
    rule = one.rule
    section = one.section or f"{next(iter(rule.sections.values()))}, from {min(rule.sections)}"
    yield f"{rule.number:>2}  {rule.name}   {section}{'' if rule.sure else ' (from memory)'}   {rule.level.upper()}"
    yield f"    {rule.says}; needs {', '.join(f'`{key}`' for key in rule.needs)}"
    yield from (f"    {state}" for state in states(one, book))


def states(one: Judged, book: Book) -> Iterator[str]:
    """What became of a rule, a line each."""
    for change in one.amended:
        where = f" for {', '.join(change.places)}" if change.places else ""
        does = {"drop": "dropped", "add": "added", "level": f"told as {(change.to or '').upper()}"}[change.does]
        yield f"{does}{where} by amendment: {change.reason}"
    if one.dropped:
        return
    if one.section is None:
        yield "not judged: no book" if book.edition is None else "not in this edition"
        return
    if book.edition is None and not one.rule.any_book:
        yield "not judged: no book"
        return
    for told in one.against:
        yield f"{told.level.upper()}: {told.what}" + (f", at {all_ids(told.points)}" if told.points else "") + (f" ({told.because})" if told.because else "")
    for by in dict.fromkeys(told.by for told in one.elsewhere):
        yield f"asks at {all_ids(tuple(id for told in one.elsewhere if told.by == by for id in told.points))} too: told under {by}"
    for lacks in one.lacks:
        yield f"not judged at {all_ids(lacks.points)}, for want of `{lacks.key}`"
    for beyond in one.beyond:
        yield f"not judged at {all_ids(beyond.points)}: {beyond.why}"
    if not (one.against or one.elsewhere or one.nowhere):
        yield "nothing here to judge" if not one.concerns else "in what is written, nothing against it" if one.lacks or one.beyond \
            else "judged: nothing against it"


def rules_json(report: Report) -> dict[str, Any]:
    """The object that `check --rules --json` prints."""
    book = book_of(report.job.file.code)
    return {"job": report.job.file.id, "book": book.named or None, "edition": book.edition,
            "not_judged": [id for id in report.tree.order if id in report.tree.unknown], "rules": [
        {"name": one.rule.name, "says": one.rule.says, "section": one.section, "sure": one.rule.sure, "level": one.rule.level,
         "needs": list(one.rule.needs), "state": list(states(one, book)),
         "against": [{"points": list(told.points), "level": told.level, "section": told.section, "where": str(told.where)} for told in one.against],
         "lacks": [{"key": lacks.key, "points": list(lacks.points)} for lacks in one.lacks]} for one in judged(report.proof)]}
