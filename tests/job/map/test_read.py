"""protection_map.yaml into records."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import networkx
import pytest
from house import READING as CASES
from hypothesis import given, strategies as st

from sitegen.errors import Fault, Where
from sitegen.job import read_job
from sitegen.job.map.feeds import loops
from sitegen.job.map.read import read_map
from sitegen.job.read.ids import read_id
from sitegen.job.records import Feed, Job, Panel, Wire
from sitegen.job.records.texts import Text

HEAD = """panels: [{id: P1, at: Garage}]
circuits:
  - number: 5
    panel: P1
    serves: Counter
    breaker: {id: B5, space: 5, type: afci}
    points:
"""
TRIPS = "date,outlet,pressed,tripped\n"


def point(id: str, more: str, kind: str = "receptacle") -> str:
    return f"      - {{id: {id}, is: {kind}, room: Kitchen, at: wall, {more}}}\n"


def test_the_sample_of_the_design_is_read_as_it_is_meant(read: Callable[..., Job]) -> None:
    """YAML reads `by the side door` as a key without a value; the contractor meant one text."""
    job = read(map=(CASES / "design_sample" / "protection_map.yaml").read_text(), trips=TRIPS)
    assert job.panels == (Panel("P1", "Garage, by the side door", Where("protection_map.yaml", 2)),)
    assert [(point.id, point.kind.name, point.room, point.at, str(point.feed), point.where.line)
            for point in job.points] == [
        ("K1", "gfci receptacle", "Kitchen", "left of the sink", "B5", 10),
        ("K2", "receptacle", "Kitchen", "right of the window", "K1 load", 11),
        ("K3", "receptacle", "Kitchen", "end of the counter", "K2", 12),
        ("K4", "receptacle", "Dining", "by the door", "K1 line", 13),
    ]
    [circuit], [breaker] = job.circuits, job.breakers
    assert (circuit.key, circuit.number, circuit.serves, circuit.breaker, circuit.wire) == (
        "P1-5", "5", "Counter left of the sink", "B5", Wire("12", "copper"))
    assert (breaker.id, breaker.kind.name, breaker.space, breaker.amps, breaker.poles) == ("B5", "afci", "5", 20.0, 1)


def test_every_key_of_a_point_reaches_its_record(folder: Path) -> None:
    job = read_job(folder)
    k1, k2, l1, r1 = (job.point[id] for id in ("K1", "K2", "L1", "R1"))
    assert job.point["K3"].at == "end of the counter, under the shelf"
    assert (k1.needs, k1.label_at, k1.box, k1.photo) == (
        "gfci", "on the plate", "{volume: 18, wires: 4}", "k1.jpg")
    assert dict(k1.device) == {"rating": "20 A", "make": "Norwood", "date code": "0126"}
    assert (k2.feed, k2.grounded, k2.use, k2.place, k2.length_ft) == (
        Feed("K1", "load"), False, "toaster", "countertop", 6.0)
    assert (l1.switched_by, l1.grounded, r1.at, r1.not_proved) == (
        ("S1",), True, "floor heating, behind the tub", "the floor was not laid yet")


@pytest.mark.parametrize("switches", ["s1", "[S1, S2]", "S1 S2", "[S1 s2]"])
def test_switches_are_one_id_a_list_or_ids_parted_by_blanks(read: Callable[..., Job], switches: str) -> None:
    text = HEAD + point("S1", "fed_from: B5", "switch") + point("S2", "fed_from: S1", "switch") + point(
        "L1", f"fed_from: S2, switched_by: {switches}", "light")
    expected = ("S1",) if switches == "s1" else ("S1", "S2")
    assert read(map=text, trips=TRIPS).point["L1"].switched_by == expected


@pytest.mark.parametrize("key", ["room", "at", "use", "looks", "note", "height", "behind", "label_at", "not_proved"])
def test_a_text_runs_on_after_a_comma(read: Callable[..., Job], key: str) -> None:
    others = ", ".join(f"{other}: x" for other in ("room", "at") if other != key)
    text = HEAD + f"      - {{id: K1, is: light, {others}, {key}: one, two, 3 ft up, fed_from: B5}}\n"
    assert getattr(read(map=text, trips=TRIPS).point["K1"], key) == "one, two, 3 ft up"


@pytest.mark.parametrize("word", ["CON", "nul", "com1", "LPT9", "all", "None", "UNKNOWN", "rest", "of", "circuit",
                                  "house", "line", "LOAD", "-K1", "K_1", "K 1", "KITCHEN-1", "\u00c91", ""])
def test_what_cannot_be_an_id_is_refused(word: str) -> None:
    faults: list[Fault] = []
    assert read_id(word, Where("m.yaml", 1), faults) is None and len(faults) == 1


@pytest.mark.parametrize("word", ["K1", "k1", "1", "12345678", "GAR-1", "COM", "COM10", "loads"])
def test_what_can_be_an_id_comes_out_in_capitals(word: str) -> None:
    assert read_id(word, Where("m.yaml", 1), []) == word.upper()


def test_ids_of_entries_with_another_fault_are_known(faults: Callable[..., list[str]]) -> None:
    text = HEAD + point("K1", "fed_from: B5", "gfci recptacle") + point("K2", "fed_from: K1 load")
    assert [sentence.split(";")[0] for sentence in faults(map=text, trips=TRIPS + "2026-05-12,K1,device,K1\n")] == [
        "protection_map.yaml:8: `is: gfci recptacle` is not known"]


def test_a_near_match_on_the_same_circuit_comes_first(faults: Callable[..., list[str]]) -> None:
    text = HEAD + point("KI2", "fed_from: B5") + point("K3", "fed_from: K22") + """  - number: 6
    panel: P1
    serves: Hall
    breaker: {id: B6, space: 6, type: gfci}
    points:
