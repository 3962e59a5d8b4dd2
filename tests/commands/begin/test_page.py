"""The rough-in page in a real browser, by touch: the map that is tapped is the map that was written by hand."""

import json
from dataclasses import replace
from importlib.resources import files
from random import Random

import pytest
from commands.begin.roughed import BREAKER, FEEDS, RUN, STEPS, WALKED_TWICE, begun, feeds, opened, saved
from houses import random_house
from tapping import NAME, Thumb, rough_in_page

from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.tree import Tree

pytestmark = pytest.mark.browser
SEEDS = (39, 28, 35)
DETAILED = "5"  # the circuit of the example whose uses and device data are tapped too


def map_of(job):
    """What a map says that can be tapped."""
    return ({(panel.id, panel.at, panel.fed_from) for panel in job.panels},
            {(breaker.id, breaker.kind.name, breaker.space, breaker.amps, breaker.poles) for breaker in job.breakers},
            {(circuit.key, circuit.number, circuit.panel, circuit.serves, circuit.breaker) for circuit in job.circuits},
            {(point.id, point.kind.name, point.circuit, point.room, point.at, str(point.feed), point.use, tuple(point.device.items()))
             for point in job.points})


def houses(example):
    """The example, and three made by chance, with a subpanel and a breaker of two circuits among them; of two poles the page writes
    both spaces."""
    job = read_job(example)
    yield replace(job, points=tuple(point if point.circuit == f"P1-{DETAILED}" or not point.kind.has_face and point.use and point.kind.is_outlet
                                    else replace(point, use=None, device={}) for point in job.points))
    for seed in SEEDS:
        job = random_house(Random(seed))
        yield replace(job, breakers=tuple(replace(one, space="9/11") if one.poles == 2 else one for one in job.breakers))


@pytest.mark.parametrize("number", range(4))
def test_the_map_that_is_tapped_is_the_map_by_hand(context, example, tmp_path, capsys, number):
    address, job = rough_in_page(tmp_path), list(houses(example))[number]
    opened(context, address).close()    # known to keep what is entered, it needs no copy in its address
    phone = opened(context, address)
    Thumb(phone).enter(job)
    file = saved(phone, tmp_path)
    folder = tmp_path / NAME
    assert file.name == f"{NAME}-points.csv" and main(["begin", str(folder), "--from", str(file)]) == 0
    assert f"{len(job.points)} points on {len(job.circuits)} circuits placed, 0 rows not." in capsys.readouterr().out
    for found, meant in zip(map_of(read_job(folder)), map_of(job)):
        assert found - meant == set() == meant - found
    assert main(["check", str(folder), "--json"]) == 1 and phone.errors == []
    tree, said = Tree(job), json.loads(capsys.readouterr().out)
    assert {id: (one["protected_by"], one["reset_order"]) for id, one in said["points"].items()} == {
        id: (list(tree.protected_by(id)), list(tree.reset_order(id))) for id in job.point}


def test_a_point_is_about_five_taps_and_no_typing(phone, tmp_path):
    thumb = Thumb(phone)
    for step in STEPS:
        thumb.tap(step)
    taps = thumb.taps - 2 * len(BREAKER)    # two breakers, five taps each
    job = begun(phone, tmp_path)
    assert feeds(job) == FEEDS
    assert taps / len(job.points) <= 5 and thumb.typed == 0
    assert (job.breaker["B7"].space, job.breaker["B7"].poles, job.point["G1"].use) == ("7/9", 2, "water heater")


def test_closed_at_every_step_nothing_is_lost(context, tmp_path):
    address = rough_in_page(tmp_path)
    page = opened(context, address)
    for number, step in enumerate(STEPS[:18]):
        if number > 2 and step not in WALKED_TWICE:
            page.close()
            page = opened(context, address)
        Thumb(page).tap(step)
        assert page.errors == []
    page.close()
    page = opened(context, address)
    for step in STEPS[18:]:
        Thumb(page).tap(step)
    assert feeds(begun(page, tmp_path)) == FEEDS


def test_where_the_phone_keeps_nothing_the_address_does(context, tmp_path):
    context.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }")
    page = opened(context, rough_in_page(tmp_path))
    for step in STEPS[:9]:
        Thumb(page).tap(step)
    assert "Kept in the address alone" not in page.text_content("main")
    later = opened(context, page.url)
    Thumb(later).tap("go")
    for step in (*STEPS[9:14], "list"):
        Thumb(later).tap(step)
    assert "Kept in the address alone" in later.text_content("main")
    assert feeds(begun(later, tmp_path)) == {"K1": "B5", "K2": "K1 load"}


def test_undo_says_what_it_takes_back(phone):
    for step in [*BREAKER, *RUN[0], *RUN[1], "list"]:
        Thumb(phone).tap(step)
    assert phone.text_content("[data-key=undo]") == "Undo: K2"
    for step in ("point K2", "fact point room K2", "room Hall", "list", "undo"):
        Thumb(phone).tap(step)
    assert phone.text_content(".said") == "Taken back: K2." and phone.text_content("[data-key=undo]") == "Undo: K2"
    Thumb(phone).tap("undo")
    assert phone.text_content("[data-key=undo]") == "Undo: K1" and not Thumb(phone).has("point K2")


