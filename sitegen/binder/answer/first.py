"""Takes the desk and an outlet; gives the cheap looks that come before any walk to a button or a breaker: by kind, three at most."""

from __future__ import annotations

from dataclasses import dataclass

from ...protection.rounds.uses import ALARM, HEATING, MOTOR, STARTS, used_as
from ..desk import Desk
from ..desk.words import Rich, Tag
from .places import at_of, may_be_tried, spots_of, takes_a_charger, used_for

NAMED = 2   # things that show whether the breaker is on
SENSORS = ("dusk sensor", "motion sensor")   # a light on one of these and no switch stays live: nobody changes its bulb by these pages


@dataclass(frozen=True, slots=True)
class TryFirst:
    heading: str
    lines: tuple[Rich, ...]
    also: str                # asked before the headline: only if this is dead too is there anything to press


def try_first(desk: Desk, outlet: str, press: str) -> TryFirst | None:
    """None where a button stands before something with a plug: there the press itself is the cheap look."""
    sort = sort_of(desk, outlet, press)
    if sort is None:
        return None
    things = _witnesses(desk, outlet, press)
    also = desk.words.text("first.also", things="; ".join(things)) if things else desk.words.text("first.silent" if sort == "motor" else "first.still")
    return TryFirst(desk.words.text(f"first.heading.{sort}"), tuple(_lines(desk, outlet, sort, press, things)), also)


def sort_of(desk: Desk, outlet: str, press: str) -> str | None:
    """light | alarm | heat | motor | fixed | plug: what is to be looked at first; None: nothing before the button."""
    point = desk.point(outlet)
    if not point.kind.has_face and used_as(point, ALARM):   # a clock has an alarm too
        return "alarm"
    if point.kind.by_name:
        return "light"
    for name, words in (("heat", HEATING), ("motor", MOTOR)):
        if used_as(point, words):
            return name
    if not point.kind.has_face:
        return "fixed"
    return "plug" if press in desk.job.breaker else None


def _lines(desk: Desk, outlet: str, sort: str, press: str, things: tuple[str, ...]) -> list[Rich]:
    words, point = desk.words, desk.point(outlet)
    if sort in ("alarm", "heat"):
        return list(words.many(f"first.{sort}", number=desk.emergency, heating=desk.company("heating company")))
    lines = [words.rich("first.hums")] if sort == "motor" else []
    lines += _works_by(desk, outlet, sort)
    if sort == "plug" or sort == "light" and (point.switched_by or point.works_by not in SENSORS):
        lines.append(words.rich("first.bulb" if sort == "light" else "first.charger" if takes_a_charger(desk, outlet)
                                else "first.plug"))
    if len(lines) < 2 and used_for(desk, outlet, "cold"):
        lines.append(words.rich("first.cold"))
    if things:
        name = "first.works" if press in desk.job.breaker else "first.works_button"
        lines.append(words.rich(name, things="; ".join(things), id=Tag(press)))
    return lines


def _works_by(desk: Desk, outlet: str, sort: str) -> list[Rich]:
    """What it waits for: its wall switch, a sensor, a switch of its own."""
    point, words = desk.point(outlet), desk.words
    if point.switched_by:
        name = "first.switch_off" if used_as(point, STARTS) else "first.switch_either" \
            if desk.tree.either_way(outlet) else "first.switch"
        return [words.rich(name, places=spots_of(desk, point.switched_by, point.room))]
    if point.works_by:
        return [words.rich(f"first.works_by.{point.works_by}")]
    return [words.rich("first.own")] if sort in ("light", "fixed") else []


def _witnesses(desk: Desk, outlet: str, press: str) -> tuple[str, ...]:
    """What else was seen to go off with it, the easiest to see first: a light with a switch, in this room before others."""
    tree, room = desk.tree, desk.point(outlet).room
    if tree.kind(press).opens:
        seen = desk.claims.turns_off(press)
    else:
        seen = tuple(id for id in tree.outlets_of(tree.goes_dead(press)) if desk.evidence.handle_tried(id, press))

    def order(id: str) -> tuple[bool, bool, bool]:
        point = desk.point(id)
        hard = bool(point.works_by or point.behind or used_as(point, STARTS))
        return hard, not point.kind.by_name, point.room != room

    named = (desk.point(id).use or at_of(desk, id) for id in sorted((id for id in seen if id != outlet and may_be_tried(desk, id)), key=order))
    return tuple(dict.fromkeys(named))[:NAMED]
