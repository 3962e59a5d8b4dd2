"""Takes a one-line drawing and a measure of words; gives it as shapes, upright for a phone, or with columns across a sheet.

Every run goes straight down in a lane of its own. The heaviest way on from a point stays in its lane and comes last; each lighter
one has a lane to the right, and has ended when the heavy one goes on. So no line meets another, right of a point there is
nothing but its words, and n points need log2(n) + 1 lanes at most.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from ...binder.site.one_line import Node, OneLine
from .shapes import Area, At, Box, Line, Shape, Word

Wrap = Callable[[str, bool, float], tuple[str, ...]]    # a text, whether it is bold, the room there is; its lines


@dataclass(frozen=True, slots=True)
class Metrics:
    """The sizes of one medium, in units."""

    wide: float
    lane: float          # from one lane to the next
    tag: float           # height of an id
    text: float          # from one line of words to the next
    measure: Callable[[str, bool], float]
    wrap: Wrap


@dataclass(frozen=True, slots=True)
class Group:
    """One point: its id, its words; a tap on it leads to `href`."""

    href: str
    shapes: tuple[Shape, ...]


@dataclass
class Sheet:
    wide: float
    high: float = 0.0
    lines: list[Line] = field(default_factory=list)      # "shown" or "drawn"
    groups: list[Group] = field(default_factory=list)
    rows: list[float] = field(default_factory=list)      # where each row ends: a sheet that is too high is cut there

    def pieces(self, most: float) -> list[tuple[float, float]]:
        """Top and bottom of each piece, none higher than `most` if a row is not."""
        cuts = [0.0]
        for end, after in zip(self.rows, (*self.rows[1:], self.high)):
            if after - cuts[-1] > most and end > cuts[-1]:
                cuts.append(end)
        return list(zip(cuts, (*cuts[1:], self.high)))

    @property
    def words(self) -> list[Word]:
        return [shape for group in self.groups for shape in group.shapes if isinstance(shape, Word)]


@dataclass(frozen=True, slots=True)
class _Arrival:
    """How a line comes in to a node: the spot at which it leaves the lane of what feeds it, and on from there."""

    node: Node
    points: tuple[At, ...]


@dataclass(frozen=True, slots=True)
class _Placed:
    """A node with the lane that it stands in."""

    index: int
    node: Node
    lane: int
    branch: bool         # it comes from the lane to the left
    goes_on: bool


def lanes(nodes: Sequence[Node]) -> list[_Placed]:
    """From top to bottom."""
    below: list[list[int]] = [[] for _ in nodes]
    weight = [1] * len(nodes)
    for index, node in reversed(list(enumerate(nodes))):
        if node.above is not None:
            below[node.above].insert(0, index)
            weight[node.above] += weight[index]
    placed: list[_Placed] = []
    waiting = [(index, 0, False) for index, node in reversed(list(enumerate(nodes))) if node.above is None]
    while waiting:
        index, lane, branch = waiting.pop()
        placed.append(_Placed(index, nodes[index], lane, branch, bool(below[index])))
        heavy = max(below[index], key=lambda child: (weight[child], child), default=None)
        waiting += [(heavy, lane, False)] if heavy is not None else []
        waiting += [(child, lane + 1, True) for child in reversed(below[index]) if child != heavy]
    return placed


_LEFT = 14.0         # units to the first lane
_BEFORE = 11.0       # units of a tag left of its lane
_AIR = 5.0           # units from a line to words
_TURN = 6.0          # units from the words of one point to the turn of the next
_MARK = 7.5          # radius of the mark of a splice


def upright(drawing: OneLine, metrics: Metrics) -> Sheet:
    """On a phone: words below and beside each id; what belongs to a cable stands beside its line, above the id."""
    sheet, ends, arrivals = Sheet(metrics.wide, 1.0), dict[int, At](), list[_Arrival]()
    for placed in lanes(drawing.nodes):
        node, x, shapes = placed.node, _LEFT + placed.lane * metrics.lane, list[Shape]()
        top = sheet.high + (_TURN + 2 if node.above is not None else 0)
        way = _run(metrics, node.way, x + _AIR + 2, top, metrics.wide - 2)
        shapes += way
        start = way[-1].box.bottom + 3 if way else top
        if node.above is not None:
            from_x, turn = ends[node.above][0], sheet.high + _TURN
            arrivals.append(_Arrival(node, ((from_x, turn), (x, turn), (x, start)) if placed.branch else ((x, start),)))
        if node.look == "tap":
            shapes.append(Area(Box.round((x, start + _TURN), 6, 6), "dot"))     # where its first branch turns off
            sheet.high = start
        else:
            tag = _tag(metrics, node, x, start)
            shapes += tag
            sheet.high = _beside(metrics, placed, x, tag[0].box, shapes)
        ends[placed.index] = (x, start + (0 if node.look == "tap" else metrics.tag))
        sheet.groups.append(Group(node.href, tuple(shapes)))
    sheet.high += 4
    sheet.lines = _joined(ends, arrivals)
    return sheet


def _beside(metrics: Metrics, placed: _Placed, x: float, tag: Box, shapes: list[Shape]) -> float:
    """The words of a point, and where they end."""
    node = placed.node
    first = _column(metrics, node.what, tag.right + 7, tag.top + (metrics.tag - metrics.text) / 2, "what")
    shapes += first
    bottom = max(tag.bottom, first[-1].box.bottom if first else 0) + 1
    left = x + (_MARK if node.joint else 0) + _AIR + 3
    for text, look in ((node.where, "where"), (node.facts, "fact"),
                       (node.alarm, "alarm")):
        lines = _column(metrics, text, left, bottom, look)
        shapes += lines
        bottom += len(lines) * metrics.text
    if node.joint:
        shapes += _mark(metrics, node.joint, x, tag.bottom + 4 + _MARK)
        bottom = max(bottom, tag.bottom + 6 + 2 * _MARK)
    return bottom


def across(drawing: OneLine, metrics: Metrics) -> Sheet:
    """On paper: a row a point, what is known of it in columns."""
    sheet, ends, arrivals = Sheet(metrics.wide), dict[int, At](), list[_Arrival]()
    placed = lanes(drawing.nodes)
    left = max(_LEFT + one.lane * metrics.lane - _BEFORE + _wide(metrics, one.node.id) for one in placed) + 6
    edges = _edges(drawing, metrics, left)
    heads = [word for text, (x, wide) in zip(drawing.heads, edges) for word in _column(metrics, text, x, 0, "head", wide)]
    sheet.groups.append(Group("", tuple(heads)))
    sheet.high = max(word.box.bottom for word in heads) + 4
    for one in placed:
        node, x, top = one.node, _LEFT + one.lane * metrics.lane, sheet.high
        shapes: list[Shape] = []
        way = _run(metrics, node.way, edges[0][0], top + 2, sum(edges[0]))
        shapes += way
        sheet.high = max(sheet.high, way[-1].box.bottom + 3 if way else 0)
        for texts, (at, wide) in zip(_cells(node), edges[1:]):
            y = top + 2
            for text, look in texts:
                lines = _column(metrics, text, at, y, look, wide)
                shapes += lines
                y += len(lines) * metrics.text
            sheet.high = max(sheet.high, y + 3)
        sheet.high = max(sheet.high, top + metrics.tag + 5)
        middle, tap = top + 2 + metrics.tag / 2, node.look == "tap"
        if node.above is not None:
            straight = ((x, middle if tap else top + 2),)
            arrivals.append(_Arrival(node, ((ends[node.above][0], middle), (x - (0 if tap else _BEFORE), middle)) if one.branch else straight))
        shapes += [Area(Box(x - 2.5, middle - 2.5, 5, 5), "dot")] if tap else _tag(metrics, node, x, top + 2)
        ends[one.index] = (x, middle + (0 if tap else metrics.tag / 2))
        shapes.append(Line(((left, sheet.high), (metrics.wide, sheet.high)), "rule"))
        sheet.rows.append(sheet.high)
        sheet.groups.append(Group(node.href, tuple(shapes)))
    sheet.lines = _joined(ends, arrivals)
    return sheet


def _cells(node: Node) -> tuple[tuple[tuple[str, str], ...], ...]:
    return (((node.what, "what"), (node.where, "where")), ((node.joint, "joint"),), ((node.access, "fact"),),
            ((node.volts, "fact"),), ((node.tested, "fact"), (node.alarm, "alarm")))


def _edges(drawing: OneLine, metrics: Metrics, left: float) -> list[At]:
    """Left edge and width of every column: as wide as its words, at most so much; what it is and where takes the rest."""
    cells = [((*node.way,), *_cells(node)) for node in drawing.nodes]
    wide = [max(metrics.measure(head, True), min(most, max(_widest(metrics, row[at], at == 0) for row in cells)))
            for at, (most, head) in enumerate(zip(_MOST, drawing.heads))]
    wide[1] = metrics.wide - left - sum(wide) + wide[1] - _GAP * (len(wide) - 1)
    edges = []
    for own in wide:
        edges.append((left, own))
        left += own + _GAP
    return edges


def _widest(metrics: Metrics, pieces: Sequence[tuple[str, str]], in_a_row: bool) -> float:
    own = [metrics.measure(text, look in _BOLD) for text, look in pieces]
    return sum(own) + metrics.text / 3 * len(own) if in_a_row else max(own, default=0.0)


_MOST = (88.0, 0.0, 30.0, 42.0, 88.0, 80.0)    # units of a column
_GAP = 8.0
_BOLD = ("id", "what", "alarm", "head", "joint", "side")


def _column(metrics: Metrics, text: str, left: float, top: float, look: str, wide: float | None = None) -> list[Word]:
    room = metrics.wide - 2 - left if wide is None else wide
    bold = look in _BOLD
    lines = metrics.wrap(text, bold, room) if text else ()
    return [Word(Box(left, top + at * metrics.text, metrics.measure(line, bold), metrics.text), line.removesuffix(" ·"), look)
            for at, line in enumerate(lines)]


def _run(metrics: Metrics, pieces: Sequence[tuple[str, str]], left: float, top: float, right: float) -> list[Word]:
    """Words in several looks, one after the other; the next line where they would run out of the room."""
    words: list[Word] = []
    x = left
    for text, look in pieces:
        wide = metrics.measure(text, look in _BOLD)
        if words and x + wide > right:
            x, top = left, top + metrics.text
        words.append(Word(Box(x, top, wide, metrics.text), text, look))
        x += wide + metrics.text / 3
    return words


def _wide(metrics: Metrics, id: str) -> float:
    return max(metrics.measure(id, True) + 11, 24) if id else 0


def _tag(metrics: Metrics, node: Node, x: float, top: float) -> tuple[Area, Word]:
    box = Box(x - _BEFORE, top, _wide(metrics, node.id), metrics.tag)
    text = Box.round(box.middle, metrics.measure(node.id, True), metrics.text)
    return Area(box, node.look), Word(text, node.id, f"id {node.look}")


def _mark(metrics: Metrics, joint: str, x: float, y: float) -> list[Shape]:
    """The letter of a splice, on its line."""
    return [Area(Box.round((x, y), 2 * _MARK, 2 * _MARK), "splice"),
            Word(Box.round((x, y), metrics.measure(joint, True), metrics.text), joint, "joint")]


def _joined(ends: dict[int, At], arrivals: Sequence[_Arrival]) -> list[Line]:
    """One line down from each point to the last that it feeds, solid as far as one was shown, and a turn to each branch."""
    lines: list[Line] = []
    for source, (x, y) in ends.items():
        fed = [one for one in arrivals if one.node.above == source]
        for at, one in enumerate(fed):
            look = "shown" if any(other.node.shown for other in fed[at:]) else "drawn"
            lines.append(Line(((x, y), (x, one.points[0][1])), look))
            y = one.points[0][1]
            if len(one.points) > 1:
                lines.append(Line(one.points, "shown" if one.node.shown else "drawn"))
    return lines
