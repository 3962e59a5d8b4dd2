"""Pages for everyone: contrast, reflow, large text, spacing, targets, axe-core, weight."""

import gzip
import json
import re
from importlib.resources import files
from statistics import median

import pytest
from house import ROOT
from publish.kinds import of_every_kind

STYLE = ROOT / "themes" / "lamplight" / "style" / "site.css"

# Pairs of role colours that stand on each other: (text or mark, ground, least ratio by WCAG 2.2 1.4.3 and 1.4.11).
PAIRS = [("ink", "paper", 4.5), ("quiet", "paper", 4.5), ("ink", "soft", 4.5), ("quiet", "soft", 4.5), ("link", "paper", 4.5),
         ("link", "soft", 4.5), ("key-ink", "key", 4.5), ("stop", "stop-soft", 4.5), ("stop", "paper", 4.5), ("ink", "stop-soft", 4.5),
         ("stop-ink", "stop", 4.5), ("lamp-ink", "lamp", 4.5), ("ink", "plate", 3), ("edge", "paper", 3), ("edge", "soft", 3),
         ("danger-ink", "danger", 4.5), ("warning-ink", "warning", 4.5), ("caution-ink", "caution", 4.5),
         ("notice-ink", "notice", 4.5), ("paper", "ink", 4.5)]


def ratio(one: str, other: str) -> float:
    """WCAG 2.2, relative luminance and contrast ratio."""
    def luminance(colour: str) -> float:
        parts = [int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
        r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * r + 0.7152 * g + 0.0722 * b
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("one, other, expected", [
    ("#000000", "#ffffff", 21.0), ("#949494", "#ffffff", 3.0335), ("#3366CC", "#000000", 3.9132),
    ("#E3660E", "#ffffff", 3.4019), ("#CA0000", "#ffffff", 5.9807), ("#767676", "#ffffff", 4.5422)])
def test_the_ratio_itself(one, other, expected):
    """Figures of W3C techniques G183, G207, G223 and of the formula, WCAG 2.2."""
    assert ratio(one, other) == pytest.approx(expected, abs=0.001)


def test_every_pair_of_role_colours_has_contrast_in_both_schemes():
    text = STYLE.read_text("utf-8")
    light = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", text.split("@media (prefers-color-scheme: dark)")[0]))
    dark = light | dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", text.split("@media (prefers-color-scheme: dark)")[1].split("\n}\n")[0]))
    assert light != dark
    for scheme, colours in (("light", light), ("dark", dark)):
        for one, other, least in PAIRS:
            assert ratio(colours[one], colours[other]) >= least, (scheme, one, other, ratio(colours[one], colours[other]))


def test_no_colour_stands_outside_the_roles():
    """A rule names a role; the hex values stand in the two blocks at the top."""
    text = re.sub(r"/\*.*?\*/", "", STYLE.read_text("utf-8"), flags=re.S)
    rules = re.sub(r":root \{.*?\}", "", text, flags=re.S)
    assert not re.search(r"#[0-9a-fA-F]{3,8}\b|rgb|hsl", rules)


def pages(bound):
    return sorted((bound / "site").rglob("*.html"))


def test_every_page_weighs_at_most_14000_bytes(bound):
    """RFC 6928: the first window of ten segments, less headers. gzip -9, style and drawings included."""
    for path in pages(bound):
        assert len(gzip.compress(path.read_bytes(), 9)) <= 14_000, (path, len(gzip.compress(path.read_bytes(), 9)))


BOXES = """whats => whats.map(what => [...document.querySelectorAll(what)].map(e => e.getBoundingClientRect()).map(box => [box.top, box.bottom]))"""


def first_screen(page) -> list[str]:
    """Instruction, room, exact spot and the first step stand above the fold, whole, and so do both call buttons. Where something is to
    be looked at before any walk, that is the answer: all of it stands there, and the instruction begins."""
    answer, look, act, *whole, calls = page.evaluate(BOXES, [".answer", "ul.first", ".act", "h1", ".room", ".at", ".steps li", ".stop .call"])
    if not answer:
        return []
    odd = [] if not look or act[0][0] + 24 <= 560 else ["the instruction does not begin on the first screen"]
    odd += [f"{boxes} is not on the first screen" for boxes in ((whole[0], look) if look else whole) if not (boxes and 0 <= boxes[0][0] and boxes[0][1] <= 560)]
    return odd + ([] if len(calls) == 2 and all(low - top >= 48 and low <= 560 for top, low in calls) else [f"calls at {calls}"])


def large_first_screen(page) -> list[str]:
    """At 130 %, the headline and the room; where something is to be looked at before any walk, the headline alone; outdoors what must not
    be pressed stands before what to press."""
    if not page.locator(".answer").count():
        return []
    page.evaluate("document.documentElement.style.fontSize = '130%'")
    wet, look, *boxes = page.evaluate(BOXES, [".stop ~ h1", "ul.first", ".stop p", "h1", ".room"])
    seen = boxes[:1] if wet else boxes[1:2] if look else boxes[1:]
    return [f"at 130 % {box} is not on the first screen" for box in seen if box[0][1] > 560]


