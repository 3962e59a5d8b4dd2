"""The paper as it comes out: printed by Chromium, read back by poppler, painted, and what holds of every leaf."""

import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from sitegen.binder.compose import compose
from sitegen.binder.desk.words import Words
from sitegen.binder.paper.records import PrintBinder
from sitegen.job.records import Job
from sitegen.protection.examine import examine
from sitegen.publish.drawing.svg import picture_of
from sitegen.publish.html import render_pages
from sitegen.publish.paper.house import Leaves, lay_out
from sitegen.publish.paper.sizes import Paper, print_style
from sitegen.publish.theme import open_theme

SIZES = {"Letter": (612.0, 792.0), "A4": (595.3, 841.9)}     # pt: 8.5 x 11 in; ISO 216, 210 x 297 mm
FOLDED = str.maketrans({"\u00a0": " ", "\ufb00": "ff", "\ufb01": "fi", "\ufb02": "fl", "\ufb03": "ffi"})


@dataclass(frozen=True)
class Print:
    """The binder on paper in one language, and the printed one: where its file lies and the text of every page."""

    words: Words
    data: PrintBinder
    layout: Leaves
    html: Path
    main: str       # where the main switch is
    size: str = ""
    texts: tuple[str, ...] = ()

    @property
    def pdf(self) -> Path:
        return self.html.with_name(f"{self.html.stem}-{self.size}.pdf")

    @property
    def large(self) -> Path:
        """The large print of the same language."""
        return self.html.with_name(self.html.name.replace("binder", "large-print"))


def printed(chromium, html: Path, size: str) -> list[str]:
    """The text of every page, blanks folded; the PDF lies beside."""
    path = html.with_name(f"{html.stem}-{size}.pdf")
    page = chromium.new_page()
    page.goto(html.as_uri())
    page.pdf(path=path, format=size)
    page.close()
    texts = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, check=True).stdout.decode().split("\f")[:-1]
    pages = PdfReader(path).pages
    assert len(pages) == len(texts)
    for one in pages:
        assert sorted(one.mediabox[2:]) == pytest.approx(SIZES[size], abs=1.0)
    return [plain(text) for text in texts]


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.translate(FOLDED)).strip()


def squeezed(text: str) -> str:
    """Without blanks: a line may break anywhere."""
    return re.sub(r"\s", "", text.translate(FOLDED))


def write(job: Job, folder: Path, draft: bool = False) -> dict[str, Print]:
    """The print-outs of a job; language -> the binder and its layout."""
    theme = open_theme()
    first, *more = job.file.languages
    binder = compose(examine(job), theme.words(first), draft, [theme.words(language) for language in more])
    for path, data in render_pages(binder, theme):
        if path.startswith("print/"):
            (folder / Path(path).name).write_bytes(data)
    found = {}
    for edition in binder.editions:
        [page] = [page for page in edition.pages if page.template == "paper.html.j2"]
        leaves = lay_out(page.data, Paper(edition.frame, edition.words, print_style(theme)[0]))
        found[edition.words.language] = Print(edition.words, page.data, leaves, folder / Path(page.path).name, edition.frame.main)
    return found


def page_picture(pdf: Path, number: int, dots: int, colour: bool = False) -> Image.Image:
    """One page as poppler paints it, `dots` an inch."""
    name = pdf.with_name(f"{pdf.stem}-{number}-{dots}")
    subprocess.run(["pdftoppm", "-r", str(dots), *([] if colour else ["-gray"]), "-f", str(number), "-l", str(number),
                    "-singlefile", pdf, name], check=True)
    with Image.open(name.with_suffix(".ppm" if colour else ".pgm")) as picture:
        return picture.copy()


def end_of_front(sheet, side, words) -> str:
    """The last words of a front."""
    if not side.others or side.rows < len(sheet.off) or side.cases < len(sheet.place.answer.cases):
        return words.text("print.continued")
    return sheet.not_on[-1][1] if sheet.not_on else sheet.not_seen[-1] if sheet.not_seen else sheet.off[-1].place


