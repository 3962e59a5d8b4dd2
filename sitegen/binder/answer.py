"""Takes the desk; gives the answer at the top of a device or outlet page: what to press, where, and what if not."""

from __future__ import annotations

from dataclasses import dataclass

from ..job.kinds import Kind
from .desk import Desk, room_and_spot
from .words import Name, Rich, Run, Tag, Words

NAMED = 3   # things that are named where more hang on the same device


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a device is and what it looks like."""

    id: str
    room: str
    at: str
    looks: str
    picture: str             # outlet | plate | breaker
    more: tuple[str, ...]    # height, what stands in front
    has_page: bool           # a standard breaker has none


@dataclass(frozen=True, slots=True)
class Case:
    """What the reader sees, and what to do then."""

    title: Rich
    says: tuple[Rich | Spot, ...]


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


def manner(kind: Kind) -> str:
    """How the reader meets a device: outlet | plate | breaker."""
    return "breaker" if kind.is_breaker else "outlet" if kind.has_face else "plate"


def spot(desk: Desk, id: str) -> Spot:
    """Where a breaker or device is."""
    job = desk.job
    if id in job.breaker:
        breaker = job.breaker[id]
        looks = desk.words.text("answer.looks.breaker" if breaker.kind.opens else "answer.looks.plain_breaker")
        room, at = room_and_spot(desk.panel_of(id))
        name = "answer.breaker_spot_at" if at else "answer.breaker_spot"
        return Spot(id, room, desk.words.text(name, at=at, space=breaker.space), looks, "breaker", (),
                    breaker.kind.opens)
    point = job.point[id]
    how = manner(point.kind)
    more = tuple(text for text in (point.height, point.behind) if text)
    return Spot(id, point.room, at_of(desk, id), point.looks or desk.words.text(f"answer.looks.{how}"), how, more, True)


def at_of(desk: Desk, id: str) -> str:
    """The exact spot, with the half of a split outlet."""
    point = desk.point(id)
    if not point.half:
        return point.at
    return desk.words.text("answer.half_at", at=point.at, half=desk.words.get(f"answer.half.{point.half}"))


def place(desk: Desk, id: str) -> str:
    """A point's place as a value: "Kitchen · left of the sink · toaster"."""
    point = desk.point(id)
    return desk.words.get("part_mark").join(part for part in (point.room, at_of(desk, id), point.use) if part)


def tag(desk: Desk, id: str) -> Tag:
    """An id as it looks on a page: filled where there is something to press, outlined as the name of an outlet."""
    return Tag(id) if desk.tree.kind(id).opens else Name(id)


def whom(desk: Desk) -> Rich:
    """Whom to call, the number apart: a page on a phone makes it a link."""
    return Rich((Run(f"{desk.firm}, "), Run(desk.phone, "phone"))) if desk.phone else Rich((Run(desk.firm),))


def device_answer(desk: Desk, device: str, about: str) -> Answer:
    """The answer for someone who stands in front of the device."""
    kind = desk.tree.kind(device)
    return Answer(about, _headline(desk, device, sure=True), None, spot(desk, device), "", None, "",
                  (*_steps(desk, device, device), _check_any(desk, device)),
                  _device_hints(desk, device),
                  _cases(desk, device, device, parts=True), _rule(desk.words, kind))


def outlet_answer(desk: Desk, outlet: str) -> Answer:
    """The answer for a dead outlet: the nearest device first, else the breaker."""
    tree, about = desk.tree, place(desk, outlet)
    cuts = desk.claims.cuts(outlet)
    press = cuts[0].device if cuts else tree.breaker_of(outlet)
    where = spot(desk, press)
    steps = (*_first(desk, outlet), *_steps(desk, press, outlet), _check(desk, outlet, where.room))
    wet = desk.words.text("stop_line.rain") if desk.point(outlet).place == "outdoor" else ""
    hints, thing = _hints(desk, outlet, (outlet,)), _thing_case(desk, outlet)
    if not cuts:
        name = "answer.no_reset" if desk.claims.no_reset_problem(outlet) else "answer.no_button"
        return Answer(about, _breaker_headline(desk, press, outlet), desk.words.rich(name), where,
                      _go(desk, outlet, where), None, wet,
                      steps, hints, (*thing, *_breaker_cases(desk, press, parts=False)), desk.words.text("cases.rule_once"))
    nearest = cuts[0]
    stayed = desk.evidence.live_while_open(outlet, press)
    doubt = None if nearest.shown else desk.words.rich("answer.stayed_on" if stayed else "answer.untested", id=Tag(press))
    return Answer(about, _headline(desk, press, nearest.shown is not None), None, where,
                  _go(desk, outlet, where), doubt, wet, steps, hints,
                  (*_else_case(desk, outlet, press), *_cases(desk, press, outlet, parts=False), *thing),
                  _rule(desk.words, tree.kind(press)))


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


