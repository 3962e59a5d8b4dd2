"""What all tests share: the example job, and how many random houses to try (SITEGEN_HOUSES, default 100)."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import hypothesis
import pytest

# A slow or busy machine fails no property; how long things take is for the benchmarks.
# Under CI the examples are the same every time; at a desk they are new ones.
hypothesis.settings.register_profile("steady", deadline=None, print_blob=True, derandomize=bool(os.environ.get("CI")))
hypothesis.settings.load_profile("steady")

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(Path(__file__).resolve().parent))


@pytest.fixture(scope="session")
def houses() -> int:
    return int(os.environ.get("SITEGEN_HOUSES", "100"))


@pytest.fixture(scope="session")
def example() -> Path:
    return ROOT / "example_job"


@pytest.fixture(scope="session")
def bound(example, tmp_path_factory) -> Path:
    """The example's binder, freshly written."""
    from sitegen.cli import main

    out = tmp_path_factory.mktemp("bound") / "binder"
    assert main(["bind", str(example), "--out", str(out)]) == 0
    return out


@pytest.fixture(scope="session")
def chromium():
    """Headless Chromium; a machine without it fails here, it does not skip."""
    import shutil

    from playwright.sync_api import sync_playwright

    path = shutil.which("chromium")
    assert path, "no chromium on this machine; `bash .ci/test` installs it"
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()
