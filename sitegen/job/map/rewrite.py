"""The text of a map and changes to it in, the text with just these changed out: comments and all else stay as written."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

import yaml


@dataclass(frozen=True, slots=True)
class NewPoint:
    """A point that goes in before another of the same room and circuit."""

    id: str
    before: str      # id of that point
    kind: str
    at: str
    feed: str


@dataclass(frozen=True, slots=True)
class BreakerChange:
    kind: str
    space: str | None = None    # None: as it is
    poles: int | None = None


@dataclass(slots=True)
class MapChanges:
    kinds: dict[str, str] = field(default_factory=dict)                # id of a point -> `is`
    feeds: dict[str, str] = field(default_factory=dict)                # id of a point -> `fed_from`
    new_points: list[NewPoint] = field(default_factory=list)
    breakers: dict[str, BreakerChange] = field(default_factory=dict)   # id of a breaker -> what it becomes
    shared: dict[str, str] = field(default_factory=dict)               # key of a circuit -> the breaker that it is on now


def rewrite(text: str, changes: MapChanges) -> str:
    """`text` is a map that could be read."""
    edits: list[tuple[int, int, str]] = []   # from, to, what to put there
    root = yaml.compose(text, Loader=yaml.CSafeLoader)
    assert root is not None     # as the map could be read
    for circuit in _at(root, "circuits").value:
        breaker = _at(circuit, "breaker")
        key = f"{_id(circuit, 'panel')}-{_at(circuit, 'number').value}"
        if key in changes.shared:
            edits.append(_put(text, breaker, changes.shared[key]))
        elif isinstance(breaker, yaml.MappingNode) and _id(breaker) in changes.breakers:
            edits += _breaker(text, breaker, changes.breakers[_id(breaker)])
        points = _at(circuit, "points")
        for point in points.value:
            for name, table in (("is", changes.kinds), ("fed_from", changes.feeds)):
                if _id(point) in table:
                    edits.append(_put(text, _at(point, name), table[_id(point)]))
            edits += [_insert(text, points, point, new) for new in changes.new_points if new.before == _id(point)]
    for start, end, put in sorted(edits, reverse=True):
        text = text[:start] + put + text[end:]
    return text


def _at(node: yaml.Node, key: str) -> Any:
    return next((value for name, value in node.value if name.value == key), None)


def _id(node: yaml.Node, key: str = "id") -> str:
    return str(_at(node, key).value).strip().upper()


def _put(text: str, node: yaml.Node, value: str) -> tuple[int, int, str]:
    """To YAML a block map ends after the blanks and comments behind it: these stay."""
    start, last = node.start_mark.index, node
    while isinstance(last, yaml.MappingNode) and not last.flow_style:
        last = last.value[-1][1]
    return start, start + len(text[start:last.end_mark.index].rstrip()), value


def _breaker(text: str, node: yaml.MappingNode, change: BreakerChange) -> list[tuple[int, int, str]]:
    kind, poles, put = _at(node, "type"), _at(node, "poles"), change.kind
    edits = [_put(text, _at(node, "space"), change.space)] if change.space else []
    if change.poles and poles is not None:
        edits.append(_put(text, poles, str(change.poles) if poles.value else f" {change.poles}"))
    elif change.poles:
        put += f", poles: {change.poles}" if node.flow_style else f"\n{' ' * node.start_mark.column}poles: {change.poles}"
    return [*edits, _put(text, kind, put)]


def _insert(text: str, points: yaml.SequenceNode, point: yaml.Node, new: NewPoint) -> tuple[int, int, str]:
    room = json.dumps(_plain(_at(point, "room")), ensure_ascii=False)
    entry = f'{{id: {new.id}, is: {new.kind}, room: {room}, at: "{new.at}", fed_from: {new.feed}}}'
    start = point.start_mark.index
    if points.flow_style:
        return start, start, f"{entry}, "
    dash = text.rindex("-", 0, start)
    line = text.rindex("\n", 0, dash) + 1
    return line, line, f"{text[line:dash]}- {entry}\n"


def _plain(node: yaml.Node) -> Any:
    """A text, or one text a language."""
    return {key.value: value.value for key, value in node.value} if isinstance(node, yaml.MappingNode) else node.value
