"""Drawings on the pages: large enough, light enough, without a style of their own, read aloud in words."""

from __future__ import annotations

import gzip
import re
from dataclasses import replace

import html5lib
import pytest

from sitegen.binder.desk import Desk
from sitegen.binder.drawing import drawings
from sitegen.binder.site.place import place_page
from sitegen.job import read_job
from sitegen.protection.examine import examine
from sitegen.publish.drawing.svg import draw, measure
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.thorough

HEAVIEST = 14_000    # bytes of a page, compressed: ten packets, the first flight of a connection (RFC 6928)


@pytest.fixture(scope="module")
def pages(bound):
    found = [path for path in sorted((bound / "site").glob("*/index.html")) if b'class="drawing"' in path.read_bytes()]
    assert len(found) > 20
    return found


def test_pages_with_drawings_are_light_and_sound(bound, pages):
    parser = html5lib.HTMLParser(strict=True)
    for path in (bound / "site").rglob("*.html"):
        assert len(gzip.compress(path.read_bytes(), 9)) < HEAVIEST, path
    for path in pages:
        html = path.read_text("utf-8")
        parser.parse(html)
        drawn = re.findall(r'<div class="drawing">.*?</div>', html)
        for svg in drawn:
            assert 'role="img"' in svg and re.search(r'aria-label="[^"]{20,}"', svg)
            assert "style=" not in svg and " id=" not in svg


@pytest.mark.thorough
def test_words_are_14_px_on_a_small_phone_and_no_wider_than_measured(pages, chromium):
    page = chromium.new_page(viewport={"width": 360, "height": 640})
    for path in pages:
        page.goto(path.as_uri())
        texts = page.evaluate("""() => [...document.querySelectorAll('.drawing text')].map(t => ({
            text: t.textContent, wide: t.getComputedTextLength(), look: t.getAttribute('class') || 'word',
            size: parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a}))""")
        assert texts
        for text in texts:
            assert text["size"] >= 14
            assert text["wide"] <= measure(text["text"], text["look"] != "word") + 0.5, text
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.close()


def test_words_are_9_pt_on_paper(example, chromium):
    theme = open_theme()
    found = place_page(Desk(examine(read_job(example)), theme.words("en")), "K1").drawings
    page = chromium.new_page()
    page.emulate_media(media="print")
    page.set_content(f"<style>{theme.style('print')}</style>" + "".join(draw(scene) for scene in found.scenes))
    sizes = page.evaluate("""() => [...document.querySelectorAll('.drawing text')].map(
        t => parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a * 0.75)""")
    assert len(sizes) > 10 and min(sizes) >= 9
    page.close()


def test_a_drawing_whose_words_find_no_place_is_said_in_a_paragraph(example):
    desk = Desk(examine(read_job(example)), open_theme().words("en"))
    room = drawings(desk, "A1", "A1").room
    html = draw(replace(room, panel_word="Interruptorgeneralautomáticodelacasaentera " * 2))
    assert html == f'<p class="drawn">{room.says}</p>'


def test_a_name_stays_text(example):
    desk = Desk(examine(read_job(example)), open_theme().words("en"))
    room = drawings(desk, "K1", "K1").room
    plan = replace(room.plan, things=(replace(room.plan.things[0], name='<b> & "x"'),))
    html = draw(replace(room, plan=plan, says='say "<this>"'))
    assert "<b>" not in html and "&lt;b&gt; &amp; " in html and 'say &#34;&lt;this&gt;&#34;' in html
