"""What no output may say, and what each must: nothing is switched on that may turn or heat, medical equipment comes first, an
AFCI and a GFPE are no guard of people, no stop is doubled. Common practice, no source, where nothing else is named."""

import html
import re

import pytest
from house import ROOT, body, report_of, small_job

from sitegen.binder.answer.answer import device_answer, outlet_answer
from sitegen.binder.answer.places import is_vital
from sitegen.binder.compose import compose
from sitegen.binder.desk import Desk
from sitegen.binder.months import monthly_test
from sitegen.cli import main
from sitegen.commands.trace import trace_text
from sitegen.publish.labels.words import words_on
from sitegen.publish.theme import open_theme

# "Turn it on", "switch the fan on"; "Then switch on." An id, a part of a name or the engraved ON of a breaker is none.
SWITCH_ON = re.compile(r"\b(turn|switch)(ed)?\b( \w+){0,3} on\b|\b(encienda|prenda|arranque)\b", re.IGNORECASE)
DOUBLED = re.compile(r"(?<![.…])\.\s*\.(?!\.)")
# One of a kind of each thing that may turn or heat, in the words of a map.
TURNS_OR_HEATS = [("receptacle", "disposal"), ("receptacle", "table saw"), ("receptacle", "space heater"), ("receptacle", "toaster"),
                  ("receptacle", "hair dryer"), ("receptacle", "heat lamp"), ("appliance", "bath fan"), ("appliance", "range hood"),
                  ("appliance", "dishwasher"), ("appliance", "furnace"), ("appliance", "electric range"), ("appliance", "water heater")]


def all_said(desk: Desk, device: str, outlets: tuple[str, ...]) -> str:
    """What is said of a device and of what hangs on it: pages, trace, monthly test, in one text."""
    answers = [device_answer(desk, device, ""), *(outlet_answer(desk, id) for id in outlets)]
    said = [step.plain for answer in answers for step in (*answer.steps, *(answer.first.lines if answer.first else ()))]
    said += [piece.plain for answer in answers for case in answer.cases for piece in case.says if hasattr(piece, "plain")]
    return " ".join((*said, *(step.plain for step in monthly_test(desk, device).steps), *(trace_text(desk, id) for id in outlets)))


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("fed_from", ["F1 load", "S1"])
@pytest.mark.parametrize("kind, use", TURNS_OR_HEATS)
def test_nobody_is_told_to_switch_on_what_may_turn_or_heat(tmp_path, kind, use, fed_from, language):
    switched = ", switched_by: S1" if fed_from == "S1" else ""
    job = small_job(tmp_path / "job", ("protection_map.yaml", "is: appliance", f"is: {kind}"),
                    ("protection_map.yaml", "use: dishwasher, fed_from: F1 load", f"use: {use}, fed_from: {fed_from}{switched}"))
    desk = Desk(report_of(job), open_theme().words(language), "" if language == "en" else language)
    said = all_said(desk, "F1", ("DW",))
    assert not SWITCH_ON.search(said.replace("light on", "").replace("Lamp on", "")), SWITCH_ON.search(said)
    off = {"en": "Switch off what turns or heats", "es": "Apague lo que pueda girar o calentar"}[language]
    assert off in said or {"en": "Its own switch OFF", "es": "Primero su propio interruptor en OFF"}[language] in said


@pytest.mark.parametrize("text", ["Turn it on and look", "Switch on the fan", "turn its wall switch on", "Encienda esto y mírelo"])
def test_the_pattern_finds_what_was_once_said(text):
    assert SWITCH_ON.search(text)


MEDICAL = {"en": ("Use its battery or backup oxygen now. None? Call 911.", "Do not press"),
           "es": ("Use ya su batería o su oxígeno de reserva. ¿No hay? Llame al 911.", "No presione")}