def thumb(page) -> list[str]:
    """Call buttons 48 px high; links that stand alone 44 px (WCAG 2.2 2.5.5); links inside a sentence are free (2.5.8)."""
    return [] if "service-record" in page.url else page.evaluate("""[...document.querySelectorAll('a')].filter(a => {
        const box = a.getBoundingClientRect(), least = a.classList.contains('call') ? 48 : 44;
        const inText = a.parentElement.closest('p, .first, .others, .note') && !a.classList.contains('call');
        return box.height && !inText && box.height < least && !a.closest('.row'); }).map(a => 'small: ' + a.outerHTML)""")


def reflow(page) -> list[str]:
    """WCAG 2.2 1.4.10: 1280 px at 400 % is 320; tables of data may scroll in their own box."""
    page.set_viewport_size({"width": 320, "height": 560})
    wide = page.evaluate("document.documentElement.scrollWidth")
    page.set_viewport_size({"width": 360, "height": 560})
    return [] if wide <= 320 else [f"{wide} px wide on a screen of 320"]


def burning(page) -> list[str]:
    """Whoever smells burning reads to stop on the first screen, in one line, above the headline and whatever it asks to do; where the
    stop box itself stands above the headline, that is it."""
    answer, stop, halt, head = page.evaluate(BOXES, [".answer", ".halt, .stop", ".halt", "h1"])
    return ["to stop comes after what to press"] if answer and (stop[0][1] > head[0][0] + 1 or halt and halt[0][1] - halt[0][0] > 24) else []


@pytest.mark.browser
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_as_it_opens(bound, chromium, language):
    """At 360x560, from a disk: one request, the page itself; nothing on the console; the style is applied; what is said above. In DejaVu
    Sans, about a sixth wider than a phone's own typeface, half of the pages of outlets and devices end within 2,600 px, none beyond 4,300."""
    listed = json.loads((bound / "binder.json").read_text("utf-8"))
    places = {row["id"] for row in (*listed["devices"], *listed["outlets"])}
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    asked, odd, heights, halts = [], [], [], 0
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: odd.append(message.text))
    page.on("pageerror", lambda error: odd.append(str(error)))
    for path in (path for path in pages(bound) if ("es" in path.parts) == (language == "es")):
        asked.clear()
        page.goto(path.as_uri())
        odd += [url for url in asked if not url.startswith("data:") and url != path.as_uri()]
        margin, wide, high = page.evaluate("[getComputedStyle(document.body).marginTop, ...['Width', 'Height'].map(way => document.documentElement['scroll' + way])]")
        if (margin, wide) != ("0px", 360):
            odd.append("no style, or wider than 360 px")
        if path.relative_to(bound / "site").parts[0] in places:
            heights.append(high)
            halts += page.locator(".halt").count()
            if page.locator(".answer").count() != 1:
                odd.append("no answer")
        for look in (burning, first_screen, thumb, reflow, large_first_screen):
            odd += look(page)
        assert not odd, (path, odd)
    assert median(heights) <= 2600 and max(heights) < 4300 and halts > 40, (median(heights), max(heights), halts)
    page.close()


@pytest.mark.browser
def test_large_text_and_wide_spacing_cut_nothing(bound, chromium):
    """WCAG 2.2 1.4.4 and 1.4.12: no text is cut off or runs off the side at 360 px."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    for path in pages(bound)[::5]:
        page.goto(path.as_uri())
        for css in ("html{font-size:130%}", "html{font-size:200%}",
                    "*{line-height:1.5!important;letter-spacing:.12em!important;word-spacing:.16em!important}p{margin-bottom:2em!important}"):
            cut = page.evaluate("""css => { const style = new CSSStyleSheet(); style.replaceSync(css); document.adoptedStyleSheets = [style];
                return [...document.querySelectorAll('h1,h2,h3,p,li,td,th,a')].filter(e => e.scrollWidth > e.clientWidth + 1
                    && getComputedStyle(e).display !== 'inline' && !e.closest('.wide')).map(e => e.textContent.slice(0, 40)); }""", css)
            assert not cut and page.evaluate("document.documentElement.scrollWidth") <= 360, (path, css, cut)
    page.close()


@pytest.mark.browser
@pytest.mark.parametrize("part", range(2))     # shared out among the workers
def test_axe_finds_nothing(bound, chromium, part):
    """axe-core with the rules for WCAG 2.0 to 2.2 A and AA and its best practices, on pages that together hold every kind of element in
    every kind of place; in the dark scheme, where nothing but colours differs, its rules about colour."""
    axe = (files("axe_playwright_python") / "axe.min.js").read_text("utf-8")
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    for path in of_every_kind(pages(bound))[part::2]:
        page.emulate_media(color_scheme="light")
        page.goto(path.as_uri())
        page.evaluate(axe)
        for scheme, rules in (("light", {}), ("dark", {"runOnly": {"type": "tag", "values": ["cat.color"]}})):
            page.emulate_media(color_scheme=scheme)
            found = page.evaluate("async rules => (await axe.run(document, rules)).violations.map(v => v.id + ': ' + v.nodes[0].html)", rules)
            assert found == [], (path, scheme, found)
    page.close()
