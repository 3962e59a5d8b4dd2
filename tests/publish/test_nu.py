"""Every page, of the site and of the paper, is sound HTML for the Nu checker of the W3C's validator."""

import shutil
import subprocess
from pathlib import Path

import pytest
from house import ROOT
from publish.kinds import of_every_kind

pytestmark = pytest.mark.thorough

CHECKER = ROOT / ".venv" / "nu" / "node_modules" / "vnu-jar" / "build" / "dist" / "vnu.jar"

# A property of CSS Fill and Stroke Level 3 that its CSS part does not know; every browser in use does.
UNKNOWN = r".*paint-order.*"


def complaints(*places: Path) -> str:
    """What the checker says, warnings included. A machine without it fails here, it does not skip."""
    assert shutil.which("java") and CHECKER.is_file(), "no Nu checker on this machine; `bash .ci/test` installs it"
    told = subprocess.run(["java", "-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-Xss4m", "-jar", str(CHECKER), "--Werror", "--skip-non-html",
                           "--filterpattern", UNKNOWN, *map(str, places)], capture_output=True, text=True)
    return told.stderr + told.stdout


def test_it_finds_what_is_wrong(tmp_path):
    """The checker itself: an id that stands twice, and a list item without its list."""
    (tmp_path / "bad.html").write_text('<!doctype html><html lang="en"><title>t</title><p id="a"><p id="a"><div><li>x</li></div>')
    told = complaints(tmp_path)
    assert "Duplicate ID" in told and "li" in told


def test_nothing_is_wrong_on_any_page(bound):
    """All of the paper; of the site, pages that together hold every kind of element in every kind of place, and every fifth."""
    pages = sorted((bound / "site").rglob("*.html"))
    assert complaints(bound / "print", *dict.fromkeys([*of_every_kind(pages), *pages[::5]])) == ""
