"""Commands that draw nothing start without what draws: they are asked again and again, by people who stand and wait."""

from __future__ import annotations

import subprocess
import sys

import pytest
from house import BASE, ROOT

HEAVY = {"PIL", "qrcode", "jinja2", "markdown_it"}
RUN = """import sys
from sitegen.cli import main
try: main(sys.argv[1:])
except SystemExit: pass
print("imported:", *{name.partition(".")[0] for name in sys.modules})"""


def imported(*words: str) -> set[str]:
    told = subprocess.run([sys.executable, "-c", RUN, *words], cwd=ROOT, capture_output=True, text=True, check=True)
    return set(told.stdout.rpartition("imported:")[2].split())


@pytest.mark.parametrize("words", [["--help"], ["check", str(BASE)], ["check", str(BASE), "--json"], ["trace", str(BASE), "K2"],
                                   ["check", str(ROOT / "example_job")], ["trace", str(ROOT / "example_job"), "K5"]])
def test_what_draws_is_not_imported(words):
    assert not imported(*words) & HEAVY


@pytest.mark.thorough
def test_what_draws_is_seen_when_it_is(tmp_path):
    assert HEAVY <= imported("bind", str(BASE), "--out", str(tmp_path / "out"))


def test_help_does_not_read_yaml():
    assert "yaml" not in imported("--help")
