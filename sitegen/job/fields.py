"""A map node in, its typed values out: what every key of a file is allowed to hold, each slip a fault."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from .faults import Fault, nearest
from .lines import Node, Pair
from .values import fold, listed, quantity

T = TypeVar("T")

_LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Za-z0-9]+)*")
_FLAGS = {"true": True, "yes": True, "false": False, "no": False}


@dataclass(frozen=True, slots=True)
class Keys:
    """The keys that one kind of map may have."""

    of: str                           # as a fault names the map: "this point"
    required: tuple[str, ...] = ()
    optional: tuple[str, ...] = ()
    texts: frozenset[str] = frozenset()  # keys whose text may run on after a comma
    free: bool = False                # every value is a text, and other keys are kept as they are written

    @property
    def known(self) -> tuple[str, ...]:
        return self.required + self.optional


def shape_fault(node: Node, of: str, expected: str, do: str) -> Fault:
    return Fault(node.where, f"{of} is {node.shape}", expected, do)


def entries(node: Node, of: str, keys: Keys, faults: list[Fault]) -> tuple[list[Fields], bool]:
    """The maps of a list, and True where each of them could be read."""
    if node.items is None:
        faults.append(shape_fault(node, f"`{of}`", "a list", "begin each entry on a line of its own with `- `"))
        return [], False
    maps = [item for item in node.items if item.pairs is not None]
    for item in node.items:
        if item.pairs is None:
            faults.append(shape_fault(item, f"an entry of `{of}`", "a map", f"write {listed(keys.required)} in it"))
    return [Fields(item, keys, faults) for item in maps], len(maps) == len(node.items)


class Fields:
    """The values of one map. A getter gives None where the key is absent, blank or at fault (then with a fault)."""

    def __init__(self, node: Node, keys: Keys, faults: list[Fault]) -> None:
        self.where = node.where
        self.keys = keys
        self.values: dict[str, Node] = {}
        self.faults = faults
        self._first: dict[str, int] = {}    # line of each key
        self._met: set[str] = set()         # keys that a fault has named already: not missing as well
        self._running: str | None = None    # the text that a piece without a key continues
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
        text = pair.value.shape == "a text" and (keys.free or key in keys.texts or near in keys.texts)
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

    def not_yet(self, at: Node | Fields, what: str, expected: str, do: str) -> None:
        self.fault(at, f"{what} is not read yet by this version", expected, do)

    def node(self, key: str) -> Node | None:
        """What stands at the key, unless it is blank."""
        node = self.values.get(key)
        return None if node is None or node.blank else node

    def text(self, key: str) -> str | None:
        node = self.node(key)
        text = node and self.text_of(node, f"`{key}`")
        return fold(text) if text else None

    def text_of(self, node: Node, of: str) -> str | None:
        """The text of a node, its inner line ends kept."""
        if node.text is not None:
            return node.text.strip()
        if node.pairs and all(_LANGUAGE.fullmatch(pair.key) for pair in node.pairs):
            self.not_yet(node, f"{of} with a text for each language", "one text in English", "write that text alone")
        else:
            self.faults.append(shape_fault(node, of, "a text", "write one text, in quotes if it has a colon"))
        return None

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

    def fields(self, key: str, keys: Keys) -> Fields | None:
        """The map at the key."""
        node = self.node(key)
        if node is None:
            return None
        if node.pairs is None:
            self.faults.append(shape_fault(node, f"`{key}`", "a map", f"write it as `{key}: {{key: value}}`"))
            return None
        return Fields(node, keys, self.faults)

    def texts(self) -> dict[str, str]:
        """Every value of a free map as a text, in file order; blank ones left out."""
        found = {key: self.text_of(node, f"`{key}`") for key, node in self.values.items() if not node.blank}
        return {key: text for key, text in found.items() if text}
