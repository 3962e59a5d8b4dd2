"""A map node in, its typed values out: what every key of a file is allowed to hold, each slip a fault."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any, TypeVar

from ...errors import Fault, nearest
from ..records.texts import Text
from .keys import Keys
from .limits import ENTRIES, TEXT, beyond
from .nodes import Node, Pair
from .values import LANGUAGE, day, fold, likely_day, listed, quantity

T = TypeVar("T")

_FLAGS = {"true": True, "yes": True, "false": False, "no": False}


def shape_fault(node: Node, of: str, expected: str, do: str) -> Fault:
    return Fault(node.where, f"{of} is {node.shape}", expected, do)


class Fields:
    """The values of one map. A getter gives None where the key is absent, blank or at fault (then with a fault)."""

    def __init__(self, node: Node, keys: Keys, faults: list[Fault], languages: tuple[str, ...] = ()) -> None:
        """`languages` of the job, the first one first; () where they are not known: then none is refused."""
        self.where = node.where
        self.keys = keys
        self.languages = languages
        self.values: dict[str, Node] = {}
        self.faults = faults
        self._first: dict[str, int] = {}    # line of each key
        self._met: set[str] = set()         # keys that a fault has named already: not missing as well
        self._running: str | None = None    # the text that a piece without a key continues
        self._read: dict[str, str | None] = {}
        for pair in node.pairs or ():
            if pair.keyless:
                self._take_piece(pair)
            else:
                self._take(pair)
        self._check_required()

    def _take(self, pair: Pair) -> None:
        key, keys = pair.key, self.keys
        near = "" if key in keys.known else nearest(key, keys.known, cutoff=0.8 if keys.free else 0.6)
        if near or not (keys.free or key in keys.known):
            self._met.add(near)
            self.fault(pair, f"unknown key `{key}` in {keys.of}", "a known key" if near else listed(keys.known, "or"),
                       "correct the key or remove it; a text with a comma or a colon goes in quotes", near)
        elif key in self._first:
            self.fault(pair, f"the key `{key}` stands twice in {keys.of} (first in line {self._first[key]})",
                       "each key once", "remove one of the two")
        self._first.setdefault(key, pair.where.line)
        self.values.setdefault(key, pair.value)
        text = pair.value.shape == "a text" and (keys.read_by_people(key) or near in keys.texts)
        self._running = key if text else None

    def _take_piece(self, pair: Pair) -> None:
        """In {at: Garage, by the side door} YAML sees a second key: it is the text before it that goes on."""
        before, colon, _ = pair.key.partition(":")
        if colon and before.rstrip() in self.keys.known:
            self._met.add(before.rstrip())
            self.fault(pair, f"`{pair.key}` has no blank after its colon", "`key: value`", "put one there")
        elif self._running and pair.key.casefold() not in self.keys.known:
            text = self.values[self._running]
            self.values[self._running] = replace(text, text=f"{text.text}, {pair.key}")
        else:
            self._met.add(pair.key)
            self.fault(pair, f"`{pair.key}` stands without a value in {self.keys.of}", "`key: value`",
                       "write its value, or put the text that it belongs to in quotes")

    def _check_required(self) -> None:
        for key in self.keys.required:
            blank = key not in self.values or self.values[key].blank
            if blank and key not in self._met:
                self.faults.append(Fault(
                    self.where, f"{self.keys.of} has no `{key}`", listed(self.keys.required), f"add `{key}: ...`"))

    def fault(self, at: Pair | Node | Fields, met: str, expected: str, do: str, near: str = "") -> None:
        self.faults.append(Fault(at.where, met, expected, do, near))

    def node(self, key: str) -> Node | None:
        """What stands at the key, unless it is blank."""
        node = self.values.get(key)
        return None if node is None or node.blank else node

    def text(self, key: str) -> str | None:
        """The text at a key, on one line; read once, so that a fault is said once."""
        if key not in self._read:
            node = self.node(key)
            self._read[key] = self._text(node, f"`{key}`", fold, self.keys.read_by_people(key)) if node else None
        return self._read[key]

    def text_of(self, node: Node, of: str) -> str | None:
        """The text of a node that people read, its inner line ends kept."""
        return self._text(node, of, str.strip, by_language=True)

    def _text(self, node: Node, of: str, tidy: Callable[[str], str], by_language: bool) -> str | None:
        if node.text is not None:
            return self._short(node, of) and tidy(node.text) or None
        codes = [pair.key for pair in node.pairs or () if not pair.keyless and LANGUAGE.fullmatch(pair.key.casefold())]
        if by_language and codes:
            return self._text_by_language(node, of, tidy)
        map_too = by_language and node.pairs is not None
        self.faults.append(shape_fault(
            node, of, "a text, or one text a language as in `{en: ..., es: ...}`" if map_too else "a text",
            "write one text, in quotes if it has a colon"))
        return None

    def _short(self, node: Node, of: str) -> bool:
        """Whether the text fits a page and its lines; a fault where it does not."""
        if len(node.text or "") > TEXT.most:
            self.faults.append(beyond(TEXT, node.where, len(node.text or ""), f"shorten {of}; a page of notes/ holds more"))
        return len(node.text or "") <= TEXT.most

    def _text_by_language(self, node: Node, of: str, tidy: Callable[[str], str]) -> Text | None:
        """A text written once a language. One that is missing is no fault: the reasoning speaks of it."""
        before = len(self.faults)
        texts: dict[str, str] = {}
        for code, value in Fields(node, Keys(of, None, free=True), self.faults).values.items():
            if self.languages and code not in self.languages:
                self.fault(value, f"`{code}` in {of} is not a language of this job", listed(self.languages, "or"),
                           "correct the code, or add it to `languages` in job.yaml", nearest(code, self.languages))
            elif value.text is None and not value.blank:
                self.faults.append(shape_fault(value, f"`{code}` in {of}", "a text", "write one text"))
            elif not value.blank and self._short(value, f"`{code}` in {of}"):
                texts[code] = tidy(value.text or "")
        if not texts and len(self.faults) == before:
            self.fault(node, f"{of} is blank in every language", "a text", "write it in one of them at least")
        return Text.of(texts, self.languages[0] if self.languages else "") if texts else None

    def word(self, key: str, choices: Mapping[str, T]) -> T | None:
        """One of a few words, in any case and with any blanks."""
        text = self.text(key)
        if text is None:
            return None
        if text.casefold() in choices:
            return choices[text.casefold()]
        self.fault(self.values[key], f"`{key}: {text}` is not known", listed(choices, "or"), "write one of these words",
                   nearest(text, choices) if len(choices) > 1 else "")
        return None

    def flag(self, key: str) -> bool | None:
        return self.word(key, _FLAGS)

    def day(self, key: str, do: str) -> date | None:
        """A day of the calendar; `do`: what to write where it is none."""
        text = self.text(key)
        when = day(text) if text else None
        if text and when is None:
            self.fault(self.values[key], f"`{key}: {text}` is not a date", "a real day, YYYY-MM-DD", do, likely_day(text))
        return when

    def number(self, key: str, unit: str, most: float, above_zero: bool = False) -> float | None:
        """A number from 0 (or from just above it) to `most`; the unit may stand behind it."""
        text = self.text(key)
        if text is None:
            return None
        number = quantity(text, unit, most)
        if number is None or (above_zero and number == 0):
            least = "above 0" if above_zero else "from 0"
            self.fault(self.values[key], f"`{key}: {text}` is not a number {least} to {most:g} {unit}",
                       f"`{key}` in {unit}", "write the number alone, with a point for decimals")
            return None
        return number

    def written(self, key: str) -> str | None:
        """A text, or a map or list as it is written."""
        node = self.node(key)
        if node is None:
            return None
        return fold(node.written if node.text is None else node.text)

    def items(self, key: str, of: str, expected: str, do: str) -> tuple[Node, ...]:
        """The text at a key, or those of a list; `of` says what they are: "ids"."""
        node = self.node(key)
        if node is None:
            return ()
        if node.pairs is not None or any(item.text is None for item in node.items or ()):
            self.fault(node, f"`{key}: {node.written}` is not a list of {of}", expected, do)
            return ()
        return node.items if node.items is not None else (node,)

    def fields(self, key: str, keys: Keys) -> Fields | None:
        """The map at the key."""
        node = self.node(key)
        if node is None:
            return None
        if node.pairs is None:
            self.faults.append(shape_fault(node, f"`{key}`", "a map", f"write it as `{key}: {{key: value}}`"))
            return None
        return Fields(node, keys, self.faults, self.languages)

    def entries(self, key: str, keys: Keys, least: int = 0) -> tuple[list[Fields], bool]:
        """The maps of the list at the key, and True where the list has `least` and each of them could be read."""
        node = self.node(key)
        if node is None:
            return [], False
        if node.items is None:
            self.faults.append(shape_fault(node, f"`{key}`", "a list",
                                           "begin each entry on a line of its own with `- `"))
            return [], False
        if len(node.items) < least:
            self.fault(node, f"`{key}` is an empty list", "at least one entry",
                       f"write one, with {keys.wanted}")
            return [], False
        if len(node.items) > ENTRIES.most:
            self.faults.append(beyond(ENTRIES, node.where, len(node.items), f"check `{key}`, and part the job"))
            return [], False
        maps = [item for item in node.items if item.pairs is not None]
        for item in node.items:
            if item.pairs is None:
                self.faults.append(shape_fault(item, f"an entry of `{key}`", "a map",
                                               f"write {keys.wanted} in it"))
        return [Fields(item, keys, self.faults, self.languages) for item in maps], len(maps) == len(node.items)

    def record(self) -> dict[str, Any]:
        """The values of the keys that the table can read alone, by the fields of its record."""
        return self.keys.values(self)

    def texts(self) -> dict[str, str]:
        """Every value of a free map as a text, in file order; blank ones left out."""
        found = {key: self.text_of(node, f"`{key}`") for key, node in self.values.items() if not node.blank}
        return {key: text for key, text in found.items() if text}