@pytest.mark.parametrize("language", MEDICAL)
@pytest.mark.parametrize("use", ["oxygen concentrator", "CPAP", "home ventilator", "medical fridge"])
def test_medical_equipment_comes_before_all_else(tmp_path, use, language):
    """On its page and on that of every device before it, before the question; and TEST is not pressed."""
    job = small_job(tmp_path / "job", ("protection_map.yaml", "at: by the door, fed_from: K3 load", f"at: by the door, use: {use}, fed_from: K3 load"))
    desk = Desk(report_of(job), open_theme().words(language), "" if language == "en" else language)
    first, not_pressed = MEDICAL[language]
    for answer in (outlet_answer(desk, "K4"), *(device_answer(desk, id, "") for id in ("K3", "K1", "B5"))):
        assert answer.alert == (first,)
    assert not device_answer(desk, "F1", "").alert and not outlet_answer(desk, "D1").alert
    for device in ("K3", "K1", "B5"):
        assert not_pressed in " ".join(step.plain for step in monthly_test(desk, device).steps)


@pytest.mark.parametrize("kind, says", [("afci", "lowers the risk of fire from arcing"), ("gfpe", "guards equipment, not people")])
def test_no_page_of_an_arc_fault_or_equipment_breaker_speaks_of_shock(tmp_path, kind, says):
    """Beside the emergency lines that every page has."""
    job = small_job(tmp_path / "job", ("protection_map.yaml", "type: afci", f"type: {kind}"))
    binder = compose(report_of(job), open_theme().words("en"))
    [page] = [page.data for page in binder.pages if page.path == "site/B5/index.html"]
    texts = [*(text.plain for text in (*page.guard, *page.keep_safe)), page.guard_heading, page.dated, page.answer.rule,
             *(step.plain for step in (*page.answer.steps, *page.monthly.steps)),
             *(piece.plain for case in page.answer.cases for piece in case.says if hasattr(piece, "plain"))]
    said = " ".join(texts)
    assert says in said and "shock" not in said.casefold() and "No protection" not in said and "top using" not in said


def test_no_arc_fault_page_of_the_example_speaks_of_shock(bound):
    for id in ("B5", "B7", "B9", "B11", "B15", "B6", "B14", "B16"):
        for path, word in ((bound / "site" / id / "index.html", "shock"), (bound / "site" / id / "es" / "index.html", "descarga")):
            text = re.sub(r'(?s)<div class="stop">.*?</div>|<section class="help">.*?</section>', "", path.read_text("utf-8").partition("</style>")[2])
            assert word not in re.sub(r"<[^>]*>", " ", text).casefold(), path


def test_no_stop_is_doubled_anywhere(bound, example):
    """Pages, paper, calendars, lists, labels, the ledger, and every answer of `trace`."""
    for path in sorted(bound.rglob("*")):
        if path.suffix in (".html", ".ics", ".txt", ".json"):
            text = body(path) if path.suffix == ".html" else html.unescape(path.read_text("utf-8").replace("\n ", ""))
            found = DOUBLED.search(text.replace("../", ""))
            assert not found, (path, text[max(0, found.start() - 60):found.end() + 10])
    report, theme = report_of(example), open_theme()
    binder = compose(report, theme.words("en"), further=[theme.words("es")])
    for label in (*binder.labels.devices, *binder.labels.sheet, *binder.labels.strips):
        assert not DOUBLED.search(words_on(label)), label.id
    for language in ("en", "es"):
        desk = Desk(report, theme.words(language), "" if language == "en" else language)
        for id in dict.fromkeys((*desk.tree.devices, *desk.tree.outlets)):
            assert not DOUBLED.search(trace_text(desk, id)), (id, trace_text(desk, id))


