"""Takes the labels of today and the ledger; gives what the ledger keeps of a label, which labels on the walls say what is
no longer so, and which were never printed."""

from __future__ import annotations

import hashlib
import shlex
from collections.abc import Collection, Iterator
from datetime import date
from os.path import commonprefix

from ..binder.labels.records import LabelSet, SheetLabel, Strip
from ..errors import Where
from ..job.labels.ledger import FILE
from ..job.labels.printed import is_address, latest, stands_at
from ..job.labels.purposes import PURPOSES
from ..job.records import Job, Printed, Says
from ..protection.finding import Finding
from ..protection.say import day
from ..protection.tree import Tree

SETTING = 1         # one more whenever the way labels are set may choose other words for the same label
MOST_TOLD = 6       # labels that are told one by one; the command names all
MOST_WORDS = 14     # of a label, old or new


def as_printed(job: Job, labels: LabelSet, when: date) -> Iterator[Printed]:
    """Every label of the set once: those of the devices, which stand as pictures too, and those of the sheets."""
    last, tree = latest(job), Tree(job)
    for (id, purpose, language), label in each_label(labels).items():
        before = last.get((id, purpose, language))
        holds = _holds(job, label)
        yield Printed(id, purpose, when, stands_at(job, id), holds, Where(FILE, 1), _says(job, tree, label, holds or ""),
                      before.date if before else None, language, made_of(job, label))


def each_label(labels: LabelSet) -> dict[tuple[str, str, str], SheetLabel | Strip]:
    """By id, purpose and language of a second set, each once."""
    return {(label.id, label.purpose, label.language): label for label in (*labels.devices, *labels.sheet, *labels.strips)}


def made_of(job: Job, label: SheetLabel | Strip) -> str:
    """Sixteen hexadecimal digits over all that decides which words, and which in its code, a label comes out with."""
    return hashlib.sha256(repr((SETTING, job.file.labels.dpi, label)).encode()).hexdigest()[:16]


def others(job: Job, labels: LabelSet) -> dict[tuple[str, str, str], SheetLabel | Strip]:
    """Without those that were last printed from just what they are made of today: they could be printed, and say the same."""
    last = latest(job)
    return {key: label for key, label in each_label(labels).items()
            if key not in last or last[key].made_of != made_of(job, label)}


def _says(job: Job, tree: Tree, label: SheetLabel | Strip, holds: str) -> Says:
    """What is to be read on the label as it is printed, and what it speaks of."""
    words, phone = _words(label), job.file.contractor.get("phone")
    before = () if label.id in job.panel else tree.feeders(label.id) if label.id in job.breaker else tree.reset_order(label.id)
    return Says(words, getattr(label, "leads_to", "") or None, before[::-1], getattr(label, "outlets", ()),
                phone if phone and (phone in words or phone in holds) else None)


def _words(label: SheetLabel | Strip) -> str:
    from ..publish.labels.words import words_on  # setting type takes time that a house whose labels are up to date does not need
    return words_on(label)


def _holds(job: Job, label: SheetLabel | Strip) -> str | None:
    """The text of the code as it is printed: of an answer in words, the one that fits."""
    from ..publish.labels.code import code_facts
    facts = code_facts(label, job.file.labels.dpi)
    return facts.text if facts else None


Outdated = dict[tuple[str, str, str], tuple[Printed, str, str]]     # id, purpose, language -> the last label, what it says, what it would say


def out_of_date(job: Job, labels: LabelSet) -> Outdated:
    """The labels whose words, or words in a code, would be others today. Of a label whose words the ledger does not know, the
    code alone is held against today's."""
    last, found = latest(job), Outdated()
    for key, label in others(job, labels).items():
        before = last.get(key)
        if before is None:
            continue
        pairs = [(before.says.words, _words(label))] if before.says else []
        if before.holds and not is_address(before.holds):
            pairs.append((before.holds, _holds(job, label) or ""))
        changed = next((pair for pair in pairs if pair[0] != pair[1]), None)
        if changed:
            found[key] = (before, *changed)
    return found


def label_findings(job: Job, labels: LabelSet, folder: str) -> Iterator[Finding]:
    """What the labels on the walls ask for, each with the command that prints those labels and no other."""
    yield from _outdated(job, labels, folder)
    yield from _left_over(job, labels)
    yield from _unprinted(job, labels, folder)


