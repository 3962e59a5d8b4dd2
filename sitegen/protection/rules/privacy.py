"""Takes the proof; gives what should not stand on public pages."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ...errors import Where
from ...job.records import Job
from ..finding import Finding
from ..proof import Proof

NAME = 4      # letters: a shorter name may be a word by chance
SHORTEST = 6  # letters: a shorter private text may stand somewhere by chance


def private_in_public(proof: Proof) -> Iterator[Finding]:
    """The street address or a private text inside a text of the site. Those are for paper alone."""
    job = proof.tree.job
    address = job.file.home.get("address", "")
    secrets = {text for text in (address, address.partition(",")[0], *job.file.private.values()) if len(text) >= SHORTEST}
    for name, text, where in _public(job):
        if any(secret.casefold() in text.casefold() for secret in secrets):
            yield Finding("private-in-public", "stop", where, (),
                          f"`{name}` holds the address or a private text, and it stands on pages that anyone can read. Take "
                          f"it out there; on paper it is printed from `home` and `private`.")


def _public(job: Job) -> Iterator[tuple[str, str, Where]]:
    """Every text of the job that stands on the site: what it is, the text, its line."""
    yield from (("title", job.file.title, job.file.where), ("id", job.file.id, job.file.where))
    yield from (("punch_list", text, job.file.where) for text in job.file.punch_list)
    yield from ((f"notes/{note.name}.md", note.text, note.where) for note in job.notes)
    for circuit in job.circuits:
        yield from (("serves", circuit.serves, circuit.where), ("note", circuit.note or "", circuit.where))
    for point in job.points:
        texts = (point.room, point.at, point.use, point.looks, point.height, point.behind, point.not_proved, point.box, point.note)
        yield from ((point.id, text, point.where) for text in texts if text)
    yield from (("note", row.note, row.where) for row in job.tests if row.note)


def owner_named(proof: Proof) -> Iterator[Finding]:
    """The name of the people who live there, inside a text of the site: every word of `home: name` with a capital."""
    job = proof.tree.job
    names = {word for word in re.findall(r"\w+", job.file.home.get("name", "")) if word[0].isupper() and len(word) >= NAME}
    for what, text, where in _public(job):
        for name in sorted(names & set(re.findall(r"\w+", text))):
            yield Finding("owner-named", "fix", where, (),
                          f"`{what}` names the people of the house ({name}), and it stands on pages that anyone can read. Write "
                          f"`the owner` there; on paper their name is printed from `home`.")
