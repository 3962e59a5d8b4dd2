"""The written site, read by others: a browser, an HTML parser, a QR decoder, calendar parsers."""

import functools
import json
import threading
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import urlsplit

import html5lib
import pytest
import zxingcpp
from PIL import Image

from sitegen.job import read_job

NS = "{http://www.w3.org/1999/xhtml}"


@pytest.fixture(scope="module")
def manifest(bound):
    return json.loads((bound / "binder.json").read_text("utf-8"))


def pages(bound):
    return sorted(bound.rglob("*.html"))


def test_every_page_is_strict_html(bound):
    """html5lib in strict mode raises on every parse error."""
    for path in pages(bound):
        html5lib.HTMLParser(strict=True).parse(path.read_bytes())


def test_no_id_stands_twice_and_every_page_has_one_h1(bound):
    for path in pages(bound / "site"):
        tree = html5lib.parse(path.read_bytes())
        ids = [node.get("id") for node in tree.iter() if node.get("id")]
        assert len(ids) == len(set(ids)), path
        assert len(list(tree.iter(NS + "h1"))) == 1, path
        assert tree.find(f".//{NS}meta[@name='robots']").get("content") == "noindex"


def test_every_link_leads_to_a_file_and_names_it(bound):
    """Links work from a disk: no link to a bare folder, none to nowhere; every page is reached from the start page."""
    seen, waiting = set(), [bound / "site" / "index.html"]
    while waiting:
        path = waiting.pop()
        if path in seen:
            continue
        seen.add(path)
        for node in html5lib.parse(path.read_bytes()).iter(NS + "a"):
            href = node.get("href")
            if href.startswith(("tel:", "mailto:")):
                continue
            assert not urlsplit(href).scheme and not href.startswith("/"), (path, href)
            target = (path.parent / (href.partition("#")[0] or path.name)).resolve()
            assert target.is_file(), (path, href)
            if target.suffix == ".html":
                waiting.append(target)
    assert seen == set(pages(bound / "site"))


def test_paper_links_stay_on_the_paper(bound):
    tree = html5lib.parse((bound / "print" / "binder.html").read_bytes())
    ids = {node.get("id") for node in tree.iter()}
    for node in tree.iter(NS + "a"):
        href = node.get("href")
        assert href.startswith(("tel:", "mailto:", "https://")) or href[1:] in ids or href.startswith("#"), href


def test_every_label_leads_to_a_page_that_exists(bound, manifest):
    """The QR of each label, read by another library, is the address of the device's page, ISO/IEC 18004."""
    assert {path.stem for path in (bound / "print" / "labels").glob("*.png")} == {d["id"] for d in manifest["devices"]}
    base = "HTTPS://BHE.EXAMPLE/7"
    for device in manifest["devices"]:
        [code] = zxingcpp.read_barcodes(Image.open(bound / device["label"]), formats=zxingcpp.BarcodeFormat.QRCode)
        assert code.text == device["url"] == f"{base}/{device['id']}/"
        assert (bound / "site" / code.text.removeprefix(base + "/") / "index.html").is_file()
        assert device["page"] == f"site/{device['id']}/index.html"


def test_the_manifest_lists_every_page(bound, manifest):
    assert manifest["pages"] == sorted(path.relative_to(bound).as_posix() for path in pages(bound))
    assert {outlet["page"] for outlet in manifest["outlets"]} <= set(manifest["pages"])
    assert manifest["draft"] is False
    folders = {path.name for path in (bound / "site").iterdir() if path.is_dir()}
    ids = {row["id"] for row in (*manifest["devices"], *manifest["outlets"])}
    assert {path.name for path in (bound / "site" / "breaker-panels").iterdir()} == {"P1", "B4", "B8", "B12"}
    assert all(len(name) > 8 for name in folders - ids) and ids <= folders


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *words):
        pass


@pytest.fixture(scope="module")
def hosted(bound, tmp_path_factory):
    """The site below a sub-path of a static host."""
    root = tmp_path_factory.mktemp("host")
    (root / "some" / "where").mkdir(parents=True)
    (root / "some" / "where" / "deep").symlink_to(bound / "site")
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(root)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/some/where/deep"
    server.shutdown()


