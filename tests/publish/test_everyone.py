"""Pages for everyone: contrast, reflow, large text, spacing, targets, axe-core, weight."""

import gzip
import re
from importlib.resources import files

import pytest
from house import ROOT

STYLE = ROOT / "themes" / "lamplight" / "style" / "site.css"

# Pairs of role colours that stand on each other: (text or mark, ground, least ratio by WCAG 2.2 1.4.3 and 1.4.11).
PAIRS = [("ink", "paper", 4.5), ("quiet", "paper", 4.5), ("ink", "soft", 4.5), ("quiet", "soft", 4.5), ("link", "paper", 4.5),
         ("link", "soft", 4.5), ("key-ink", "key", 4.5), ("stop", "stop-soft", 4.5), ("ink", "stop-soft", 4.5),
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


@pytest.mark.browser
def test_nothing_runs_off_a_320_pixel_screen(bound, chromium):
    """WCAG 2.2 1.4.10 reflow: 1280 px at 400 % is 320; tables of data may scroll in their own box."""
    page = chromium.new_page(viewport={"width": 320, "height": 256})
    for path in pages(bound):
        page.goto(path.as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
    page.close()


@pytest.mark.browser
@pytest.mark.parametrize("css", [
    "html{font-size:130%}", "html{font-size:200%}",
    "*{line-height:1.5!important;letter-spacing:.12em!important;word-spacing:.16em!important}p{margin-bottom:2em!important}"])
def test_large_text_and_wide_spacing_cut_nothing(bound, chromium, css):
    """WCAG 2.2 1.4.4 and 1.4.12: no text is cut off or runs off the side at 360 px."""
    page = chromium.new_page(viewport={"width": 360, "height": 560}, bypass_csp=True)
    for path in pages(bound)[::5]:
        page.goto(path.as_uri())
        page.add_style_tag(content=css)
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, path
        cut = page.evaluate("""[...document.querySelectorAll('h1,h2,h3,p,li,td,th,a')].filter(e =>
            e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline'
            && !e.closest('.wide')).map(e => e.textContent.slice(0, 40))""")
        assert not cut, (path, cut)
    page.close()


@pytest.mark.browser
def test_at_130_percent_the_headline_and_the_room_are_on_the_first_screen(bound, chromium):
    """Where something is to be looked at before any walk, the headline alone."""
    page = chromium.new_page(viewport={"width": 360, "height": 560}, bypass_csp=True)
    for path in pages(bound):
        page.goto(path.as_uri())
        if not page.locator(".answer").count():
            continue
        page.add_style_tag(content="html{font-size:130%}")
        wet_first = page.locator(".stop ~ h1").count()      # outdoors: what must not be pressed stands before what to press
        for what in (".stop p",) if wet_first else ("h1",) if page.locator("ul.first").count() else ("h1", ".room"):
            box = page.locator(what).first.bounding_box()
            assert box["y"] + box["height"] <= 560, (path, what)
    page.close()


@pytest.mark.browser
def test_what_a_thumb_presses_is_large_enough(bound, chromium):
    """Call buttons 48 px high; links that stand alone 44 px (WCAG 2.2 2.5.5); links inside a sentence are free (2.5.8)."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    for path in pages(bound):
        if "service-record" in path.parts:
            continue
        page.goto(path.as_uri())
        small = page.evaluate("""[...document.querySelectorAll('a')].filter(a => {
            const box = a.getBoundingClientRect(), least = a.classList.contains('call') ? 48 : 44;
            const inText = a.parentElement.closest('p, .others, .note') && !a.classList.contains('call');
            return box.height && !inText && box.height < least && !a.closest('.row'); }).map(a => a.outerHTML)""")
        assert not small, (path, small)
    page.close()


@pytest.mark.browser
@pytest.mark.parametrize("part", range(3))     # shared out among the workers
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(bound, chromium, scheme, part):
    """axe-core with the rules for WCAG 2.0 to 2.2 A and AA and its best practices, on every page, and of those about a fault, which
    are one template with other ids in it, on every fifth; in the dark scheme, where nothing but colours differs, its rules about colour."""
    rules = {} if scheme == "light" else {"runOnly": {"type": "tag", "values": ["cat.color"]}}
    axe = (files("axe_playwright_python") / "axe.min.js").read_text("utf-8")
    page = chromium.new_page(viewport={"width": 360, "height": 560}, color_scheme=scheme)
    faults, others = ([path for path in pages(bound) if ("isolate" in path.parts) == wanted] for wanted in (True, False))
    assert len(faults[::5]) > 20 and len({path.parent.name for path in faults[::5]}) == len({path.parent.name for path in faults})
    for path in [*others, *faults[::5]][part::3]:
        page.goto(path.as_uri())
        page.evaluate(axe)
        found = page.evaluate("async rules => (await axe.run(document, rules)).violations.map(v => v.id + ': ' + v.nodes[0].html)", rules)
        assert found == [], (path, found)
    page.close()
