"""Takes the proof; gives what job.yaml and the texts of the job leave open for the pages."""

from __future__ import annotations

from collections.abc import Iterator

from ...errors import Where
from ...job.language import untranslated
from ...job.trips import FILE as TRIPS
from ..finding import Finding
from ..proof import Proof
from ..say import both


def job_file(proof: Proof) -> Iterator[Finding]:
    """What job.yaml leaves open and pages would need."""
    file = proof.tree.job.file
    if not file.contractor.get("phone"):
        yield Finding("no-phone", "fix", file.line_of("contractor.phone", "contractor"), (), "job.yaml gives no phone of the contractor, so the pages "
                      "cannot say whom to call. Write contractor: phone.")
    if file.handover is None:
        yield Finding("no-handover", "fix", file.line_of("handover"), (), "job.yaml gives no handover date. Reminders start after "
                      "the last trip test instead. Write handover as YYYY-MM-DD.")
    if file.base_url is None and file.labels.qr == "address":
        yield Finding("no-host", "know", file.line_of("base_url"), (), "job.yaml gives no base_url, so labels carry no QR code. For a house without a host `labels: {qr: text}` "
                      "puts the answer itself into the codes.")


def of_another_job(proof: Proof) -> Iterator[Finding]:
    """Trip tests, or a ledger, that name another job: what was shown in one house is shown in no other."""
    id = proof.tree.job.file.id
    for other, where in proof.tree.job.files_of:
        if other == id:
            continue
        if where.file == TRIPS:
            says, same = "Tests made in one house show nothing of another", f"write `# {id}` in this line"
        else:
            says, same = ("The labels in it hang in another house, and a label is never led on to this one",
                          f"write `id: {other}` in job.yaml again")
        yield Finding("of-another-job", "stop", where, (),
                      f"{where.file} says that it belongs to the job {other}, and this is {id}. {says}. Another house: begin it "
                      f"with `sitegen begin DIR --like JOB`, which takes the map and leaves out what was shown, and test it. "
                      f"The same house under a new id: {same}.")


def lacks_language(proof: Proof) -> Iterator[Finding]:
    """Texts that a further language of the job lacks; pages print the first language there, marked."""
    for lack in untranslated(proof.tree.job):
        id = "circuit " + lack.id if lack.what == "circuit" else lack.id
        says = f"{id} has no words in language `{lack.language}` for {both(f'`{key}`' for key in lack.keys)}. "
        if lack.what == "note":
            says = f"notes/{id}.md has no page in language `{lack.language}`. Write it as notes/{lack.language}/{id}.md."
        else:
            says += f"Write it as `{lack.keys[0]}: {{{proof.tree.job.file.languages[0]}: ..., {lack.language}: ...}}`."
        yield Finding("untranslated", "fix", lack.where, (lack.id,) if lack.what == "point" else (), says)


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