@pytest.mark.browser
@pytest.mark.parametrize("place", ["disk", "host"])
def test_pages_open_without_request_or_message(bound, hosted, chromium, place):
    """From a disk and from a sub-path: one request, the page itself; nothing on the console; the style is applied."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    requests, messages = [], []
    page.on("request", lambda request: requests.append(request.url))
    page.on("console", lambda message: messages.append(message.text))
    page.on("pageerror", lambda error: messages.append(str(error)))
    for path in pages(bound / "site"):
        below = path.relative_to(bound / "site").as_posix()
        url = path.as_uri() if place == "disk" else f"{hosted}/{below}"
        requests.clear()
        page.goto(url)
        assert [r for r in requests if not r.startswith("data:")] == [url]
        assert messages == [], below
        assert page.evaluate("getComputedStyle(document.body).marginTop") == "0px"
    page.close()


@pytest.mark.browser
def test_the_first_screen_holds_the_answer(bound, manifest, chromium):
    """At 360x560, in both languages: instruction, room, exact spot and the first step stand above the fold, whole;
    nothing runs off the side. Where something is to be looked at before any walk, that is the answer: all of it and the
    call button stand there whole, and the instruction begins."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    ids = dict.fromkeys(row["id"] for row in (*manifest["devices"], *manifest["outlets"]))
    for path in (path for id in ids for path in (f"site/{id}/index.html", f"site/{id}/es/index.html")):
        row = {"id": path}
        page.goto((bound / path).as_uri())
        look = page.locator("ul.first").count()
        if look:
            assert page.locator(".act").bounding_box()["y"] + 24 <= 560, row["id"]
        for what in ("h1", "ul.first") if look else ("h1", ".room", ".at", ".steps li"):
            box = page.locator(what).first.bounding_box()
            assert box and box["y"] >= 0 and box["y"] + box["height"] <= 560, (row["id"], what, box)
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, row["id"]
        calls = [call.bounding_box() for call in page.locator(".stop .call").all()]
        assert len(calls) == 2 and all(call["height"] >= 48 and call["y"] + call["height"] <= 560 for call in calls), row["id"]
    page.close()


@pytest.mark.browser
def test_at_most_sixty_words_up_to_the_check(bound, example, manifest, chromium):
    """The answer is short: sixty words from the question to the check, the contractor's own texts aside: the room,
    what is plugged in, the place of a wall switch. What is to be looked at before any walk has as many, down to the stop line."""
    points = read_job(example).point
    page = chromium.new_page()
    for row in (*manifest["devices"], *manifest["outlets"]):
        page.goto((bound / row["page"]).as_uri())
        look = page.locator("ul.first").count()
        parts = (".act, .doubt, .steps", "h1, .first, .stop p") if look else ("h1, .doubt, .stop p, .steps",)
        said = " ".join(page.locator(", ".join(f".answer > {part}" for part in parts[0].split(", "))).all_inner_texts())
        if look:
            first = " ".join(page.locator(", ".join(f".answer > {part}" for part in parts[1].split(", "))).all_inner_texts())
            assert len(first.split()) <= 60 + len(page.locator(".first li:first-child").inner_text().split()), row["id"]
        if point := points.get(row["id"]):
            for theirs in (f"({point.room})", f": {point.use}.", f"({', '.join(points[id].at for id in point.switched_by)})"):
                said = said.replace(theirs, " ", 1)
        assert len(said.split()) <= 60, row["id"]
    page.close()


@pytest.mark.browser
def test_without_a_script_every_outlet_is_in_the_list(bound, manifest, chromium):
    """One tap from the start page, by touch or by keyboard, script or not; the search box does not even show."""
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((bound / "site" / "index.html").as_uri())
    links = {node.get_attribute("href") for node in page.locator(".room-group a").all()}
    assert links == {f"{row['id']}/index.html" for row in manifest["outlets"]}
    assert not page.locator(".search").is_visible()
    context.close()
