"""The words of a theme against those that code and templates ask for: none is missing, none is dead, every kind has its own."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from house import ROOT

from sitegen.job.kinds import BREAKERS, POINTS
from sitegen.publish import theme

pytestmark = pytest.mark.thorough

ASKS = {"text", "rich", "get", "many", "has", "fill", "w"}
LANGUAGES = sorted(path.name for path in (theme.themes_folder() / theme.DEFAULT / "words").iterdir())
NAME = re.compile(r"[a-z_]+(\.[\w -]+)*")


def names(node: Any, name: str = "") -> Iterator[str]:
    """The dotted name of every sentence and every list."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from names(value, f"{name}.{key}" if name else key)
    else:
        yield name


@cache
def sources() -> tuple[tuple[ast.Module, ...], str]:
    """The code as trees; the templates as one text."""
    templates = sorted((theme.themes_folder() / theme.DEFAULT).rglob("*.j2"))
    return (tuple(ast.parse(path.read_text("utf-8")) for path in sorted((ROOT / "sitegen").rglob("*.py"))),
            "\n".join(path.read_text("utf-8") for path in templates))


GAP = r"([\w -]*)"


@cache
def pieces() -> frozenset[str]:
    """What may fill the gap of a name put together: texts of code and templates, one after the other, and signal words of
    the cautions themselves."""
    trees, templates = sources()
    texts = {str(node.value) for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Constant)}
    signals = {row["signal"] for row in theme.open_theme().words("en").get("cautions.list")}
    texts |= {text for pair in re.findall(r'"([^"]*)"|\'([^\']*)\'', templates) for text in pair}
    return frozenset(text for text in texts if re.fullmatch(r"[\w -]{2,}", text)) | signals


@cache
def fills(gap: str) -> bool:
    return not gap or any(gap.startswith(piece) and fills(gap[len(piece):]) for piece in pieces())


def meets(pattern: re.Pattern[str], name: str) -> bool:
    match = pattern.fullmatch(name)
    return match is not None and all(map(fills, match.groups()))


def of_code(node: ast.expr) -> Iterator[str]:
    """The pattern of each name that an expression can be: written out, or put together with gaps."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield re.escape(node.value)
    elif isinstance(node, ast.JoinedStr):
        yield "".join(re.escape(part.value) if isinstance(part, ast.Constant) else GAP for part in node.values)
    elif isinstance(node, ast.IfExp):
        yield from (*of_code(node.body), *of_code(node.orelse))


@cache
def asked() -> tuple[str, ...]:
    """The pattern of every name that words are asked for by, in the place where they are asked."""
    trees, templates = sources()
    calls = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Call) and node.args
             and isinstance(node.func, ast.Attribute) and node.func.attr in ASKS and "words" in ast.unparse(node.func.value)]
    found = {pattern for call in calls for pattern in of_code(call.args[0])}
    for text, joined in re.findall(r"\b(?:w|words\.\w+)\(\s*['\"]([^'\"]+)['\"]\s*(~?)", templates):
        found.add(re.escape(text) + (GAP if joined else ""))
    return tuple(sorted(found))


@cache
def named() -> tuple[str, ...]:
    """The same, with every text that could be a name handed on to where it is asked."""
    trees, templates = sources()
    found = {pattern for tree in trees for node in ast.walk(tree) for pattern in of_code(node)
             if isinstance(node, ast.JoinedStr) or isinstance(node, ast.Constant) and NAME.fullmatch(str(node.value))}
    for _quote, text, joined in re.findall(r"(['\"])([a-z_]+(?:\.[\w -]+)*\.?)\1\s*(~?)", templates):
        found.add(re.escape(text) + (GAP if joined else ""))
    return tuple(sorted({*asked(), *found}))


@pytest.mark.thorough
def test_no_word_is_dead():
    """Every word of the theme is asked for somewhere, by its name or as part of a table that is."""
    patterns = [re.compile(pattern + (r"(?:\..*)?" if r"\." in pattern else "")) for pattern in named()]
    dead = [name for name in names(dict(theme.open_theme().words("en").table)) if not any(meets(one, name) for one in patterns)]
    assert not dead


@pytest.mark.thorough
def test_no_word_is_missing():
    """Whatever is asked for by its name stands there; of a name put together, at least one does."""
    words = theme.open_theme().words("en")
    every = list(names(dict(words.table)))
    above = {".".join(name.split(".")[:depth]) for name in every for depth in range(1, name.count(".") + 2)}
    missing = [pattern for pattern in asked() if not any(meets(re.compile(pattern), name) for name in above)]
    assert not missing


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_kind_has_its_words(language):
    """A kind more is one row of the table in the code and one here."""
    kinds = theme.open_theme().words(language).get("kinds")
    assert {kind: sorted(row) for kind, row in kinds["breakers"].items()} == \
        {kind: ["long", "mark", "name", "short"] for kind in BREAKERS}
    assert {kind: sorted(row) for kind, row in kinds["points"].items()} == {kind: ["name"] for kind in POINTS}
    assert all(row["name"] for table in kinds.values() for row in table.values())


def test_no_macro_is_handed_what_every_template_has():
    """`frame`, `w` and `words` are there in every template of a language."""
    _, templates = sources()
    macros = re.findall(r"\{%-? macro (\w+)\(([^%]*)\)", templates)
    assert len(macros) > 30
    assert not [name for name, takes in macros if re.search(r"\b(?:frame|w|words)\b", takes)]
