"""What all tests share: jobs, the example's binder, a browser, and how much to try.

SITEGEN_HOUSES says how many random houses (default 100). With SITEGEN_QUICK set few houses and examples are tried, and
tests marked `browser` or `thorough` are left out: what `bash .ci/quick` runs.
"""

from __future__ import annotations

import fcntl
import gc
import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import hypothesis
import pytest

QUICK = bool(os.environ.get("SITEGEN_QUICK"))
gc.set_threshold(200_000, 50, 100)  # thousands of houses and little garbage: by default a seventh of the time went into looking for it

# A slow or busy machine fails no property; how long things take is for the benchmarks.
# Under CI the examples are the same every time; at a desk they are new ones.
hypothesis.settings.register_profile("steady", deadline=None, print_blob=True, derandomize=bool(os.environ.get("CI")),
                                     max_examples=10 if QUICK else 100)
hypothesis.settings.load_profile("steady")

sys.path.insert(0, str(Path(__file__).resolve().parent))

from house import READING, ROOT, small_job  # noqa: E402

from sitegen.errors import JobUnreadable  # noqa: E402
from sitegen.job import read_job  # noqa: E402
from sitegen.job.records import Job  # noqa: E402


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What needs the whole example's binder takes long."""
    for item in items:
        if "bound" in getattr(item, "fixturenames", ()):
            item.add_marker("thorough")


@pytest.fixture(scope="session")
def houses() -> int:
    return int(os.environ.get("SITEGEN_HOUSES", "10" if QUICK else "100"))


@pytest.fixture(scope="session")
def example() -> Path:
    return ROOT / "example_job"


@pytest.fixture(scope="session")
def bound(example, tmp_path_factory) -> Path:
    """The example's binder, freshly written, once for all workers of a run."""
    from sitegen.cli import main

    alone = "PYTEST_XDIST_WORKER" not in os.environ
    out = (tmp_path_factory.mktemp("bound") if alone else tmp_path_factory.getbasetemp().parent) / "binder"
    with out.with_name("binder.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        assert out.exists() or main(["bind", str(example), "--out", str(out)]) == 0
    return out


@pytest.fixture(scope="session")
def chromium():
    """Headless Chromium; a machine without it fails here, it does not skip."""
    from playwright.sync_api import sync_playwright

    path = shutil.which("chromium")
    assert path, "no chromium on this machine; `bash .ci/test` installs it"
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A small job folder that is ready."""
    return small_job(tmp_path / "job")


NAMES = {"job": "job.yaml", "map": "protection_map.yaml", "trips": "trip_tests.csv"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A sound job folder."""
    return Path(shutil.copytree(READING / "sound", tmp_path / "job"))


@pytest.fixture
def old_house() -> Job:
    """Subpanels, a shared breaker and neutral, halves, an unknown feed, two languages, marks for "as above"."""
    return read_job(READING / "old_house")


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
