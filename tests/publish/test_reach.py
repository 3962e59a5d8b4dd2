"""From a dead outlet to its answer in a real browser: by thumb, by keyboard, in forced colours, without a shift."""

import json

import pytest
from house import parsed

pytestmark = pytest.mark.browser

STARTS = {"en": "index.html", "es": "other-languages/es/index.html"}


def outlets(bound) -> list[str]:
    """The first and the last of each room: how far it is from the start hangs on where it stands in its room's list alone."""
    groups = [node for node in parsed(bound / "site" / "index.html").iter() if "room-group" in (node.get("class") or "").split()]
    rooms = [[link.get("href").split("/")[0] for item in group.iter("li") for link in item.iter("a")] for group in groups]
    assert sum(map(len, rooms)) == len(json.loads((bound / "binder.json").read_text())["outlets"])
    return [id for ids in rooms for id in dict.fromkeys((ids[0], ids[-1]))]


def room_of(page, id: str) -> str:
    """The section of the start page that lists this outlet."""
    return page.evaluate("""id => [...document.querySelectorAll('.room-group')].find(group =>
        [...group.querySelectorAll('li a')].some(a => a.pathname.split('/').includes(id))).id""", id)


def answered(page, id: str) -> bool:
    """True on the page of this outlet, with its instruction on the screen as it opens."""
    box = page.locator("h1").bounding_box()
    return id in page.url.split("/") and box["y"] >= 0 and box["y"] + box["height"] <= page.viewport_size["height"]


@pytest.mark.parametrize("language", STARTS)
def test_outlets_are_two_taps_from_the_start(bound, chromium, language):
    """At most three are asked for: the room, then the outlet; nothing more."""
    context = chromium.new_context(viewport={"width": 360, "height": 560}, has_touch=True, is_mobile=True, java_script_enabled=True)
    page = context.new_page()
    for id in outlets(bound):
        page.goto((bound / "site" / STARTS[language]).as_uri())
        page.tap(f"#{room_of(page, id)} summary")
        page.tap(f".room-group li a[href^='{id}/'], .room-group li a[href*='/{id}/']")
        page.wait_for_url(f"**/{id}/**")
        assert answered(page, id), id
    context.close()


@pytest.mark.parametrize("language", STARTS)
def test_outlets_are_two_enters_from_the_start_by_keyboard(bound, chromium, language):
    """Enter on the room opens it: the next Tab stops are its outlets, in their order."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    for id in outlets(bound):
        page.goto((bound / "site" / STARTS[language]).as_uri())
        room = room_of(page, id)
        page.locator("#q").focus()
        for _ in range(page.locator("summary").count()):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.parentElement.id") == room:
                break
        page.keyboard.press("Enter")
        for _ in range(page.locator(f"#{room} li a").count()):
            page.keyboard.press("Tab")
            assert page.evaluate(f"document.activeElement.closest('#{room}') !== null"), id
            if f"/{id}/" in page.evaluate("document.activeElement.href"):
                break
        page.keyboard.press("Enter")
        page.wait_for_url(f"**/{id}/**")
        assert answered(page, id), id
    page.close()


@pytest.mark.parametrize("place", ["index.html", "K5/index.html", "K1/index.html", "B13/es/index.html", "monthly-test/index.html"])
def test_tab_follows_the_page(bound, chromium, place):
    """WCAG 2.2 2.4.3: the stops come in the order of the page, each once, and every link is one of them."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    page.goto((bound / "site" / place).as_uri())
    count = page.evaluate("[...document.querySelectorAll('a[href], input, summary')].filter(e => e.checkVisibility()).length")
    stops = []
    for _ in range(count):
        page.keyboard.press("Tab")
        stops.append(page.evaluate("""() => { const all = [...document.querySelectorAll('a[href], input, summary')].filter(e => e.checkVisibility());
            const e = document.activeElement, box = e.getBoundingClientRect();
            return [all.indexOf(e), box.width > 0 && getComputedStyle(e).outlineStyle !== 'none']; }"""))
    assert [at for at, _ in stops] == list(range(count)) and all(seen for _, seen in stops)
    page.close()


def test_forced_colours_keep_what_colour_said(bound, chromium):
    """Where a system replaces all colours, boxes and tags keep a border: their fill is gone."""
    context = chromium.new_context(viewport={"width": 360, "height": 560}, forced_colors="active")
    page = context.new_page()
    for place in ("index.html", "K5/index.html", "K1/index.html"):
        page.goto((bound / "site" / place).as_uri())
        assert page.evaluate("matchMedia('(forced-colors: active)').matches")
        bare = page.evaluate("""[...document.querySelectorAll('.tag, .call, .stop, .case')].filter(e => {
            const style = getComputedStyle(e); return e.getClientRects().length
                && !(parseFloat(style.borderTopWidth) > 0 && style.borderTopStyle !== 'none')
                && !(parseFloat(style.borderLeftWidth) > 0 && style.borderLeftStyle !== 'none'); }).map(e => e.outerHTML.slice(0, 80))""")
        assert not bare, (place, bare)
    context.close()


def test_nothing_moves_and_nothing_is_asked_for_while_a_page_opens(bound, chromium):
    """Layout shift 0 (web vitals call 0.1 and less good) also when the reader scrolls to the end; the page is its one file."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    page.add_init_script("""window.shifts = 0; new PerformanceObserver(list => list.getEntries().forEach(entry => {
        window.shifts += entry.value; })).observe({type: 'layout-shift', buffered: true});""")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    for place in ("index.html", "K5/index.html", "K1/es/index.html", "B13/index.html", "monthly-test/index.html"):
        asked.clear()
        url = (bound / "site" / place).as_uri()
        page.goto(url)
        assert [one for one in asked if not one.startswith("data:")] == [url]
        page.mouse.wheel(0, 100_000)
        page.wait_for_timeout(100)
        assert page.evaluate("window.shifts") == 0, place
    page.close()


def test_nothing_is_animated(bound):
    """Reduced motion is kept by having none."""
    for path in (bound / "site").rglob("*.html"):
        text = path.read_text("utf-8")
        assert "transition" not in text and "animation" not in text and "scroll-behavior" not in text, path
