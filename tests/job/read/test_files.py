"""What is read of a job folder: nothing outside it, nothing too large, nothing that turns or hides the text around it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from house import ROOT

from sitegen.errors import JobUnreadable
from sitegen.job import read_job
from sitegen.job.read.limits import CELL, CHAIN, ENTRIES, FILE, LIMITS, NOTE, NOTES, ROWS, SERIES, TEXT, Limit

DEVICE = "      - {{id: G{0}, is: gfci receptacle, room: Bath, at: place {0}, fed_from: {1}}}\n"


def faults_of(folder: Path) -> list[str]:
    with pytest.raises(JobUnreadable) as caught:
        read_job(folder)
    return [str(fault) for fault in caught.value.faults]


def chain(length: int) -> str:
    return "".join(DEVICE.format(at, f"G{at - 1} load" if at else "B7") for at in range(length))


@pytest.mark.parametrize("name", ["job.yaml", "protection_map.yaml", "trip_tests.csv"])
def test_a_link_out_of_the_folder_is_not_followed(folder: Path, tmp_path: Path, name: str) -> None:
    (folder / name).rename(tmp_path / "elsewhere")
    (folder / name).symlink_to(tmp_path / "elsewhere")
    assert faults_of(folder) == [f"{name}:1: `{name}` is a link that leads out of the job folder; expected files that lie in the "
                                 "folder. Put a copy of the file in its place."]


def test_no_note_and_no_photo_comes_from_outside(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "gate.md").write_text("The gate code is 4471.")
    (folder / "notes").mkdir(exist_ok=True)
    (folder / "notes" / "care.md").symlink_to("../../gate.md")
    (folder / "photos" / "k1.jpg").rename(tmp_path / "k1.jpg")
    (folder / "photos" / "k1.jpg").symlink_to(tmp_path / "k1.jpg")
    said = faults_of(folder)
    assert said[0].startswith("notes/care.md:1: `notes/care.md` is a link that leads out of the job folder")
    assert "there is no `k1.jpg` in photos/" in said[1] and len(said) == 2


def test_links_within_the_folder_and_a_folder_that_is_one_are_followed(folder: Path, tmp_path: Path) -> None:
    (folder / "trip_tests.csv").rename(folder / "walk.csv")
    (folder / "trip_tests.csv").symlink_to("walk.csv")
    (tmp_path / "job-link").symlink_to(folder)
    assert read_job(tmp_path / "job-link") == read_job(folder)


def test_links_in_a_circle_are_a_fault(folder: Path) -> None:
    (folder / "job.yaml").unlink()
    (folder / "job.yaml").symlink_to("job.yaml")
    assert any("job.yaml:1: job.yaml cannot be opened" in said for said in faults_of(folder))


@pytest.mark.parametrize("sign", ["\u202e", "\u2066", "\x85", "\x1b"])
def test_no_sign_that_turns_or_breaks_the_text_is_read(faults: Callable[..., list[str]], folder: Path, sign: str) -> None:
    """Unicode Technical Report 36: marks that override the order of text (from memory); also as an escape, also in a key."""
    text = (folder / "job.yaml").read_text("utf-8")
    number = f"a control character (U+{ord(sign):04X})"
    assert any(number in said for said in faults(job=text.replace("phone:", f"fax: x{sign}\n  phone:", 1)))
    escaped = f'"\\u{ord(sign):04X}x"'
    assert any(number in said for said in faults(job=text + f"private: {{{escaped}: 4471}}\n"))
    assert any(number in said for said in faults(job=text + f"private: {{gate: {escaped}}}\n"))


def test_a_fault_is_one_line(faults: Callable[..., list[str]]) -> None:
    """A cell in quotes may hold line ends."""
    [said] = faults(trips='date,outlet,pressed,tripped\n2026-05-12,"K1\nK2\nK9",device,K1\n')
    assert "\n" not in said and said.startswith("trip_tests.csv:2: ")


# What holds one more than its limit, and the words of its fault.
def _beyond(folder: Path, limit: Limit) -> str:
    return f"{limit.most + 1:,} {limit.of}; expected at most {limit.most:,}."


@pytest.mark.parametrize(("limit", "name", "text"), [
    (FILE, "trip_tests.csv", "#" * (FILE.most + 1)),
    (TEXT, "job.yaml", "id: a\ntitle: " + "x" * (TEXT.most + 1) + "\n"),
    (CELL, "trip_tests.csv", "date,outlet,pressed,tripped,note\n2026-05-12,K1,device,K1," + "x" * (CELL.most + 1) + "\n"),
    (ROWS, "trip_tests.csv", "date,outlet,pressed,tripped\n" + "\n" * (ROWS.most - 1) + "2026-05-12,K1,device,K1\n"),
    (ENTRIES, "protection_map.yaml", "panels:\n" + "  - {}\n" * (ENTRIES.most + 1) + "circuits: []\n"),
    (NOTE, "notes/long.md", "x" * (NOTE.most + 1)),
], ids=lambda value: value.of if isinstance(value, Limit) else "")
def test_what_is_too_large_is_told_by_its_line(folder: Path, limit: Limit, name: str, text: str) -> None:
    (folder / "notes").mkdir(exist_ok=True)
    (folder / name).write_text(text, "utf-8")
    assert any(said.startswith(f"{name}:") and _beyond(folder, limit) in said for said in faults_of(folder)), faults_of(folder)[:3]


def test_a_chain_of_devices_has_an_end(faults: Callable[..., list[str]], folder: Path) -> None:
    text = (folder / "protection_map.yaml").read_text("utf-8")
    assert faults(map=text + chain(SERIES.most)) == []
    [said] = faults(map=text + chain(2900))
    assert f"{_beyond(folder, SERIES)} Check `fed_from`" in said


def test_a_chain_of_points_has_an_end(faults: Callable[..., list[str]], folder: Path) -> None:
    text, plain = (folder / "protection_map.yaml").read_text("utf-8"), chain(CHAIN.most + 1).replace(" load", "").replace("gfci ", "")
    assert faults(map=text + "".join(plain.splitlines(keepends=True)[:CHAIN.most])) == []
    [said] = faults(map=text + plain)
    assert _beyond(folder, CHAIN).replace("entries", "points") in said


def test_near_ids_are_sought_a_few_times_only(faults: Callable[..., list[str]], folder: Path) -> None:
    text = (folder / "protection_map.yaml").read_text("utf-8")
    said = faults(map=text + "".join(DEVICE.format(at, f"Z{at}") for at in range(200)))
    assert len(said) == 200 and sum("Did you mean" in one for one in said) <= 50


def test_a_loop_of_thousands_is_one_short_line(faults: Callable[..., list[str]], folder: Path) -> None:
    text = (folder / "protection_map.yaml").read_text("utf-8")
    looped = chain(2000).replace("fed_from: B7}", "fed_from: G1999 load}")
    [said] = [said for said in faults(map=text + looped) if "a loop" in said]
    assert len(said) < 400 and "and 1992 more" in said


def test_many_notes_are_too_many(folder: Path) -> None:
    (folder / "notes").mkdir(exist_ok=True)
    for at in range(NOTES.most + 1):
        (folder / "notes" / f"n{at}.md").write_text("x")
    assert any(_beyond(folder, NOTES) in said for said in faults_of(folder))


def test_the_readme_has_every_limit() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    for limit in LIMITS:
        assert f"| {limit.most:,} {limit.of} | {limit.why} |" in text