def takes_a_charger(desk: Desk, outlet: str) -> bool:
    """False at 240 V, at a light or hard-wired thing, behind something, and where a freezer is plugged in: there one looks."""
    point = desk.point(outlet)
    return point.kind.has_face and point.voltage <= 125 and not point.behind and not is_vital(desk, outlet)


def is_vital(desk: Desk, id: str) -> bool:
    """True for a freezer, a pump and the like: power must not stay off there."""
    return _used_for(desk, id, "vital")


def _used_for(desk: Desk, id: str, names: str) -> bool:
    use = (desk.point(id).use or "").casefold()
    return any(word in use for word in desk.words.get(names))


def _first(desk: Desk, outlet: str) -> tuple[Rich, ...]:
    """What to look at before any press: its wall switch, its bulb. What always hangs on it may start to run."""
    point = desk.point(outlet)
    if not point.switched_by:
        return (desk.words.rich("answer.steps.light_first"),) if point.kind.by_name else ()
    switches = [desk.point(id) for id in point.switched_by]
    places = desk.words.join([one.at if one.room == point.room else f"{one.room}, {one.at}" for one in switches])
    kind = "light" if point.kind.by_name else "plug" if takes_a_charger(desk, outlet) else "fixed"
    return (desk.words.rich(f"answer.steps.switch_{kind}", places=places),)


def _hints(desk: Desk, id: str, seen: tuple[str, ...]) -> tuple[str, ...]:
    """Other sources of power; how food keeps where a freezer or refrigerator is among `seen`."""
    sources = desk.tree.other_sources(id)
    names = desk.words.join([desk.words.get(f"answer.sources.{source}") for source in sources])
    says = (desk.words.text("answer.other_sources", sources=names),) if sources else ()
    says += (desk.words.text("answer.flashlight"),) if _dark_at_panel(desk, id) else ()
    if any(_used_for(desk, one, "cold") for one in seen):
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


def _cases(desk: Desk, device: str, asker: str, parts: bool) -> tuple[Case, ...]:
    if desk.tree.kind(device).is_breaker:
        return _breaker_cases(desk, device, parts)
    pops = _unplug(desk, device, "")
    dead = desk.words.rich("cases.dead" if device == asker else "cases.dead_here", id=Tag(device))
    return (*(_parts(desk, device) if parts else ()),
            Case(dead, _upstream(desk, device, asker)),
            Case(desk.words.rich("cases.pops"), pops), *_feeder_case(desk, device))


def _unplug(desk: Desk, device: str, manner: str) -> tuple[Rich, ...]:
    """Everything unplugged and one more try; where one outlet alone hangs on the device there is no list to go through."""
    if len((*desk.claims.turns_off(device), *desk.claims.may_turn_off(device))) == 1:
        names = (f"unplug{manner}_one", f"stays{manner}_one", f"out{manner}")
    else:
        names = (f"one_thing{manner}", f"unplug{manner}", f"stays{manner}", f"out{manner}")
    below = Rich((Run(desk.words.text("turns_off.heading", id=device), "below"),))  # a link to the list on the same page
    return tuple(desk.words.rich(f"cases.{name}", list=below) for name in names)


