"""notes/ into the contractor's own pages."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.errors import Fault, Where
from sitegen.job.notes import read_notes
from sitegen.job.records import Job, Note


def read(folder: Path, **files: str) -> tuple[list[Note], list[str]]:
    (folder / "notes").mkdir()
    for name, text in files.items():
        (folder / "notes" / name).write_text(text)
    faults: list[Fault] = []
    return read_notes(folder, faults), [fault.met for fault in faults]


def test_pages_stand_in_the_order_of_their_file_names(old_house: Job) -> None:
    assert old_house.notes == (
        Note("care", "Care of the buttons", "```\n# in fenced text this is no heading\n```\n\n\n"
             "Press **TEST** once a month.\n", Where("notes/care.md", 1)),
        Note("left-to-do", "Left to do", "Nothing is left to do.\n", Where("notes/left-to-do.md", 1)))


@pytest.mark.parametrize(("text", "title", "rest"), [
    ("# Care\n\nText\n", "Care", "Text\n"), ("Text\n\n# Care #\nMore", "Care", "Text\n\nMore\n"),
    ("## Care\n#Care\n    # Care\n", "A page", "## Care\n#Care\n    # Care\n"),
    ("~~~\n# a\n```\n# b\n~~~\n# C#\n", "C#", "~~~\n# a\n```\n# b\n~~~\n"), ("# \nText", "A page", "# \nText\n")])
def test_the_first_heading_is_the_title_else_the_name(tmp_path: Path, text: str, title: str, rest: str) -> None:
    """What a heading and fenced text are: CommonMark 0.31.2, 4.2 and 4.5 (from memory)."""
    [note], faults = read(tmp_path, **{"a-page.md": text})
    assert not faults and (note.title, note.text) == (title, rest)


def test_hidden_files_are_a_systems_own(tmp_path: Path) -> None:
    assert read(tmp_path, **{".DS_Store": "x", "care.MD": "Text"}) == (
        [Note("care", "Care", "Text\n", Where("notes/care.MD", 1))], [])


@pytest.mark.parametrize("name", ["con.md", "a_b.md", "caf\u00e9.md", "a.b.md", "care", "care.txt", "care.md~"])
def test_a_name_that_is_none_is_a_fault(tmp_path: Path, name: str) -> None:
    assert read(tmp_path, **{name: "Text"}) == ([], [f"the file `{name}` is no page of notes"])


def test_names_that_differ_only_in_capitals_are_a_fault(tmp_path: Path) -> None:
    if (tmp_path / "care.txt").write_text("x") and (tmp_path / "CARE.TXT").exists():
        pytest.fail("this file system holds no two such names; run the tests on one that does")
    assert read(tmp_path, **{"care.md": "Text", "Care.md": "Text"})[1] == [
        "notes/Care.md has the same name in other letters"]


def test_a_file_in_place_of_the_folder_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "notes").write_text("x")
    faults: list[Fault] = []
    assert read_notes(tmp_path, faults) == [] and [fault.met for fault in faults] == ["`notes` is not a folder of the job"]


def test_no_folder_is_no_page(tmp_path: Path) -> None:
    assert read_notes(tmp_path, []) == []


def test_a_page_in_a_further_language_stands_in_a_folder_of_its_name(tmp_path: Path) -> None:
    (tmp_path / "notes" / "es").mkdir(parents=True)
    for name, text in (("care.md", "# Care\nText"), ("es/care.md", "# Cuidado\nTexto"), ("es/more.md", "Nada"), ("left.md", "x")):
        (tmp_path / "notes" / name).write_text(text)
    faults: list[Fault] = []
    care, left = read_notes(tmp_path, faults, ("en", "es"))
    assert care.others["es"].title == "Cuidado" and care.title == "Care" and not left.others
    assert [str(fault) for fault in faults] == [
        "notes/es/more.md:1: there is no notes/more.md that this page says in `es`; expected a page of the same name in notes/. "
        "Write that page, or give this one its name."]
