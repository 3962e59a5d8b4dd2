"""Takes the desk; gives the answer at the top of a device or outlet page: what to press, where, and what if not."""

from __future__ import annotations

from dataclasses import dataclass

from ...job.kinds import Kind
from ..desk import Desk, room_and_spot
from ..desk.words import Rich, Tag, Words
from .cases import Case, breaker_cases, device_cases, other_thing_case, plugged_case
from .places import Spot, at_of, place, spot, tag, takes_a_charger, used_for


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


def device_answer(desk: Desk, device: str, about: str) -> Answer:
    """The answer for someone who stands in front of the device."""
    kind = desk.tree.kind(device)
    return Answer(about, _headline(desk, device, sure=True), None, spot(desk, device), "", None, "",
                  (*_steps(desk, device, device), _check_any(desk, device)),
                  _device_hints(desk, device),
                  device_cases(desk, device, device, parts=True), _rule(desk.words, kind))


def outlet_answer(desk: Desk, outlet: str) -> Answer:
    """The answer for a dead outlet: the nearest device first, else the breaker."""
    tree, about = desk.tree, place(desk, outlet)
    cuts = desk.claims.cuts(outlet)
    press = cuts[0].device if cuts else tree.breaker_of(outlet)
    where = spot(desk, press)
    steps = (*_first(desk, outlet), *_steps(desk, press, outlet), _check(desk, outlet, where.room))
    wet = desk.words.text("stop_line.rain") if desk.point(outlet).place == "outdoor" else ""
    hints, thing = _hints(desk, outlet, (outlet,)), plugged_case(desk, outlet)
    if not cuts:
        name = "answer.no_reset" if desk.claims.no_reset_problem(outlet) else "answer.no_button"
        return Answer(about, _breaker_headline(desk, press, outlet), desk.words.rich(name), where,
                      _go(desk, outlet, where), None, wet,
                      steps, hints, (*thing, *breaker_cases(desk, press, parts=False)), desk.words.text("cases.rule_once"))
    nearest = cuts[0]
    doubt = None if nearest.shown else _doubt(desk, outlet, press)
    return Answer(about, _headline(desk, press, nearest.shown is not None), None, where,
                  _go(desk, outlet, where), doubt, wet, steps, hints,
                  (*other_thing_case(desk, outlet, press), *device_cases(desk, press, outlet, parts=False), *thing),
                  _rule(desk.words, tree.kind(press)))


def _doubt(desk: Desk, outlet: str, press: str) -> Rich:
    """Why it is not sure that this outlet goes off with what is to be pressed."""
    if since := desk.claims.not_shown_since(outlet):
        return desk.words.rich("answer.not_since", id=Tag(press), day=desk.words.day(since))
    stayed = desk.evidence.live_while_open(outlet, press)
    return desk.words.rich("answer.stayed_on" if stayed else "answer.untested", id=Tag(press))


def _go(desk: Desk, outlet: str, where: Spot) -> str:
    """Whether to look for a button here at all: only where the map has none in the whole room it is said that there is none."""
    room, job = desk.point(outlet).room, desk.job
    if where.room == room:
        return ""
    buttons = {job.point[id].room for id in desk.tree.devices if id in job.point}
    return desk.words.text("answer.go" if room in buttons else "answer.go_no_button")


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
    if not kind.is_breaker:
        return (desk.words.rich("answer.steps.press"),)
    name = ("push" if kind.opens else "push_plain") + ("" if desk.claims.breaker_tried(asker) else "_marked")
    return desk.words.rich("answer.steps.panel"), desk.words.rich(f"answer.steps.{name}", space=desk.job.breaker[id].space)


def _check(desk: Desk, outlet: str, room: str) -> Rich:
    """How one sees that power is back; `room` is where the reader stands by then."""
    point = desk.point(outlet)
    if takes_a_charger(desk, outlet):
        name = "check_here" if room == point.room else "check_there"
        return desk.words.rich(f"answer.steps.{name}", room=point.room, id=tag(desk, outlet))
    if point.kind.by_name:
        return desk.words.rich("answer.steps.check_light")
    name = "check_look_here" if room == point.room else "check_look"
    return desk.words.rich(f"answer.steps.{name}", thing=point.use or at_of(desk, outlet))


def _check_any(desk: Desk, device: str) -> Rich:
    seen = desk.claims.turns_off(device)
    charger = not seen or any(takes_a_charger(desk, id) for id in seen)
    return desk.words.rich("answer.steps.check_any" if charger else "answer.steps.check_any_look")


def _first(desk: Desk, outlet: str) -> tuple[Rich, ...]:
    """What to look at before any press: its wall switch, its bulb. What always hangs on it may start to run."""
    point = desk.point(outlet)
    if not point.switched_by:
        return (desk.words.rich("answer.steps.light_first"),) if point.kind.by_name else ()
    switches = [desk.point(id) for id in point.switched_by]
    places = desk.words.join([one.at if one.room == point.room else f"{one.room}, {one.at}" for one in switches])
    kind = "light" if point.kind.by_name else "plug" if takes_a_charger(desk, outlet) else "fixed"
    kind = "either" if desk.tree.either_way(outlet) else kind
    return (desk.words.rich(f"answer.steps.switch_{kind}", places=places),)


def _hints(desk: Desk, id: str, seen: tuple[str, ...]) -> tuple[str, ...]:
    """Other sources of power; how food keeps where a freezer or refrigerator is among `seen`."""
    sources = desk.tree.other_sources(id)
    names = desk.words.join([desk.words.get(f"answer.sources.{source}") for source in sources])
    says = (desk.words.text("answer.other_sources", sources=names),) if sources else ()
    says += (desk.words.text("answer.flashlight"),) if _dark_at_panel(desk, id) else ()
    if any(used_for(desk, one, "cold") for one in seen):
        says += (desk.words.text("answer.door_shut"),)
    return says


def _device_hints(desk: Desk, device: str) -> tuple[str, ...]:
    """What stays dark behind a wall switch though the power is back; those of every page."""
    seen = desk.claims.turns_off(device)
    switched = [desk.point(id) for id in seen if desk.point(id).switched_by and not desk.point(id).kind.by_name]
    things = list(dict.fromkeys(point.use or point.at for point in switched))
    says = (desk.words.text("answer.switches_on", things="; ".join(things)),) if things else ()
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
