"""A page for each device and symptom: what the command prints, with safety first, and on no owner's page a link to it."""

import re
from itertools import product

import networkx
import pytest
from house import body, parsed
from houses import wiring

from sitegen.binder.site.fault.dead import by_what_is_dead
from sitegen.binder.site.fault.sheet import fault_sheet
from sitegen.cli import main
from sitegen.job import read_job
from sitegen.protection.evidence import Evidence
from sitegen.protection.isolate import isolate
from sitegen.protection.isolate.symptoms import SYMPTOMS
from sitegen.protection.proof import Proof
from sitegen.protection.tree import Tree


def flat(node) -> str:
    return " ".join("".join(node.itertext()).split())


@pytest.fixture
def folder(bound):
    return bound / "site" / "service-record" / "isolate"


def test_every_breaker_and_device_has_a_page_for_each_symptom_that_it_can_show(folder, example):
    """A breaker without a TEST has none for a TEST that does nothing; what dims is asked of the breaker of a circuit."""
    tree = Tree(read_job(example))
    mapped = {(id, symptom) for id in (*tree.breakers, *tree.devices) for symptom in SYMPTOMS
              if (symptom != "test-dead" or tree.kind(id).opens) and (symptom != "dim" or id in tree.breakers)}
    assert {path.parts[-3:-1] for path in folder.rglob("index.html")} == mapped and len(mapped) > 100


@pytest.mark.parametrize("device, symptom", [*product(("K1", "F2"), [name for name in SYMPTOMS if name != "dim"]), *product(("B6",), SYMPTOMS)])
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


def test_where_part_stays_dead_whatever_one_break_leaves_dead_has_its_plan(example):
    """By the copper: each cable taken out in turn, what goes dark while the rest behind the device stays live is named once, and
    both ends of the cable are among the boxes of its plan."""
    job = read_job(example)
    tree, copper, tried = Tree(job), wiring(job), 0

    def box(id):
        """What no cable parts from its source is in the same box."""
        return box(job.point[id].feed.source) if id in job.point and job.point[id].length_ft == 0 else id

    for device in (*tree.breakers, *tree.devices):
        def reached(graph):
            return {id for id, end in networkx.descendants(graph, (device, "out")) if end == "use"} & set(tree.outlets)
        lines = {frozenset(re.findall(r"[A-Z]+\d+", line.text.partition(" dead, ")[0])): line for line in by_what_is_dead(tree, device)}
        whole, told = reached(copper), set()
        for point in job.points:
            cut = copper.copy()
            cut.remove_edges_from(list(copper.in_edges((point.id, "in"))))
            dead = frozenset(whole - reached(cut))
            if dead and dead != whole:
                tried += 1
                told.add(dead)
                boxes = {word for step in lines[dead].under for word in re.findall(r"[A-Z]+\d+", step)}
                assert point.length_ft == 0 or {point.id, box(point.feed.source)} <= boxes, (device, point.id, lines[dead])
        assert set(lines) == told, device
    assert tried > 60


def test_where_part_stays_dead_nothing_is_left_out_for_being_tripped_first(folder):
    """K4 resets and K5 stays dead: two openings at the most. Nothing tripped, so what hangs behind K4 stands with K1 too."""
    k4, k1 = (flat(parsed(folder / id / "part-dead" / "index.html")) for id in ("K4", "K1"))
    assert "K5 dead, the rest live: between K4 (Kitchen, just left of the sink) and K5 (Kitchen, sink counter, in the left corner), " \
           "at most 2 openings." in k4 and "1. K4: toward K5 bad: step 2; none bad: K4 itself" in k4
    assert "which is tripped first" not in k1 and "K4 and K5 dead, the rest live" in k1
    assert all("On LOAD: K2, D2, K3, K4, K5." in flat(parsed(folder / "K1" / symptom / "index.html")) for symptom in ("part-dead", "test-dead"))


