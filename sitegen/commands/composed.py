"""Takes the report and a theme; gives the whole binder, which `bind`, `press` and `compare` work from."""

from __future__ import annotations

from ..binder.compose import compose
from ..binder.site.records import Binder
from ..protection.examine import Report
from ..publish.theme import Theme


def compose_all(report: Report, theme: Theme, draft: bool = False) -> Binder:
    """The binder in every language of the job."""
    first, *further = report.job.file.languages
    return compose(report, theme.words(first), draft, [theme.words(language) for language in further])
