"""The code as two other readers see it: ruff looks for slips, mypy for what does not fit together."""

import subprocess
import sys

import pytest
from house import ROOT


def told_by(*words):
    told = subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True)
    return told.stdout + told.stderr


def test_ruff_finds_nothing():
    assert told_by("ruff", "check", "sitegen", "tests") == "All checks passed!\n"


@pytest.mark.thorough
def test_mypy_finds_nothing_in_strict_mode():
    modules = len(list((ROOT / "sitegen").rglob("*.py")))
    assert told_by("mypy", "--strict", "sitegen") == f"Success: no issues found in {modules} source files\n"
