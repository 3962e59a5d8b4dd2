"""What all tests share: the example job, and how many random houses to try (SITEGEN_HOUSES, default 100)."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(Path(__file__).resolve().parent))


@pytest.fixture(scope="session")
def houses() -> int:
    return int(os.environ.get("SITEGEN_HOUSES", "100"))


@pytest.fixture(scope="session")
def example() -> Path:
    return ROOT / "example_job"
