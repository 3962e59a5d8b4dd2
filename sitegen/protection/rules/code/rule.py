"""What one rule of a book is, and what its condition can say of a job: broken here, or not judged for want of a key.

The text of a section is never quoted: a rule says in the project's own words what it looks at, where it stands, and how sure that is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ....errors import Where

if TYPE_CHECKING:
    from .house import House


@dataclass(frozen=True, slots=True)
class Broken:
    """What the record has against a rule."""

    points: tuple[str, ...]      # ids, the first one decides the room
    what: str                    # goes after "K2 and K3 (Kitchen): "; without its full stop
    do: str                      # one sentence
    level: str | None = None     # where it is another than the rule's
    where: Where | None = None   # where it is not the line of the first id
    section: str | None = None   # where it is more exact than the rule's


@dataclass(frozen=True, slots=True)
class Lacks:
    """What the rule would have to know."""

    key: str
    points: tuple[str, ...]      # points, or breakers for a key of circuits


@dataclass(frozen=True, slots=True)
class Beyond:
    """What the rule does not judge, whatever the map says, and where to look instead."""

    why: str
    points: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """What the rule has against these too, and another one tells, so that it is told once."""

    by: str                      # the other rule
    points: tuple[str, ...]


Judge = Callable[["House"], Iterable[Broken | Lacks | Beyond | Elsewhere]]


@dataclass(frozen=True, slots=True)
class Rule:
    name: str                    # a slug that does not change: the kind of its finding, and what an amendment names
    number: int                  # of the row it is worked out in, for `check --rules`
    says: str                    # what it looks at, in our words
    sections: Mapping[int, str]  # edition from which on -> section; the first key is the first edition it is in
    level: str                   # stop | fix | know
    needs: tuple[str, ...]       # keys of the map
    judge: Judge
    sure: bool = True            # False: from memory
    any_book: bool = False       # judged where no book is named too
    always: bool = False         # told at its level on existing wiring too
    layout: bool = False         # of which circuits and outlets there are: a receptacle put in for an old one changes nothing of it
    by_place: bool = False       # an amendment may add places to it

    def section(self, edition: int) -> str | None:
        """Where it stands in this edition; None where it is not in it."""
        return next((self.sections[since] for since in sorted(self.sections, reverse=True) if since <= edition), None)