""" + point("K222", "fed_from: B6")
    assert faults(map=text, trips=TRIPS) == [
        "protection_map.yaml:9: unknown id `K22`; expected a point or the breaker of circuit 5. Did you mean `KI2`? "
        "Correct the id, or add the point."]


def test_one_key_means_one_circuit_even_where_ids_hold_hyphens(faults: Callable[..., list[str]]) -> None:
    circuit = "  - {{number: {0}, panel: {1}, serves: x, breaker: {{id: {2}, space: 1, type: gfci}}, points: [{3}]}}\n"
    light = "{{id: {0}, is: light, room: x, at: y, fed_from: {1}}}"
    text = "panels: [{id: P1, at: x}, {id: P1-2, at: y}]\ncircuits:\n" + circuit.format(
        "2-3", "P1", "B1", light.format("L1", "B1")) + circuit.format("3", "P1-2", "B2", light.format("L2", "B2"))
    assert faults(map=text, trips=TRIPS) == [
        "protection_map.yaml:4: circuit 3 of panel P1-2 stands twice (first in line 3); expected each number of a "
        "panel once. Give one of the two its own number."]


@given(st.lists(st.integers(0, 11), min_size=12, max_size=12))
def test_there_is_one_fault_for_every_loop(sources: list[int]) -> None:
    """Second method: networkx finds the cycles of the same feeds."""
    feeds = {f"K{point}": f"K{source}" if source else "B5" for point, source in enumerate(sources)}
    found = list(loops(feeds, {id: Where("m.yaml", line) for line, id in enumerate(feeds, 1)}))
    cycles = list(networkx.simple_cycles(networkx.DiGraph(feeds.items())))
    assert sorted(fault.where.line for fault in found) == sorted(
        min(list(feeds).index(id) for id in cycle) + 1 for cycle in cycles)


LINES = HEAD + "".join([
    point("K1", "fed_from: B5", "gfci receptacle"), point("K2", "fed_from: K1 load"), point("K3", "fed_from: K2"),
    point("S1", "fed_from: K1 line", "switch"), point("L1", "fed_from: S1, switched_by: S1", "light")])


@given(st.permutations(range(5)))
def test_the_order_of_points_carries_no_meaning(order: list[int]) -> None:
    head, points = LINES[:len(HEAD)], LINES[len(HEAD):].splitlines(keepends=True)

    def told(text: str) -> set[tuple[object, ...]]:
        faults: list[Fault] = []
        read = read_map(text, faults)
        assert not faults
        return {(point.id, point.kind, point.feed, point.switched_by) for point in read.points}

    assert told(head + "".join(points[at] for at in order)) == told(LINES)


def test_a_panel_may_be_listed_before_its_feeder_and_have_other_supplies(old_house: Job) -> None:
    assert [(panel.id, panel.fed_from, panel.also_supplied_by) for panel in old_house.panels] == [
        ("P2", "B9", ("solar", "battery")), ("P1", None, ("generator",)), ("P3", "B22", ())]
    feeders = [circuit.breaker for circuit in old_house.circuits
               if circuit.key not in {point.circuit for point in old_house.points}]
    assert feeders == ["B9", "B13", "B22"]


def test_a_breaker_is_one_record_though_two_circuits_share_it(old_house: Job) -> None:
    assert [circuit.number for circuit in old_house.circuits if circuit.breaker == "B2"] == ["4", "2"]
    assert [(breaker.space, breaker.poles) for breaker in old_house.breakers if breaker.id == "B2"] == [("2/4", 2)]
    assert {old_house.point[id].feed for id in ("G1", "K1", "K6")} == {Feed("B2")}


def test_a_shared_neutral_is_known_on_both_circuits_though_written_on_one(old_house: Job) -> None:
    shared = {circuit.key: circuit.shares_neutral_with for circuit in old_house.circuits}
    assert {key: keys for key, keys in shared.items() if keys} == {
        "P1-4": ("P1-2",), "P1-2": ("P1-4", "P1-6"), "P1-6": ("P1-2", "P1-8"), "P1-8": ("P1-6",)}


def test_halves_voltage_and_an_unknown_feed_reach_the_record(old_house: Job) -> None:
    assert [(point.id, point.yoke, point.half) for point in old_house.points if point.yoke] == [
        ("K7", "K7", "upper"), ("K8", "K7", "lower")]
    assert {point.id: point.voltage for point in old_house.points if point.voltage != 120} == {"K6": 240, "H1": 208}
    assert [point.id for point in old_house.points if point.feed.unknown] == ["N1"]


def test_a_text_once_a_language_is_itself_in_the_first_language(old_house: Job) -> None:
    k1 = old_house.point["K1"]
    assert isinstance(k1.room, Text) and k1.room == "Kitchen"
    assert dict(k1.room.by_language) == {"en": "Kitchen", "es": "Cocina"}
    assert dict(k1.at.by_language) == {"en": "left of the sink, by the window"}  # blank in Spanish: missing, no fault
    assert type(old_house.point["K6"].room) is str
    assert (old_house.circuit["P1-2"].serves, old_house.panel["P1"].at) == ("Counter, left", "Garage, by the side door")
    assert old_house.circuit["P1-2"].serves.by_language["es"] == "Encimera"


def test_without_the_jobs_languages_no_text_is_judged_by_them() -> None:
    faults: list[Fault] = []
    text = HEAD + point("K1", "fed_from: B5, looks: {fr: petite, de: klein}")
    assert read_map(text, faults).points[0].looks == "petite" and not faults


@pytest.mark.parametrize("written", ["generator battery", "[battery, generator]", '"Battery, generator"', "battery"])
def test_other_supplies_are_one_word_several_or_a_list(read: Callable[..., Job], written: str) -> None:
    head = HEAD.replace("at: Garage", f"at: Garage, also_supplied_by: {written}")
    [panel] = read(map=head + point("K1", "fed_from: B5"), trips=TRIPS).panels
    assert set(panel.also_supplied_by) == set(written.strip('[]"').lower().replace(",", "").split())


def test_a_panel_says_where_its_main_switch_is_and_how_its_spaces_are_numbered(read: Callable[..., Job]) -> None:
    here = 'at: Garage, main: {at: Here, amps: 200 A}, make: "Hollin, 40", bonded: no, numbering: right, spaces: 40, spare: 3 1'
    [panel] = read(map=HEAD.replace("at: Garage", here) + point("K1", "fed_from: B5"), trips=TRIPS).panels
    assert (panel.main.at, panel.main.amps, panel.make, panel.bonded, panel.numbering, panel.spaces, panel.spare) == (
        None, 200, "Hollin, 40", False, "right", 40, (1, 3))
    head = HEAD.replace("at: Garage", "at: Garage, main: {at: Outdoors, below the meter}")
    [outside] = read(map=head + point("K1", "fed_from: B5"), trips=TRIPS).panels
    assert (outside.main.at, outside.main.amps, outside.numbering, outside.spaces) == ("Outdoors, below the meter", None, None, None)



def test_a_breaker_whose_circuit_could_not_be_read_is_not_called_unknown(faults: Callable[..., list[str]]) -> None:
    text = HEAD + point("K1", "fed_from: B5") + (
        "  - {number: 7, panel: P1, serves: Hall, breaker: [B7], points: []}\n"
        "  - {number: 9, panel: P1, serves: Bath, breaker: B7, points: []}\n  - circuit 11\n"
        "  - {number: 13, panel: P1, serves: Loft, breaker: {id: B13, space: 1, type: gfci}, points: [],\n"
        "     shares_neutral_with: 11}\n")
    assert [sentence.split(";")[0] for sentence in faults(map=text, trips=TRIPS)] == [
        "protection_map.yaml:9: `breaker` is a list", "protection_map.yaml:11: an entry of `circuits` is a text"]


def test_two_circuits_of_one_number_on_one_line_are_told_apart(faults: Callable[..., list[str]]) -> None:
    circuit = "{{number: 5, panel: P1, serves: x, breaker: {{id: {0}, space: 1, type: gfci}}, points: []}}"
    text = f"panels: [{{id: P1, at: x}}]\ncircuits: [{circuit.format('B1')}, {circuit.format('B2')}]\n"
    assert [sentence.split(";")[0] for sentence in faults(map=text, trips=TRIPS)] == [
        "protection_map.yaml:2: circuit 5 of panel P1 stands twice (first in line 2)"]


SUBPANELS = st.lists(st.integers(0, 5), min_size=6, max_size=6)


@given(SUBPANELS)
def test_there_is_one_fault_for_every_loop_of_panels(above: list[int]) -> None:
    """Panel n is fed from panel above[n], or from the utility where they are the same. Second method: networkx."""
    panels = "".join(f"  - {{id: P{n}, at: x{'' if up == n else f', fed_from: B{n}'}}}\n" for n, up in enumerate(above))
    circuits = "".join(
        f"  - {{number: {n}, panel: P{up}, serves: x, breaker: {{id: B{n}, space: 1, type: standard}}, points: []}}\n"
        for n, up in enumerate(above))
    faults: list[Fault] = []
    read = read_map(f"panels:\n{panels}circuits:\n{circuits}", faults)
    graph = networkx.DiGraph((n, up) for n, up in enumerate(above) if n != up)
    assert len(faults) == len(list(networkx.simple_cycles(graph)))
    assert all(fault.expected == "a way back to the utility from every panel" for fault in faults)
    assert [panel.fed_from for panel in read.panels] == [None if up == n else f"B{n}" for n, up in enumerate(above)]
