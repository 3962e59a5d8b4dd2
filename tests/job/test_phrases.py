"""The word list of a job: what it says is used everywhere, and the sheet asks for all that is missing and no more."""

from __future__ import annotations

import pytest
import yaml
from house import READING, edit

from sitegen.cli import main
from sitegen.job import in_language, read_job
from sitegen.job.language import untranslated
from sitegen.job.phrases import phrase_sheet, read_phrases


@pytest.fixture
def two(job):
    edit(job, "job.yaml", "contractor:", "languages: [en, es]\ncontractor:")
    return job


def test_a_phrase_is_used_wherever_its_words_stand_and_what_a_place_says_itself_wins(two):
    edit(two, "protection_map.yaml", "room: Kitchen, at: by the stove", "room: {en: Kitchen, es: La cocina}, at: by the stove")
    (two / "phrases.yaml").write_text("es:\n  Kitchen: Cocina\n  'by  the stove': junto a la estufa\n  Attic: Ático\n  Dining:\n")
    job = in_language(read_job(two), "es")
    assert (job.point["K1"].room, job.point["K2"].room, job.point["K3"].room) == ("Cocina", "Cocina", "La cocina")
    assert job.point["K3"].at == "junto a la estufa" and job.point["K4"].room == "Dining [en]"
    assert read_job(two).point["K1"].room == "Kitchen"


def test_where_a_main_switch_is_is_asked_for_like_any_text(two):
    edit(two, "protection_map.yaml", "{id: P1, ", "{id: P1, main: {at: Outdoors}, ")
    lacking = {text for lack in untranslated(read_job(two)) for text in lack.texts}
    assert "Outdoors" in lacking
    (two / "phrases.yaml").write_text("es:\n  Outdoors: Afuera\n")
    assert in_language(read_job(two), "es").panel["P1"].main.at == "Afuera"


def test_a_filled_sheet_leaves_nothing_to_translate(two, capsys):
    """Read as any YAML reader would, every line filled in, saved under its name."""
    assert main(["check", str(two), "--phrases", str(two / "sheet.yaml")]) == 0
    said = capsys.readouterr()
    assert "Other languages\n  FIX  15 texts have no words in `es`;" in said.out and "15 texts without a translation" in said.err
    sheet = yaml.safe_load((two / "sheet.yaml").read_text())
    assert set(sheet["es"]) == {text for lack in untranslated(read_job(two)) for text in lack.texts} and len(sheet["es"]) == 15
    filled = {"es": {text: f"¿{text.upper()}?" for text in sheet["es"]}}
    (two / "phrases.yaml").write_text(yaml.safe_dump(filled, allow_unicode=True))
    job = read_job(two)
    assert not list(untranslated(job)) and in_language(job, "es").point["K1"].at == "¿LEFT OF THE SINK?"
    assert main(["check", str(two)]) == 0 and "Other languages" not in capsys.readouterr().out
    text, count = phrase_sheet(job, read_phrases((two / "phrases.yaml").read_text(), ("en", "es"), []))
    assert count == 0 and yaml.safe_load(text) == filled


def test_a_house_without_the_list_and_one_with_an_empty_one_are_the_same():
    job = read_job(READING / "old_house")
    assert not any(text for text in read_phrases("es:\n", ("en", "es"), []).values()) and job == read_job(READING / "old_house")


@pytest.mark.parametrize("text, fault", [
    ("- Kitchen\n", "phrases.yaml:1: the list of phrases is a list; expected a map with a language a key. Begin it with `es:` or the like."),
    ("ed:\n  Kitchen: Cocina\n", "phrases.yaml:2: `ed` is not a further language of this job; expected `es`. Correct the "
                                 "code, or add it to `languages` in job.yaml."),
    ("es:\n  Kitchen: [Cocina]\n", "phrases.yaml:2: `Kitchen` in `es` is a list; expected a text. Write one text, in quotes if it has a colon."),
    ("es: Cocina\n", "phrases.yaml:1: `es` is a text; expected a map. Write a line `Kitchen: Cocina` for each text.")])
def test_what_is_no_list_of_phrases_is_told_with_its_line(text, fault):
    faults = []
    read_phrases(text, ("en", "es"), faults)
    assert [str(one) for one in faults] == [fault]


def test_a_sheet_is_never_written_over_anything(two, capsys):
    assert main(["check", str(two), "--phrases", str(two / "job.yaml")]) == 2
    assert "is there already and was left alone" in capsys.readouterr().err
