"""Takes what became of many jobs; writes the contractor's list of them, beside their binders and in none of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from ...errors import CallError
from ...publish.folder import replace_file
from ...publish.templates import templates
from ...publish.theme import POLICY, Theme, content_hash

MOST_TOLD = 5


@dataclass(frozen=True, slots=True)
class JobRow:
    """One job of the list."""

    id: str
    title: str
    folder: str
    ready: bool
    state: str                  # in a word or two
    missing: tuple[str, ...]    # what stands against it, a sentence each
    link: str                   # to its binder, from the list; "" where none was written


def write_jobs(rows: Sequence[JobRow], theme: Theme, out: Path) -> None:
    """CallError where the list cannot be written."""
    style = theme.style("jobs")
    html = templates(theme).get_template("jobs.html.j2").render(
        ready=[row for row in rows if row.ready], others=[row for row in rows if not row.ready], most=MOST_TOLD, style=Markup(style), policy=POLICY.format(hash=content_hash(style)))
    try:
        out.parent.mkdir(parents=True, exist_ok=True)    # no binder may have been written
        replace_file(out, "".join(f"{line.strip()}\n" for line in html.splitlines() if line.strip()).encode())
    except OSError as error:
        raise CallError(f"the list of jobs cannot be written to {out}: {error.strerror or error}; the binders are.") from None