def leaves_are_whole(paper: Print):
    """Every front on one odd page from its headline to its last words, the rest of its list overleaf, its back last."""
    words, layout, texts = paper.words, paper.layout, [squeezed(text) for text in paper.texts]
    starts = (*layout.pages, None)
    still, is_record = squeezed(words.text("cases.heading")), squeezed(words.text("frame.not_inspection"))
    for index, sheet in enumerate(paper.data.sheets):
        side, laid, number = layout.sides[index], layout.backs[index], starts[index]
        front, back = texts[number - 1], texts[number + laid.between]
        for place, case in enumerate(sheet.place.answer.cases):
            assert squeezed(case.title.plain) in texts[number - 1 if place < side.cases else number], (sheet.place.id, case.title.plain)
        assert number % 2 == 1 and starts[index + 1] in (None, number + laid.pages)
        assert squeezed(sheet.place.answer.headline.plain) in front, sheet.place.id
        assert still in front and squeezed(end_of_front(sheet, side, words)) in front, sheet.place.id
        for place, row in enumerate(sheet.off):
            assert squeezed(row.place) in texts[number - 1 if place < side.rows else number + laid.cases], row.id
        assert squeezed(sheet.place.monthly.heading.plain) in back
        assert is_record in back and squeezed(sheet.place.dated) in back
        assert squeezed(sheet.feeds[0]) in back
        drawings_stand_on_pages(sheet, laid, number, texts)
    assert sum(still in text for text in texts) == len(paper.data.sheets)


def drawings_stand_on_pages(sheet, laid, front, texts):
    """Every drawing whole on its page: heading and every word of it, or the paragraph that says the same."""
    spreads = [(*spread.left, *spread.right) for spread in laid.apart]
    pages = {front + laid.between: sheet.place.drawings.scenes} if laid.drawn \
        else {front + laid.cases + index: scenes for index, scenes in enumerate(spreads)}
    assert sum(map(len, pages.values())) == len(sheet.place.drawings.scenes), sheet.place.id
    for page, scenes in pages.items():
        for scene in scenes:
            picture = picture_of(scene)
            for said in (scene.heading, *([word.text for word in picture.words] if picture else [scene.says])):
                assert squeezed(said) in texts[page], (sheet.place.id, said)


WHOLE = """() => {
    const box = e => e.getBoundingClientRect(), deep = (panel, side) => Math.max(...[...panel.querySelectorAll('*')].map(e => box(e)[side]));
    return {panels: [...document.querySelectorAll('.panel')].map(p => [box(p).width, deep(p, 'right') - box(p).left,
                deep(p, 'bottom') - box(p.parentElement).top].map(x => x * .75)),
            split: [...document.querySelectorAll('.case, .note')].filter(e => e.getClientRects().length !== 1).map(e => e.textContent.slice(0, 60)),
            numbers: [...document.querySelectorAll('.number, .dial')].filter(e => e.getClientRects().length !== 1).map(e => e.textContent)}; }"""


def nothing_is_split(chromium, html):
    """As set on A4, the narrower: every panel of the folded sheet holds its words, cut to 5.5 x 8.5 in. and on A4 (ISO 216, 210 mm
    high) with its margins; no case stands in two columns, no phone number on two lines."""
    page = chromium.new_page(viewport={"width": int(500 / 0.75), "height": 900})
    page.emulate_media(media="print")
    page.goto(html.as_uri())
    found = page.evaluate(WHOLE)
    page.close()
    assert found["panels"] and not found["split"] and not found["numbers"]
    for width, right, bottom in found["panels"]:
        assert width <= 5.5 * 72 - 30 and right <= width + 1 and bottom <= min(8.5 * 72, 210 / 25.4 * 72) - 46