def test_a_full_stop_that_a_contractor_writes_is_not_doubled(tmp_path):
    """At the end of every place and thing, and of the firm."""
    job = small_job(tmp_path / "job")
    plan = job / "protection_map.yaml"
    text, count = re.subn(r"\b(at|use|room): ([^,\"}]+)(?=[,}])", r'\1: "\2."', plan.read_text("utf-8"))
    assert count > 15
    plan.write_text(text.replace("serves: Counter", "serves: Counter."), "utf-8")
    file = job / "job.yaml"
    file.write_text(file.read_text("utf-8").replace("Fern Electric", "Fern Electric Inc."), "utf-8")
    assert main(["bind", str(job), "--out", str(tmp_path / "out")]) == 0
    for path in sorted((tmp_path / "out").rglob("*.html")):
        found = DOUBLED.search(body(path))
        assert not found, (path.name, body(path)[max(0, found.start() - 60):found.end() + 10])


@pytest.mark.parametrize("text, found", [("now..", True), ("Call. . Then", True), ("and so on ... then", False), ("and … .", True), ("3. A. Fern", False)])
def test_the_pattern_of_doubled_stops(text, found):
    assert bool(DOUBLED.search(text)) == (found and "…" not in text)


def test_rain_is_asked_for_where_it_can_get_in():
    desk = Desk(report_of(ROOT / "example_job"), open_theme().words("en"))
    asked = {id for id in desk.tree.devices if device_answer(desk, id, "").wet}
    asked |= {id for id in desk.tree.outlets if not desk.tree.kind(id).opens and outlet_answer(desk, id).wet}
    assert asked == {"A1", "A2", "Y1", "Y2"}    # the garage door opener hangs on the same button; nobody is asked to look into a porch light
    assert not any("patio grill" in line.plain for line in outlet_answer(desk, "A2").first.lines)    # nobody is sent to try that one


def test_what_the_house_has_is_said_where_it_matters(tmp_path):
    """A generator, aluminum wires, an outlet without a ground: on the pages concerned and on no other."""
    job = small_job(tmp_path / "job", ("protection_map.yaml", '"Garage, by the side door"}', '"Garage, by the side door", also_supplied_by: [generator]}'),
                    ("protection_map.yaml", "serves: Counter", "serves: Counter\n    wire: {awg: 10, metal: aluminum}"),
                    ("protection_map.yaml", "at: by the door, fed_from: K3 load", "at: by the door, fed_from: K3 load, grounded: false"))
    binder = compose(report_of(job), open_theme().words("en"))
    pages = {page.path.split("/")[1]: page.data for page in binder.pages if page.template == "place.html.j2"}
    for id in ("K4", "L1"):
        assert "A generator runs outdoors, 20 ft from the house." in pages[id].answer.hints
    assert "the main switch, generator" in binder.frame.main
    aluminum = {id for id, page in pages.items() if any("Aluminum" in hint for hint in page.answer.hints)}
    assert {"K1", "K4", "D1", "B5"} <= aluminum and not {"L1", "DW", "F1"} & aluminum
    ungrounded = {id for id, page in pages.items() if any("No ground here." in text.plain for text in page.guard)}
    assert ungrounded == {"K4"}
    assert all("It does not look like this? It was changed. Call." in page.answer.hints for page in pages.values())


@pytest.mark.parametrize("use, vital", [("can opener", False), ("garage door opener", True), ("furnace", True), ("CPAP", True), ("well", True),
                                        ("sump", True), ("ventilator", True), ("boiler", True), ("fish tank", True), ("toaster", False)])
def test_what_must_not_stay_off(tmp_path, use, vital):
    job = small_job(tmp_path / "job", ("protection_map.yaml", "use: dishwasher", f"use: {use}"))
    assert is_vital(Desk(report_of(job), open_theme().words("en")), "DW") == vital


def test_where_the_main_switch_is_stands_only_where_the_record_says_so(tmp_path):
    here = '"Garage, by the side door", main: {at: %s}}'
    for number, (written, says) in enumerate([("here", "the breaker marked MAIN (Garage, by the side door)"),
                                              ("outdoors beside the meter", "the main switch (outdoors beside the meter)"), (None, "the main switch")]):
        change = [("protection_map.yaml", '"Garage, by the side door"}', here % written)] if written else []
        job = small_job(tmp_path / str(number), *change)
        assert compose(report_of(job), open_theme().words("en")).frame.main == says
