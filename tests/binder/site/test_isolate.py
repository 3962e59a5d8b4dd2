"""A page for each device and symptom: what the command prints, with safety first, and on no owner's page a link to it."""

import re

import html5lib
import pytest

from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.isolate.symptoms import SYMPTOMS
from sitegen.protection.tree import Tree


def parsed(path):
    return html5lib.parse(path.read_bytes(), namespaceHTMLElements=False)


def flat(node) -> str:
    return " ".join("".join(node.itertext()).split())


@pytest.fixture
def folder(bound):
    return bound / "site" / "service-record" / "isolate"


def test_every_breaker_and_device_has_a_page_for_each_symptom_that_it_can_show(folder, example):
    """A breaker without a TEST has none for a TEST that does nothing."""
    tree = Tree(read_job(example))
    mapped = {(id, symptom) for id in (*tree.breakers, *tree.devices) for symptom in SYMPTOMS
              if symptom != "test-dead" or tree.kind(id).opens}
    assert {path.parts[-3:-1] for path in folder.rglob("index.html")} == mapped and len(mapped) > 100


@pytest.mark.parametrize("symptom", SYMPTOMS)
@pytest.mark.parametrize("device", ["K1", "F2", "B6"])
def test_the_page_says_what_the_command_says(folder, example, capsys, device, symptom):
    assert main(["isolate", str(example), device, "--symptom", symptom]) == 0
    printed = re.sub(r"\W+", " ", capsys.readouterr().out).casefold()
    page = parsed(folder / device / symptom / "index.html")
    fault = next(div for div in page.iter("div") if div.get("class") == "fault")
    assert fault.get("lang") == "en"
    said = re.sub(r"\W+", " ", " ".join(fault.itertext())).casefold()
    assert said.replace("warning safety", "safety").strip() == printed.strip()


def test_safety_comes_first_then_free_cuts_then_the_record_then_openings(folder):
    for path in folder.rglob("index.html"):
        heads = [flat(head) for head in parsed(path).iter("h2")]
        assert heads[0].endswith("WARNING Safety") and heads[1:3] == ["First, without opening anything", "What the record says"]
        assert heads[3] in ("The openings", "The device") and heads[4:7] == ["Readings", "What it points to", "When to stop"], path


def test_what_a_visit_disturbed_is_named_and_opened_first(folder):
    k1, k6 = (flat(parsed(folder / id / "trips" / "index.html")) for id in ("K1", "K6"))
    assert "A visit on 18 May 2027 disturbed K2 and D2: looked at first." in k1 and "1. Open K2" in k1
    assert "A visit on 18 May 2027 disturbed K6 itself: look there first, at its terminals." in k6
    assert "Not behind K1, on the same circuit: D1. Live there: the way from the panel is good so far." in k1


def test_an_order_that_no_test_can_tell_is_said_before_the_plan(folder):
    k1 = flat(parsed(folder / "K1" / "trips" / "index.html"))
    assert "Which of K2 D2 K3 K4 feeds which is the map's word: no trip test can tell it." in k1.partition("1. Open")[0]


def test_where_part_stays_dead_each_first_dead_outlet_has_its_two_boxes(folder):
    """K4 resets and K5 stays dead: two openings at the most. Nothing tripped, so nothing is left out for being tripped first."""
    k4, k1 = (flat(parsed(folder / id / "part-dead" / "index.html")) for id in ("K4", "K1"))
    assert "K5 the first that is dead: between K4 (Kitchen, just left of the sink) and K5 (Kitchen, sink counter, in the left corner). " \
           "Open K4, then K5: at most 2 openings." in k4
    assert "which is tripped first" not in k1 and "K5 the first that is dead" in k1


def test_only_the_service_record_links_to_it(bound, folder):
    """From every circuit's page, in each language; from no page for who lives there."""
    linked = {path for path in (bound / "site").rglob("*.html")
              if any("/isolate/" in f"/{link.get('href')}" for link in parsed(path).iter("a"))}
    assert linked and all("service-record" in path.parts for path in linked)
    for path in linked:
        for link in (link for link in parsed(path).iter("a") if "isolate/" in link.get("href", "")):
            assert (path.parent / link.get("href")).resolve().is_file(), (path, link.get("href"))
    assert bound / "site" / "service-record" / "P1-5" / "es" / "index.html" in linked
