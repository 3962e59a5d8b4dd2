"""A job folder to write in: the sound case, with the texts of a test in place of its files."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from sitegen.job.faults import JobUnreadable
from sitegen.job.folder import read_job
from sitegen.job.records import Job

CASES = Path(__file__).parents[1] / "cases" / "reading"

NAMES = {"job": "job.yaml", "map": "protection_map.yaml", "trips": "trip_tests.csv"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A sound job folder."""
    return Path(shutil.copytree(CASES / "sound", tmp_path / "job"))


@pytest.fixture
def old_house() -> Job:
    """Subpanels, a shared breaker and neutral, halves, an unknown feed, two languages, marks for "as above"."""
    return read_job(CASES / "old_house")


@pytest.fixture
def read(folder: Path) -> Callable[..., Job]:
    """Read the sound job with other texts: read(job=..., map=..., trips=...)."""
    def with_texts(**texts: str | bytes) -> Job:
        for name, text in texts.items():
            (folder / NAMES[name]).write_bytes(text.encode() if isinstance(text, str) else text)
        return read_job(folder)
    return with_texts


@pytest.fixture
def faults(read: Callable[..., Job]) -> Callable[..., list[str]]:
    """The sentences of every fault, or an empty list: faults(map=...)."""
    def sentences(**texts: str | bytes) -> list[str]:
        try:
            read(**texts)
        except JobUnreadable as unreadable:
            return [str(fault) for fault in unreadable.faults]
        return []
    return sentences
