"""Takes the proof; gives what should not stand on public pages, and rooms that are spelled in two ways."""

from __future__ import annotations

from collections.abc import Iterator

from ..job.records import Where
from .finding import Finding
from .proof import Proof
from .say import both

SHORTEST = 6  # letters: a shorter private text may stand somewhere by chance


def private_in_public(proof: Proof) -> Iterator[Finding]:
    """The street address or a private text inside a text of the site. Those are for paper alone."""
    job = proof.tree.job
    address = job.file.home.get("address", "")
    secrets = {text for text in (address, address.partition(",")[0], *job.file.private.values()) if len(text) >= SHORTEST}
    public: list[tuple[str, str, Where]] = [("title", job.file.title, job.file.where), ("id", job.file.id, job.file.where)]
    public += [("punch_list", text, job.file.where) for text in job.file.punch_list]
    public += [(f"notes/{note.name}.md", note.text, note.where) for note in job.notes]
    public += [("serves", circuit.serves, circuit.where) for circuit in job.circuits]
    for point in job.points:
        public += [(point.id, text, point.where) for text in (point.room, point.at, point.use, point.looks, point.note) if text]
    public += [("note", row.note, row.where) for row in job.tests if row.note]
    for name, text, where in public:
        if any(secret.casefold() in text.casefold() for secret in secrets):
            yield Finding("private-in-public", "stop", where, (),
                          f"`{name}` holds the address or a private text, and it stands on pages that anyone can read. Take "
                          f"it out there; on paper it is printed from `home` and `private`.")


def spelled_twice(proof: Proof) -> Iterator[Finding]:
    """One room in two spellings becomes two rooms on every page."""
    rooms: dict[str, dict[str, Where]] = {}
    for point in proof.tree.job.points:
        rooms.setdefault(" ".join(point.room.casefold().split()), {}).setdefault(point.room, point.where)
    for spellings in rooms.values():
        if len(spellings) > 1:
            where = list(spellings.values())[-1]
            yield Finding("room-spelled-twice", "fix", where, (),
                          f"One room is written {both(f'`{name}`' for name in spellings)}. Write it in one way, or it becomes "
                          f"two rooms on every page.")
