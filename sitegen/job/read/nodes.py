"""The text of a YAML file in, one tree of nodes out: every text as it was written, every node with its line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import yaml

from ...errors import Fault, Where
from .files import unfit_fault

# A job folder nests five deep at most; the limit keeps a hostile file from exhausting the stack.
DEEPEST = 20

_INDENTED_BY_TAB = re.compile(r"^ *\t[ \t]*[^\s#]", re.MULTILINE)
_LOST_IN_COMMENT = re.compile(r"[ \t]+#\d+")


@dataclass(frozen=True, slots=True)
class Node:
    """A text, a list or a map; nothing is typed here, so `no`, `1:30` and `08` are texts."""

    where: Where
    written: str                             # as it stands in the file, on one line
    text: str | None = None                  # of a text; None for the others and for a blank
    items: tuple[Node, ...] | None = None    # of a list
    pairs: tuple[Pair, ...] | None = None    # of a map, in file order, keys that stand twice included

    @property
    def blank(self) -> bool:
        """True where nothing is written."""
        return not (self.text or "").strip() and self.items is None and self.pairs is None

    @property
    def shape(self) -> str:
        if self.pairs is not None:
            return "a map"
        if self.items is not None:
            return "a list"
        return "blank" if self.blank else "a text"


@dataclass(frozen=True, slots=True)
class Pair:
    """One `key: value` of a map."""

    where: Where
    key: str
    value: Node
    keyless: bool = False  # written without a colon: `by the side door` in {at: Garage, by the side door}


def read_yaml(text: str, file: str, faults: list[Fault]) -> Node | None:
    """The root of the one document in the text; None and faults where YAML cannot read it."""
    tabs = [text.count("\n", 0, found.start()) + 1 for found in _INDENTED_BY_TAB.finditer(text)]
    if tabs:
        more = f" (and {len(tabs) - 1} more lines)" if len(tabs) > 1 else ""
        faults.append(Fault(Where(file, tabs[0]), f"a tab begins this line{more}", "blanks before the text of a line",
                            "replace every such tab by two blanks"))
        return None
    reading = _Reading(text, file)
    try:
        root = reading.root()
    except _Ended:
        root = None
    except (yaml.YAMLError, ValueError, RecursionError) as error:
        fault = _syntax_fault(error, file, text)
        # A stray mark often breaks its line as well: one thing to mend, said once.
        if all(earlier.where != fault.where for earlier in reading.marks):
            reading.marks.append(fault)
        root = None
    if root is None and not reading.marks:
        reading.marks.append(Fault(Where(file, 1), "the file holds only comments", "what this file is for",
                                   "write the file; `sitegen begin` makes one to start from"))
    faults += reading.marks + (reading.faults if root else [])
    return root


class _Ended(Exception):
    """No tree can be made of what follows; why is told already."""


class _Reading:
    """One text while the events of YAML become nodes, each looked at once."""

    def __init__(self, text: str, file: str) -> None:
        self.text, self.file = text, file
        self.marks: list[Fault] = []     # of what a tree does not show: marks of YAML, lost comments
        self.faults: list[Fault] = []    # of the nodes; they count where there is a tree
        self.sound = True
        self.events = self._looked_at(yaml.parse(text, Loader=yaml.CSafeLoader))

    def root(self) -> Node | None:
        """None where nothing but comments stands there, or an alias."""
        roots = [self._node(event) for event in self.events if isinstance(event, yaml.NodeEvent)]
        return roots[0] if roots and self.sound else None

    def _looked_at(self, events: Iterable[yaml.Event]) -> Iterator[yaml.Event]:
        depth = documents = 0
        for event in events:
            documents += isinstance(event, yaml.DocumentStartEvent)
            depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
            if documents > 1 or depth > DEEPEST:
                met, expected, do = ("a second document begins here", "one document a file",
                                     "remove the line `---` or what follows it") if documents > 1 else \
                    (f"lists and maps more than {DEEPEST} deep", "the few levels of this file",
                     "look for brackets that are not closed")
                self.marks.append(Fault(self._where(event), met, expected, do))
                raise _Ended
            self._look_for_marks(event)
            yield event

    def _look_for_marks(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None) or getattr(event, "tag", None):
            written = self.text[slice(*_reach(event))].split("\n")[0].strip()
            self.marks.append(Fault(self._where(event), f"`{written}` is a mark for YAML, not a text", "no anchors (`&`), "
                                    "aliases (`*`) or tags (`!`)",
                                    "put a text that begins with such a sign in quotes, or write it out"))
            self.sound = self.sound and not isinstance(event, yaml.AliasEvent)
        if isinstance(event, yaml.ScalarEvent) and not event.style and event.value:
            comment = _LOST_IN_COMMENT.match(self.text, _reach(event)[1])
            if comment:
                self.marks.append(Fault(self._where(event), f"YAML drops `{comment[0].strip()}` here as a comment",
                                        "a text in quotes where it has a `#`",
                                        f'write "{event.value}{comment[0]}" in quotes'))

    def _where(self, event: yaml.Event) -> Where:
        assert event.start_mark     # as in `_reach`
        return Where(self.file, event.start_mark.line + 1)

    def _written(self, start: yaml.Event, end: yaml.Event) -> str:
        return " ".join(self.text[_reach(start)[0]:_reach(end)[1]].split())

    def _node(self, event: yaml.Event) -> Node:
        where = self._where(event)
        if isinstance(event, yaml.SequenceStartEvent):
            items = []
            while not isinstance(end := next(self.events), yaml.SequenceEndEvent):
                items.append(self._node(end))
            return Node(where, self._written(event, end), items=tuple(items))
        if isinstance(event, yaml.MappingStartEvent):
            pairs = []
            while not isinstance(end := next(self.events), yaml.MappingEndEvent):
                pairs.append(self._pair(event, end))
            return Node(where, self._written(event, end), pairs=tuple(pair for pair in pairs if pair))
        value = getattr(event, "value", "")     # an alias has none
        unfit = unfit_fault(value, self.file)
        if unfit:
            self.faults.append(replace(unfit, where=where))
        return Node(where, self._written(event, event), text=value if getattr(event, "style", "") or value else None)

    def _pair(self, inside: yaml.MappingStartEvent, key: yaml.Event) -> Pair | None:
        before = len(self.faults)
        named, value = self._node(key), next(self.events)
        if len(self.faults) > before and named.text is not None:
            self._node(value)
            return None
        del self.faults[before:]
        if named.text is None or not named.text.strip() or (named.text == "<<" and isinstance(key, yaml.ScalarEvent) and not key.style):
            self._node(value)
            del self.faults[before:]
            self.faults.append(Fault(named.where, f"`{named.written}` stands where a key is written", "a word before the colon",
                                     "write the keys out one by one"))
            return None
        # Without a colon YAML puts an empty value right behind the key.
        keyless = inside.flow_style and isinstance(value, yaml.ScalarEvent) and _reach(value)[0] == _reach(key)[1]
        return Pair(named.where, " ".join(named.text.split()), self._node(value), bool(keyless))


def _reach(event: yaml.Event) -> tuple[int, int]:
    """From where to where in the text."""
    assert event.start_mark and event.end_mark      # every event of the parser has both, only one made by hand may lack them
    return event.start_mark.index, event.end_mark.index


# The commonest slips by the words of libyaml: part of its message, what was met, what to do.
_SLIPS = (
    ("mapping values are not allowed", "a colon where no key can stand",
     "put a text with a colon in quotes, and begin keys of one map in the same column"),
    ("cannot start any token", "a text that begins with a sign of YAML", "put the text in quotes"),
    ("did not find expected ',' or '}'", "a `{` that is not closed, a missing comma, or a colon inside a text",
     "close it with `}`, part keys by commas, and put a text with a colon in quotes"),
    ("did not find expected ',' or ']'", "a `[` that is not closed, a missing comma, or a colon inside a text",
     "close it with `]`, part items by commas, and put a text with a colon in quotes"),
    ("found unexpected end of stream", "a quote that is not closed", "close the quote"),
)


def _syntax_fault(error: Exception, file: str, text: str) -> Fault:
    problem = str(getattr(error, "problem", None) or "it is nested too deep or holds a sign that is not text")
    met = f"YAML cannot be read here ({problem})"
    do = "look at this line and the one before it for a missing colon, comma, quote or bracket"
    opened = False
    for words, slip, mend in _SLIPS:
        if words in problem:
            met, do, opened = slip, mend, "not closed" in slip
    mark = getattr(error, "context_mark" if opened else "problem_mark", None) or getattr(error, "problem_mark", None)
    line = min(mark.line + 1, max(text.rstrip("\n").count("\n") + 1, 1)) if mark else 1
    return Fault(Where(file, line), met, "lines of `key: value`, indented by blanks", do)
