"""Takes the desk; gives the pages at addresses that labels hold and the map no longer has, and the list of those addresses."""

from __future__ import annotations

from dataclasses import dataclass

from ...job.labels.printed import ON_WALLS, is_address, now_called, split_address
from ..answer.places import Spot, spot
from ..desk import Desk
from ..desk.words import Rich, Tag


@dataclass(frozen=True, slots=True)
class Gone:
    """The page of an id that is on no map any more."""

    id: str
    heading: Rich
    note: str             # what became of it, in the contractor's words; "" where they say nothing
    see: Spot | None      # what to look at now
    say: Rich             # what to tell the electrician


def former(desk: Desk) -> dict[str, str | None]:
    """Every id that was once on a label or in the map and has no page of its own -> the id that has it now, or None."""
    job, tree = desk.job, desk.tree
    pages = {*tree.devices, *tree.outlets}
    ids = [label.id for label in job.printed if label.purpose in ON_WALLS]
    ids += [id for was in (*(point.was for point in job.points), *(breaker.was for breaker in job.breakers)) for id in was]
    ids += [gone.id for gone in job.removed]
    now = {id: now_called(job, id) for id in dict.fromkeys(ids) if id not in pages}
    return {id: there if there in pages else None for id, there in now.items()}


def gone_page(desk: Desk, id: str) -> Gone:
    job = desk.job
    entry = next((gone for gone in job.removed if gone.id == id), None)
    see = entry.see if entry and entry.see in {*desk.tree.devices, *desk.tree.outlets} else None
    return Gone(id, desk.words.rich("gone.heading", id=Tag(id)), entry.note or "" if entry else "",
                spot(desk, see) if see else None, desk.words.rich("gone.say", id=Tag(id)))


def addresses(desk: Desk) -> tuple[dict[str, str], ...]:
    """Every printed address that must stay reachable: its id, its page below the output folder, the day of printing."""
    job = desk.job
    rows: dict[str, dict[str, str]] = {}
    for label in job.printed:
        if label.holds and is_address(label.holds) and (parts := split_address(job, label.holds)):
            rows.setdefault(label.holds, {"id": label.id, "url": label.holds, "page": f"site/{parts[1]}index.html",
                                          "printed": label.date.isoformat()})
    return tuple(rows.values())
