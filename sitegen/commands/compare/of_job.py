"""Takes a job folder; gives the house that it tells of, its labels and pages as `press` and `bind` would make them."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from ...binder.compare import House
from ...job.records import Job
from ...protection.examine import Report
from ...publish.html import render_pages
from ...publish.labels.code import code_facts
from ...publish.labels.words import words_on
from ...publish.photos import Photo, make_photos
from ...publish.theme import open_theme
from .. import report_of
from ..composed import compose_all


def house_of_job(folder: Path) -> House:
    """As the folder stands, with its photos."""
    report = report_of(str(folder))
    return house_of_report(report, make_photos(report.job, folder))


def house_of_report(report: Report, photos: Mapping[str, Photo] = MappingProxyType({})) -> House:
    """A job that is not ready is shown as far as it goes, without the word DRAFT: that alone is no difference."""
    theme, job = open_theme(), report.job
    binder = compose_all(replace(report, findings=()), theme)
    labels: dict[str, list[object]] = {}
    for label in dict.fromkeys((*binder.labels.devices, *binder.labels.sheet, *binder.labels.strips)):
        code = code_facts(label, job.file.labels.dpi)
        labels.setdefault(label.id, []).append((label.purpose, words_on(label), code and code.text))
    pages = {path: hashlib.sha256(html).digest() for path, html in render_pages(binder, theme, photos)}
    return House(job.file.id, {id: _outlet(report, id) for id in report.tree.outlets}, _devices(job), _feeds(job), labels, pages,
                 {point.id: f"{point.room}, {point.at}" for point in job.points})


def _outlet(report: Report, id: str) -> dict[str, object]:
    tree = report.tree
    opens = [one for one in reversed(tree.reset_order(id)) if tree.kind(one).opens]
    return {"goes_to": opens[0] if opens else tree.breaker_of(id), "protected_by": list(report.proof.proved_by(id))}


def _devices(job: Job) -> dict[str, str]:
    breakers = {one.id: ", ".join(filter(None, (f"{one.kind.name} breaker", f"space {one.space}", f"{one.amps:g} A" if one.amps else "",
                                                f"{one.poles} poles" if one.poles > 1 else ""))) for one in job.breakers}
    return breakers | {point.id: ", ".join((point.kind.name, *(f"{key} {text}" for key, text in point.device.items())))
                       for point in job.points if point.kind.opens or point.device}


def _feeds(job: Job) -> dict[str, str]:
    return {panel.id: panel.fed_from for panel in job.panels if panel.fed_from} | {point.id: str(point.feed) for point in job.points}
