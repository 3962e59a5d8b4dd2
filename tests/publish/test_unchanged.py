"""A second bind with nothing changed leaves the binder as it is; any change, inside or out, is seen."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from house import BASE

from sitegen.cli import main
from sitegen.publish.theme import open_theme
from sitegen.publish.unchanged import note, stamp, told_of

pytestmark = pytest.mark.thorough


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "job"))


def inodes(out: Path) -> dict[Path, tuple[int, int]]:
    return {path: (path.stat().st_ino, path.stat().st_mtime_ns) for path in [out, *out.rglob("*")]}


def test_a_second_bind_writes_nothing_and_tells_the_same(job, tmp_path, capsys):
    out, call = tmp_path / "out", ["bind", str(job), "--out", str(tmp_path / "out")]
    assert main(call) == 0
    first, before = capsys.readouterr().out.splitlines(), inodes(out)
    assert main(call) == 0
    second = capsys.readouterr().out.splitlines()
    assert inodes(out) == before
    assert second[1].startswith(f"Nothing has changed since {out} was written, and it was left as it is: ")
    assert first[0] == second[0] and first[2:] == second[2:]
    assert str(tmp_path) not in (tmp_path / ".out.made").read_text()
    page = out / "site" / "K1" / "index.html"
    whole = page.read_bytes()
    page.write_bytes(whole.replace(b"K1", b"K2"))
    assert main(call) == 0
    assert page.read_bytes() == whole


@pytest.fixture
def made(job, tmp_path) -> Path:
    """A folder that stands for a binder of this job."""
    out = tmp_path / "out"
    (out / "site").mkdir(parents=True)
    (out / "site" / "index.html").write_text("as written")
    note(out, stamp(job, open_theme()), ["told"])
    assert told_of(out, stamp(job, open_theme())) == ["told"]
    return out


@pytest.mark.parametrize("name", ["job.yaml", "protection_map.yaml", "trip_tests.csv", "visits.yaml", "printed_labels.yaml",
                                  "notes/care.md", "notes/es/care.md", "photos/K1.jpg"])
def test_a_change_in_any_file_of_the_job_is_seen(job, made, name):
    (job / name).parent.mkdir(parents=True, exist_ok=True)
    with (job / name).open("a") as file:
        file.write(" ")
    assert told_of(made, stamp(job, open_theme())) is None


def test_a_change_in_the_theme_or_the_call_is_seen(job, made, tmp_path):
    theme = replace(open_theme(), folder=Path(shutil.copytree(open_theme().folder, tmp_path / "lamplight")))
    assert told_of(made, stamp(job, theme)) == ["told"]
    (theme.folder / "style" / "site.css").write_text("body {}")
    assert told_of(made, stamp(job, theme)) is None
    assert told_of(made, stamp(job, open_theme(), "draft")) is None


@pytest.mark.parametrize("touch", [lambda out: (out / "site" / "index.html").write_text("As written"),
                                   lambda out: (out / "site" / "index.html").unlink(),
                                   lambda out: (out / "site" / "more.html").write_text(""),
                                   lambda out: (out.parent / ".out.made").write_text("{}"),
                                   lambda out: (out.parent / ".out.made").unlink(),
                                   shutil.rmtree])
def test_a_binder_that_was_touched_is_made_again(job, made, touch):
    touch(made)
    assert told_of(made, stamp(job, open_theme())) is None


def test_a_file_that_cannot_be_read_is_never_unchanged(job, made, monkeypatch):
    def refuse(path: Path) -> bytes:
        raise PermissionError
    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert stamp(job, open_theme()) == "" and told_of(made, "") is None
