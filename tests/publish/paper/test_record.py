"""The record for the technician on paper: short, whole, the map of a circuit beside what was tested there."""

import pytest
from house import ROOT
from publish.paper.prints import squeezed

from sitegen.job import read_job

pytestmark = pytest.mark.browser

def test_the_service_record_takes_ten_pages_at_most(paper):
    """The list of the house and its rounds, then the maps of circuits and what was tested there; with all before it at most forty."""
    [first] = [number for number, text in enumerate(paper.texts, 1) if squeezed(paper.words.text("service.devices_heading")) in squeezed(text)]
    assert len(paper.texts) - first + 1 == 2 + 2 * len(paper.layout.spreads) <= 10 and len(paper.texts) <= 40


def test_the_map_of_a_circuit_faces_what_was_tested_there(paper):
    """On a left-hand page every point of its drawing; on the right-hand page beside it every test of its own, what stays live with
    each device out, and what is known of each point."""
    told = [one for spread in paper.layout.spreads for one in spread.circuits]
    assert sorted(one.sheet.title for one in told) == sorted(one.sheet.title for one in paper.data.circuits)
    texts = [squeezed(text) for text in paper.texts]
    for one in told:
        head = squeezed(f"{one.sheet.title} {one.sheet.head}")
        [left] = [number for number, text in enumerate(texts, 1) if head in text]
        assert left % 2 == 0, (one.sheet.title, left)
        assert all(squeezed(word) in texts[left - 1] for node in one.sheet.drawing.nodes for word in (node.id, node.what))
        facing = texts[left]
        assert squeezed(f"{one.sheet.title} {one.sheet.facts[0][1]}") in facing
        for name, says in (("", one.about), *one.live, *one.points, *one.tests):
            assert squeezed(f"{name} {says}") in facing, (one.sheet.title, name)


def test_every_row_of_the_trip_tests_stands_in_the_record_on_paper(paper):
    """A round once; a press on the page of each circuit that it speaks of."""
    job = read_job(ROOT / "example_job")
    lines = [name for one in paper.data.circuits for name, _ in one.tests] + [name for name, _ in paper.data.rounds]
    assert {f"{row.date.isoformat()} {' '.join(row.at)}" for row in job.tests} <= set(lines)
    assert len(paper.data.rounds) == sum(bool(row.together) for row in job.tests)
    last = squeezed(paper.texts[-1 - 2 * len(paper.layout.spreads)] + paper.texts[-2 - 2 * len(paper.layout.spreads)])
    assert all(squeezed(f"{name} {says}") in last for name, says in paper.data.rounds)