def test_of_two_open_pages_the_older_is_told(context, phone, tmp_path):
    for step in STEPS[:9]:
        Thumb(phone).tap(step)
    other = opened(context, phone.url)
    Thumb(other).tap("next")
    phone.wait_for_selector("[data-key=twice]")
    Thumb(phone).tap("twice")
    assert Thumb(phone).has("go")


def test_what_the_phone_kept_and_cannot_read_is_put_aside_and_told(context, tmp_path):
    address = rough_in_page(tmp_path)
    page = opened(context, address)
    page.wait_for_function("() => store.turn > 0")
    page.evaluate(f"localStorage.setItem('rough {NAME}', '{{\"turn\": 3, \"value\": {{\"panels\": []}}}}')")
    page = opened(context, address)
    assert "was put aside" in page.text_content("main") and Thumb(page).has("go") and page.errors == []
    assert page.evaluate(f"localStorage.getItem('rough {NAME} spoilt')").startswith('{"turn"')


ODD = ['<img src=x onerror=alert(1)>, "left"', "\u0645\u0637\u0628\u062e", "\u05de\u05d8\u05d1\u05d7 {id} **bold**"]


def test_texts_are_only_ever_text(phone, tmp_path):
    thumb = Thumb(phone)
    thumb.tap("go")
    thumb.type(ODD[0])
    for step in ("space 5", "one 20", "type gfci", "next", "is receptacle"):
        thumb.tap(step)
    thumb.type(ODD[1])
    thumb.type(ODD[2])
    assert phone.locator("img, main b").count() == 0
    thumb.tap("list")
    assert ODD[0] in phone.text_content("main") and ODD[2] in phone.text_content("main")
    job = begun(phone, tmp_path)
    assert [job.panels[0].at, job.points[0].room, job.points[0].at] == ODD


def test_nothing_is_fetched_and_no_other_script_runs(phone):
    asked = []
    phone.on("request", lambda request: asked.append(request.url))
    assert phone.evaluate("""async () => {
        const script = document.createElement("script");
        let refused = false;
        try { script.textContent = "window.ran = true"; document.body.append(script); } catch (no) { refused = true; }
        try { await fetch("https://house.example/"); return "fetched"; } catch (no) { return [refused, window.ran === undefined]; }
    }""") == [True, True]
    assert asked == [] or all(url.startswith("https://house.example") for url in asked)
    phone.errors.clear()


def test_by_keyboard_alone(phone, tmp_path):
    """Tab and Enter reach every key that the run needs, in the order of the screen."""
    for step in [*BREAKER, *RUN[0], *RUN[1], "list", "send"]:
        for _ in range(80):
            phone.keyboard.press("Tab")
            if phone.evaluate("document.activeElement.dataset.key") == step:
                break
        assert phone.evaluate("[document.activeElement.dataset.key, getComputedStyle(document.activeElement).outlineStyle]") == [step, "solid"]
        phone.keyboard.press("Enter")
    assert "Points: 2. Circuits: 1." in phone.text_content("main")


SCREENS = [*STEPS[:22], "list", "panel P1", "list", "point K1", "more", "out", "fact point note K1", "back", "list", "breaker B5", "second", "back", "list", "breaker",
           "space 20", "back", "back", "send", "show"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_screen_is_for_everyone(chromium, tmp_path, scheme):
    """axe-core, text 7 to 1 (WCAG 2.2 1.4.6) included; keys of 44 px (2.5.5); nothing off the side at 320 px, at half as large text
    again, in forced colours."""
    axe = (files("axe_playwright_python") / "axe.min.js").read_text("utf-8")
    page = opened(chromium.new_context(viewport={"width": 320, "height": 560}, has_touch=True, is_mobile=True, color_scheme=scheme),
                  rough_in_page(tmp_path))
    page.evaluate(axe)
    seen, light = set(), scheme == "light"
    for step in (None, *SCREENS):
        Thumb(page).tap(step) if step else None
        screen = page.evaluate("shown")
        if screen in seen:
            continue
        seen.add(screen)
        page.evaluate("document.getElementById('bar').style.position = 'static'")    # else the key that it lies over half counts as small
        rules = {"runOnly": ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21aa", "wcag22aa", "best-practice"] if light else ["color-contrast-enhanced"]}
        assert page.evaluate("async rules => (await axe.run(document, rules)).violations.map(v => v.id + ': ' + v.nodes[0].html)", rules) == [], screen
        assert page.evaluate("""[...document.querySelectorAll('button, input')].filter(key => {
            const box = key.getBoundingClientRect(); return box.height < 44 || box.width < 44; }).map(key => key.outerHTML)""") == [], screen
        assert page.evaluate("""[...document.querySelectorAll('button')].filter(key => {    // no word is broken
            const wide = key.offsetWidth;
            key.style.cssText = "overflow-wrap: normal; width: min-content; min-width: 0; max-width: none; flex: none; position: static";
            const word = key.offsetWidth;
            key.style.cssText = "";
            return word > wide + 1; }).map(key => key.textContent)""") == [], screen
        page.evaluate("document.documentElement.style.fontSize = '150%'")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, screen
        page.evaluate("document.documentElement.style.fontSize = document.getElementById('bar').style.position = ''")
    assert len(seen) == 19 and page.errors == []
    page.context.close()
