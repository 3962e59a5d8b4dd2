"""Takes the labels of today; gives those that cannot be printed, each with the line of the thing that it is for."""

from __future__ import annotations

from collections.abc import Iterator

from ..binder.labels.records import LabelSet
from ..errors import LabelError
from ..job.records import Job
from ..protection.finding import Finding
from .pressed import others


def unprintable(job: Job, labels: LabelSet) -> Iterator[Finding]:
    """A letter that the typeface lacks, words or a code that no label of this stock holds."""
    found = others(job, labels)
    if not found:
        return
    from ..publish.labels.words import words_on  # setting type takes time that labels printed as they are today do not need
    for (id, *_), label in found.items():
        owner = job.point.get(id) or job.breaker.get(id) or job.panel.get(id) or job.file
        try:
            words_on(label)
        except LabelError as error:
            yield Finding("label-unprintable", "stop", owner.where, (id,) if owner is not job.file else (), str(error))


def refuse_unprintable(job: Job, labels: LabelSet) -> None:
    """Raises LabelError with every one of them."""
    found = [f"{finding.where}: {finding.says}" for finding in unprintable(job, labels)]
    if found:
        raise LabelError("\n".join(found))
