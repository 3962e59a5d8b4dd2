"""The paper, printed by Chromium on Letter and A4 and read back by pypdf, poppler and a QR reader."""

import json
import random
import re
import subprocess
from dataclasses import replace
from pathlib import Path

import html5lib
import pytest
import zxingcpp
from binder.test_pages import NEVER
from houses import FILE, walk_through
from PIL import Image
from pypdf import PdfReader

from sitegen.binder.pages import compose
from sitegen.job import read_job
from sitegen.job.kinds import BREAKERS, POINTS
from sitegen.job.records import Breaker, Circuit, Feed, Job, Panel, Point, Where
from sitegen.protection.examine import examine
from sitegen.publish.paper_fit import lay_out
from sitegen.publish.pages import render_pages
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.browser
NS = "{http://www.w3.org/1999/xhtml}"
SIZES = {"Letter": (612.0, 792.0), "A4": (595.3, 841.9)}     # pt: 8.5 x 11 in; ISO 216, 210 x 297 mm
FOLDED = str.maketrans({"\u00a0": " ", "\ufb00": "ff", "\ufb01": "fi", "\ufb02": "fl", "\ufb03": "ffi"})


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
        assert tuple(one.mediabox[2:]) == pytest.approx(SIZES[size], abs=1.0)
    return [plain(text) for text in texts]


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.translate(FOLDED)).strip()


def squeezed(text: str) -> str:
    """Without blanks: a line may break anywhere."""
    return re.sub(r"\s", "", text.translate(FOLDED))


def write(job: Job, folder: Path, draft: bool = False):
    """The print-outs of a job; gives the binder and its layout."""
    binder = compose(examine(job), open_theme().words("en"), draft=draft)
    for path, data in render_pages(binder, open_theme()):
        if path.startswith("print/"):
            (folder / Path(path).name).write_bytes(data)
    [page] = [page for page in binder.pages if page.path == "print/binder.html"]
    return page.data, lay_out(page.data, binder.frame, binder.words)


def hard_house() -> Job:
    """Three buttons one behind the other, twenty-two outlets on the first, long words, a long name."""
    where = Where("protection_map.yaml", 1)
    room, at = "Downstairs kitchen", "left-hand counter, by the pantry door"
    points = []
    for number in range(1, 23):
        device = number in (1, 8, 15)
        kind = POINTS["gfci receptacle" if device else "receptacle"]
        feed = Feed(points[-1].id, "load" if points[-1].kind.opens else None) if points else Feed("B5")
        points.append(Point(f"KITCH-{number}", kind, "P1-5", room, f"{at}, number {number}", feed, where,
                            use="freezer" if number % 7 == 0 else "coffee maker or kettle",
                            height="about four feet from the floor", behind="behind the tall boxes of the pantry shelf"))
    file = replace(FILE, title="Whole house with garage, both baths and the outdoor kitchen by the old barn",
                   contractor={"firm": "Bramble Hollow Electric and Sons of Larkmoor", "phone": "(203) 555-0147"},
                   base_url="https://records.bramble-hollow-electric.example/homes")
    breaker = Breaker("B5", BREAKERS["afci"], "5", 20.0, 1, where)
    circuit = Circuit("P1-5", "5", "P1", "Counter", "B5", None, None, None, where)
    return walk_through(Job(file, (Panel("P1", "Garage, behind the workbench by the side door", where),), (breaker,),
                            (circuit,), tuple(points), ()), random.Random(1))


@pytest.fixture(scope="module")
def sheets(example, tmp_path_factory):
    folder = tmp_path_factory.mktemp("paper")
    return folder, *write(read_job(example), folder)


@pytest.fixture(scope="module")
def printouts(sheets, chromium):
    """Size of paper -> the text of every page of the example's binder."""
    return {size: printed(chromium, sheets[0] / "binder.html", size) for size in SIZES}


@pytest.fixture(params=SIZES)
def pages(request, printouts):
    """(size, the text of every page)."""
    return request.param, printouts[request.param]


def end_of_front(sheet, side) -> str:
    """The last words of a front."""
    if not side.others or side.rows < len(sheet.off):
        return "The list goes on overleaf."
    return sheet.not_on[-1][1] if sheet.not_on else sheet.not_seen[-1] if sheet.not_seen else sheet.off[-1].place


