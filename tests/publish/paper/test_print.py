"""The paper, printed by Chromium on Letter and A4 and read back by pypdf, poppler and a QR reader."""

import functools
import json
import random
import re
import subprocess
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
import zxingcpp
from binder.test_compose import NEVER
from house import ROOT, parsed
from houses import FILE, walk_through
from PIL import Image, ImageChops
from pypdf import PdfReader

from sitegen.binder.compose import compose
from sitegen.binder.desk.words import Words
from sitegen.binder.paper.records import PrintBinder
from sitegen.errors import Where
from sitegen.job import read_job
from sitegen.job.kinds import BREAKERS, POINTS
from sitegen.job.map.walls import walls_of
from sitegen.job.records import Breaker, Circuit, Feed, Job, Panel, Point
from sitegen.job.records.plans import Door, Position, RoomPlan, WallRun
from sitegen.protection.examine import examine
from sitegen.publish.drawing.svg import picture_of
from sitegen.publish.html import render_pages
from sitegen.publish.paper.house import Leaves, lay_out
from sitegen.publish.paper.sizes import Paper, print_style
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.browser
SIZES = {"Letter": (612.0, 792.0), "A4": (595.3, 841.9)}     # pt: 8.5 x 11 in; ISO 216, 210 x 297 mm
CORNERS = ((0.0, 0.0), (26.0, 0.0), (26.0, 22.0), (0.0, 22.0))     # ft
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


def hard_house() -> Job:
    """Three buttons one behind the other, twenty-two outlets on the first, long words, a long name, eight walls to draw."""
    where = Where("protection_map.yaml", 1)
    room, at = "Downstairs kitchen", "left-hand counter, by the pantry door"
    points = []
    for number in range(1, 23):
        device = number in (1, 8, 15)
        kind = POINTS["gfci receptacle" if device else "receptacle"]
        feed = Feed(points[-1].id, "load" if points[-1].kind.opens else None) if points else Feed("B5")
        points.append(Point(f"KITCH-{number}", kind, "P1-5", room, f"{at}, number {number}", feed, where,
                            use="freezer" if number % 7 == 0 else "coffee maker or kettle",
                            height="about four feet from the floor", behind="behind the tall boxes of the pantry shelf",
                            drawn_at=on_wall(room, number)))
    file = replace(FILE, title="Whole house with garage, both baths and the outdoor kitchen by the old barn",
                   contractor={"firm": "Bramble Hollow Electric and Sons of Larkmoor", "phone": "(203) 555-0147"},
                   base_url="https://records.bramble-hollow-electric.example/homes")
    breaker = Breaker("B5", BREAKERS["afci"], "5", 20.0, 1, where)
    circuit = Circuit("P1-5", "5", "P1", "Counter", "B5", None, None, None, where)
    runs = tuple(WallRun(f"{half} counter of the {wall.name} wall", wall.name, start, start + wall.length / 2, True, 2.0, where)
                 for wall in walls_of(CORNERS) for half, start in (("left", 0.0), ("right", wall.length / 2)))
    plan = RoomPlan(room, CORNERS, (Door("south", 11.0, 13.0, "Hall", True, where),), (), runs, where)
    return walk_through(Job(file, (Panel("P1", "Garage, behind the workbench by the side door", where),), (breaker,),
                            (circuit,), tuple(points), (), rooms=(plan,)), random.Random(1))


