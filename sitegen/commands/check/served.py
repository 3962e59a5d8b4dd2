"""Takes a built or downloaded copy of a site and the printed labels; says which printed addresses it does not serve."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from ...binder.desk.address import job_mark
from ...errors import CallError
from ...job.labels.printed import is_address, split_address
from ...job.records import Job
from ...protection.finding import Finding

_MARK = re.compile(rb'<meta name="page" content="([0-9a-f]+)/([^"]*)">')


def not_served(job: Job, folder: Path) -> Iterator[Finding]:
    """A finding for every printed address that this copy does not serve. `folder`: the site, or a binder with its site/.

    Names are compared letter by letter, as a host does. CallError: the folder holds no start page.
    """
    site = folder / "site" if (folder / "site" / "index.html").is_file() else folder
    if not (site / "index.html").is_file():
        raise CallError(f"{folder} has no index.html; --site wants the folder that the site stands in.")
    there = {path.relative_to(site).as_posix(): path for path in site.rglob("index.html")}
    seen: set[str] = set()
    for label in job.printed:
        parts = split_address(job, label.holds) if label.holds and is_address(label.holds) else None
        if parts is None or label.holds in seen:
            continue
        seen.add(label.holds or "")
        why = _why_not(job, there.get(f"{parts[1]}index.html"), parts[1].strip("/"))
        if why:
            yield Finding("not-served", "stop", label.where, (),
                          f"The address on the label of {label.id}, {label.holds}, {why}. Upload the whole folder site/ of "
                          f"the binder again, and keep capitals and small letters of its folders as they are.")


def served(job: Job, missing: int) -> str:
    """One line: how many printed addresses the copy serves."""
    count = len({label.holds for label in job.printed
                 if label.holds and is_address(label.holds) and split_address(job, label.holds)})
    if not count:
        return "No label with an address was printed yet, so this copy of the site was held against nothing."
    return f"This copy of the site serves {count - missing} of {count} printed addresses."


def _why_not(job: Job, page: Path | None, folder: str) -> str:
    """What is wrong with the page at an address; "" where it is the right one."""
    if page is None:
        return "is not in this copy of the site"
    found = _MARK.search(page.read_bytes())
    if found is None:
        return "leads to a page that is not ours"
    if found[1].decode() != job_mark(job.file.id):
        return "leads to a page of another job"
    return "" if found[2].decode() == folder else f"leads to the page of {found[2].decode() or 'the start'}"
