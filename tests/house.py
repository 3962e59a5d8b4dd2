"""Where tests find the repository, the cases that a tradesperson could write, and the smallest job that is ready."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CASES = ROOT / "tests" / "cases"
READING = CASES / "reading"
FINDINGS = CASES / "findings"
BASE = FINDINGS / "base"    # a folder with one GFCI receptacle and what it protects, all of it shown
