"""Takes `code` of the job file; gives the book and edition that the job is judged by, and what its amendments change.

NEC by edition, 2014 to 2023, as reported or from memory (each rule says which). What 2026 changed in the lists of 210.8(A) is not known here: it is
taken as 2023 and said so.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from ....job.records import Amendment, Code

EDITIONS = (2014, 2017, 2020, 2023, 2026)
VERIFIED = 2023     # later ones are taken as this one


_COVERED = {"afci-extended": "afci"}     # extensions are asked in the places of the rule for new circuits: what drops one there drops both


def covering(rule: str) -> tuple[str, ...]:
    """The names by which an amendment drops this rule."""
    return (rule, _COVERED[rule]) if rule in _COVERED else (rule,)


@dataclass(frozen=True, slots=True)
class Book:
    """What is judged by."""

    edition: int | None              # None: no book, or one that is not known here
    named: str                       # "NEC 2020", as the job names it; "" where it names none
    changes: tuple[Amendment, ...] = ()

    def drops(self, rule: str, place: str | None) -> Amendment | None:
        return next((one for one in self.changes if one.does == "drop" and one.rule in covering(rule)
                     and (not one.places or place in one.places)), None)

    def adds(self, rule: str, place: str | None) -> bool:
        return any(one.does == "add" and one.rule == rule and place in one.places for one in self.changes)

    def level(self, rule: str, place: str | None) -> Amendment | None:
        return next((one for one in self.changes if one.does == "level" and one.rule == rule
                     and (not one.places or place in one.places)), None)


def book_of(code: Code) -> Book:
    """
    >>> book_of(Code("NEC", "2020")).edition
    2020
    """
    named = " ".join(filter(None, (code.book, code.edition)))
    found = re.search(r"\b(20[0-9]{2})\b", code.edition or "")
    known = found and int(found[1]) in EDITIONS and (code.book or "").strip().casefold() in ("nec", "nfpa 70", "nec (nfpa 70)")
    return Book(int(found[1]) if found and known else None, named, code.changes if known else ())
