"""The paper, printed by Chromium on Letter and A4 and read back by pypdf, poppler and a QR reader."""

import functools
import json
import re
import subprocess
from pathlib import Path

import pytest
import zxingcpp
from binder.test_compose import NEVER
from house import ROOT, parsed
from publish.paper.prints import SIZES, leaves_are_whole, page_picture, printed, squeezed
from pypdf import PdfReader

from sitegen.job import read_job
from sitegen.publish.drawing.svg import picture_of

pytestmark = pytest.mark.browser

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
    """As poppler finds the lines on the page: the electrician's, the power company's, the heating company's."""
    lines = subprocess.run(["pdftotext", "-layout", paper.pdf, "-"], capture_output=True, check=True).stdout.decode()
    assert set(re.findall(r"\(203\) 555-\d{4}", lines)) >= {"(203) 555-0147", "(203) 555-0172", "(203) 555-0186"}
    assert lines.count("(203)") == len(re.findall(r"\(203\) 555-\d{4}", lines)) > 20


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


def test_paper_stands_in_the_list_of_what_was_made(bound):
    made = json.loads((bound / "binder.json").read_text("utf-8"))
    assert {"print/binder.html", "print/large-print.html"} <= set(made["pages"])
