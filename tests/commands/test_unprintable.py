"""What a label cannot print is told by `check` and `bind` alike, at the line of its point."""

from __future__ import annotations

from pathlib import Path

import pytest
from house import edit

from sitegen.cli import main


def test_check_tells_it_with_its_line(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(job)]) == 0
    edit(job, "protection_map.yaml", "room: Kitchen, at: left of the sink", "room: \u05d8\u05dc\u05d0, at: left of the sink")
    capsys.readouterr()
    assert main(["check", str(job)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "is not in the typeface of the labels" in said and "protection_map.yaml:9" in said


def test_bind_and_press_end_with_every_line_and_write_nothing(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for place in ("left of the sink", "by the stove"):
        edit(job, "protection_map.yaml", f"room: Kitchen, at: {place}", f"room: \u05d8\u05dc\u05d0, at: {place}")
    for words in (["bind", str(job), "--out", str(tmp_path / "b")],
                  ["press", str(job), "--date", "2026-05-12", "--out", str(tmp_path / "p")]):
        capsys.readouterr()
        assert main(words) == 2
        said = capsys.readouterr().err
        assert "protection_map.yaml:9: " in said and "protection_map.yaml:11: " in said
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job"]
