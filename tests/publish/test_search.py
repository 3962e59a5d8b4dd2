"""The search box in a real browser: what people type finds the right page first; the rest of the page is folded away."""

from urllib.parse import urlsplit

import pytest
import yaml
from house import CASES

pytestmark = pytest.mark.browser

STARTS = {"en": "index.html", "es": "other-languages/es/index.html"}
NAMED = {"PANEL": "P1", "DARK": "dark", "BRIGHT": "bright"}


def found_first(page, typed: str) -> str:
    """The id that stands first, the part of the page it leads to, or STOP for the stop box at the top of the screen."""
    page.fill("#q", typed)
    if page.locator(".stop.alarm").count():
        return "STOP" if 0 <= page.locator(".stop").bounding_box()["y"] < 200 else "a stop box out of sight"
    first = page.locator("#found a").first
    if not first.count():
        return "nothing"
    href = urlsplit(first.get_attribute("href"))
    return href.fragment or next(part for part in href.path.split("/") if part not in ("..", "breaker-panels"))


@pytest.mark.parametrize("language", STARTS)
def test_what_people_type_finds_the_right_page_first(bound, chromium, language):
    """57 of 60 at least: the queries stood in the case file before the search was made to find them."""
    queries = yaml.safe_load((CASES / "search" / f"{language}.yaml").read_text("utf-8"))
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    page.goto((bound / "site" / STARTS[language]).as_uri())
    missed = {typed: (got, meant) for typed, meant in queries.items() if (got := found_first(page, typed)) != NAMED.get(meant, meant)}
    page.close()
    assert len(queries) == 60 and len(missed) <= 3, missed


@pytest.mark.parametrize("language, queries", [
    ("en", ["space heater", "portable heater", "space heater stopped", "electric heater", "spaceheater"]),
    ("es", ["calefactor", "calefactor eléctrico", "calefactor portátil", "calefactores", "calentador portátil"])])
def test_a_heater_that_is_plugged_in_anywhere_leads_to_the_panel(bound, chromium, language, queries):
    """It turns a breaker off (common practice, no source), and it is not the furnace, which the first screen of results may name later."""
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    page.goto((bound / "site" / STARTS[language]).as_uri())
    assert {typed: found_first(page, typed) for typed in queries} == dict.fromkeys(queries, "P1")
    page.close()


def test_what_is_found_folds_the_rest_away_and_nothing_found_does_not(bound, chromium):
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    messages = []
    page.on("console", lambda message: messages.append(message.text))
    page.goto((bound / "site" / "index.html").as_uri())
    shown = lambda: [page.locator(part).is_visible() for part in ("#found", "#rooms", ".ways", "#dark", "#none", ".stop")]  # noqa: E731
    assert shown() == [False, True, True, True, False, True]
    page.fill("#q", "toaster")
    assert shown() == [True, False, False, False, False, True]
    box = page.locator("#found a").first.bounding_box()
    assert box["y"] + box["height"] <= 560 and "Kitchen" in page.locator("#found a").first.inner_text()
    page.fill("#q", "zzzz")
    assert shown() == [False, True, True, True, True, True]
    page.fill("#q", "lights too dim")
    page.press("#q", "Enter")
    page.wait_for_url("**/index.html#bright")
    page.locator("#found").wait_for(state="hidden")     # the list folds once the page has heard of the new address
    assert shown()[:4] == [False, True, True, True] and page.locator("#bright").bounding_box()["y"] < 560
    page.fill("#q", "toaster")
    page.press("#q", "Enter")
    page.wait_for_url("**/K3/index.html")
    assert messages == []
    page.close()
