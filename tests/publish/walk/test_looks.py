"""Every screen for a hand in a glove, in sun, at large text, in forced colours, by keyboard alone; and every word of the page asked for."""

from __future__ import annotations

import json
import re
from importlib.resources import files

import pytest
from house import BASE, ROOT, report_of
from publish.test_everyone import ratio
from publish.walk.taps import BEGIN, Walker, data_of, page_of, without_tests
from tapping import open_page

from sitegen.publish.theme import open_theme

THEME = ROOT / "themes" / "lamplight"
# Text and what it stands on, 7 to 1 (WCAG 2.2 1.4.6); edges of keys 3 to 1 (1.4.11).
PAIRS = [("ink", "paper", 7), ("paper", "ink", 7), ("quiet", "paper", 7), ("ink", "soft", 7), ("quiet", "soft", 7), ("stop", "paper", 7), ("paper", "stop", 7),
         ("ink", "stop-soft", 7), ("lamp-ink", "lamp", 7), ("edge", "paper", 3), ("stop", "stop-soft", 3), ("focus", "paper", 3)]


def test_colours_of_the_phone_stand_apart_in_both_schemes():
    light, dark = (THEME / "style" / "phone.css").read_text("utf-8").split("@media (prefers-color-scheme: dark)")
    roles = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", light.split("* { box-sizing")[0]))
    for colours in (roles, roles | dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", dark.split("* { box-sizing")[0]))):
        for one, other, least in PAIRS:
            assert ratio(colours[one], colours[other]) >= least, (one, other, ratio(colours[one], colours[other]))
    assert not re.search(r"#[0-9a-f]{3,8}\b|rgb|hsl", dark.split("* { box-sizing")[1])


def test_every_word_of_the_page_is_asked_for_and_none_is_missing():
    """Names put together in the script stand here with what they are put together from."""
    script = "\n".join(path.read_text("utf-8") for folder in ("phone", "walk") for path in sorted((THEME / "script" / folder).glob("*.js")))
    texts = set(re.findall(r'"([a-z_.]+)"', script))
    parts = [name for name in texts if name.endswith((".", "_"))]
    page = open_theme().words("en").get("walk.page")

    def names(node, name=""):
        for key, value in node.items() if isinstance(node, dict) else enumerate(node):
            here = f"{name}.{key}" if name else str(key)
            yield from names(value, here) if isinstance(value, dict | list) else [here]
    known = set(names(page))
    assert {name for name in known if name not in texts and not any(name.startswith(part) for part in parts)} - {"name"} <= {
        name for name in known if name.startswith("test.")}
    asked = set(re.findall(r'(?:tell|plain|asking)\("([a-z_.]+)"[,)]', script))
    assert len(asked) > 40 and not asked - known


@pytest.fixture(scope="module")
def small():
    return without_tests(report_of(BASE))


def screens(walker, data):
    """A way past every screen; gives the name of each once it is there."""
    yield "start"
    walker.tap("other")
    yield "someone else"
    walker.page.fill("#who", "A. Fern")
    for key in ("take who", "not now"):
        walker.tap(key)
    yield "clock"
    for key in ("now", "told", "go"):
        walker.tap(key)
    yield "list"
    tester = next(test["key"] for test in data["tests"] if test["pressed"] == "tester")
    device = next(test["key"] for test in data["tests"] if test["pressed"] == "device" and len(test["looks"]) > 2)
    walker.tap(tester)
    for name, key in (("wiring", "correct"), ("volts", "v121"), ("tenths", "t4")):
        yield name
        walker.tap(key)
    yield "opened"
    walker.tap("two")
    yield "several"
    walker.tap("back")
    walker.tap("nothing")
    yield "odd answer"
    walker.first("keep ")
    yield "left"
    walker.tap("other")
    walker.page.fill("#typed", "12")
    walker.tap("take typed")
    walker.tap("typed live")
    walker.first("keep ") if walker.any("keep ") else None
    yield "looks of a tester"
    for key in ("back", device):
        walker.tap(key)
    walker.tap(f"o {device.split()[2]}")
    yield "looks"
    for what in ("dead ", "live "):
        for number in range(2):
            walker.page.evaluate("([what, at]) => document.querySelectorAll(`[data-key^=\"${what}\"]`)[at].click()", [what, number + (what == "live ") * 2])
    yield "looks at odds"
    walker.tap("save")
    yield "odd look"
    while walker.any("keep "):
        walker.first("keep ")
    walker.tap("go on")
    walker.tap("no reset")
    yield "no reset"
    walker.tap("sure")
    walker.tap("save gaps")
    yield "did not come back"
    walker.tap("undo")
    if walker.has("house"):
        walker.tap("house")
        yield "rest"
        walker.tap("no")
    walker.tap("save")
    yield "gaps"
    walker.tap("save gaps")
    yield "saved"
    walker.tap("back")
    yield "list with rows"
    walker.tap(device)
    yield "row"
    for key in ("back", "other"):
        walker.tap(key)
    yield "other"
    walker.tap("tester")
    walker.tap("Kitchen")
    yield "which one"
    for _ in range(3):
        walker.tap("back")
    walker.tap("send")
    yield "send"
    walker.tap("text")
    yield "text"
    walker.page.evaluate("store.taken = true; draw()")
    yield "open twice"


def walker_of(chromium, small, folder, width, height, **more):
    context = chromium.new_context(viewport={"width": width, "height": height}, has_touch=True, is_mobile=True, **more)
    return context, Walker(context.new_page(), page_of(small, folder))


MEASURE = """() => [...document.querySelectorAll("button, input, textarea")].filter(key => key.offsetParent).map(key => {
  const box = key.getBoundingClientRect(), over = key.scrollWidth - key.clientWidth;
  key.style.cssText = "overflow-wrap: normal; width: min-content; min-width: 0; max-width: none; flex: none";    // as wide as its longest word
  const word = key.tagName === "BUTTON" ? key.offsetWidth - box.width : 0;
  key.style.cssText = "";
  return [key.dataset.key || key.id, box.width, box.height, Math.max(over, word)];
}).filter(([, width, height, over]) => width < 44 || height < 44 || over > 1)"""


@pytest.mark.browser
@pytest.mark.parametrize("size", [(360, 640), (320, 560), (240, 427), (213, 373)])
def test_keys_are_large_and_nothing_runs_off(small, chromium, tmp_path, size):
    """44 px and more (WCAG 2.2 2.5.5). The last two are the first two at text of 150 %: everything is measured in letters."""
    context, walker = walker_of(chromium, small, tmp_path, *size)
    seen = 0
    for name in screens(walker, data_of(small)):
        assert walker.page.evaluate("document.documentElement.scrollWidth") <= size[0], name
        assert not walker.page.evaluate(MEASURE), name
        fixed = walker.page.evaluate("getComputedStyle(document.getElementById('bar')).position")
        assert fixed == ("sticky" if size[1] > 500 else "static"), name
        seen += 1
    assert seen >= 24
    context.close()


@pytest.mark.browser
@pytest.mark.thorough
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_on_any_screen(small, chromium, tmp_path, scheme):
    """axe-core with contrast of 7 to 1 (its rule color-contrast-enhanced, WCAG 2.2 1.4.6)."""
    axe = (files("axe_playwright_python") / "axe.min.js").read_text("utf-8")
    context, walker = walker_of(chromium, small, tmp_path, 360, 640, color_scheme=scheme, bypass_csp=True)
    walker.page.evaluate(f"(0, eval)({json.dumps(axe)})")
    for name in screens(walker, data_of(small)):
        found = walker.page.evaluate("axe.run({rules: {'color-contrast-enhanced': {enabled: true}}, resultTypes: ['violations']})")
        assert not [(one["id"], one["nodes"][0]["html"]) for one in found["violations"]], name
        assert "color-contrast-enhanced" in {one["id"] for one in found["passes"]}, name
    context.close()


@pytest.mark.browser
def test_forced_colours_still_tell_what_is_tapped(small, chromium, tmp_path):
    context, walker = walker_of(chromium, small, tmp_path, 360, 640, forced_colors="active")
    look = "key => { const style = getComputedStyle(document.querySelector(`[data-key^='${key}']`)); return [style.backgroundColor, style.color]; }"
    for name in screens(walker, data_of(small)):
        if name == "looks at odds":
            down = walker.page.evaluate("[...document.querySelectorAll('.pair [aria-pressed]')].map(key => [key.getAttribute('aria-pressed'), getComputedStyle(key).backgroundColor])")
            assert len({colour for pressed, colour in down if pressed == "true"} & {colour for pressed, colour in down if pressed == "false"}) == 0
            assert {pressed for pressed, _ in down} == {"true", "false"}
            break
    assert walker.page.evaluate(look, "dead ")
    context.close()


@pytest.mark.browser
def test_a_test_is_entered_by_keyboard_alone(small, chromium, tmp_path):
    """Tab and Enter; what was tapped keeps the focus."""
    page = chromium.new_page(viewport={"width": 360, "height": 640})
    page.clock.set_fixed_time(BEGIN)
    open_page(page, page_of(small, tmp_path).as_uri())

    def press(key):
        for _ in range(60):
            if (page.evaluate("document.activeElement.dataset.key || ''")).startswith(key):
                return page.keyboard.press("Enter")
            page.keyboard.press("Tab")
        raise AssertionError(key)
    press("other")
    page.keyboard.type("A. Fern")
    page.keyboard.press("Enter")
    tester = next(test["key"] for test in data_of(small)["tests"] if test["pressed"] == "tester")
    opened = small.tree.protected_by(tester.split()[2])[0]
    for key in ("now", "told", "go", tester, "correct", "v121", "t4", f"o {opened}", "l0.1", "save"):
        press(key)
    assert page.evaluate("log.rows[0].cells.slice(1, 11)") == [tester.split()[2], "tester", "121.4", "correct", opened, tester.split()[2], "", "0.1", "yes", "A. Fern"]
    page.close()
