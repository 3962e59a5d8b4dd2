"""Takes the desk and a circuit; gives its one-line drawing as data: every point, what feeds it, what was shown, what stands beside it.

publish/drawing/one_line.py lays it out once the widths of the words are known.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from ...job.records import Circuit, Point, TripTest
from ..desk import Desk
from ..desk.once import once
from .records import circuit_path, trade_path
from .service import neutral_with, other_sources

_JOINTS = {"pigtail": "P", "through device": "F"}


@dataclass(frozen=True, slots=True)
class Node:
    id: str                    # "K1"; "" of a tap at line terminals
    look: str                  # press: something to press or switch off | name | tap
    above: int | None          # the node that feeds it; None: a beginning
    shown: bool                # tests showed that it hangs behind what is above; False: as drawn only
    way: tuple[tuple[str, str], ...]    # beside the line to it: ("LOAD", "side"), ("9 ft", "way")
    what: str                  # "coffee maker"
    where: str                 # "Kitchen, left counter"
    joint: str = ""            # how what goes on is made up: P | F | ?; "" where that is no question
    access: str = ""           # of its box: "ladder"
    volts: str = ""            # with its day
    tested: str = ""           # the last test, with its day
    facts: str = ""            # the three in one line
    alarm: str = ""            # what tests say against the map, or what a visit left unshown
    href: str = ""             # "#K1", or the folder of a page


@dataclass(frozen=True, slots=True)
class OneLine:
    says: str                  # all of it in words
    heads: tuple[str, ...]     # over the columns where there is room for some
    nodes: tuple[Node, ...]    # one before what it feeds


@dataclass
class _Drawn:
    """A circuit while its nodes are listed."""

    desk: Desk
    nodes: list[Node] = field(default_factory=list)
    at: dict[str, int] = field(default_factory=dict)      # id -> the node that what it feeds hangs on; "K1 line" -> its tap

    def add(self, node: Node) -> int:
        self.nodes.append(node)
        return len(self.nodes) - 1


def one_line(desk: Desk, circuit: Circuit, says: str) -> OneLine:
    """`says`: its feed in words."""
    drawn = _Drawn(desk)
    _down_to(drawn, circuit)
    for id, _ in desk.tree.walk(circuit):
        _point(drawn, desk.point(id))
    for panel in desk.job.panels:
        if panel.fed_from == circuit.breaker:
            _subpanel(drawn, panel.id)
    return OneLine(says, tuple(desk.words.text(f"service.line.heads.{name}") for name in (
        "way", "what", "joint", "access", "volts", "tested")), tuple(drawn.nodes))


def _down_to(drawn: _Drawn, circuit: Circuit) -> None:
    """From the utility's panel through every feeder to the breaker of the circuit."""
    above = None
    for id in drawn.desk.tree.feeders(circuit.breaker):
        if above is not None:
            above = _panel(drawn, drawn.desk.tree.panel_of[id], above)
        above = _breaker(drawn, id, above)


def _breaker(drawn: _Drawn, id: str, above: int | None, what: str = "", href: str = "") -> int:
    desk, breaker = drawn.desk, drawn.desk.job.breaker[id]
    feeder = drawn.desk.job.panel[desk.tree.panel_of[id]].fed_from
    shown = bool(feeder and any(_seen_dead(desk, outlet, feeder) for outlet in desk.tree.outlets_of(desk.tree.goes_dead(id))))
    amps = f"{breaker.amps:g} A " if breaker.amps else ""
    kind = desk.words.get(f"kinds.breakers.{breaker.kind.name}.mark") or desk.words.text("service.line.breaker")
    where = desk.words.text("service.line.space", panel=desk.tree.panel_of[id], space=breaker.space)
    tried = desk.evidence.own_test(id) if breaker.kind.opens else desk.evidence.handle(id)
    tested = _tested(desk, tried, breaker.kind.opens)
    node = Node(id, "press", above, shown, (), what or amps + kind, where, tested=tested, facts=tested,
                alarm=_alive(desk, id), href=href or trade_path(id))
    drawn.at[id] = drawn.add(node)
    return drawn.at[id]


def _alive(desk: Desk, breaker: str) -> str:
    """What keeps its circuit live, or its neutral carrying current, with this breaker off."""
    mates, sources = neutral_with(desk, breaker), other_sources(desk, breaker)
    neutral = desk.words.text("service.line.neutral", breakers=mates) if mates else ""
    also = desk.words.text("service.line.also", sources=sources) if sources else ""
    return desk.words.parts((neutral, also))


def _panel(drawn: _Drawn, id: str, above: int) -> int:
    desk = drawn.desk
    outlets = [outlet for circuit in desk.job.circuits if circuit.panel == id for outlet in desk.tree.outlets_of(
        desk.tree.goes_dead(circuit.breaker))]
    feeder = desk.job.panel[id].fed_from or ""
    return drawn.add(Node(id, "name", above, any(_seen_dead(desk, outlet, feeder) for outlet in outlets), (),
                          desk.words.text("service.line.panel"), desk.job.panel[id].at))


def _subpanel(drawn: _Drawn, id: str) -> None:
    """Of a feeder: its panel with every breaker in it, each leading to its own circuit."""
    above = _panel(drawn, id, drawn.at[drawn.desk.job.panel[id].fed_from or ""])
    for circuit in drawn.desk.by_space():
        if circuit.panel == id:
            _breaker(drawn, circuit.breaker, above, circuit.serves, circuit_path(circuit.key))


