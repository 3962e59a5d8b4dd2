"""Takes the desk and a circuit; gives what stays live with each of its devices out, and which conductors each of them opens."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ...job.records import Circuit
from ..desk import Desk
from .service import kind_name, neutral_with

# UL 943 as reported: from 29 June 2015 (the first day of its week 27) Class A receptacle types test themselves, and stay dead
# with line and load exchanged. Older stock may still be sold, so the date code tells and the day of installing does not.
SELF_TEST = (15, 27)


@dataclass(frozen=True, slots=True)
class LiveRow:
    id: str
    kind: str
    opens: str      # hot only | hot and neutral | not written
    live: str       # "K1 LINE; D1, seen live 18 May 2027; K2, as drawn"


def live_rows(desk: Desk, circuit: Circuit) -> tuple[LiveRow, ...]:
    """The breaker, then the devices in feed order."""
    devices = [id for id, _ in desk.tree.walk(circuit) if desk.tree.kind(id).opens]
    return tuple(LiveRow(id, kind_name(desk.words, desk.tree.kind(id)), opens(desk, id), _live(desk, circuit, id))
                 for id in (circuit.breaker, *devices))


def since_2015(desk: Desk, id: str) -> bool | None:
    """True for a receptacle type of Class A made since the rule of 2015, by its date code (year, W, week); None: not known, or a
    breaker, which is not judged."""
    point = desk.job.point.get(id)
    made = re.fullmatch(r"(\d\d)W(\d\d)", (point.device.get("date code") or "").upper()) if point else None
    if point is None or made is None or not (point.kind.stops_shock and point.device.get("class", "").upper() == "A"):
        return None
    return (int(made[1]), int(made[2])) >= SELF_TEST or None


def both_poles(desk: Desk, id: str) -> bool | None:
    """Whether it opens hot and neutral: as written, else by the rule of 2015, a standard breaker never (common practice, no source);
    None: not known."""
    thing = desk.job.breaker.get(id) or desk.job.point[id]
    if thing.both_poles is not None:
        return thing.both_poles
    return False if id in desk.job.breaker and not thing.kind.opens else since_2015(desk, id)


def opens(desk: Desk, id: str) -> str:
    both = both_poles(desk, id)
    thing = desk.job.breaker.get(id) or desk.job.point[id]
    name = {True: "both", False: "hot", None: "unknown"}[both]
    return desk.words.text("service.live.opens.rule" if both and thing.both_poles is None else f"service.live.opens.{name}")


def _live(desk: Desk, circuit: Circuit, id: str) -> str:
    words, tree = desk.words, desk.tree
    if id in desk.job.breaker:
        mates = neutral_with(desk, id)
        shared = [words.text("service.live.neutral", breakers=mates)] if mates else []
        return "; ".join([words.text("service.live.breaker", id=id), *shared])
    on = [point for point, _ in tree.walk(circuit) if point not in tree.goes_dead(id) and not (point == id)]
    seen = {point: row.date for point in on if (row := desk.evidence.live_while_open(point, id))}
    drawn = [point for point in on if point not in seen]
    says = [words.text("service.live.line", id=id)]
    for day in sorted(set(seen.values()), reverse=True):
        says.append(words.text("service.live.seen", ids=words.join([point for point in on if seen.get(point) == day]), day=words.day(day)))
    if drawn:
        says.append(words.text("service.live.drawn", ids=words.join(drawn)))
    return "; ".join(says)


def not_told(desk: Desk, circuit: Circuit) -> tuple[str, ...]:
    """Cable by cable what no test can tell of this circuit: the order of points behind the same devices, where switches and
    junctions hang, the order of two devices that cut the same outlets."""
    words, tree = desk.words, desk.tree
    points = [id for id, _ in tree.walk(circuit) if id not in tree.unknown]
    places: dict[tuple[str, ...], list[str]] = {}
    for id in points:
        places.setdefault(tuple(one for one in tree.reset_order(id) if one != id), []).append(id)
    says = [words.text("service.live.same_place", ids=words.join(ids), devices=words.join(behind))
            for behind, ids in places.items() if len(ids) > 1]
    hung = [id for id in points if not tree.is_outlet(id) and not tree.kind(id).opens]
    if hung:
        says.append(words.text("service.live.hung", ids=words.join(hung)))
    cuts = {id: set(tree.outlets_of(tree.goes_dead(id))) for id in points if tree.kind(id).opens}
    says += [words.text("service.live.same_cut", one=one, other=other) for one in cuts for other in cuts
             if points.index(one) < points.index(other) and cuts[one] == cuts[other]]
    return tuple(says)