def test_a_list_that_stops_at_an_inner_device_leads_to_the_lists_of_that_one(folder):
    """Circuit 8 trips in rain: the outdoor points hang on LOAD of A1, and a standard breaker does not feel a leak."""
    page = parsed(folder / "B8" / "now-and-then" / "index.html")
    assert "Which one tripped, breaker or device? Take the list of that one" in flat(page)
    assert "Outdoors by the record: Y2 and Y1." in flat(page) and "A2 Y2 Y1; behind A1, which is tripped first" in flat(page)
    assert any("isolate/A1/now-and-then" in link.get("href", "") for link in page.iter("a"))
    a1 = flat(parsed(folder / "A1" / "now-and-then" / "index.html"))
    assert "Outdoors by the record: Y2 and Y1." in a1 and "Y2 read open ground on 8 May 2026; correct on 11 May 2026." in a1
    assert "In this order, at most 3 openings: Y2 (Outdoors, patio" in a1


def test_cables_are_counted_against_the_map_where_something_may_have_been_added(folder):
    """V2 has one cable in and two out; the box of the device itself counts too."""
    assert "Cables in each box, as counted or else as drawn: A1 3, A2 2, Y2 1, Y1 1." in flat(parsed(folder / "A1" / "now-and-then" / "index.html"))
    b14 = flat(parsed(folder / "B14" / "now-and-then" / "index.html"))
    assert "Cables in each box, as counted or else as drawn: V4 2, V2 3, S10 2, V1 1, V3 1." in b14 and "Nothing on it, as drawn, is marked as outdoors." in b14


def test_a_test_that_does_nothing_has_its_terminals_and_its_type_beside_it(folder):
    a1 = flat(parsed(folder / "A1" / "test-dead" / "index.html"))
    assert "By the record: LINE from B8; LOAD to A2 Y1; rating 20 A 125 V, class A, make Tarnwick, model GR20-W" in a1
    assert "At most 1 opening, the box of A1." in a1


def test_what_dims_says_what_else_is_on_the_leg_and_the_order_of_the_joints(folder):
    """Legs by the usual numbering (common practice): 5 6, 9 10, 13 14 and 1 2 on one, 3 4 and so on on the other."""
    b6 = flat(parsed(folder / "B6" / "dim" / "index.html"))
    assert "On the leg of B6 too, by the usual numbering of spaces (measure it): B5 B9 B13 B2 B10 B14." in b6
    assert "Outlets in feed order: L8 M1 L5 L9 L6 L7 H2. At most 2 openings" in b6
    assert b6.index("A neutral may be open") < b6.index("Outlets in feed order")


def test_of_two_poles_of_a_feeder_and_of_an_empty_circuit_no_leg_or_outlet_is_made_up(old_house):
    def said(breaker: str, symptom: str) -> str:
        proof = Proof(Evidence(Tree(old_house)))
        return " ".join(line.text for part in fault_sheet(proof, isolate(proof, breaker), SYMPTOMS[symptom]).parts for line in part.lines)

    assert "B2 has 2 poles, on both legs: read each." in said("B2", "dim") and "Outlets in feed order: G1 G2 K1 K7 K6." in said("B2", "dim")
    assert "No outlet is drawn on it" in said("B13", "dim") and "load terminal to P2" in said("B9", "test-dead")


def test_no_page_asks_for_a_command_or_a_file(folder):
    """Whoever is called back has the site, and may not have the tool."""
    for path in folder.rglob("index.html"):
        assert not re.search(r"sitegen|--[a-z]|\.yaml", body(path)), path


def test_only_the_service_record_links_to_it(bound, folder):
    """From every circuit's page, in each language; from no page for who lives there."""
    linked = {path for path in (bound / "site").rglob("*.html")
              if any("/isolate/" in f"/{link.get('href')}" for link in parsed(path).iter("a"))}
    assert linked and all("service-record" in path.parts for path in linked)
    for path in linked:
        for link in (link for link in parsed(path).iter("a") if "isolate/" in link.get("href", "")):
            assert (path.parent / link.get("href")).resolve().is_file(), (path, link.get("href"))
    assert bound / "site" / "service-record" / "P1-5" / "es" / "index.html" in linked
