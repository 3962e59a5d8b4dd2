"""Takes the proof; gives what printed labels ask of the job: a label on a wall cannot be changed, so the job must not break it."""

from __future__ import annotations

from collections.abc import Iterator

from ...job.labels.ledger import FILE as LEDGER
from ...job.labels.printed import ON_WALLS, is_address, latest, now_called, split_address, stands_at
from ...job.records import Printed
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, place


def printed_host(proof: Proof) -> Iterator[Finding]:
    """Labels whose codes lead to a host that the job no longer names."""
    job = proof.tree.job
    if any(id != job.file.id for id, where in job.files_of if where.file == LEDGER):
        return      # the labels of another house: said as such
    lost = [label for label in job.printed if is_address(label.holds) and split_address(job, label.holds or "") is None]
    if lost:
        ids = tuple(dict.fromkeys(label.id for label in lost))
        old = _base(lost[0])
        yield Finding("printed-host", "stop", lost[0].where, (),
                      f"{_count(lost)} printed with another address ({lost[0].holds}). Go back to `base_url: {old}`; or have "
                      f"that host lead on, path by path, to the new one, try one label with a phone, and write "
                      f"`forwarded: {old}` in job.yaml. ({both(ids[:5])}{' and more' if len(ids) > 5 else ''})")


def _count(labels: list[Printed]) -> str:
    return f"{len(labels)} labels were" if len(labels) > 1 else "1 label was"


def _base(label: Printed) -> str:
    text = (label.holds or "").rstrip("/")
    return text if label.purpose == "door" else text.removesuffix(f"/{label.id}")


def printed_id(proof: Proof) -> Iterator[Finding]:
    """An id that hangs on a wall and now belongs to another thing."""
    job, tree = proof.tree.job, proof.tree
    for (id, purpose, language), label in latest(job).items():
        if language:     # its twin in the first language says the same
            continue
        if purpose in ON_WALLS and id in job.panel:
            yield Finding("printed-id", "stop", label.where, (),
                          f"{id} is a panel, and a label of {day(label.date)} gives this id to what stood here: {label.place}. "
                          f"Give the panel another id.")
        if purpose not in ON_WALLS or now_called(job, id) != id:
            continue
        own = (job.point.get(id) or job.breaker[id]).was
        other = next((one for one in (*job.point, *job.breaker) if one != id and stands_at(job, one) == label.place), None)
        if purpose == "device" and not tree.kind(id).opens:
            yield Finding("printed-id", "stop", label.where, (id,),
                          f"{place(job, id)} has no button, but its label of {day(label.date)} says that it has one. An id is "
                          f"never given to another thing: write a new one here, and {id} under `removed` in the map.")
        elif label.place in ("", stands_at(job, id)):
            continue
        elif other:
            yield Finding("printed-id", "stop", label.where, (id, other),
                          f"{place(job, id)} had its label printed on {day(label.date)} for the place where {other} stands now: "
                          f"{label.place}. Names exchanged: change them back. Another thing stands there: give the thing with "
                          f"the id {id} a new id, and write `was: {id}` in the entry of {other}.")
        elif id in own:
            yield Finding("printed-anew", "fix", label.where, (id,),
                          f"The label of {place(job, id)} still speaks of another place: {label.place}. Print it again with "
                          f"`sitegen press`, and take the old one off; then `was: {id}` may go.")
        else:
            yield Finding("printed-id", "stop", label.where, (id,),
                          f"{place(job, id)} had its label printed on {day(label.date)} for another place: {label.place}. The "
                          f"same thing, moved or described anew: write `was: {id}` in its entry, and print its label again. "
                          f"Another thing: give it a new id, and write {id} under `removed` in the map.")


def printed_gone(proof: Proof) -> Iterator[Finding]:
    """An id that hangs on a wall and that the map does not know any more."""
    job = proof.tree.job
    removed = {gone.id for gone in job.removed}
    for (id, purpose, language), label in latest(job).items():
        if not language and purpose in ON_WALLS and id not in {*removed, *job.panel} and now_called(job, id) is None:
            yield Finding("printed-gone", "fix", label.where, (),
                          f"{id} has a label ({label.place}, {day(label.date)}) and is not on the map any more. Its old address "
                          f"says so and leads to the list of all outlets. Renamed: write `was: {id}` in the entry of its new "
                          f"id. Taken out: write `- {{id: {id}, note: what became of it}}` under `removed` in the map.")
