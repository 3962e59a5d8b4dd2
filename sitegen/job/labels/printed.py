"""Takes a job; gives what its printed labels rest on: where each thing stands, what it is called now, which addresses it serves."""

from __future__ import annotations

from urllib.parse import urlsplit

from ..records import Breaker, Job, Point, Printed
from .purposes import PURPOSES

# Labels that show an id as their own and lead to its page.
ON_WALLS = tuple(name for name, purpose in PURPOSES.items() if purpose.own_page and not purpose.strip)


def stands_at(job: Job, id: str) -> str:
    """Where a thing is, as the ledger remembers it; two things of a house never stand at one place."""
    if id in job.point:
        point = job.point[id]
        return " ".join(f"{point.room}, {point.at}{f', {point.half}' if point.half else ''}".split())
    panel = job.panel[id if id in job.panel else next(circuit.panel for circuit in job.circuits if circuit.breaker == id)]
    return " ".join(f"{panel.at}{f', space {job.breaker[id].space}' if id in job.breaker else ''}".split())


def now_called(job: Job, id: str) -> str | None:
    """The id today of what once had this id; None where the map knows of none."""
    if id in job.point or id in job.breaker:
        return id
    things: tuple[Point | Breaker, ...] = (*job.points, *job.breakers)
    return next((thing.id for thing in things if id in thing.was), None)


def split_address(job: Job, text: str) -> tuple[str, str] | None:
    """(base, rest) of a printed address that the job's host, or one forwarded to it, serves: ("https://h.example/7", "K1/").

    Scheme and host are the same in any case (RFC 3986, 6.2.2.1), a path is not. None: of no such host, or no address.
    """
    bases = [job.file.base_url, *job.file.forwarded]
    for base in sorted(filter(None, bases), key=len, reverse=True):
        if _plain(text).startswith(f"{_plain(base)}/"):
            return base, text[len(base) + 1:]
    return None


def is_address(text: str | None) -> bool:
    return text is not None and text.casefold().startswith(("http://", "https://")) and " " not in text


def _plain(url: str) -> str:
    parts = urlsplit(url)
    return f"{parts.scheme.lower()}://{parts.netloc.lower()}{parts.path}"


def latest(job: Job) -> dict[tuple[str, str, str], Printed]:
    """(id, purpose, language of a second set) -> the last label that was printed of it."""
    return {(label.id, label.purpose, label.language): label for label in job.printed}