def leaves_are_whole(data, layout, texts):
    """Every front on one odd page from its headline to its last words, the rest of its list overleaf, its back last."""
    starts = (*layout.pages, None)
    for index, sheet in enumerate(data.sheets):
        side, back_side, number = layout.sides[index], layout.backs[index], starts[index]
        front, back = texts[number - 1], texts[number + back_side.apart]
        assert number % 2 == 1 and starts[index + 1] in (None, number + 2 + 2 * back_side.apart)
        assert squeezed(sheet.place.answer.headline.plain) in squeezed(front), sheet.place.id
        assert "Still no power?" in front and squeezed(end_of_front(sheet, side)) in squeezed(front), sheet.place.id
        for place, row in enumerate(sheet.off):
            assert squeezed(row.place) in squeezed(texts[number - 1 if place < side.rows else number]), row.id
        assert squeezed(sheet.place.monthly.heading.plain) in squeezed(back)
        assert "This is a record, not an inspection." in back and sheet.place.dated in back
        assert squeezed(sheet.feeds[0]) in squeezed(back)
    assert sum("Still no power?" in text for text in texts) == len(data.sheets)


def test_the_first_page_is_the_cupboard_sheet(pages):
    """Stop line, fire and shock, whom to call, what to press: on the first page."""
    _, texts = pages
    for words in ("No power? Start here", "Wet, hot, buzzing", "Fire, smoke, someone hurt: 911.", "Someone is being shocked",
                  "(203) 555-0147", "Other electrician:", "Press RESET on"):
        assert words in texts[0], words


def test_every_leaf_is_whole(pages, sheets):
    leaves_are_whole(sheets[1], sheets[2], pages[1])


def test_no_page_is_without_words_and_every_one_has_its_number(pages):
    _, texts = pages
    for number, text in enumerate(texts, 1):
        assert len(text) > 60, number
        if "Cut along the broken frame" not in text:
            assert f"{number} / {len(texts)}" in text, number


def test_no_heading_stands_at_the_foot_of_a_page(pages, sheets):
    """The title of a circuit has its facts and the first row of its table below it."""
    _, texts = pages
    for circuit in sheets[1].circuits:
        found = [text for text in texts if re.search(rf"{circuit.title} Serves ", text)]
        assert len(found) == 1 and circuit.facts[0][1] in found[0], circuit.title
        if circuit.rows:
            assert re.search(rf"{circuit.title} Serves .*?Feed order Point .*? {circuit.rows[0].id} ", found[0]), circuit.title


