"""Takes a job and two of its ids that the tests have the other way round; gives the two ways to write that into the map.

Tests are made by place (standing there, the id from the map) or by the tag on the plate. By place what feeds the two is
exchanged, by tag their names; what hangs on them is carried along, so that the map can still be read.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...job.records import Job
from ..changes import Exchange, apply
from ..say import both, place, things


def exchange_says(job: Job, change: Exchange) -> str:
    """Both ways, with every line that changes and what it means for the pages; a sentence without its end."""
    one, other = change.one, change.other
    lines = both(sorted({str(things(job, id).where.line) for id in (one, other)}, key=int))
    names = f"{place(job, one)} and {place(job, other)}"
    hanging = list(_hanging(job, change))
    if one in job.breaker:
        carried = f", and carry what names them: {both(hanging)}" if hanging else ""
        return (f"lines {lines}: {names} stand exchanged. Were they switched by place or by the name beside the handle? By place, exchange "
                f"their two `breaker` entries whole: the pages then name the other space. By name, exchange their ids in the two "
                f"entries, and look at the directory: the pages keep the space{carried} either way")
    carried = f"; either way carry what hangs on them: {both(hanging)}" if hanging else ""
    return (f"lines {lines}: {names} stand exchanged. Were the tests made by place or by the tag on the plate? By place (standing "
            f"there, the id from the map), exchange what feeds them: {both(_by_place(job, change))}: both pages then keep the place "
            f"and name another button. By tag, exchange the ids in the two lines{_by_tag(job, change)}, and look at the plates: "
            f"both pages then keep the button and name another place{carried}")


def _by_place(job: Job, change: Exchange) -> Iterator[str]:
    after = apply(job, (change,))
    for id in (change.one, change.other):
        before, now = job.point[id], after.point[id]
        moved = f" (moved to circuit {job.circuit[now.circuit].number})" if now.circuit != before.circuit else ""
        yield f"line {before.where.line} `fed_from: {now.feed}`{moved}"


def _by_tag(job: Job, change: Exchange) -> str:
    """What else changes in the two lines, where one of the two feeds the other."""
    after = apply(job, (change,))
    pairs = ((change.one, change.other), (change.other, change.one))
    fed = [f"line {job.point[id].where.line} `fed_from: {after.point[new].feed}`" for id, new in pairs
           if after.point[new].feed != job.point[id].feed]
    return f" ({both(fed)})" if fed else ""


def _hanging(job: Job, change: Exchange) -> Iterator[str]:
    """Every other line that names one of the two, as it is to be written."""
    after = apply(job, (change,))
    found: dict[str, list[str]] = {}
    for panel in job.panels:
        if after.panel[panel.id].fed_from != panel.fed_from:
            found.setdefault(f"`fed_from: {after.panel[panel.id].fed_from}`", []).append(str(panel.where.line))
    for point in job.points:
        now = after.point[point.id]
        if point.id in (change.one, change.other):
            continue
        if now.feed != point.feed:
            found.setdefault(f"`fed_from: {now.feed}`", []).append(str(point.where.line))
        if now.switched_by != point.switched_by:
            found.setdefault(f"`switched_by: [{', '.join(now.switched_by)}]`", []).append(str(point.where.line))
    for written, lines in found.items():
        yield f"line{'s' if len(lines) > 1 else ''} {', '.join(lines)} {written}"
