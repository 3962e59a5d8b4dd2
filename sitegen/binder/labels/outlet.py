"""Takes the desk; gives the label of an outlet: where to go when it has no power."""

from __future__ import annotations

from ...protection.rounds.uses import STARTS, used_as
from ..answer.first import sort_of
from ..answer.places import at_of, rain_gets_in, takes_a_charger
from ..desk import Desk, room_and_spot
from ..desk.words import Rich, Tag, in_two
from .codes import outlet_code
from .records import OutletLabel


def outlet_label(desk: Desk, outlet: str, second: Desk | None) -> OutletLabel:
    first, act, _ = first_act(desk, outlet)
    ask, how, where, at, doubt = outlet_words(desk, outlet)
    code, shorter = outlet_code(desk, outlet, first, act.plain, how)
    big = act.plain
    if code or second:     # less room: the destination alone is big, what to do with it stands before it
        ask, big = f"{ask} {_before(act)}", _tagged(act)
    if second:
        two = outlet_words(second, outlet)
        ask = in_two(ask, f"{two[0]} {_before(first_act(second, outlet)[1])}")
        how, where, at, doubt = map(in_two, (how, where, at, doubt), two[1:])
    return OutletLabel(outlet, ask, big, how, where, at, doubt, _own(desk, outlet), desk.draft_mark, *desk.label_mm, code, shorter,
                       bool(second), first, *("", "") if second else (_cheap(desk, outlet, first), _stop(desk, first)))


def _cheap(desk: Desk, outlet: str, press: str) -> str:
    """The look that comes before the walk, in a word or two."""
    sort = sort_of(desk, outlet, press)
    if sort == "plug" and takes_a_charger(desk, outlet):
        sort = "charger"
    if sort == "motor" and desk.point(outlet).switched_by and used_as(desk.point(outlet), STARTS):
        sort = "starts"
    return desk.words.text(f"label.first.{sort}", number=desk.emergency) if sort else ""


def _stop(desk: Desk, press: str) -> str:
    """When to go no further."""
    ending = "_breaker" if press in desk.job.breaker else "_rain" if rain_gets_in(desk, press) else ""
    return desk.words.text(f"label.leave{ending}", phone=desk.phone) if desk.phone else desk.words.text("label.wet")


def _first(desk: Desk, outlet: str) -> tuple[str, bool]:
    """The device nearest to a dead outlet, else its breaker; False where nobody saw the outlet go off with the device."""
    cuts = desk.claims.cuts(outlet)
    if not cuts:
        return desk.tree.breaker_of(outlet), True
    return cuts[0].device, cuts[0].shown is not None


def first_act(desk: Desk, outlet: str) -> tuple[str, Rich, bool]:
    """What to press first for a dead outlet: its id, the words, and whether it was shown."""
    job = desk.job
    first, shown = _first(desk, outlet)
    name = "try_" if not shown else ""
    if first not in job.breaker:
        return first, desk.words.rich(f"label.{name}reset", id=Tag(first)), shown
    name += "breaker" if desk.claims.breaker_tried(outlet) else "breaker_marked"
    return first, desk.words.rich(f"label.{name}", space=Tag(job.breaker[first].space)), shown


def where_to(desk: Desk, first: str) -> tuple[str, str]:
    """The room in capitals, as on the sheet of a stranger in a hurry, and the spot in it."""
    if first in desk.job.breaker:
        room, at = room_and_spot(desk.panel_of(first))
        return desk.words.text("label.panel", room=room.upper()), at
    return desk.words.text("label.in_room", room=desk.point(first).room.upper()), at_of(desk, first)


def outlet_words(desk: Desk, outlet: str) -> tuple[str, str, str, str, str]:
    """The question, how to push a breaker, room, spot, doubt: in one language."""
    first, shown = _first(desk, outlet)
    where, at = where_to(desk, first)
    how = ""
    if first in desk.job.breaker:
        how = desk.words.text("label.then_on" if desk.tree.kind(first).stops_shock else "label.then_on_once")
    ask = desk.words.text("label.ask_reset" if shown and not how else "label.ask")
    return ask, how, where, at, "" if shown else desk.words.text("label.doubt")


def _before(act: Rich) -> str:
    """An act without its id: "Try RESET on"."""
    return "".join(run.text for run in act if run.look != "tag").strip()


def _tagged(act: Rich) -> str:
    return "".join(run.text for run in act if run.look == "tag")


def _own(desk: Desk, outlet: str) -> str:
    point = desk.point(outlet)
    if point.half:
        return desk.words.text("label.own_half", id=outlet, half=desk.words.get(f"answer.half.{point.half}"))
    return desk.words.text("label.own" if point.kind.has_face else "label.own_thing", id=outlet)