def _else_case(desk: Desk, outlet: str, device: str) -> tuple[Case, ...]:
    """Whatever else was seen to go off with the device: where that still works, the device and all before it are on."""
    others = [id for id in desk.claims.turns_off(device) if id != outlet]
    if not others:
        return ()
    named = list(dict.fromkeys(desk.point(id).use or at_of(desk, id) for id in others))
    things = "; ".join((*named[:NAMED], *("…" for _ in named[NAMED:NAMED + 1])))
    says = "cases.else_works_says" if takes_a_charger(desk, outlet) else "cases.else_works_look"
    return (Case(desk.words.rich("cases.else_works", id=Tag(device), things=things), (desk.words.rich(says, id=Tag(device)),)),)


def _parts(desk: Desk, device: str) -> tuple[Case, ...]:
    inner = desk.claims.inner(device)
    if not inner:
        return ()
    job = desk.job
    if device in job.breaker:
        says = desk.words.rich("cases.part_says_breaker", space=job.breaker[device].space)
    else:
        says = desk.words.rich("cases.part_says", id=Tag(device))
    return (Case(desk.words.rich("cases.part"), (*(spot(desk, id) for id in inner), says)),)


def _upstream(desk: Desk, device: str, asker: str) -> tuple[Rich | Spot, ...]:
    """One device after the other towards the panel, the breaker once, and back: no button more than twice."""
    job, tree = desk.job, desk.tree
    says: list[Rich | Spot] = []
    chain = [device]
    while (outer := desk.claims.outer(chain[-1])) and outer not in job.breaker:
        if len(chain) > 1:
            says.append(desk.words.rich("cases.outer_stuck_next", id=Tag(chain[-1])))
        says += [desk.words.rich("cases.outer_go", id=Tag(outer)), spot(desk, outer)]
        chain.append(outer)
    if len(chain) > 1:
        says += [desk.words.rich("cases.outer_back", outer=Tag(chain[1]), id=Tag(device)),
                 desk.words.rich("cases.outer_stuck", id=Tag(chain[-1]))]
    breaker = tree.breaker_of(device)
    tried = desk.claims.breaker_tried(asker)
    back = Rich(run for id in reversed(chain) for run in (Run(" "), Run(id, "tag")))
    says += [desk.words.rich("cases.panel_go"), spot(desk, breaker), desk.words.rich("cases.panel_door"),
             desk.words.rich("cases.panel_push" if tried else "cases.panel_push_marked", space=job.breaker[breaker].space),
             desk.words.rich("cases.panel_back", id=Tag(device)) if len(chain) == 1
             else desk.words.rich("cases.panel_back_all", ids=back),
             desk.words.rich("cases.end", whom=whom(desk))]
    return tuple(says)


def _breaker_cases(desk: Desk, breaker: str, parts: bool) -> tuple[Case, ...]:
    kind = desk.tree.kind(breaker)
    if kind.stops_shock:
        again = _unplug(desk, breaker, "_breaker")
    else:
        again = (desk.words.rich("cases.arc_again" if kind.stops_arcs else "cases.plain_again"),)
    return (*(_parts(desk, breaker) if parts else ()),
            Case(desk.words.rich("cases.off_again"), again),
            Case(desk.words.rich("cases.stays_no_power"), (desk.words.rich("cases.stays_no_power_says", whom=whom(desk)),)),
            *_feeder_case(desk, breaker))


def _thing_case(desk: Desk, outlet: str) -> tuple[Case, ...]:
    if not takes_a_charger(desk, outlet):
        return ()
    return (Case(desk.words.rich("cases.thing"), (desk.words.rich("cases.thing_says"),)),)


def _feeder_case(desk: Desk, id: str) -> tuple[Case, ...]:
    """Where a breaker in another panel feeds this one: what to push when all of it is dead."""
    tree, job = desk.tree, desk.job
    feeders = tree.feeders(tree.breaker_of(id))[:-1]
    if not feeders or id in tree.unknown:
        return ()
    feeder = feeders[-1]
    return (Case(desk.words.rich("cases.panel_dead"),
                 (desk.words.rich("cases.panel_go"), spot(desk, feeder), desk.words.rich("cases.panel_door"),
                  desk.words.rich("cases.panel_push" if desk.claims.breaker_tried(feeder) else "cases.panel_push_marked",
                             space=job.breaker[feeder].space))),)
