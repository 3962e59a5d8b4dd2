"""The written site, read by others: a browser, an HTML parser, a QR decoder, calendar parsers."""

import functools
import json
import threading
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import urlsplit

import pytest
import zxingcpp
from house import parsed
from PIL import Image
from publish.kinds import of_every_kind

from sitegen.job import read_job


@pytest.fixture(scope="module")
def manifest(bound):
    return json.loads((bound / "binder.json").read_text("utf-8"))


def pages(bound):
    return sorted(bound.rglob("*.html"))


def test_every_page_is_strict_html(bound):
    for path in pages(bound):
        parsed(path)


def test_no_id_stands_twice_and_every_page_has_one_h1(bound):
    for path in pages(bound / "site"):
        tree = parsed(path)
        ids = [node.get("id") for node in tree.iter() if node.get("id")]
        assert len(ids) == len(set(ids)), path
        assert len(list(tree.iter("h1"))) == 1, path
        assert tree.find(".//meta[@name='robots']").get("content") == "noindex"


def test_every_link_leads_to_a_file_and_names_it(bound):
    """Links work from a disk: no link to a bare folder, none to nowhere; every page is reached from the start page."""
    seen, waiting = set(), [bound / "site" / "index.html"]
    while waiting:
        path = waiting.pop()
        if path in seen:
            continue
        seen.add(path)
        for node in parsed(path).iter("a"):
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
    tree = parsed(bound / "print" / "binder.html")
    ids = {node.get("id") for node in tree.iter()}
    for node in tree.iter("a"):
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
def test_pages_open_from_a_host_without_request_or_message(bound, hosted, chromium):
    """From a sub-path, as from a disk: one request, the page itself; nothing on the console; the style is applied."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    requests, messages = [], []
    page.on("request", lambda request: requests.append(request.url))
    page.on("console", lambda message: messages.append(message.text))
    page.on("pageerror", lambda error: messages.append(str(error)))
    for path in of_every_kind(pages(bound / "site")):
        url = f"{hosted}/{path.relative_to(bound / 'site').as_posix()}"
        requests.clear()
        page.goto(url)
        assert [r for r in requests if not r.startswith("data:")] == [url]
        assert messages == [], url
        assert page.evaluate("getComputedStyle(document.body).marginTop") == "0px"
    page.close()


@pytest.mark.browser
def test_at_most_sixty_words_up_to_the_check(bound, example, manifest, chromium):
    """The answer is short: sixty words from the question to the check, the contractor's own texts aside: the room,
    what is plugged in, the place of a wall switch. What is to be looked at before any walk has as many, down to the stop line."""
    points = read_job(example).point
    page = chromium.new_page()
    for row in (*manifest["devices"], *manifest["outlets"]):
        page.goto((bound / row["page"]).as_uri())
        look, said, first = page.evaluate("""() => {
            const all = (...parts) => [...document.querySelectorAll(parts.map(part => ".answer > " + part))].map(e => e.innerText).join(" ");
            const look = document.querySelector(".first li:first-child");
            return look ? [look.innerText, all(".act", ".doubt", ".steps"), all("h1", ".first", ".stop p")]
                : ["", all("h1", ".doubt", ".stop p", ".steps"), ""]; }""")
        assert not look or len(first.split()) <= 60 + len(look.split()), row["id"]
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
