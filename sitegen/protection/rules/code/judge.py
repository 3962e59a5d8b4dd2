"""Takes the proof; gives what the book that the job names has against it: every rule judged, amendments kept, missing keys asked for once.

Existing wiring is only told of; where nobody wrote whether it is new, nothing stops.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ....errors import Where, nearest
from ....job.records import Amendment
from ...finding import Finding
from ...proof import Proof
from ...say import both, place, things
from .book import EDITIONS, VERIFIED, Book, book_of, covering
from .house import House
from .rule import Beyond, Broken, Elsewhere, Lacks, Rule
from .shock import asked
from .subjects import concerned
from .table import BY_NAME, EXTENDS, RULES

LEVELS = ("stop", "fix", "know")
_MANY = 8       # ids that are written out where a key is asked for


@dataclass(frozen=True, slots=True)
class Against:
    """One thing that a rule has against the job, with the level that is left of it."""

    points: tuple[str, ...]
    what: str
    do: str
    level: str
    where: Where
    section: str
    because: str = ""            # why the level is not the rule's own


@dataclass(frozen=True, slots=True)
class Judged:
    """One rule, for this job."""

    rule: Rule
    section: str | None                      # None: not in this edition, or no edition is known
    against: tuple[Against, ...]
    lacks: tuple[Lacks, ...]
    amended: tuple[Amendment, ...] = ()
    beyond: tuple[Beyond, ...] = ()
    elsewhere: tuple[Elsewhere, ...] = ()    # told by other rules
    concerns: frozenset[str] = frozenset()   # what it is about here; empty: nothing here to judge

    @property
    def applies(self) -> bool:
        return self.section is not None and not self.dropped

    @property
    def nowhere(self) -> bool:
        """It has something here to judge, and the record lets none of it be judged."""
        return self.applies and bool(self.concerns) and not (self.against or self.elsewhere) and self.concerns <= {
            *(id for lack in self.lacks for id in lack.points), *(id for one in self.beyond for id in one.points)}

    @property
    def dropped(self) -> bool:
        """Nowhere left of it."""
        return any(one.does == "drop" and not one.places for one in self.amended)


def judged(proof: Proof) -> tuple[Judged, ...]:
    """Every rule of the table."""
    house = House(proof, book_of(proof.tree.job.file.code))
    return tuple(_judge(house, rule) for rule in RULES)


def _judge(house: House, rule: Rule) -> Judged:
    book = house.book
    section = rule.section(book.edition or (VERIFIED if rule.any_book else 0))
    amended = tuple(one for one in book.changes if one.rule == rule.name or one.does == "drop" and one.rule in covering(rule.name))
    if section is None or book.drops(rule.name, None):
        return Judged(rule, section, (), (), amended)
    found = [one for broken in rule.judge(house) for one in (_against(house, rule, broken) if isinstance(broken, Broken) else [broken])]
    lacks: dict[str, dict[str, None]] = {}
    for one in found:
        if isinstance(one, Lacks):
            lacks.setdefault(one.key, {}).update(dict.fromkeys(one.points))
    return Judged(rule, section, tuple(one for one in found if isinstance(one, Against)),
                  tuple(Lacks(key, tuple(ids)) for key, ids in lacks.items()), amended,
                  tuple(one for one in found if isinstance(one, Beyond)), tuple(one for one in found if isinstance(one, Elsewhere)),
                  concerned(house, rule.name) | {id for one in found for id in one.points})


def _against(house: House, rule: Rule, broken: Broken) -> Iterator[Against]:
    """By level: what is existing is told, what is unsaid does not stop, and amendments have the last word."""
    job = house.job
    groups: dict[tuple[str, str], list[str]] = {}
    section = broken.section or rule.section(house.edition or VERIFIED) or ""
    if not broken.points:
        level, because = _amended(house, rule, None) or (broken.level or rule.level, "")
        yield Against((), broken.what, broken.do, level, broken.where or job.file.where, section, because)
    for id in broken.points:
        where = house.place_of(id)
        if house.book.drops(rule.name, where):
            continue
        groups.setdefault(_level(house, rule, broken, id), []).append(id)
    for (level, because), ids in groups.items():
        yield Against(tuple(ids), broken.what, broken.do, level, broken.where or things(job, ids[0]).where, section, because)


def _level(house: House, rule: Rule, broken: Broken, id: str) -> tuple[str, str]:
    level, work = broken.level or rule.level, house.work(id)
    if amended := _amended(house, rule, house.place_of(id)):
        return amended
    if rule.always or rule.any_book and not house.book.edition:
        return level, ""
    if work == "existing":
        return "know", "" if level == "know" else "existing wiring: told only"
    if work == "replaced" and rule.layout:
        return "know", "" if level == "know" else "put in for an old one: told only"
    return ("fix", "") if work is None and level == "stop" else (level, "")


def _amended(house: House, rule: Rule, place: str | None) -> tuple[str, str] | None:
    amended = house.book.level(rule.name, place)
    return (amended.to, f"level by amendment: {amended.reason}") if amended and amended.to else None


def _named(book: Book) -> str:
    edition = book.edition or VERIFIED
    return f"NEC {edition}" + (f", taken as {VERIFIED}, not verified" if edition > VERIFIED else "")


def source(rule: Rule, section: str, book: Book) -> str:
    """`NEC 2020, 210.8(A)(6)`, and how sure it is."""
    known = _named(book) if book.edition else "NEC"
    return f"{known}, {section}" + ("" if rule.sure else ", from memory")


def by_the_book(proof: Proof) -> Iterator[Finding]:
    """What each rule has against the job, and what it would have to know."""
    job = proof.tree.job
    book = book_of(job.file.code)
    rules = judged(proof)
    for one in rules:
        for told in one.against:
            because = f" ({told.because})" if told.because else ""
            yield Finding(one.rule.name, told.level, told.where, told.points,
                          f"{headed(_spot(proof, told.points), told.what)}. {told.do} [{source(one.rule, told.section, book)}]{because}")
    yield from _asks(proof, rules)


def _spot(proof: Proof, ids: tuple[str, ...]) -> str:
    """`K2 (Kitchen, at the window)`; several of one room: `K2 and K3 (Kitchen)`."""
    job = proof.tree.job
    if len(ids) == 1:
        return place(job, ids[0])
    rooms = dict.fromkeys(job.point[id].room if id in job.point else "" for id in ids)
    if len(rooms) == 1 and "" not in rooms:
        return f"{both(ids)} ({next(iter(rooms))})"
    return both(ids)


def headed(who: str, what: str) -> str:
    """`K2: not tamper-resistant`; a sentence of its own where it is about no point."""
    return f"{who}: {what}" if who else what[0].upper() + what[1:]


def _asks(proof: Proof, judged_rules: tuple[Judged, ...]) -> Iterator[Finding]:
    """What rules would have to know, each key once, for the whole job."""
    keys: dict[str, dict[str, None]] = {}
    book = book_of(proof.tree.job.file.code)
    rules: dict[str, list[Rule]] = {}
    for one in judged_rules:
        for lacks in wanted(one, book):
            keys.setdefault(lacks.key, {}).update(dict.fromkeys(lacks.points))
            rules.setdefault(lacks.key, []).append(one.rule)
    if not keys:
        return
    level = "fix" if any(rule.level == "stop" for found in rules.values() for rule in found) else "know"
    parts = [f"`{key}` at {ids_in_words(tuple(ids))} ({both(dict.fromkeys(rule.name for rule in rules[key]))})" for key, ids in keys.items()]
    yield Finding("keys-missing", level, proof.tree.job.file.where, (),
                  f"Some rules could not be judged everywhere, for want of keys in the map: {'; '.join(parts)}. Write them where they are "
                  f"known, and check again.")


def wanted(one: Judged, book: Book) -> tuple[Lacks, ...]:
    """The keys that are asked for; without a book only where it could hide what stops whatever the book."""
    return one.lacks if book.edition or one.rule.always and one.rule.level == "stop" else ()


def ids_in_words(ids: tuple[str, ...]) -> str:
    """`K1, K2 and 7 more`; "the job" where there are none."""
    if not ids:
        return "the job"
    return both(ids) if len(ids) <= _MANY else f"{', '.join(ids[:_MANY])} and {len(ids) - _MANY} more"


def all_ids(ids: tuple[str, ...]) -> str:
    """Every one, where nothing may be left out."""
    return both(ids) if ids else ids_in_words(ids)


def work_unsaid(proof: Proof) -> Iterator[Finding]:
    """Circuits of which nobody wrote whether they are new: nothing of the book stops there."""
    job = proof.tree.job
    unsaid = [circuit for circuit in job.circuits if circuit.work is None and any(
        point.circuit == circuit.key and point.work is None for point in job.points)]
    if unsaid and book_of(job.file.code).edition:
        yield Finding("work-unsaid", "fix", unsaid[0].where, tuple(dict.fromkeys(circuit.breaker for circuit in unsaid)),
                      f"Circuit{'s' if len(unsaid) > 1 else ''} {both(circuit.number for circuit in unsaid)}: nobody wrote whether the wiring is "
                      f"new. Write `work: new`, `extended`, `replaced` or `existing`: until then what the book asks there does not stop.")


def which_book(proof: Proof) -> Iterator[Finding]:
    """No book, one that is not known here, or amendments that change nothing."""
    file = proof.tree.job.file
    book = book_of(file.code)
    if not book.named:
        yield Finding("no-book", "know", file.where, (), "job.yaml names no code book and edition, so nothing was judged by one. Write "
                      "`code: {book: NEC, edition: 2023, amendments: ...}` with what the authority having jurisdiction adopted.")
    elif book.edition is None:
        known = both(str(year) for year in EDITIONS)
        yield Finding("book-unknown", "fix", file.where, (), f"`{book.named}` is not known here, so nothing was judged by it. Known are the "
                      f"editions {known} of the NEC. Whoever adopted another one decides what it asks.")
    for one in book.changes:
        if one.rule not in BY_NAME:
            near = nearest(one.rule, BY_NAME)
            yield Finding("amendment-unknown", "stop", one.where, (), f"The amendment `{one.does}: {one.rule}` names no rule.{f' Did you mean `{near}`?' if near else ''} "
                          f"`check --rules` lists them.")
        elif one.does == "add" and one.rule not in EXTENDS:
            yield Finding("amendment-unknown", "stop", one.where, (), f"The amendment `add: {one.rule}` can add no places to this rule; it can to "
                          f"{both(EXTENDS)}.")
        else:
            where = f" in {both(one.places)}" if one.places else ""
            dropped = [name for name in BY_NAME if one.rule in covering(name)]
            does = {"drop": f"{both(dropped)} {'is' if len(dropped) == 1 else 'are'} not asked{where}", "add": f"{one.rule} is asked{where} too", "level": f"{one.rule} is told as {one.to}{where}"}[one.does]
            yield Finding("amended", "know", one.where, (), f"By amendment {does}: {one.reason}.")


def needs_by_book(proof: Proof) -> frozenset[str]:
    """The points that the book asks to be protected against shock, whatever stands there."""
    book = book_of(proof.tree.job.file.code)
    return frozenset(asked(House(proof, book))) if book.edition else frozenset()
