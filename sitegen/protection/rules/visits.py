"""Takes the proof; gives what visits took away of it, in a line each, and what a day in the record has wrong."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from ...errors import Where
from ...job.read.values import day as day_of
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, place
from ..standing import Touch

DID = {"refed": "fed from elsewhere", "replaced": "replaced", "opened": "opened", "added": "added", "removed": "taken out",
       "corrected": "put right in the record"}


def what_came(touch: Touch, ids: Collection[str]) -> str:
    """`the visit of 14 July 2026 (Y1 fed from elsewhere, K4 replaced)`: what of it touched one of these."""
    if touch.visit is None:
        return f"{both(sorted(touch.boxes))} was installed on {day(touch.date)}"
    done = ", ".join(f"{one.id} {DID[one.what]}" for one, behind in touch.did if behind & set(ids))
    return f"the visit of {day(touch.date)} ({done})"


def printed_feed(proof: Proof) -> Iterator[Finding]:
    """What labels on the wall say of a feed, and the map says otherwise: was the wiring changed, or the record wrong?"""
    job = proof.tree.job
    for one in proof.asked:
        id, *others = one.points
        hung = next((other for other in one.printed if other != id), "unknown")
        was = f"{hung} load" if hung in job.point and job.point[hung].kind.has_sides else hung
        with_it = f" (and {both(others)} with it)" if others else ""
        yield Finding("printed-feed", "stop", job.point[id].where, one.points,
                      f"The label of {place(job, id)} of {day(one.label.date)} has it behind {both(one.printed)}{with_it}; the map "
                      f"now has it behind {both(one.now)}. Was the wiring changed? Then write in visits.yaml "
                      f"`- {{date: YYYY-MM-DD, done: [{{refed: {id}, was: FEED}}]}}`, with the day, and for FEED what the map had before "
                      f"(by the label {was}, or what hangs there, with its side). Was the "
                      f"record wrong, and no wire touched? Then write `corrected` there in place of `refed`.")


def device_newer(proof: Proof) -> Iterator[Finding]:
    """A device that the map says is newer than its latest own TEST, and no visit says so."""
    job = proof.tree.job
    for point in job.points:
        when = day_of(point.device.get("installed", "")) if point.kind.opens else None
        row, touch = proof.test_voided(point.id) or (None, None)
        if when and row and touch and touch.visit is None:
            yield Finding("installed-later", "stop", point.where, (point.id,),
                          f"{place(job, point.id)} was installed on {day(when)} by the map, and its latest own TEST is of "
                          f"{day(row.date)}: that was another device. Press TEST on this one, see what goes dead, press RESET, "
                          f"and write the row; or correct `installed`. Replaced since the handover? Say it in visits.yaml too: "
                          f"`- {{date: {when}, done: [{{replaced: {point.id}}}]}}`.")


def not_tested_since(proof: Proof) -> Iterator[Finding]:
    """A device whose own TEST is of before a visit that touched it, or all that its TEST showed."""
    job = proof.tree.job
    for device in proof.tree.devices:
        row, touch = proof.test_voided(device) or (None, None)
        if row and touch and touch.visit:
            yield Finding("not-tested-since", "stop", touch.visit.where, (device,),
                          f"{place(job, device)} has not been tested since {what_came(touch, (device, *proof.tree.goes_dead(device)))}: its own TEST is of {day(row.date)}. "
                          f"Press TEST, see what goes dead, press RESET, and write the row.")


def not_shown_since(proof: Proof) -> Iterator[Finding]:
    """An outlet where what was seen before a visit no longer counts, and what has to be seen there again."""
    job = proof.tree.job
    for outlet, (touch, behind, looked) in proof.owed.items():
        point = job.point[outlet]
        see = [f"See it dead with {both(behind)}"] if behind else []
        see += [f"{'look' if see else 'Look'} at it in the TEST of {both(looked)}"] if looked else []
        yield Finding("not-shown-since", "know" if point.kind.by_name else "stop",
                      touch.visit.where if touch.visit else point.where, tuple(dict.fromkeys((outlet, *behind, *looked))),
                      f"{place(job, outlet)} has not been shown since {what_came(touch, (outlet,))}. {', and '.join(see)}.")


def gone_from_where(proof: Proof) -> Iterator[Finding]:
    """Something taken out, and nothing says what it hung on: then any box may have been opened."""
    owed = {touch.visit.where for touch, _, _ in proof.owed.values() if touch.visit}
    for visit in proof.tree.job.visits:
        for done in visit.done:
            if done.what == "removed" and done.was is None and visit.where in owed:
                yield Finding("gone-from-where", "stop", done.where, (),
                              f"`removed: {done.id}` does not say what {done.id} hung on, so no test of before {day(visit.date)} "
                              f"counts. Write its feed in that line, such as `was: K1 load`: then only what hung there has to be "
                              f"tested again.")


def read_before(proof: Proof) -> Iterator[Finding]:
    """Readings of before a visit that opened or changed what is read: a wire put back wrongly shows in a new one alone."""
    standing, came = proof.evidence.standing, {}
    old: dict[Where, list[str]] = {}
    for outlet in proof.tree.outlets:
        row = proof.evidence.readings.get(outlet)
        touch = standing.voided(outlet, row) if row else None
        if row and touch and proof.tree.kind(outlet).plugs:
            where = touch.visit.where if touch.visit else proof.tree.job.point[min(touch.boxes)].where
            old.setdefault(where, []).append(outlet)
            came[where] = what_came(touch, old[where])
    for where, outlets in old.items():
        yield Finding("read-before", "fix", where, tuple(outlets),
                      f"The latest tester reading at {both(outlets)} is of before {came[where]}. A wire put back wrongly "
                      f"shows only in a new one: plug the tester in there again and write what it says.")


def handed_over_early(proof: Proof) -> Iterator[Finding]:
    """A handover dated before a press of the first walk was made: pages would promise what was not yet shown."""
    file, visits = proof.tree.job.file, proof.tree.job.visits
    if file.handover is None:
        return
    first = {(row.outlet, row.pressed): row for row in reversed(proof.evidence.record)}
    late = [row for row in first.values() if row.date > file.handover and not (visits and row.date >= visits[0].date)]
    if late:
        last = max(late, key=lambda row: (row.date, row.row))
        yield Finding("handover-before-tests", "fix", file.line_of("handover"), (),
                      f"The handover is dated {day(file.handover)}, and the first walk went on until {day(last.date)} "
                      f"({last.where}). Correct `handover` in job.yaml, or the date of the row.")
