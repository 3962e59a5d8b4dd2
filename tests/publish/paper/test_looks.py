"""How the paper looks, measured in the browser: size of type, drawings, black on white, nothing split."""

import re

import pytest
from PIL import ImageChops
from publish.paper.prints import nothing_is_split, page_picture, printed
from pypdf import PdfReader

from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.browser

def test_nothing_on_paper_has_a_colour(printouts, sheets, chromium):
    """Painted in colour, every page comes out grey to the last dot: what is told is told by shape and letter."""
    files = [one.pdf for (_, size), one in printouts.items() if size == "Letter"]
    for one in sheets.values():
        printed(chromium, one.large, "Letter")
        files.append(one.large.with_name(f"{one.large.stem}-Letter.pdf"))
    for pdf in files:
        for number in range(1, len(PdfReader(pdf).pages) + 1):
            red, green, blue = page_picture(pdf, number, 30, colour=True).convert("RGB").split()
            assert not ImageChops.difference(red, green).getbbox() and not ImageChops.difference(green, blue).getbbox()
            assert red.getextrema()[0] < 128, (pdf.name, number)     # there is black on it


DRAWN = """() => [...document.querySelectorAll('.drawing')].map(drawing => {
    const box = e => { const b = e.getBoundingClientRect(); return [b.left, b.top, b.right, b.bottom].map(x => x * .75); };
    const svg = drawing.firstElementChild, sheet = box(drawing.closest('.sheet'));
    return {run: drawing.closest('.sheet').dataset.run, sheet: sheet, svg: box(svg), role: svg.getAttribute('role'),
            said: svg.getAttribute('aria-label'),
            texts: [...svg.querySelectorAll('text')].map(t => ({text: t.textContent, box: box(t),
                size: parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a * .75}))}; })"""


@pytest.mark.parametrize("name, least", [("html", 9), ("large", 18)])
def test_words_of_drawings_are_large_enough_and_inside(sheets, chromium, name, least):
    """In points, of every word of every drawing as it comes out; its sheet is as narrow as A4 and as low as Letter."""
    for one in sheets.values():
        page = chromium.new_page(viewport={"width": int(500 / 0.75), "height": 900})
        page.emulate_media(media="print")
        page.goto(getattr(one, name).as_uri())
        found = page.evaluate(DRAWN)
        page.close()
        assert {drawing["run"] for drawing in found} == {sheet.place.id for sheet in (*one.data.sheets, *(one.data.breakers if name == "large" else ()))}
        for drawing in found:
            assert drawing["role"] == "img" and len(drawing["said"]) > 20
            assert inside(drawing["svg"], drawing["sheet"], 1) and drawing["sheet"][3] - drawing["sheet"][1] <= 712
            assert drawing["texts"]
            for text in drawing["texts"]:
                assert text["size"] >= least and inside(text["box"], drawing["svg"], 3), (drawing["run"], text)


def inside(box, other, slack: float) -> bool:
    """Whether a box (left, top, right, bottom) lies in another; the box of a text has its leading with it."""
    return (box[0] >= other[0] - slack and box[1] >= other[1] - slack and box[2] <= other[2] + slack
            and box[3] <= other[3] + slack)


def test_type_is_never_too_small(sheets, chromium):
    """In points, of every word: 9 anywhere, 8 in the electrician's record, 11 on fronts and in cases, 14 on the folded sheet with its ids at 24, 18 in large print."""
    script = """() => { const found = [];
        const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        while (walk.nextNode()) { const at = walk.currentNode.parentElement;
            if (!walk.currentNode.data.trim() || at.closest('svg')) continue;
            const place = at.closest('.for-trade') ? 'trade' : at.closest('.fold') ? (at.matches('.tag') ? 'id' : 'fold') : at.closest('.large') ? 'large'
                : at.closest('.case') ? 'case' : at.closest('.front') && !at.closest('.corner, .row, .others') ? 'front' : 'any';
            found.push([place, parseFloat(getComputedStyle(at).fontSize) * .75, walk.currentNode.data]); }
        return found; }"""
    least = {"any": 9, "trade": 8, "front": 11, "case": 11, "fold": 14, "id": 24, "large": 18}
    seen = set()
    for path in (path for one in sheets.values() for path in (one.html, one.large)):
        page = chromium.new_page()
        page.emulate_media(media="print")
        page.goto(path.as_uri())
        for place, size, text in page.evaluate(script):
            seen.add(place)
            assert size >= least[place] - 0.01, (place, size, text)
        page.close()
    assert seen == set(least)


def test_nothing_is_split(sheets, chromium):
    for one in sheets.values():
        nothing_is_split(chromium, one.html)


def test_paper_is_black_on_white_and_asks_for_nothing(bound, chromium):
    """Only black and white in the style; the typeface comes with the file; no request and no message."""
    style = open_theme().style("print")
    assert set(re.findall(r"#[0-9a-fA-F]{3,8}\b", style)) == {"#000", "#fff"}
    for name in ("binder", "large-print"):
        page, asked, said = chromium.new_page(), [], []
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda message: said.append(message.text))
        page.goto((bound / "print" / f"{name}.html").as_uri())
        assert [url for url in asked if not url.startswith("data:")] == [page.url] and not said
        assert page.evaluate("[...document.fonts].filter(face => face.status == 'loaded').length") == 2
        page.close()