def test_every_code_can_be_read_from_the_paper(pages, sheets):
    """At 150 dots an inch, by another library: the site on the first page, each device's page on its front."""
    size, texts = pages
    folder, data, layout = sheets
    wanted = {1: data.url, **{number: sheet.place.url for sheet, number in zip(data.sheets, layout.pages, strict=True)}}
    for number, url in wanted.items():
        name = folder / f"{size}-{number}"
        subprocess.run(["pdftoppm", "-r", "150", "-gray", "-f", str(number), "-l", str(number), "-singlefile",
                        folder / f"binder-{size}.pdf", name], check=True)
        picture = Image.open(name.with_suffix(".pgm"))
        [code] = zxingcpp.read_barcodes(picture.crop((0, 0, picture.width, picture.height // 2)), formats=zxingcpp.BarcodeFormat.QRCode)
        assert code.text == url
        assert squeezed(url.removeprefix("https://").rstrip("/")) in squeezed(texts[number - 1])


def test_type_is_never_too_small(sheets, chromium):
    """In points, of every word: 9 anywhere, 14 on a card with its ids at 24, 18 in large print; no word is cut off."""
    script = """() => { const found = [];
        const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        while (walk.nextNode()) { const at = walk.currentNode.parentElement;
            if (!walk.currentNode.data.trim() || at.closest('svg')) continue;
            const place = at.closest('.card') ? (at.matches('.press .tag') ? 'id' : 'card') : at.closest('.large') ? 'large'
                : at.closest('.front:not(.tight)') ? (at.closest('.corner, .row, .others') ? 'any' : 'front') : 'any';
            found.push([place, parseFloat(getComputedStyle(at).fontSize) * .75, walk.currentNode.data]); }
        return found; }"""
    least = {"any": 9, "front": 11, "card": 14, "id": 24, "large": 18}
    seen = set()
    for name in ("binder", "large-print"):
        page = chromium.new_page()
        page.emulate_media(media="print")
        page.goto((sheets[0] / f"{name}.html").as_uri())
        for place, size, text in page.evaluate(script):
            seen.add(place)
            assert size >= least[place] - 0.01, (place, size, text)
        page.close()
    assert seen == set(least)


@pytest.mark.parametrize("size", SIZES)
def test_the_worst_house_still_fits(chromium, tmp_path, size):
    """Fronts on one page and cards inside their frame, though the list has to go on overleaf; DRAFT on every page."""
    data, layout = write(hard_house(), tmp_path, draft=True)
    assert any(side.rows < len(sheet.off) for sheet, side in zip(data.sheets, layout.sides, strict=True))
    assert {back.apart for back in layout.backs} == {False, True}
    texts = printed(chromium, tmp_path / "binder.html", size)
    leaves_are_whole(data, layout, texts)
    assert all("DRAFT" in text for text in texts)
    cards_hold_their_words(chromium, tmp_path / "binder.html")


def cards_hold_their_words(chromium, html):
    """Nothing reaches beyond the inner edge of the cutting frame, 5.5 x 8.5 in."""
    page = chromium.new_page(viewport={"width": 528, "height": 900})     # 5.5 in. at 96 a inch
    page.emulate_media(media="print")
    page.goto(html.as_uri())
    boxes = page.evaluate("""[...document.querySelectorAll('.cut')].map(cut => { const c = cut.getBoundingClientRect();
        return [c.width, c.height, Math.max(...[...cut.querySelectorAll('*')].map(e => e.getBoundingClientRect().bottom - c.top)),
                Math.max(...[...cut.querySelectorAll('*')].map(e => e.getBoundingClientRect().right - c.left))]; })""")
    page.close()
    for width, height, bottom, right in boxes:
        assert (width, height) == pytest.approx((528, 816), abs=1)
        assert bottom <= height - 12 and right <= width - 12


def test_cards_hold_their_words(sheets, chromium):
    cards_hold_their_words(chromium, sheets[0] / "binder.html")


def test_large_print_gives_every_device_one_page(sheets, chromium):
    folder, data, _ = sheets
    for size in SIZES:
        texts = printed(chromium, folder / "large-print.html", size)
        for sheet in data.sheets:
            spot = sheet.place.answer.spot
            found = [text for text in texts if f"Say: page {sheet.place.id} " in text]
            assert len(found) == 1
            for words in (sheet.place.answer.headline.plain, spot.room, spot.at, *(s.plain for s in sheet.place.answer.steps)):
                assert squeezed(words) in squeezed(found[0]), sheet.place.id


def test_words_a_homeowner_must_not_meet(bound):
    """The second column of the word table stands on no sheet for the home; what is for the electrician is left out."""
    seen = 0
    for name in ("binder", "large-print"):
        for node in html5lib.parse((bound / "print" / f"{name}.html").read_bytes()).iter():
            if "for-home" in (node.get("class") or "").split():
                seen += 1
                text = squeeze_blanks(homeowner_text(node))
                for word in NEVER:
                    assert not re.search(rf"\b{re.escape(word)}\b", text), (node.get("data-run"), word)
    assert seen > 60


def homeowner_text(node) -> str:
    if "for-trade" in (node.get("class") or "").split():
        return node.tail or ""
    return " ".join((node.text or "", *(homeowner_text(child) for child in node), node.tail or ""))


def squeeze_blanks(text: str) -> str:
    return re.sub(r"\s+", " ", text).casefold()


def test_the_address_and_private_things_stand_on_one_sheet_alone(bound, sheets, chromium, example, pages):
    """On the sheet of private notes of the paper binder (one a language), in no other file and on no other page."""
    file = read_job(example).file
    _, texts = pages
    for secret in (file.home["address"], *file.private.values()):
        assert [("Private notes" in text) for text in texts if secret in text] == [True], secret
        for path in bound.rglob("*"):
            if path.is_file() and not re.fullmatch(r"binder(-\w+)?\.html", path.name):
                assert secret.encode() not in path.read_bytes(), (path, secret)


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


def test_paper_stands_in_the_list_of_what_was_made(bound):
    made = json.loads((bound / "binder.json").read_text("utf-8"))
    assert {"print/binder.html", "print/large-print.html"} <= set(made["pages"])


def test_the_worst_house_is_proved():
    """Its walk-through proves every device: otherwise its sheets would say less than they can."""
    report = examine(hard_house())
    assert set(report.proof.devices.values()) == {"proved"} and len(report.tree.outlets) == 22
