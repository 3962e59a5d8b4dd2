"""Takes the base address of the job; gives the addresses that codes and calendars hold, letter for letter."""

from __future__ import annotations

import hashlib

from . import Desk


def page_url(desk: Desk, id: str) -> str | None:
    """The address of a device's or outlet's page, exactly as its QR and binder.json hold it; None without a host."""
    return _below(desk, f"{id}/")


def start_url(desk: Desk) -> str | None:
    """The address of the start page, exactly as the QR at the panel holds it; None without a host."""
    return _below(desk, "")


def _below(desk: Desk, path: str) -> str | None:
    base = desk.job.file.base_url
    return f"{base}/{path}" if base else None


def job_mark(job: str) -> str:
    """What tells the pages of one job from those of another, without its name: it may be that of the people."""
    return hashlib.sha256(job.encode()).hexdigest()[:8]
