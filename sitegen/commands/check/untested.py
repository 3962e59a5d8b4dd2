"""Takes the report of a job in which nothing was pressed yet; gives the one page that says so, in place of a line for every
thing that no test has shown."""

from __future__ import annotations

from collections.abc import Iterator

from ...protection.examine import Report
from ...protection.maps.missing import missing_tests
from ...protection.say import names

# What one walk-through settles all at once.
SETTLED = frozenset(("device-untested", "not-shown", "no-reading", "unread", "handle-not-tried", "light-not-looked-at"))


def nothing_pressed(report: Report) -> bool:
    return all(row.pressed == "none" for row in report.job.tests)


def walk_lines(report: Report) -> Iterator[str]:
    """What the walk-through has to show, a line a room; the sheet has it press by press."""
    job, tree = report.job, report.tree
    rooms: dict[str, tuple[list[str], list[str]]] = {}
    for id in tree.outlets:
        if not job.point[id].not_proved:
            rooms.setdefault(job.point[id].room, ([], []))[1].append(id)
    for id in tree.devices:
        rooms.setdefault(job.point[id].room if id in job.point else "Breaker panel", ([], []))[0].append(id)
    yield "Nothing was tested yet"
    count = len(missing_tests(report.proof))
    yield (f"  {len(tree.devices)} devices to press, {sum(len(outlets) for _, outlets in rooms.values())} outlets to look at, "
           f"{len(tree.breakers)} breaker handles: {count} presses at the least. `sitegen walk JOB` prints the sheet in walking "
           f"order, `walk --csv` the rows to fill in.")
    for room, (devices, outlets) in rooms.items():
        parts = ([f"TEST on {names(devices)}"] if devices else []) + ([f"look at {names(outlets)}"] if outlets else [])
        yield f"  {room}: {'; '.join(parts)}"
