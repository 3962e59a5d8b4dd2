"""The sheet of a visit as Chromium prints it: one leaf, with every outlet that it speaks of and nothing private."""

import io

import pytest
from pypdf import PdfReader

from sitegen.job import read_job

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("ending", ["", "-es"])
@pytest.mark.parametrize("size", ["Letter", "A4"])
def test_a_visit_is_one_leaf(example, bound, chromium, ending, size):
    """At most both sides: nobody prints the whole binder again. Ids are those the visit touched or what hangs on them."""
    page = chromium.new_page()
    page.goto(f"file://{bound}/print/visit-2027-05-18{ending}.html")
    pages = [side.extract_text() for side in PdfReader(io.BytesIO(page.pdf(format=size))).pages]
    page.close()
    text = " ".join(pages)
    assert len(pages) <= 2
    for id in ("K2", "K3", "K4", "K5", "K6", "K7", "K8", "D2", "E3"):
        assert id in text
    assert "26W07" in text and ("RESET" in text)
    file = read_job(example).file
    assert not [value for value in (*file.home.values(), *file.private.values()) if value in text]


def test_the_record_names_the_visit_newest_first_and_each_circuit_it_touched(bound):
    site = bound / "site" / "service-record"
    assert "Visit of 18 May 2027" in (site / "index.html").read_text("utf-8")
    told = {path.parent.name for path in site.glob("P1-*/index.html") if "Visit of 18 May 2027" in path.read_text("utf-8")}
    assert told == {"P1-5", "P1-7", "P1-16"}
    old = (site / "P1-7" / "index.html").read_text("utf-8")
    assert "Void since the visit of 18 May 2027." in old and "2026-05-08" in old
