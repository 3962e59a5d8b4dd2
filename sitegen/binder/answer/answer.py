"""Takes the desk; gives the answer at the top of a device or outlet page: what to press, where, and what if not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...job.kinds import Kind
from ...protection.rounds.uses import MEDICAL, MOTOR, STARTS, used_as
from ..desk import Desk, room_and_spot
from ..desk.words import Rich, Tag, Words
from .cases import Case, breaker_cases, device_cases, other_thing_case, plugged_case
from .first import TryFirst, try_first
from .places import Spot, at_of, place, rain_gets_in, spot, spots_of, tag, takes_a_charger, used_for


@dataclass(frozen=True, slots=True)
class Answer:
    about: str                   # what this page is for: the outlet's place, or what the device turns off
    headline: Rich
    why: Rich | None             # said where no button is to be pressed
    spot: Spot                   # where to go
    go: str                      # said before the room where that is not the outlet's, else ""
    doubt: Rich | None           # said where nobody saw the outlet go off with the device
    wet: str                     # said with the stop line where rain can get in, else ""
    steps: tuple[Rich, ...]
    hints: tuple[str, ...]       # other sources of power; how food keeps
    cases: tuple[Case, ...]
    rule: str                    # how often one may press
    first: TryFirst | None = None   # what to look at before any walk
    alert: tuple[str, ...] = ()     # before all else: medical equipment is without power
    test_failed: str = ""           # of a TEST that turned nothing off; its leaf says so beside the test of the month


def device_answer(desk: Desk, device: str, about: str) -> Answer:
    """The answer for someone who stands in front of the device."""
    kind = desk.tree.kind(device)
    return Answer(about, _headline(desk, device, sure=True), None, spot(desk, device), "", None,
                  _wet(desk, device),
                  (*_steps(desk, device, device), _check_any(desk, device)),
                  _device_hints(desk, device),
                  device_cases(desk, device, device, parts=True), _rule(desk.words, kind),
                  alert=_alert(desk, desk.tree.outlets_of(desk.tree.goes_dead(device))),
                  test_failed=desk.words.text("answer.test_failed", id=device) if kind.stops_shock else "")


def outlet_answer(desk: Desk, outlet: str) -> Answer:
    """The answer for a dead outlet: the nearest device first, else the breaker."""
    tree, about = desk.tree, place(desk, outlet)
    cuts = desk.claims.cuts(outlet)
    press = cuts[0].device if cuts else tree.breaker_of(outlet)
    where = spot(desk, press)
    first = try_first(desk, outlet, press)
    steps = (*(() if first else _switch(desk, outlet)), *_steps(desk, press, outlet), _check(desk, outlet, where.room))
    wet, alert = _wet(desk, outlet if press in desk.job.breaker else press), _alert(desk, (outlet,))
    hints, thing = _hints(desk, outlet, (outlet,)), plugged_case(desk, outlet)
    if not cuts:
        name = "answer.no_reset" if desk.claims.no_reset_problem(outlet) else "answer.no_button"
        return Answer(about, _breaker_headline(desk, press, outlet), desk.words.rich(name), where,
                      _go(desk, outlet, where), None, wet,
                      steps, hints, (*thing, *breaker_cases(desk, press, parts=False)), desk.words.text("cases.rule_once"), first, alert)
    nearest = cuts[0]
    doubt = None if nearest.shown else _doubt(desk, outlet, press)
    return Answer(about, _headline(desk, press, nearest.shown is not None), None, where,
                  _go(desk, outlet, where), doubt, wet, steps, hints,
                  (*(() if first else other_thing_case(desk, outlet, press)), *device_cases(desk, press, outlet, parts=False), *thing),
                  _rule(desk.words, tree.kind(press)), first, alert)


def _wet(desk: Desk, id: str) -> str:
    return desk.words.text("stop_line.rain") if rain_gets_in(desk, id) else ""


def _alert(desk: Desk, outlets: Iterable[str]) -> tuple[str, ...]:
    """Said before all else where medical equipment may be without power."""
    medical = any(used_as(desk.point(id), MEDICAL) for id in outlets)
    return (desk.words.text("answer.medical", number=desk.emergency),) if medical else ()


def _doubt(desk: Desk, outlet: str, press: str) -> Rich:
    """Why it is not sure that this outlet goes off with what is to be pressed."""
    if since := desk.claims.not_shown_since(outlet):
        return desk.words.rich("answer.not_since", id=Tag(press), day=desk.words.day(since))
    stayed = desk.evidence.live_while_open(outlet, press)
    return desk.words.rich("answer.stayed_on" if stayed else "answer.untested", id=Tag(press))


def _go(desk: Desk, outlet: str, where: Spot) -> str:
    """Whether to look for a button here at all: none where the map has none in the whole room, none of these where the outlet was seen
    live while each of them was open."""
    room, job = desk.point(outlet).room, desk.job
    if where.room == room:
        return ""
    buttons = [id for id in desk.tree.devices if id in job.point and job.point[id].room == room]
    if not buttons:
        return desk.words.text("answer.go_no_button")
    return desk.words.text("answer.go_other" if all(desk.claims.not_on(id, (outlet,)) for id in buttons) else "answer.go")


def _headline(desk: Desk, device: str, sure: bool) -> Rich:
    doubt = "" if sure else "try_"
    if device in desk.job.breaker:
        return desk.words.rich(f"answer.{doubt}push", space=Tag(desk.job.breaker[device].space))
    return desk.words.rich(f"answer.{doubt}press", id=Tag(device))


def _breaker_headline(desk: Desk, breaker: str, outlet: str) -> Rich:
    name = "answer.push" if desk.claims.breaker_tried(outlet) else "answer.push_marked"
    return desk.words.rich(name, space=Tag(desk.job.breaker[breaker].space))


def _steps(desk: Desk, id: str, asker: str) -> tuple[Rich, ...]:
    tree = desk.tree
    kind = tree.kind(id)
    safe = _safe(desk, id)
    if not kind.is_breaker:
        return *safe, desk.words.rich("answer.steps.press")
    name = ("push" if kind.stops_shock else "push_plain") + ("" if desk.claims.breaker_tried(asker) else "_marked")
    return *safe, desk.words.rich("answer.steps.panel"), desk.words.rich(f"answer.steps.{name}", space=desk.job.breaker[id].space)


def _safe(desk: Desk, id: str) -> tuple[Rich, ...]:
    """Before power comes back: off with what may start by itself; before a breaker goes on, with what may have overloaded it."""
    behind = desk.tree.outlets_of(desk.tree.goes_dead(id))
    starts = any(used_as(desk.point(one), STARTS) for one in behind)
    if starts and len(behind) == 1:
        name = "safe_one"
    elif desk.tree.kind(id).is_breaker and len(behind) > 1 and any(desk.point(one).kind.has_face for one in behind):
        name = "safe_breaker"
    else:
        name = "safe"
        if not starts:
            return ()
    return (desk.words.rich(f"answer.steps.{name}"),)


def _check(desk: Desk, outlet: str, room: str) -> Rich:
    """How one sees that power is back; `room` is where the reader stands by then."""
    point = desk.point(outlet)
    if takes_a_charger(desk, outlet):
        name = "check_here" if room == point.room else "check_there"
        return desk.words.rich(f"answer.steps.{name}", room=point.room, id=tag(desk, outlet))
    if point.kind.by_name:
        return desk.words.rich("answer.steps.check_light")
    if (point.switched_by or point.works_by) and used_as(point, STARTS):
        return desk.words.rich("answer.steps.check_own")
    name = "check_look_here" if room == point.room else "check_look"
    return desk.words.rich(f"answer.steps.{name}", thing=point.use or at_of(desk, outlet))


def _check_any(desk: Desk, device: str) -> Rich:
    seen = desk.claims.turns_off(device)
    charger = not seen or any(takes_a_charger(desk, id) for id in seen)
    return desk.words.rich("answer.steps.check_any" if charger else "answer.steps.check_any_look")


def _switch(desk: Desk, outlet: str) -> tuple[Rich, ...]:
    """Its wall switch, before any press: on for a lamp or a charger, OFF for what may turn or heat."""
    point = desk.point(outlet)
    if not point.switched_by:
        return ()
    places = spots_of(desk, point.switched_by, point.room)
    starts = used_as(point, STARTS) or not takes_a_charger(desk, outlet)
    name = "off" if starts else "either" if desk.tree.either_way(outlet) else "on"
    return (desk.words.rich(f"answer.steps.switch_{name}", places=places),)


def _hints(desk: Desk, id: str, seen: tuple[str, ...]) -> tuple[str, ...]:
    """Other sources of power; how food keeps where a freezer or refrigerator is among `seen`."""
    sources = desk.tree.other_sources(id)
    names = desk.words.join([desk.words.get(f"answer.sources.{source}") for source in sources])
    says: tuple[str, ...] = (desk.words.text("answer.other_sources", sources=names),) if sources else ()
    says += (desk.words.text("answer.flashlight"),) if _dark_at_panel(desk, id) else ()
    says += (desk.words.text("answer.generator"),) if "generator" in sources else ()
    if any(used_for(desk, one, "cold") for one in seen):
        says += (desk.words.text("answer.door_shut"),)
    says += (desk.words.text("answer.aluminum"),) if _aluminum(desk, id) else ()
    return (*says, desk.words.text("answer.changed"))


def _aluminum(desk: Desk, id: str) -> bool:
    breaker = desk.tree.breaker_of(id)
    return any(circuit.wire and circuit.wire.metal == "aluminum" for circuit in desk.job.circuits if circuit.breaker == breaker)


def _device_hints(desk: Desk, device: str) -> tuple[str, ...]:
    """What stays dark behind a wall switch though the power is back, what hums; those of every page."""
    seen = desk.claims.turns_off(device)
    switched = [desk.point(id) for id in seen if desk.point(id).switched_by and not desk.point(id).kind.by_name]
    things = list(dict.fromkeys(point.use or point.at for point in switched))
    says: tuple[str, ...] = (desk.words.text("answer.switches_on", things="; ".join(things)),) if things else ()
    motors = list(dict.fromkeys(use for id in seen if (use := desk.point(id).use) and used_as(desk.point(id), MOTOR)))
    says += (desk.words.text("answer.hums", things="; ".join(motors)),) if motors else ()
    return (*says, *_hints(desk, device, seen))


def _dark_at_panel(desk: Desk, id: str) -> bool:
    """True where the way leads to a breaker that a light in the room of its panel was seen to hang on."""
    tree = desk.tree
    breaker = tree.breaker_of(id)
    if id in desk.job.point and any(cut.device != breaker for cut in desk.claims.cuts(id)[:1]):
        return False
    room, _ = room_and_spot(desk.panel_of(id))
    lit = (desk.point(one) for one in desk.claims.turns_off(breaker))
    return any(point.kind.by_name and point.room == room for point in lit)


def _rule(words: Words, kind: Kind) -> str:
    if kind.is_breaker:
        return words.text("cases.rule_breaker" if kind.stops_shock else "cases.rule_once")
    return words.text("cases.rule")
