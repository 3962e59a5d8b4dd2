"""The words of the theme: whole and alike in every language, plain in Spanish, and a language more is a file more."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from house import BASE, body

from sitegen.cli import main
from sitegen.errors import ThemeError
from sitegen.publish import theme

# Lists whose length is the language's own matter: what callers say, and what must not stay without power.
FREE = ("search.skip", "search.same", "search.panel", "search.breaker", "search.dark", "search.bright", "search.stop", "search.calm", "vital", "cold",
        "lamp", "restarts")
# The walk-through sheet is the electrician's own, and in the job's first language.
ENGLISH_ONLY = ("walk.", "phone.", "rough.")
# Not read by the homeowner in a hurry: the record, and what is said to the person who sticks the labels.
FOR_THE_TRADE = ("service.", "kinds.", "inspector.", "label.stick.", "label.calibration.")
# Words that stand in most English sentences and in no Spanish one.
TELL_TALE = {"the", "and", "of", "with", "your", "you", "is", "are", "was", "not", "it", "this", "that", "then", "from",
             "if", "or", "an", "outlet", "power", "press", "push", "plug", "call", "room"}
# From the list of words agreed on for the Spanish pages; plural and bent forms too.
NEVER_IN_SPANISH = r"\b(salidas?|puntos? de venta|recept[aá]culos?|viajes?|reinici\w+)\b"
# Familiar forms of address, where the pages say usted.
FAMILIAR = r"\b(tú|tu|tus|ti|contigo|presiona|desenchufa|llama|abre|pon|mira|prueba(?= (el|RESET))|revisa|vuestr\w+|vosotros)\b"


def table(language: str) -> dict[str, Any]:
    return dict(theme.open_theme().words(language).table)


def sentences(node: Any, name: str = "") -> Iterator[tuple[str, str]]:
    """Every sentence with its dotted name; an item of a list by its number."""
    if isinstance(node, str):
        yield name, node
        return
    for key, value in node.items() if isinstance(node, dict) else enumerate(node):
        yield from sentences(value, f"{name}.{key}" if name else str(key))


def compared(language: str) -> dict[str, str]:
    return {name: text for name, text in sentences(table(language)) if not name.startswith((*ENGLISH_ONLY, *FREE))}


def homeowner(language: str) -> dict[str, str]:
    return {name: text for name, text in compared(language).items() if not name.startswith(FOR_THE_TRADE)}


def values(text: str) -> list[str]:
    return sorted(set(re.findall(r"\{(\w+)\}", text)))


def parts(text: str) -> list[str]:
    """The sentences of a text; a value counts as one word, and marks of a look as none."""
    return re.split(r"(?<=[.?!:])\s+", re.sub(r"\*\*", "", text))


def twice(node: yaml.Node) -> Iterator[str]:
    """The names that a mapping gives twice: the later one would silently take the place of the earlier."""
    if isinstance(node, yaml.MappingNode):
        names = [key.value for key, _ in node.value]
        yield from (f"{name}, line {key.start_mark.line + 1}" for (key, _), name in zip(node.value, names) if names.count(name) > 1)
    for child in (part for entry in node.value for part in (entry if isinstance(entry, tuple) else (entry,)) if isinstance(part, yaml.Node)):
        yield from twice(child)


def test_no_name_is_given_twice():
    for path in (theme.themes_folder() / theme.DEFAULT / "words").glob("*/*.yaml"):
        assert [*twice(yaml.compose(path.read_text("utf-8")))] == [], path


OTHERS = sorted(path.name for path in (theme.themes_folder() / theme.DEFAULT / "words").iterdir() if path.name != "en")


def test_spanish_is_there():
    assert "es" in OTHERS


@pytest.mark.parametrize("language", OTHERS)
def test_both_languages_say_the_same_things_with_the_same_values(language):
    english, other = compared("en"), compared(language)
    assert sorted(english) == sorted(other)
    assert len(english) > 300
    assert {name: values(text) for name, text in english.items()} == {name: values(text) for name, text in other.items()}
    for name in FREE:
        section, _, key = name.partition(".")
        assert table(language)[section][key] if key else table(language)[section], name


@pytest.mark.parametrize("language", OTHERS)
def test_what_stands_engraved_is_in_every_language(language):
    """TEST, RESET, ON, OFF stay as they are on the device; no step loses one."""
    english, other = compared("en"), compared(language)
    for name, text in english.items():
        if name.startswith(("answer.steps", "monthly.", "cases.", "label.door")):
            for engraved in re.findall(r"\b(?:TEST|OFF|ON)\b", text):
                assert re.search(rf"\b{engraved}\b", other[name]), (name, other[name])


def test_no_english_is_left_in_spanish():
    for name, text in compared("es").items():
        words = set(re.findall(r"[^\W\d_]+", re.sub(r"\{\w+\}", "", text).replace("job.yaml", "").casefold()))
        assert not words & TELL_TALE, (name, text)
    english = compared("en")
    same = {name for name, text in compared("es").items() if text == english[name] and re.search(r"[a-z]{4,} [a-z]{2,}", text)}
    assert not same, same


def test_spanish_words_that_are_never_used():
    for name, text in compared("es").items():
        if not name.startswith(("service.", "kinds.", "inspector.")):
            assert not re.search(NEVER_IN_SPANISH, text, re.I), (name, text)


def test_spanish_says_usted():
    for name, text in homeowner("es").items():
        assert not re.search(FAMILIAR, text, re.I), (name, text)


def test_spanish_questions_are_opened_and_closed():
    for name, text in compared("es").items():
        assert text.count("¿") == text.count("?") and text.count("¡") == text.count("!"), (name, text)


@pytest.mark.parametrize("language", ["en", "es"])
def test_sentences_are_short(language):
    for name, text in homeowner(language).items():
        for part in parts(text):
            assert len(part.split()) <= 15, (name, len(part.split()), part)


def bracketed(node: Any, name: str = "") -> Any:
    """The English words, every sentence in brackets; its values and marks stay."""
    if isinstance(node, dict):
        return {key: bracketed(value, f"{name}.{key}") for key, value in node.items()}
    if isinstance(node, list):
        return [bracketed(value, name) for value in node]
    machine = name == ".emergency_number" or name.endswith(".signal") or not re.search("[A-Za-z]", re.sub(r"\{\w+\}", "", node))
    return node if machine else f"⟦{node}⟧"


def outside_brackets(path: Path) -> set[str]:
    """The words of a page that no sentence of the made-up language holds."""
    text = body(path)
    while re.search("⟦[^⟦⟧]*⟧", text):
        text = re.sub("⟦[^⟦⟧]*⟧", " ", text)
    return set(re.findall(r"[^\W\d_]{2,}", text.casefold()))


@pytest.mark.thorough
def test_a_language_more_is_one_folder_more(tmp_path, monkeypatch, capsys):
    """A made-up language: nothing but its folder of words is added, and a whole binder speaks it."""
    folder, job, out = tmp_path / "themes", tmp_path / "job", tmp_path / "out"
    shutil.copytree(theme.themes_folder(), folder)
    shutil.copytree(BASE, job)
    words = bracketed(table("en"))
    words["language"] = {"name": "Xenish"}
    (folder / theme.DEFAULT / "words" / "xx").mkdir()
    (folder / theme.DEFAULT / "words" / "xx" / "all.yaml").write_text(yaml.safe_dump(words, allow_unicode=True), "utf-8")
    file = job / "job.yaml"
    file.write_text(file.read_text("utf-8") + "languages: [en, xx]\n", "utf-8")
    monkeypatch.setattr(theme, "themes_folder", lambda: folder)
    assert main(["bind", str(job), "--out", str(out)]) == 0, capsys.readouterr().err
    english = {path.relative_to(out / "site").parent for path in (out / "site").rglob("index.html")
               if path.parent.name != "xx" and "isolate" not in path.parts}     # these are English alone
    assert len(english) > 12
    # What may stand outside: the contractor's own texts, marked with their language, marks of codes, the way to English.
    theirs = set(re.findall(r"[^\W\d_]{2,}", " ".join(path.read_text("utf-8") for path in job.iterdir()).casefold()))
    theirs |= {"english", "en", "test", "reset", "off", "on"}
    for page in english:
        other = out / "site" / (page if page.parts else Path("other-languages")) / "xx" / "index.html"
        text = other.read_text("utf-8")
        assert '<html lang="xx">' in text and "⟦" in text, page
        assert outside_brackets(other) <= theirs, page
    page = (out / "site" / "K4" / "xx" / "index.html").read_text("utf-8")
    assert "<h2>⟦Still no power, or off again?⟧" in page and "<h2>Still no power?" not in page
    assert "⟦" in (out / "print" / "binder-xx.html").read_text("utf-8")
    assert "⟦" not in (out / "site" / "K4" / "index.html").read_text("utf-8").replace("⟦Xenish⟧", "")


@pytest.mark.parametrize("text, says", [
    ("frame: {back: Away}", "has `frame`, which another file there has as well; keep it in one."),
    ("- back", "holds no words with names."), ("a: [", "cannot be read: ")])
def test_a_file_of_words_that_cannot_be_used_is_named(tmp_path, text, says):
    shutil.copytree(theme.themes_folder() / theme.DEFAULT, tmp_path / "own")
    (tmp_path / "own" / "words" / "en" / "slip.yaml").write_text(text, "utf-8")
    with pytest.raises(ThemeError, match=re.escape(f"words/en/slip.yaml of theme `own` {says}")):
        theme.Theme(tmp_path / "own").words("en")


def test_a_language_that_the_theme_lacks(tmp_path):
    with pytest.raises(ThemeError, match=r"^theme `own` has no words/xx/; add it, with the files of words/en/\.$"):
        theme.Theme(tmp_path / "own").words("xx")


def syllables(word: str) -> int:
    """Groups of vowels, a silent e at the end less; never under one."""
    groups = len(re.findall(r"[aeiouy]+", word))
    return max(1, groups - (word.endswith("e") and not word.endswith("le") and groups > 1))


@pytest.mark.parametrize("text, grade", [("The cat sat on the mat.", -1.45), ("Press RESET once more.", 0.72)])
def test_the_grade_itself(text, grade):
    """Flesch-Kincaid grade level (Kincaid and others, 1975): 0.39 words/sentences + 11.8 syllables/words - 15.59. The cat's
    figure is the one usually given (from memory: sure); the other was reckoned by hand from 4 words and 5 syllables."""
    words = re.findall(r"[a-z]+", text.casefold())
    got = 0.39 * len(words) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    assert got == pytest.approx(grade, abs=0.01)


def test_the_homeowners_english_is_of_grade_seven_or_less():
    """The mean over all sentences of the homeowner's sections, by the same formula."""
    pieces = [part for text in homeowner("en").values() for part in parts(re.sub(r"\{\w+\}", "this", text)) if part.strip()]
    words = [word for piece in pieces for word in re.findall(r"[a-z]+", piece.casefold())]
    grade = 0.39 * len(words) / len(pieces) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    assert len(pieces) > 150 and grade <= 7, grade
