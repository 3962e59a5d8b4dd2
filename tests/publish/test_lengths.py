"""How long the pages are on a phone, and what the first screen of a desk holds, in a real browser, in every language."""

import json

import pytest

pytestmark = pytest.mark.browser

STARTS = {"en": "index.html", "es": "other-languages/es/index.html"}


def place_pages(bound, language: str) -> list[str]:
    """The page of every outlet and device."""
    listed = json.loads((bound / "binder.json").read_text())
    ids = dict.fromkeys(row["id"] for row in (*listed["devices"], *listed["outlets"]))
    return [f"{id}/{'' if language == 'en' else language + '/'}index.html" for id in ids]


@pytest.mark.parametrize("language", STARTS)
def test_the_start_page_and_the_round_are_short_on_a_phone(bound, chromium, language):
    """At 360 px; how long the pages of outlets and devices are: test_everyone.py, which opens each of them."""
    page = chromium.new_page(viewport={"width": 360, "height": 640})
    further = "" if language == "en" else f"{language}/"
    for path, most in ((STARTS[language], 3000), (f"monthly-test/{further}index.html", 2500)):
        page.goto((bound / "site" / path).as_uri())
        assert page.evaluate("document.documentElement.scrollHeight") < most, path
    page.close()


def test_both_numbers_are_keys_on_the_first_screen_at_every_width(bound, chromium):
    """The electrician and 911, each 48 px high; on a wide screen the electrician's number can be read; nothing runs off the side;
    at most one black rule a page."""
    page = chromium.new_page()
    paths = [path for language in STARTS for path in (STARTS[language], *place_pages(bound, language)[::4])]
    for path in (*paths, "breaker-panels/P1/index.html", "stopped-together/es/index.html"):
        page.goto((bound / "site" / path).as_uri())
        for width, high in ((360, 640), (390, 844), (768, 1024), (1280, 900)):
            page.set_viewport_size({"width": width, "height": high})
            keys, number, wide, thick = page.evaluate("""() => [
                [...document.querySelectorAll(".stop .call")].map(key => key.getBoundingClientRect()).map(box => [box.height, box.bottom]),
                document.querySelector(".stop .number").checkVisibility({visibilityProperty: true}), document.documentElement.scrollWidth,
                [...document.querySelectorAll("section")].filter(e => parseFloat(getComputedStyle(e).borderTopWidth) > 2).length]""")
            assert len(keys) == 2 and all(tall >= 48 and low <= high for tall, low in keys), (path, width)
            assert number == (width >= 768) and wide <= width and thick <= 1, (path, width)
    page.close()


@pytest.mark.parametrize("scripted", [True, False])
@pytest.mark.parametrize("language", STARTS)
def test_a_desk_shows_the_doors_and_every_room_on_one_screen(bound, chromium, language, scripted):
    context = chromium.new_context(viewport={"width": 1280, "height": 900}, java_script_enabled=scripted)
    page = context.new_page()
    page.goto((bound / "site" / STARTS[language]).as_uri())
    outlets = json.loads((bound / "binder.json").read_text())["outlets"]
    links = [link.bounding_box() for link in page.locator(".room-group a").all()]
    assert len(links) == len(outlets) and all(box and box["y"] + box["height"] <= 900 for box in links)
    assert all(box["x"] > 400 for box in links) and all(way.bounding_box()["x"] < 400 for way in page.locator(".way").all())
    context.close()


def test_the_kitchen_comes_first_and_a_panel_is_one_tap_from_the_start(bound, chromium):
    page = chromium.new_page(viewport={"width": 360, "height": 640})
    page.goto((bound / "site" / "index.html").as_uri())
    assert page.locator(".room-group h3").first.inner_text() == "Kitchen" and page.locator(".way").count() == 5
    page.click(".way a[href*='breaker-panels/P1/']")
    spaces = page.locator(".panel-face li a").all()
    assert len(spaces) == 14 and page.locator(".panel-face li p").count() == 2 and "MAIN" in page.locator(".panel-face .main").inner_text()
    assert all(space.bounding_box()["height"] >= 48 for space in spaces)
    page.click(".panel-face a:has-text('Refrigerator')")
    page.wait_for_url("**/B9/index.html")
    page.close()