def _left_over(job: Job, labels: LabelSet) -> Iterator[Finding]:
    """A label of a thing that has no such label any more: a plain outlet that became a device."""
    today = each_label(labels)
    for (id, purpose, language), last in latest(job).items():
        if last.says and purpose in job.file.labels.wanted and (id, purpose, language) not in today and id in {*job.point, *job.breaker}:
            yield Finding("label-left-over", "fix", last.where, (id,),
                          f"The {PURPOSES[purpose].title} of {id} of {day(last.date)} says \"{_short(last.says.words.split())}\", and "
                          f"{id} has no such label any more. Take it off.")


def _unprinted(job: Job, labels: LabelSet, folder: str) -> Iterator[Finding]:
    """Labels that were never printed, of a purpose that others of this house have on the wall."""
    last = latest(job)
    purposes = {key[1:] for key, label in last.items() if label.says}
    new = {key: label for key, label in each_label(labels).items() if key[1:] in purposes and key not in last}
    if new:
        named = [f"{id} ({PURPOSES[purpose].title})" for id, purpose, _ in list(new)[:MOST_TOLD]]
        more = f" and {len(new) - MOST_TOLD} more" if len(new) > MOST_TOLD else ""
        yield Finding("label-unprinted", "know", Where(FILE, 1), tuple(dict.fromkeys(id for id, *_ in new)),
                      f"Never printed: {', '.join(named)}{more}. Print with `{press_command(labels, new, folder)}`.")


def _outdated(job: Job, labels: LabelSet, folder: str) -> Iterator[Finding]:
    """One finding for all labels that say what is no longer so."""
    found = out_of_date(job, labels)
    if not found:
        return
    told = [f"{id} ({PURPOSES[purpose].title}{f' in {language}' if language else ''} of {day(last.date)}): {_change(old, new)}"
            for (id, purpose, language), (last, old, new) in list(found.items())[:MOST_TOLD]]
    more = len(found) - len(told)
    many = f"{len(found)} labels on the walls say" if len(found) > 1 else "1 label on a wall says"
    yield Finding("label-outdated", "fix", next(iter(found.values()))[0].where, tuple(dict.fromkeys(id for id, *_ in found)),
                  f"{many} what is no longer so. {'; '.join(told)}{f'; and {more} more' if more else ''}. Print "
                  f"{'them' if len(found) > 1 else 'it'} again with `{press_command(labels, found, folder)}`, and take the old "
                  f"{'ones' if len(found) > 1 else 'one'} off.")


def press_command(labels: LabelSet, keys: Collection[tuple[str, str, str]], folder: str) -> str:
    """The call of `press` that prints these labels (id and purpose, in every language of the set) and no other."""
    purposes: dict[str, dict[str, None]] = {}
    for id, purpose, _ in each_label(labels):
        purposes.setdefault(id, {})[purpose] = None
    words: list[str] = []
    asked = {key[:2] for key in keys}
    for id in dict.fromkeys(id for id, *_ in keys):
        wrong = [purpose for purpose in purposes[id] if (id, purpose) in asked]
        words += [id] if wrong == list(purposes[id]) else [f"{id}:{purpose}" for purpose in wrong]
    return " ".join(("sitegen press", shlex.quote(folder), "--date YYYY-MM-DD --only", *words))


def _change(old: str, new: str) -> str:
    """The words that changed, with one before and two behind them that did not."""
    one, two = old.split(), new.split()
    start = len(commonprefix([one, two]))
    end = len(commonprefix([one[start:][::-1], two[start:][::-1]]))
    was, now = (_short(words[max(0, start - 1):len(words) - max(0, end - 2)]) for words in (one, two))
    return f'it says "{was}", today it would say "{now}"'


def _short(words: list[str]) -> str:
    return " ".join(words if len(words) <= MOST_WORDS else [*words[:MOST_WORDS], "..."])


def not_pressed(job: Job, labels: LabelSet, folder: str) -> list[str]:
    """A line where labels with an address or words were never printed with `press`: nothing keeps their addresses alive."""
    new = {label.id for label in dict.fromkeys((*labels.devices, *labels.sheet))
           if label.code and (label.id, label.purpose, label.language) not in latest(job)}
    if not new:
        return []
    some = f"{len(new)} labels with a code are" if len(new) > 1 else f"The label of {min(new)} is"
    return [f"{some} not in {FILE}. Print with `sitegen press {folder} --date YYYY-MM-DD`: it remembers every address that "
            f"hangs on a wall."]
