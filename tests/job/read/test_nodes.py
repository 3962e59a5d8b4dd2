"""YAML into nodes: texts stay as written, lines are right, and what YAML cannot read is a sentence."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given, strategies as st

from sitegen.errors import Fault
from sitegen.job.read.files import decode
from sitegen.job.read.nodes import DEEPEST, Node, read_yaml


def read(text: str) -> tuple[Node | None, list[str]]:
    faults: list[Fault] = []
    return read_yaml(text, "m.yaml", faults), [str(fault) for fault in faults]


@pytest.mark.parametrize("text", ["no", "on", "1:30", "010", "0x1F", "2026-05-14", "1.0e+3", "~", "null", "1_000"])
def test_no_text_is_typed_by_yaml(text: str) -> None:
    """YAML 1.1 would make a bool, a number, a date or nothing of each of these (PyYAML's resolver)."""
    assert not isinstance(yaml.safe_load(text), str)
    root, faults = read(f"a: {text}\n")
    assert root.pairs[0].value.text == text and not faults


def plain(node: Node) -> object:
    if node.pairs is not None:
        return {pair.key: plain(pair.value) for pair in node.pairs}
    return [plain(item) for item in node.items] if node.items is not None else node.text or ""


@given(st.recursive(st.text("abc 'é\":,#-&{", max_size=8), lambda inner: st.lists(inner, max_size=3)
                    | st.dictionaries(st.sampled_from("klmn"), inner, max_size=3), max_leaves=8), st.booleans())
def test_nodes_hold_what_pyyamls_untyped_loader_reads(data: object, flow: bool) -> None:
    """Second reader: PyYAML's pure BaseLoader, which types nothing."""
    text = yaml.safe_dump({"root": data}, default_flow_style=flow, allow_unicode=True)
    root, faults = read(text)
    assert plain(root) == yaml.load(text, Loader=yaml.BaseLoader) and not faults


def test_lines_count_from_one_and_follow_the_text() -> None:
    root, _ = read("# a comment\n\na:\n  - {b: c,\n     d: e}\n  - 'f\n    g'\nh: |\n  i\n  j\nk: l\n")
    [a, h, k] = root.pairs
    [first, second] = a.value.items
    assert [root.where.line, a.where.line, first.where.line, first.pairs[1].where.line, second.where.line,
            h.where.line, k.where.line] == [3, 3, 4, 5, 6, 8, 11]


SHAPE = "expected lines of `key: value`, indented by blanks."


@pytest.mark.parametrize(("text", "sentence"), [
    ("a:\n\t- b\n\tc: d\n", "m.yaml:2: a tab begins this line (and 1 more lines); expected blanks before the text of a "
     "line. Replace every such tab by two blanks."),
    ("a: b\n---\nc: d\n", "m.yaml:2: a second document begins here; expected one document a file. Remove the line "
     "`---` or what follows it."),
    ("# nothing yet\n", "m.yaml:1: the file holds only comments; expected what this file is for. Write the file; "
     "`sitegen begin` makes one to start from."),
    ("a: *see note*\n", "m.yaml:1: `*see` is a mark for YAML, not a text; expected no anchors (`&`), aliases (`*`) or "
     "tags (`!`). Put a text that begins with such a sign in quotes, or write it out."),
    ("a: b\nc: @home\n", f"m.yaml:2: a text that begins with a sign of YAML; {SHAPE} Put the text in quotes."),
    ("a: b\nc: left: right\n", f"m.yaml:2: a colon where no key can stand; {SHAPE} Put a text with a colon in quotes, "
     "and begin keys of one map in the same column."),
    ("a: b\nc: {d: e\nf: g\n", "m.yaml:2: a `{` that is not closed, a missing comma, or a colon inside a text; "
     f"{SHAPE} Close it with `}}`, part keys by commas, and put a text with a colon in quotes."),
    ("a: b\nc: 'd\ne: f\n", f"m.yaml:2: a quote that is not closed; {SHAPE} Close the quote."),
    ("- " * 5000, f"m.yaml:1: lists and maps more than {DEEPEST} deep; expected the few levels of this file. Look for "
     "brackets that are not closed."),
    ("{a: " * 900, f"m.yaml:1: lists and maps more than {DEEPEST} deep; expected the few levels of this file. Look for "
     "brackets that are not closed."),
    ("[" * 100_000, f"m.yaml:1: YAML cannot be read here (exceeded maximum nesting depth); {SHAPE} Look at this line "
     "and the one before it for a missing colon, comma, quote or bracket."),
])
def test_what_yaml_cannot_read_is_one_sentence(text: str, sentence: str) -> None:
    assert read(text) == (None, [sentence])


def test_an_alias_to_what_it_stands_in_is_no_endless_loop() -> None:
    root, faults = read("&a [*a]")
    assert root is None and len(faults) == 2


@pytest.mark.parametrize(("data", "sentence"), [
    (b"a: b\nc: caf\xe9\n", "m.yaml:2: this is not UTF-8; expected a text file in UTF-8. Save the file again with the "
     "encoding UTF-8 (a spreadsheet calls it CSV UTF-8)."),
    (b"a: b\r\nc: \0\r\n", "m.yaml:2: a control character (U+0000); expected text that can be read and printed. "
     "Remove it."),
    (b"\xef\xbb\xbf \n", "m.yaml:1: the file is empty; expected what this file is for. Write the file; `sitegen begin` "
     "makes one to start from."),
])
def test_bytes_that_are_no_text_are_one_sentence(data: bytes, sentence: str) -> None:
    faults: list[Fault] = []
    assert decode(data, "m.yaml", faults) is None
    assert [str(fault) for fault in faults] == [sentence]


def test_a_byte_order_mark_and_any_line_end_are_fine() -> None:
    assert decode(b"\xef\xbb\xbfa\r\nb\rc\n", "m.yaml", []) == "a\nb\nc\n"
