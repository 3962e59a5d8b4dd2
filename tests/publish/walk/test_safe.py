"""What a job says is only ever text; nothing is fetched, nothing injected runs; the same job gives the same bytes."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from random import Random

import html5lib
import pytest
from house import BASE
from houses import whole_house
from publish.walk.taps import Walker, data_of, page_of
from tapping import open_page

from sitegen.cli import main
from sitegen.protection.examine import examine

ROOMS = ["غرفة المعيشة", "חדר אמבטיה", "<img src=x onerror=hacked=1>", "Kitchen \"north\" & 'pantry'", "</script><script>hacked=1</script>",
         "{id} **bold** ${hacked} {{ 7*7 }}", "Hall\u2028\u2029 end", "__proto__"]
AT = ["left of the <b>sink</b>", "تحت النافذة 3", "ליד הדלת", "\"><svg onload=hacked=1>", "javascript:hacked=1"]


@pytest.fixture(scope="module")
def hostile():
    """65 points and more, eight-letter ids, rooms and places that would be markup or run right to left."""
    job = whole_house(Random(5), 22)
    names = {point.id: f"ABCDE{number:03d}" for number, point in enumerate(job.points)}
    points = tuple(replace(p, id=names[p.id], feed=replace(p.feed, source=names.get(p.feed.source, p.feed.source)), room=ROOMS[number % len(ROOMS)],
                           at=AT[number % len(AT)], use="<i>kettle</i>") for number, p in enumerate(job.points))
    file = replace(job.file, title="<h1>House</h1> & \"co\"", contractor={"firm": "F", "name": "O'Neil <script>hacked=1</script>"})
    assert len(points) >= 65
    return examine(replace(job, points=points, file=file))


@pytest.mark.browser
def test_text_of_the_job_is_only_text(hostile, chromium, tmp_path):
    """Every screen on the way of a test; what it makes of the words, and what it asks of a network."""
    context = chromium.new_context(viewport={"width": 320, "height": 560}, has_touch=True, is_mobile=True)
    page, asked, odd = context.new_page(), [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: odd.append(str(error)))
    file = page_of(hostile, tmp_path)
    walker = Walker(page, file)
    walker.begin()

    def sound():
        assert page.evaluate("typeof hacked") == "undefined"
        assert page.evaluate("document.querySelectorAll('img, svg, b, i, h1 h1, main script').length") == 0
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
    sound()
    for room in {point.room for point in hostile.job.points}:
        assert page.evaluate("room => document.body.textContent.includes(room)", room), room
    walker.tap(next(test["key"] for test in data_of(hostile)["tests"] if test["pressed"] == "device"))
    walker.first("o ")
    while walker.any("keep "):
        walker.first("keep ")
    sound()
    for key in page.evaluate("[...document.querySelectorAll('.roomkey')].map(key => key.dataset.key)"):
        walker.tap(key)
    page.fill("#note", "two\nlines, \"quoted\" <b>\u2028x\u0007")
    sound()
    walker.tap("house")
    sound()
    walker.tap("yes")
    walker.tap("save")
    walker.tap("save gaps") if walker.has("save gaps") else None
    text = walker.file()
    assert '"two lines, ""quoted"" <b> x' in text and text.count("\n") == 4
    assert set(asked) == {file.as_uri()} and not odd
    context.close()


@pytest.mark.browser
def test_nothing_injected_runs_and_nothing_is_fetched(hostile, chromium, tmp_path):
    page = chromium.new_page()
    said = []
    page.on("console", lambda message: said.append(message.text))
    open_page(page, page_of(hostile, tmp_path).as_uri())
    tries = ["document.body.innerHTML = '<img src=x onerror=hacked=1>'", "document.body.insertAdjacentHTML('beforeend', '<b>x</b>')",
             "const s = document.createElement('script'); s.text = 'hacked=1'; document.body.append(s)", "setTimeout('hacked=1', 0)",
             "document.write('<b>x</b>')", "document.body.setAttribute('onclick', 'hacked=1')"]
    for code in tries:
        page.evaluate(f"() => {{ try {{ {code} }} catch (refused) {{ return refused.name; }} }}")
    page.locator("h1").click()
    for code in ("fetch('http://127.0.0.1:9/')", "new Promise((done, lost) => { const i = new Image(); i.onload = done; i.onerror = lost; i.src = 'http://127.0.0.1:9/x.png'; })",
                 "new Promise((done, lost) => { const s = new WebSocket('ws://127.0.0.1:9/'); s.onopen = done; s.onerror = lost; })"):
        assert page.evaluate(f"() => {code}.then(() => 'got it', () => 'refused')") == "refused"
    assert page.evaluate("typeof hacked") == "undefined"
    assert sum("Content Security Policy" in text for text in said) >= 4
    page.close()


def test_the_file_is_sound_html_and_the_data_in_it_whole(hostile, tmp_path):
    """html5lib in strict mode; the data comes out of the file as it went in."""
    text = page_of(hostile, tmp_path).read_text("utf-8")
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    data = json.loads(tree.find(".//script[@id='data']").text)
    assert {name: value for name, value in data.items() if name not in ("words", "page")} == {
        name: value for name, value in json.loads(json.dumps(data_of(hostile))).items() if name != "words"}
    assert len(tree.findall(".//script")) == 2 and "http" not in text.replace("http-equiv", "")


def test_nothing_of_home_private_or_ledger(example, tmp_path):
    assert main(["walk", str(example), "--page", "--all", "--out", str(tmp_path / "page.html")]) == 0
    text = (tmp_path / "page.html").read_text("utf-8")
    for private in ("Castellan", "Alder Court", "Larkmoor", "4471", "Biscuit", "no. 17", "BHE.EXAMPLE", "bhe.example", "555-0147", "ME-20417"):
        assert private not in text, private


def test_the_same_job_gives_the_same_bytes(tmp_path, capsys):
    """From another place too; and never over a file that is not such a page."""
    for name in ("one", "two"):
        shutil.copytree(BASE, tmp_path / name / "job")
        for _ in range(2):
            assert main(["walk", str(tmp_path / name / "job"), "--page", "--all", "--out", str(tmp_path / name / "page.html")]) == 0
    assert (tmp_path / "one" / "page.html").read_bytes() == (tmp_path / "two" / "page.html").read_bytes()
    (tmp_path / "notes.html").write_text("mine")
    assert main(["walk", str(BASE), "--page", "--all", "--out", str(tmp_path / "notes.html")]) == 2
    assert main(["walk", str(BASE), "--page", "--out", str(tmp_path / "none.html")]) == 0 and not (tmp_path / "none.html").exists()
    assert "Nothing is missing" in capsys.readouterr().out
