"""The search of the service record in a browser: an id, a circuit and what is called main are found; without a script all is listed."""

import pytest

pytestmark = pytest.mark.browser

PAGES = {"en": "service-record/index.html", "es": "service-record/es/index.html"}


@pytest.mark.parametrize(("language", "typed", "names"), [
    ("en", "F1", ["F1"]), ("en", "b8", ["B8"]), ("en", "circuit 5", ["Circuit 5"]), ("en", "main", ["P1"]), ("en", "K1", ["K1"]),
    ("en", "kettle", ["K4"]), ("en", "hg-120", ["B10"]), ("es", "circuito 5", ["Circuito 5"]), ("es", "principal", ["P1"]), ("en", "zebra", [])])
def test_what_is_typed_is_found(bound, chromium, language, typed, names):
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    page.goto((bound / "site" / PAGES[language]).as_uri())
    page.fill("#q", typed)
    found = page.locator("[data-known]:visible strong").all_text_contents()
    assert found[:len(names)] == names and len(found) <= max(3, len(names))
    assert page.locator("#none").is_visible() is (not names)
    page.close()


def test_enter_leads_to_the_page_or_the_row(bound, chromium):
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    for typed, there in (("F1", "/service-record/F1/index.html"), ("circuit 5", "/service-record/P1-5/index.html"), ("K3", "/service-record/P1-5/index.html#K3")):
        page.goto((bound / "site" / PAGES["en"]).as_uri())
        page.fill("#q", typed)
        page.keyboard.press("Enter")
        page.wait_for_url(f"**{there}")
    page.close()
