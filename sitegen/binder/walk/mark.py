"""Takes the job; gives the mark of its places, by which a file of taps is known to speak of the same things in the same spots.

Feeds are left out: taps say what was seen, and that stays true when the map of the wiring is put right.
"""

from __future__ import annotations

import hashlib

from ...job.records import Job

PLACES = "# places "    # how the second line of a file of taps begins, behind the line that names the job


def places(job: Job) -> dict[str, str]:
    """Id of every breaker and point -> four signs that hang on what it is and where."""
    texts: dict[str, tuple[str, ...]] = {
        b.id: (b.kind.name, b.space, job.panel[c.panel].at) for c in job.circuits for b in (job.breaker[c.breaker],)}
    texts |= {p.id: (p.kind.name, p.room, p.at, p.half or "") for p in job.points}
    return {id: _signs("\0".join((id, *texts[id])), 4) for id in sorted(texts)}


def places_line(job: Job) -> str:
    """`# places B5=0c1f K1=93ab ...`: with it a later reader can tell which places changed."""
    return PLACES + " ".join(f"{id}={signs}" for id, signs in places(job).items())


def mark(job: Job) -> str:
    """All places in eight signs, as the column `page` has them."""
    return mark_of(places_line(job))


def mark_of(line: str) -> str:
    """The mark of the places that a line has."""
    return _signs(line, 8)


def changed(line: str, job: Job) -> tuple[str, ...]:
    """The ids of the job whose kind or place is another than the line says, and those of the line that are gone.

    An id that is new in the job is none of them: no tap speaks of it.
    """
    then = dict(pair.partition("=")[::2] for pair in line.removeprefix(PLACES).split())
    now = places(job)
    return tuple(id for id, signs in then.items() if now.get(id) != signs)


def _signs(text: str, count: int) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:count]
