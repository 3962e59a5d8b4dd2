"""A phone with the rough-in page open."""

import pytest
from commands.begin.roughed import opened
from tapping import rough_in_page


@pytest.fixture
def context(chromium):
    context = chromium.new_context(viewport={"width": 360, "height": 640}, has_touch=True, is_mobile=True)
    context.set_default_timeout(10_000)
    yield context
    context.close()


@pytest.fixture
def phone(context, tmp_path):
    page = opened(context, rough_in_page(tmp_path))
    yield page
    assert page.errors == []
