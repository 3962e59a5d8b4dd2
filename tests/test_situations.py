"""Twenty situations of owners: the right act, the next one and the rule when to stop stand where each looks, in both languages.

By the label and the page that it leads to, from the start page, and on paper. What is right: common practice, no source; the
situations follow from questions that owners ask.
"""

import re
from functools import cache
from pathlib import Path

import pytest
import yaml
from house import CASES, ROOT, body, report_of

from sitegen.binder.compose import compose
from sitegen.publish.labels.words import words_on
from sitegen.publish.theme import open_theme

SITUATIONS = yaml.safe_load((CASES / "situations.yaml").read_text("utf-8"))
LANGUAGES = ("en", "es")
ROOMS = {"Pantry": "Despensa", "Half bath": "Medio baño", "Garage": "Garaje"}
# What `find` names: as it may stand in English and in Spanish.
FINDS = {
    "unplug": ("unplug (all|everything|the appliance)", "desenchufe (todo|el aparato)"),
    "leave it out": ("leave it out", "déjelo así"), "leave it off": ("leave it (off|there)", "déjelo (ahí|en OFF)"),
    "call": (r"\bcall\b", r"\bllame\b"), "once": (r"only once|\bOnce\b", "solo una vez|una sola vez|Una vez"),
    "twice": ("twice at most", "dos veces como máximo"), "only one thing": ("only (with )?one (appliance|thing)", "con cierto aparato|una sola cosa"),
    "wet": ("Wet, hot", "[Mm]ojad[ao], caliente"), "burnt": ("burnt", "quemado"), "gas": ("gas", "gas"),
    "press nothing": ("Press nothing", "No toque ni presione nada"), "fire": (r"\b911\b", r"\b911\b"),
    "though it looks on": ("(though|even if) it looks on", "aunque parezca"), "door shut": ("keep the door shut", "no abra la puerta"),
    "one more time": ("one more time|once more", "una vez más"), "plug first": ("Plug all the way in|bulb or charger", "bien enchufado|foco o cargador"),
    "no power stays on": ("stays on, but no power|On, but no power", "se queda en ON, pero|En ON, sin corriente"),
    "hands away": ("hands away|Switch off what turns", "manos lejos|Apague lo que"),
    "switch first": ("its (wall )?switch", "interruptor"), "bulb": ("bulb", "foco"),
    "still works": ("Does one of these work|Other lights on it work", "Vea si funciona|otra luz"),
    "stop call": (r"Stop\. Call", r"Pare\. Llame"), "chirps": ("Chirp", "Pita"), "sounding": ("Sound|sounds", "Suena|suena"),
    "never off": ("never leave its breaker off", "Nunca deje su breaker en OFF"), "thermostat": ("thermostat", "termostato"),
    "own switch": ("own switch", "propio interruptor"), "heating company": ("heating company", "empresa de calefacción"),
    "hums": ("hums but does not move", "no se mueve"), "switch off": ("Switch it off", "apáguel[oa]"), "heaters": ("heaters", "calefactores|lo que calienta"),
    "do not touch them": ("do not touch them|Do not touch them", "No toque a la persona"), "main": ("MAIN|main switch", "MAIN|interruptor principal"),
    "street": ("street", "calle|vecinos"), "power company": ("power company", "compañía de luz"), "electrician": ("electrician", "electricista"),
    "leave main": ("Do not touch the main breaker", "No toque el breaker principal"), "bright": ("bright", "fuertes"),
    "main off": ("main breaker OFF", r"breaker principal (\(MAIN\) )?en OFF"), "no protection": ("No protection", "No hay protección"),
    "stop using": ("Stop using|Do not use it", "No use|deje de usar"),
}


def pattern(find: str, language: str) -> str:
    """`reset K1`, `back K1`, `breaker 5`, `in Pantry`, or a row of the table."""
    word, _, rest = find.partition(" ")
    spanish = language == "es"
    if word == "reset":
        return rf"RESET (?:en )?{rest}\b|a {rest} y presione RESET" if spanish else rf"RESET (?:on )?{rest}\b|to {rest} and press RESET"
    if word == "back":
        return rf"RESET [^.]{{0,30}}(once more|una vez más)[^.]*|{rest}[^.]{{0,40}}"
    if word == "breaker":
        return rf"breaker {rest}\b"
    if word == "in":
        return rf"{ROOMS[rest] if spanish else rest}"
    return FINDS[find][spanish]


@cache
def labels() -> dict[tuple[str, str], str]:
    theme = open_theme()
    binder = compose(report_of(ROOT / "example_job"), theme.words("en"), further=[theme.words("es")])
    return {(label.id, label.language or "en"): words_on(label) for label in binder.labels.sheet}


def page_of(bound: Path, at: str, language: str) -> Path:
    """The page that the label leads to; of the whole house the start page."""
    if at == "house":
        return bound / "site" / ("index.html" if language == "en" else "other-languages/es/index.html")
    folder = "breaker-panels/P1" if at == "panel" else at
    return bound / "site" / folder / ("index.html" if language == "en" else "es/index.html")


def missing(text: str, situation: dict, language: str) -> list[str]:
    return [f"{part}: {find}" for part, finds in situation["find"].items() for find in finds
            if not re.search(pattern(find, language), text, re.IGNORECASE)]


def test_there_are_twenty_and_each_is_whole():
    assert len(SITUATIONS) == 20
    for one in SITUATIONS:
        assert set(one) == {"says", "at", "act", "next", "stop", "find"} and set(one["says"]) == set(LANGUAGES)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("number", range(20))
def test_the_label_and_its_page_answer(bound, number, language):
    one = SITUATIONS[number]
    label = labels().get(("P1" if one["at"] == "panel" else one["at"], language), "")
    assert not missing(f"{label} {body(page_of(bound, one['at'], language))}", one, language)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("number", range(20))
def test_the_start_page_leads_there(bound, number, language):
    one = SITUATIONS[number]
    start, page = page_of(bound, "house", language), page_of(bound, one["at"], language)
    links = {(start.parent / href).resolve() for href in re.findall(r'href="([^":#]+)"', start.read_text("utf-8"))}
    assert page == start or page.resolve() in links
    text = f"{body(start)} {body(page)}" if one["at"] == "panel" else body(page)
    assert not missing(text, one, language)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("number", range(20))
def test_the_paper_answers(bound, number, language):
    one = SITUATIONS[number]
    paper = body(bound / "print" / ("binder.html" if language == "en" else "binder-es.html"))
    assert not missing(paper, one, language)
