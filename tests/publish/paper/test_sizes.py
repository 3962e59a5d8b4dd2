"""The sizes of paper stand once, at the top of print.css: the page and what is worked out for it take them from there."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from sitegen.binder.compose import compose
from sitegen.binder.paper.records import PrintBinder
from sitegen.errors import ThemeError
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.paper.blocks import columns, pack
from sitegen.publish.paper.house import lay_out
from sitegen.publish.paper.sizes import Paper, Sizes, print_style
from sitegen.publish.theme import Theme, open_theme

pytestmark = pytest.mark.thorough

LATER = {"title", "draft", "firm", "made", "fold"}     # texts of one print-out, which style.py writes


class Seen(Sizes):
    """Notes what is asked for."""

    def __init__(self, sizes: Sizes) -> None:
        super().__init__(sizes)
        self.names: set[str] = set()

    def __getitem__(self, name: str) -> float:
        self.names.add(name)
        return super().__getitem__(name)


@pytest.fixture
def theme(tmp_path: Path) -> Theme:
    return Theme(Path(shutil.copytree(open_theme().folder, tmp_path / "own")))


def test_every_size_is_set_in_and_worked_with(example):
    theme = open_theme()
    sizes, style = print_style(theme)
    asked = set(re.findall(r"var\(--([\w-]+)\)", theme.style("print")))
    assert asked == set(sizes) | LATER
    assert set(re.findall(r"var\(--([\w-]+)\)", style)) == LATER and ":root" not in style
    report, words = examine(read_job(example)), theme.words("en")
    [data] = [page.data for page in compose(report, words).pages if page.template == "paper.html.j2"]
    assert isinstance(data, PrintBinder)
    seen = Seen(sizes)
    paper = Paper(compose(report, words).frame, words, seen)
    lay_out(data, paper)
    assert paper.tight.tight and seen.names == set(sizes)


def test_a_size_changed_there_changes_what_fits(example, theme):
    sheet = theme.folder / "style" / "print.css"
    sheet.write_text(sheet.read_text("utf-8").replace("--fold-press: 26pt", "--fold-press: 60pt"), "utf-8")
    binder = compose(examine(read_job(example)), theme.words("en"))
    [data] = [page.data for page in binder.pages if page.template == "paper.html.j2"]
    sheets = [len(lay_out(data, Paper(binder.frame, binder.words, print_style(one)[0])).folded) for one in (open_theme(), theme)]
    assert sheets[1] > sheets[0]


@pytest.mark.parametrize("old, new, says", [
    ("--fold-press: 26pt;", "", "style/print.css has no size `--fold-press` in the `:root` at its top; add it."),
    ("--fold-press: 26pt;", "--fold-press: 2em;",
     "style/print.css has `--fold-press: 2em`; expected a number with pt, mm or in, or alone.")])
def test_a_size_that_is_missing_or_no_length_is_told(theme, old, new, says):
    sheet = theme.folder / "style" / "print.css"
    sheet.write_text(sheet.read_text("utf-8").replace(old, new), "utf-8")
    with pytest.raises(ThemeError) as told:
        print_style(theme)[0]["fold-press"]
    assert str(told.value) == says


def test_a_page_between_its_margins():
    """ISO 216: A4 is 210 mm wide; ANSI/ASME Y14.1: Letter is 11 in high."""
    sizes, _ = print_style(open_theme())
    paper = Paper(None, None, replace_sizes(sizes, inner=0, outer=0, top=0, bottom=0))
    assert paper.wide == int(210 / 25.4 * 72 - 1.5) and paper.high == 11 * 72 - 15


def replace_sizes(sizes: Sizes, **others: float) -> Sizes:
    return Sizes({**sizes, **others})


def test_things_are_packed_in_their_order():
    same = lambda thing, before: float(thing)   # noqa: E731
    assert pack([5, 4, 3, 2], same, lambda page: 9) == [[5, 4], [3, 2]]
    assert pack([20, 1], same, lambda page: 9) == [[20], [1]]               # too high for any page: one of its own
    assert pack([6, 3], same, lambda page: 5 if page < 2 else 9) == [[], [], [6, 3]]
    assert pack([], same, lambda page: 9) == [[]]
    assert pack([3, 3, 3], lambda thing, before: 3 + (2 if before is None else 0), lambda page: 9) == [[3, 3], [3]]


def test_blocks_in_two_columns_keep_their_order():
    assert columns([3, 1, 2, 2]) == 4 and columns([]) == 0 and columns([5]) == 5
