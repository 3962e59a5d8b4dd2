"""Takes the report and a theme; gives the whole binder, which `bind`, `press` and `compare` work from, or its labels alone."""

from __future__ import annotations

from ..binder.compose import compose
from ..binder.desk import Desk
from ..binder.labels.compose import compose_labels
from ..binder.labels.records import LabelSet
from ..binder.site.records import Binder
from ..protection.examine import Report
from ..publish.theme import Theme


def compose_all(report: Report, theme: Theme, draft: bool = False) -> Binder:
    """The binder in every language of the job."""
    first, *further = report.job.file.languages
    return compose(report, theme.words(first), draft, [theme.words(language) for language in further])


def all_labels(report: Report, theme: Theme) -> LabelSet:
    """What `check` holds printed labels against."""
    first, *further = report.job.file.languages
    return compose_labels(Desk(report, theme.words(first)), [Desk(report, theme.words(language), language) for language in further])