def _point(drawn: _Drawn, point: Point) -> None:
    desk, feed = drawn.desk, point.feed
    if feed.unknown:
        above = drawn.add(Node("?", "name", None, False, (), desk.words.text("service.line.unknown"), ""))
    else:
        above = drawn.at[str(feed)] if str(feed) in drawn.at else drawn.at[feed.source]
    shown, way = _shown(desk, point), _way(desk, point)
    children = [desk.point(id) for id in desk.tree.children.get(point.id, ())]
    if any(child.feed.side == "line" for child in children):
        above = drawn.at[f"{point.id} line"] = drawn.add(Node("", "tap", above, shown, way, "", ""))
        way = ((desk.words.text("service.line.line"), "side"),)
    made_up = point.kind.is_outlet or point.kind.switches or point.kind.opens
    joint = "" if not children or not made_up else _JOINTS.get(point.joint or "", "?")
    drawn.at[point.id] = drawn.add(Node(
        point.id, "press" if point.kind.opens else "name", above, shown, way, str(point.use or _kind(desk, point)),
        f"{point.room}, {point.at}", joint, alarm=_alarm(desk, point.id), href=f"#{point.id}", **_facts(desk, point)))


def _kind(desk: Desk, point: Point) -> str:
    return str(desk.words.get(f"kinds.points.{point.kind.name}.name"))


def _way(desk: Desk, point: Point) -> tuple[tuple[str, str], ...]:
    """LOAD, 9 ft, S."""
    words, feed, ft = desk.words, point.feed, point.length_ft
    side = words.text(f"service.line.{feed.side}") if feed.side else ""
    same_box = ft == 0 and feed.source in desk.job.point
    cable = "" if ft is None else words.text("service.line.box") if same_box else words.text("service.line.feet", ft=f"{ft:g}")
    leg = desk.tree.leg(point.id)
    pieces = ((f"{feed.source} {side}" if feed.side == "line" else side, "side"), (cable, "way"),
              (words.text(f"service.line.legs.{leg}") if leg else "", "side"),
              (words.text("service.line.to_line") if point.kind.has_sides else "", "side"))
    return tuple(piece for piece in pieces if piece[0])


def _shown(desk: Desk, point: Point) -> bool:
    """True where tests showed that this, or of a switch or a junction something that it feeds, stands behind the breaker or the
    load terminals that it is drawn on. Which of several points behind the same devices feeds the next no test can tell."""
    feed, tree, evidence = point.feed, desk.tree, desk.evidence
    behind = feed.source
    if feed.unknown or behind not in desk.job.breaker and feed.side != "load" or point.id in evidence.contradicted:
        return False
    if not point.kind.opens or point.kind.has_face:
        ids = (point.id,) if point.kind.is_outlet else (point.id, *tree.below(point.id))
        return any(_seen_dead(desk, id, behind) for id in tree.outlets_of(ids))
    outlets = tree.outlets_of(tree.goes_dead(point.id))
    both = any(_seen_dead(desk, id, behind) and not {id} & evidence.contradicted for id in outlets)
    # Two devices that cut the same outlets: which of them comes first is not told.
    first = behind in desk.job.breaker or any(evidence.live_while_open(id, point.id) and _seen_dead(desk, id, behind)
                                              for id in tree.outlets_of(tree.goes_dead(behind)))
    return both and first


def _seen_dead(desk: Desk, outlet: str, behind: str) -> bool:
    evidence = desk.evidence
    return bool(evidence.shown(outlet, behind) or behind in desk.job.breaker and evidence.handle_tried(outlet, behind))


def _facts(desk: Desk, point: Point) -> dict[str, str]:
    """Access, the last reading and the last test, each with its day; in one line a day that both share stands once."""
    words, row = desk.words, desk.evidence.readings.get(point.id)
    access = words.text(f"service.line.access.{point.access}") if point.access else ""
    read = row if row and row.volts is not None else None
    volts = words.text("service.volts", volts=f"{read.volts:g}") if read else ""
    dated = f"{volts}, {words.day(read.date)}" if read else ""
    test = _last_test(desk, point)
    tested = _tested(desk, test, point.kind.opens) if point.kind.is_outlet or point.kind.opens else ""
    same = read and test and read.date == test.date
    facts = words.parts((access, volts if same else dated, tested))
    return {"access": access, "volts": dated, "tested": tested, "facts": facts}


def _last_test(desk: Desk, point: Point) -> TripTest | None:
    if point.kind.opens:
        return desk.evidence.own_test(point.id)
    return _last_looks(desk).get(point.id)


@once
def _last_looks(desk: Desk) -> Mapping[str, TripTest]:
    """Outlet -> the latest row that pressed there or saw it go dead; that it stayed live with another device out is no test of it."""
    found: dict[str, TripTest] = {}
    for look in desk.evidence.stand:
        if look.row.pressed != "none":
            found |= {id: look.row for id in (*look.row.at, *(sighting.outlet for sighting in look.dark))}
    return MappingProxyType(found)


def _tested(desk: Desk, row: TripTest | None, own: bool) -> str:
    if row is None:
        return desk.words.text("service.line.not_tested")
    return desk.words.text("service.line.own_test" if own else "service.line.tested", day=desk.words.day(row.date))


def _alarm(desk: Desk, id: str) -> str:
    words = desk.words
    if id in desk.evidence.contradicted:
        return words.text("service.line.contradicted")
    if since := desk.claims.not_shown_since(id) if desk.point(id).kind.is_outlet or desk.point(id).kind.opens else None:
        return words.text("service.line.not_since", day=words.day(since))
    changed = desk.claims.changed(id)
    return words.text("service.changed", day=words.day(changed)) if changed else ""
