"""The page of the monthly round in a browser: short, to be ticked, and forgetful."""

import pytest
from house import ROOT, report_of

from sitegen.binder.desk import Desk
from sitegen.binder.round import monthly_round
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("language, place", [("en", "index.html"), ("es", "es/index.html")])
def test_the_round_is_under_2500_pixels_and_has_a_box_a_press(bound, chromium, language, place):
    """At 360: no more than seven screens of a small phone. On a desk both parts stand side by side."""
    whole = monthly_round(Desk(report_of(ROOT / "example_job"), open_theme().words(language), "" if language == "en" else language))
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    page.goto((bound / "site" / "monthly-test" / place).as_uri())
    assert page.evaluate("document.documentElement.scrollHeight") < 2500
    assert page.locator("input:not(.look)").count() == len(whole.presses) == 18
    assert page.locator("input.look").count() == len(whole.last) > 3
    assert page.locator("table").count() == 1
    page.set_viewport_size({"width": 1280, "height": 900})
    parts = [box.bounding_box() for box in page.locator(".round > div").all()]
    assert parts[0]["y"] == parts[1]["y"] and parts[0]["x"] + parts[0]["width"] < parts[1]["x"]
    page.close()


def test_ticks_are_counted_and_kept_only_while_the_page_is_open(bound, chromium):
    page = chromium.new_page(viewport={"width": 360, "height": 560}, java_script_enabled=True)
    page.goto((bound / "site" / "monthly-test" / "index.html").as_uri())
    shown = page.locator(".tested").bounding_box()["width"]
    for number in range(11):
        page.locator("input").nth(number).check()
    assert page.locator(".tested").bounding_box()["width"] > 1.5 * shown     # "11" in place of "0"
    assert page.evaluate("[localStorage.length, sessionStorage.length, document.cookie]") == [0, 0, ""]
    page.reload()
    assert page.locator("input:checked").count() == 0
    page.close()


def test_no_page_but_this_one_has_the_table_of_results(bound):
    """A device's page leads to it."""
    words = open_theme().words("en")
    heading, link = words.text("monthly.results_heading"), words.text("monthly.results_link")
    pages = {path.parent.name: path.read_text("utf-8") for path in (bound / "site").glob("*/index.html")}
    assert [name for name, text in pages.items() if heading in text] == ["monthly-test"]
    assert link in pages["K1"] and "monthly-test/index.html#results" in pages["K1"]