def on_wall(room: str, number: int) -> Position:
    """The outlets stand about evenly along the eight halves of the walls."""
    wall = walls_of(CORNERS)[number % 4]
    at = wall.length * ((number // 4) / 6 + 0.08)
    return Position(room, *wall.at(at), wall.name, at, 3.5)


@pytest.fixture(scope="module")
def sheets(example, tmp_path_factory):
    """Language -> the example's print-outs."""
    return write(read_job(example), tmp_path_factory.mktemp("paper"))


@pytest.fixture(scope="module")
def printouts(sheets, chromium):
    """(language, size of paper) -> the example's binder."""
    return {(language, size): replace(one, size=size, texts=tuple(printed(chromium, one.html, size)))
            for language, one in sheets.items() for size in SIZES}


@pytest.fixture(params=[(language, size) for language in ("en", "es") for size in SIZES], ids="-".join)
def paper(request, printouts) -> Print:
    return printouts[request.param]


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


def test_the_first_page_is_the_outside_of_the_folded_sheet(paper):
    """Stop line, fire and shock, whom to call, how often to press: on the first page."""
    first, words = squeezed(paper.texts[0]), paper.words
    for said in (words.text("print.emergency"), words.text("stop_line.ask"), words.text("call.fire", number="911"),
                 words.text("call.shock", number="911", main=paper.main), "(203) 555-0147", words.text("call.other"),
                 words.text("fold.rules"), *(text.plain for text in (*paper.data.stop_rules, *paper.data.breaker_rules))):
        assert squeezed(said) in first, said
    inside = squeezed(paper.texts[1])
    assert all(squeezed(part) in inside for target in paper.data.targets for part in (target.things, target.where, target.short.plain))


def test_the_example_takes_one_folded_sheet_and_a_leaf_a_button(paper):
    """A breaker has no leaf; the whole binder takes 40 pages at most."""
    job = read_job(ROOT / "example_job")
    assert len(paper.layout.folded) == 1 and not {sheet.place.id for sheet in paper.data.sheets} & set(job.breaker)
    assert len(paper.texts) <= 40


def test_no_phone_number_is_broken_over_lines(paper):
    """As poppler finds the lines on the page."""
    number = "(203) 555-0147"
    lines = subprocess.run(["pdftotext", "-layout", paper.pdf, "-"], capture_output=True, check=True).stdout.decode()
    assert lines.count(number) == sum(text.count(number) for text in paper.texts) > 20


def test_every_leaf_is_whole(paper):
    leaves_are_whole(paper)


def test_every_device_of_the_example_is_drawn(sheets):
    """Its room from above, on the back of its leaf; nothing is left to a paragraph."""
    for one in sheets.values():
        for sheet, laid in zip(one.data.sheets, one.layout.backs, strict=True):
            assert sheet.place.drawings.room and laid.drawn and not laid.apart, sheet.place.id
            assert all(picture_of(scene) for scene in sheet.place.drawings.scenes), sheet.place.id
            assert {*laid.columns.left, *laid.columns.right} == {"test", "safe", "record"}


def test_no_page_is_without_words_and_every_one_has_its_number(paper):
    for number, text in enumerate(paper.texts, 1):
        assert len(text) > 60, number
        if squeezed(paper.words.text("fold.how")) not in squeezed(text):
            assert f"{number} / {len(paper.texts)}" in text, number


def test_the_service_record_takes_ten_pages_at_most(paper):
    """The list of the house and its rounds, then the maps of circuits and what was tested there; with all before it at most forty."""
    [first] = [number for number, text in enumerate(paper.texts, 1) if squeezed(paper.words.text("service.devices_heading")) in squeezed(text)]
    assert len(paper.texts) - first + 1 == 2 + 2 * len(paper.layout.spreads) <= 10 and len(paper.texts) <= 40


def test_the_map_of_a_circuit_faces_what_was_tested_there(paper):
    """On a left-hand page every point of its drawing; on the right-hand page beside it every test of its own, what stays live with
    each device out, and what is known of each point."""
    told = [one for spread in paper.layout.spreads for one in spread.circuits]
    assert sorted(one.sheet.title for one in told) == sorted(one.sheet.title for one in paper.data.circuits)
    texts = [squeezed(text) for text in paper.texts]
    for one in told:
        head = squeezed(f"{one.sheet.title} {one.sheet.head}")
        [left] = [number for number, text in enumerate(texts, 1) if head in text]
        assert left % 2 == 0, (one.sheet.title, left)
        assert all(squeezed(word) in texts[left - 1] for node in one.sheet.drawing.nodes for word in (node.id, node.what))
        facing = texts[left]
        assert squeezed(f"{one.sheet.title} {one.sheet.facts[0][1]}") in facing
        for name, says in (("", one.about), *one.live, *one.points, *one.tests):
            assert squeezed(f"{name} {says}") in facing, (one.sheet.title, name)


def test_every_row_of_the_trip_tests_stands_in_the_record_on_paper(paper):
    """A round once; a press on the page of each circuit that it speaks of."""
    job = read_job(ROOT / "example_job")
    lines = [name for one in paper.data.circuits for name, _ in one.tests] + [name for name, _ in paper.data.rounds]
    assert {f"{row.date.isoformat()} {' '.join(row.at)}" for row in job.tests} <= set(lines)
    assert len(paper.data.rounds) == sum(bool(row.together) for row in job.tests)
    last = squeezed(paper.texts[-1 - 2 * len(paper.layout.spreads)] + paper.texts[-2 - 2 * len(paper.layout.spreads)])
    assert all(squeezed(f"{name} {says}") in last for name, says in paper.data.rounds)


def test_private_notes_and_directory_have_leaves_of_their_own(paper):
    """Each begins on a right-hand page; on the back of the private one the owner writes, on that of the other there is nothing:
    either can be taken out, and nothing that is handed on goes with it."""
    words, texts = paper.words, [squeezed(text) for text in paper.texts]
    ways = [(words.text("print.private_says"), words.text("print.private_back")),
            (words.text("print.hang_rule"), words.text("print.directory_back"))]
    for says, empty in ways:
        [front] = [number for number, text in enumerate(texts, 1) if squeezed(says) in text]
        assert front % 2 == 1 and squeezed(empty) in texts[front] and len(paper.texts[front]) < 300


def test_every_code_can_be_read_from_the_paper(paper):
    """At 150 dots an inch, by another library: the site on the first page, each device's page on its front."""
    fronts = [(number, sheet.place.url, sheet.address)
              for sheet, number in zip(paper.data.sheets, paper.layout.pages, strict=True)]
    for number, url, address in [(1, paper.data.url, paper.data.address), *fronts]:
        picture = page_picture(paper.pdf, number, 150)
        [code] = zxingcpp.read_barcodes(picture.crop((0, 0, picture.width, picture.height // 2)),
                                        formats=zxingcpp.BarcodeFormat.QRCode)
        assert code.text == url
        assert address and address.casefold() in url.casefold() and squeezed(address) in squeezed(paper.texts[number - 1])


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


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("drawn", (True, False), ids=("drawn", "undrawn"))
def test_the_worst_house_still_fits(chromium, tmp_path, size, drawn):
    """Fronts on one page and words inside their panels, though cases and list have to go on overleaf and the drawings need pages
    of their own; DRAFT on every page. Without a plan of its rooms it has no drawings and is whole too."""
    job = hard_house()
    one = write(job if drawn else replace(job, rooms=()), tmp_path, draft=True)["en"]
    assert any(side.rows < len(sheet.off) for sheet, side in zip(one.data.sheets, one.layout.sides, strict=True))
    assert any(side.cases < len(sheet.place.answer.cases) for sheet, side in zip(one.data.sheets, one.layout.sides, strict=True))
    assert max(len(laid.apart) for laid in one.layout.backs) == (3 if drawn else 1)
    paper = replace(one, size=size, texts=tuple(printed(chromium, one.html, size)))
    leaves_are_whole(paper)
    assert all("DRAFT" in text for text in paper.texts)
    nothing_is_split(chromium, one.html)


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


def test_nothing_is_split(sheets, chromium):
    for one in sheets.values():
        nothing_is_split(chromium, one.html)


@pytest.mark.parametrize("size", SIZES)
def test_large_print_says_on_one_page_what_to_do_and_whole_whom_to_call(sheets, chromium, size):
    for one in sheets.values():
        texts = [squeezed(text) for text in printed(chromium, one.large, size)]
        for sheet in (*one.data.sheets, *one.data.breakers):
            place, scene = sheet.place, sheet.place.drawings.room or sheet.place.drawings.panel
            own = [number for number, text in enumerate(texts) if squeezed(f"{place.id} · {sheet.where}") in text[:200]]
            do = (place.answer.headline.plain, place.answer.spot.at, *(step.plain for step in place.answer.steps), place.answer.rule)
            assert len(own) <= 2 + bool(scene) and all(squeezed(words) in texts[own[0]] for words in do), place.id
            [calls] = [number for number in own if squeezed(one.words.text("call.shock", number="911", main=one.main)) in texts[number]]
            assert squeezed(place.say.plain) in texts[calls], place.id
            for words in (place.drawings.heading, sheet.where, *(word.text for word in picture_of(scene).words)) if scene else ():
                assert squeezed(words) in texts[own[-1]], place.id


def test_words_a_homeowner_must_not_meet(bound):
    """The second column of the word table stands on no sheet for the home; what is for the electrician is left out."""
    seen = 0
    for name in ("binder", "large-print"):
        for node in parsed(bound / "print" / f"{name}.html").iter():
            if "for-home" in (node.get("class") or "").split():
                seen += 1
                text = squeeze_blanks(homeowner_text(node))
                for word in NEVER:
                    assert not re.search(rf"\b{re.escape(word)}\b", text), (node.get("data-run"), word)
    assert seen > 30


def homeowner_text(node) -> str:
    if "for-trade" in (node.get("class") or "").split():
        return node.tail or ""
    return " ".join((node.text or "", *(homeowner_text(child) for child in node), node.tail or ""))


def squeeze_blanks(text: str) -> str:
    return re.sub(r"\s+", " ", text).casefold()


def test_the_address_and_private_things_stand_on_one_sheet_alone(bound, example, paper):
    """On the sheet of private notes of the paper binder (one a language), in no other file and on no other page; the address
    on the inspector's sheet too."""
    file = read_job(example).file
    title = paper.words.text("print.for_you")
    for secret in (file.home["address"], *file.private.values()):
        assert [title in text for text in paper.texts if secret in text] == [True], secret
        for path in bound.rglob("*"):
            told = path.name == "inspector.html" and secret == file.home["address"]
            if path.is_file() and not told and not re.fullmatch(r"binder(-\w+)?\.html", path.name):
                assert secret.encode() not in what_it_says(path), (path, secret)


@functools.cache
def what_it_says(path: Path) -> bytes:
    """The bytes of a file; of a PDF its words and its properties: where its objects lie are numbers of their own."""
    if path.suffix != ".pdf":
        return path.read_bytes()
    reader = PdfReader(path)
    return f"{reader.metadata} {' '.join(page.extract_text() for page in reader.pages)}".encode()


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
