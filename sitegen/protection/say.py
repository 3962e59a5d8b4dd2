"""Small words that findings share: takes ids and dates, gives how the contractor says them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from ..job.records import Breaker, Job, Point

_MONTHS = ("January February March April May June July August September October November December").split()


def things(job: Job, id: str) -> Breaker | Point:
    """The breaker or point of this id."""
    return job.breaker[id] if id in job.breaker else job.point[id]


def place(job: Job, id: str) -> str:
    """An id with its place in the house.

    A point: ``K2 (Kitchen, right of the window)``. A breaker: ``B5 (breaker 5, panel P1)``.
    """
    if id in job.breaker:
        panel = next(circuit.panel for circuit in job.circuits if circuit.breaker == id)
        return f"{id} (breaker {job.breaker[id].space}, panel {panel})"
    point = job.point[id]
    return f"{id} ({point.room}, {point.at})"


def day(when: date) -> str:
    """
    >>> day(date(2026, 5, 12))
    '12 May 2026'
    """
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}"


def names(ids: Iterable[str]) -> str:
    """Ids as the map writes lists: parted by blanks."""
    return " ".join(ids)


def both(ids: Iterable[str]) -> str:
    """
    >>> both(["K1", "K3", "B5"])
    'K1, K3 and B5'
    """
    words = list(ids)
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""
