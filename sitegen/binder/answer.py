"""Takes the claims; gives the answer at the top of a device or outlet page: what to press, where, and what if not."""

from __future__ import annotations

from dataclasses import dataclass

from ..job.kinds import Kind
from .claims import Claims
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
    spot: Spot | None            # where to go
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


def spot(claims: Claims, words: Words, id: str) -> Spot:
    """Where a breaker or device is."""
    job = claims.report.job
    if id in job.breaker:
        breaker = job.breaker[id]
        looks = words.text("answer.looks.breaker" if breaker.kind.opens else "answer.looks.plain_breaker")
        room, _, at = claims.panel_of(id).at.partition(", ")
        name = "answer.breaker_spot_at" if at else "answer.breaker_spot"
        return Spot(id, room, words.text(name, at=at, space=breaker.space), looks, "breaker", (),
                    breaker.kind.opens)
    point = job.point[id]
    how = manner(point.kind)
    more = tuple(text for text in (point.height, point.behind) if text)
    return Spot(id, point.room, at_of(claims, words, id), point.looks or words.text(f"answer.looks.{how}"), how, more, True)


def at_of(claims: Claims, words: Words, id: str) -> str:
    """The exact spot, with the half of a split outlet."""
    point = claims.point(id)
    return words.text("answer.half_at", at=point.at, half=words.get(f"answer.half.{point.half}")) if point.half else point.at


def place(claims: Claims, words: Words, id: str) -> str:
    """A point's place as a value: "Kitchen · left of the sink · toaster"."""
    point = claims.point(id)
    return words.get("part_mark").join(part for part in (point.room, at_of(claims, words, id), point.use) if part)


def tag(claims: Claims, id: str) -> Tag:
    """An id as it looks on a page: filled where there is something to press, outlined as the name of an outlet."""
    return Tag(id) if claims.report.tree.kind(id).opens else Name(id)


def whom(claims: Claims, words: Words) -> Rich:
    """Whom to call, the number apart: a page on a phone makes it a link."""
    contractor = claims.report.job.file.contractor
    firm, phone = contractor.get("firm") or words.text("no_phone"), contractor.get("phone", "")
    return Rich((Run(f"{firm}, "), Run(phone, "phone"))) if phone else Rich((Run(firm),))


def device_answer(claims: Claims, words: Words, device: str, about: str) -> Answer:
    """The answer for someone who stands in front of the device."""
    kind = claims.report.tree.kind(device)
    return Answer(about, _headline(claims, words, device, sure=True), None, spot(claims, words, device), "", None, "",
                  (*_steps(claims, words, device, device), _check_any(claims, words, device)),
                  _device_hints(claims, words, device),
                  _cases(claims, words, device, device, parts=True), _rule(words, kind))


def outlet_answer(claims: Claims, words: Words, outlet: str) -> Answer:
    """The answer for a dead outlet: the nearest device first, else the breaker."""
    tree, about = claims.report.tree, place(claims, words, outlet)
    cuts = claims.cuts(outlet)
    press = cuts[0].device if cuts else tree.breaker_of(outlet)
    where = spot(claims, words, press)
    steps = (*_first(claims, words, outlet), *_steps(claims, words, press, outlet), _check(claims, words, outlet, where.room))
    wet = words.text("stop_line.rain") if claims.point(outlet).place == "outdoor" else ""
    hints, thing = _hints(claims, words, outlet, (outlet,)), _thing_case(claims, words, outlet)
    if not cuts:
        name = "answer.no_reset" if claims.no_reset_problem(outlet) else "answer.no_button"
        return Answer(about, _breaker_headline(claims, words, press, outlet), words.rich(name), where,
                      _go(claims, words, outlet, where), None, wet,
                      steps, hints, (*thing, *_breaker_cases(claims, words, press, parts=False)), words.text("cases.rule_once"))
    nearest = cuts[0]
    stayed = claims.report.evidence.live_while_open(outlet, press)
    doubt = None if nearest.shown else words.rich("answer.stayed_on" if stayed else "answer.untested", id=Tag(press))
    return Answer(about, _headline(claims, words, press, nearest.shown is not None), None, where,
                  _go(claims, words, outlet, where), doubt, wet, steps, hints,
                  (*_else_case(claims, words, outlet, press), *_cases(claims, words, press, outlet, parts=False), *thing),
                  _rule(words, tree.kind(press)))


def _go(claims: Claims, words: Words, outlet: str, where: Spot) -> str:
    """Whether to look for a button here at all: only where the map has none in the whole room it is said that there is none."""
    room, job = claims.point(outlet).room, claims.report.job
    if where.room == room:
        return ""
    buttons = {job.point[id].room for id in claims.report.tree.devices if id in job.point}
    return words.text("answer.go" if room in buttons else "answer.go_no_button")


def _headline(claims: Claims, words: Words, device: str, sure: bool) -> Rich:
    doubt = "" if sure else "try_"
    if device in claims.report.job.breaker:
        return words.rich(f"answer.{doubt}push", space=Tag(claims.report.job.breaker[device].space))
    return words.rich(f"answer.{doubt}press", id=Tag(device))


def _breaker_headline(claims: Claims, words: Words, breaker: str, outlet: str) -> Rich:
    name = "answer.push" if claims.breaker_tried(outlet) else "answer.push_marked"
    return words.rich(name, space=Tag(claims.report.job.breaker[breaker].space))


def _steps(claims: Claims, words: Words, id: str, asker: str) -> tuple[Rich, ...]:
    tree = claims.report.tree
    kind = tree.kind(id)
    if not kind.is_breaker:
        return (words.rich("answer.steps.press"),)
    name = ("push" if kind.opens else "push_plain") + ("" if claims.breaker_tried(asker) else "_marked")
    return words.rich("answer.steps.panel"), words.rich(f"answer.steps.{name}", space=claims.report.job.breaker[id].space)


def _check(claims: Claims, words: Words, outlet: str, room: str) -> Rich:
    """How one sees that power is back; `room` is where the reader stands by then."""
    point = claims.point(outlet)
    if takes_a_charger(claims, words, outlet):
        name = "check_here" if room == point.room else "check_there"
        return words.rich(f"answer.steps.{name}", room=point.room, id=tag(claims, outlet))
    if point.kind.by_name:
        return words.rich("answer.steps.check_light")
    name = "check_look_here" if room == point.room else "check_look"
    return words.rich(f"answer.steps.{name}", thing=point.use or at_of(claims, words, outlet))


def _check_any(claims: Claims, words: Words, device: str) -> Rich:
    seen = claims.turns_off(device)
    charger = not seen or any(takes_a_charger(claims, words, id) for id in seen)
    return words.rich("answer.steps.check_any" if charger else "answer.steps.check_any_look")


def takes_a_charger(claims: Claims, words: Words, outlet: str) -> bool:
    """False at 240 V, at a light or hard-wired thing, behind something, and where a freezer is plugged in: there one looks."""
    point = claims.point(outlet)
    return point.kind.has_face and point.voltage <= 125 and not point.behind and not is_vital(claims, words, outlet)


def is_vital(claims: Claims, words: Words, id: str) -> bool:
    """True for a freezer, a pump and the like: power must not stay off there."""
    return _used_for(claims, words, id, "vital")


def _used_for(claims: Claims, words: Words, id: str, names: str) -> bool:
    use = (claims.point(id).use or "").casefold()
    return any(word in use for word in words.get(names))


def _first(claims: Claims, words: Words, outlet: str) -> tuple[Rich, ...]:
    """What to look at before any press: its wall switch, its bulb. What always hangs on it may start to run."""
    point = claims.point(outlet)
    if not point.switched_by:
        return (words.rich("answer.steps.light_first"),) if point.kind.by_name else ()
    switches = [claims.point(id) for id in point.switched_by]
    places = words.join([one.at if one.room == point.room else f"{one.room}, {one.at}" for one in switches])
    kind = "light" if point.kind.by_name else "plug" if takes_a_charger(claims, words, outlet) else "fixed"
    return (words.rich(f"answer.steps.switch_{kind}", places=places),)


def _hints(claims: Claims, words: Words, id: str, seen: tuple[str, ...]) -> tuple[str, ...]:
    """Other sources of power; how food keeps where a freezer or refrigerator is among `seen`."""
    sources = claims.report.tree.other_sources(id)
    names = words.join([words.get(f"answer.sources.{source}") for source in sources])
    says = (words.text("answer.other_sources", sources=names),) if sources else ()
    says += (words.text("answer.flashlight"),) if _dark_at_panel(claims, id) else ()
    if any(_used_for(claims, words, one, "cold") for one in seen):
        says += (words.text("answer.door_shut"),)
    return says


def _device_hints(claims: Claims, words: Words, device: str) -> tuple[str, ...]:
    """What stays dark behind a wall switch though the power is back; those of every page."""
    seen = claims.turns_off(device)
    switched = [claims.point(id) for id in seen if claims.point(id).switched_by and not claims.point(id).kind.by_name]
    things = list(dict.fromkeys(point.use or point.at for point in switched))
    says = (words.text("answer.switches_on", things="; ".join(things)),) if things else ()
    return (*says, *_hints(claims, words, device, seen))


def _dark_at_panel(claims: Claims, id: str) -> bool:
    """True where the way leads to a breaker that a light in the room of its panel was seen to hang on."""
    tree = claims.report.tree
    breaker = tree.breaker_of(id)
    if id in claims.report.job.point and any(cut.device != breaker for cut in claims.cuts(id)[:1]):
        return False
    room = claims.panel_of(id).at.partition(", ")[0]
    lit = (claims.point(one) for one in claims.turns_off(breaker))
    return any(point.kind.by_name and point.room == room for point in lit)


def _rule(words: Words, kind: Kind) -> str:
    if kind.is_breaker:
        return words.text("cases.rule_breaker" if kind.stops_shock else "cases.rule_once")
    return words.text("cases.rule")


def _cases(claims: Claims, words: Words, device: str, asker: str, parts: bool) -> tuple[Case, ...]:
    if claims.report.tree.kind(device).is_breaker:
        return _breaker_cases(claims, words, device, parts)
    pops = _unplug(claims, words, device, "")
    dead = words.rich("cases.dead" if device == asker else "cases.dead_here", id=Tag(device))
    return (*(_parts(claims, words, device) if parts else ()),
            Case(dead, _upstream(claims, words, device, asker)),
            Case(words.rich("cases.pops"), pops), *_feeder_case(claims, words, device))


def _unplug(claims: Claims, words: Words, device: str, manner: str) -> tuple[Rich, ...]:
    """Everything unplugged and one more try; where one outlet alone hangs on the device there is no list to go through."""
    if len((*claims.turns_off(device), *claims.may_turn_off(device))) == 1:
        names = (f"unplug{manner}_one", f"stays{manner}_one", f"out{manner}")
    else:
        names = (f"one_thing{manner}", f"unplug{manner}", f"stays{manner}", f"out{manner}")
    below = Rich((Run(words.text("turns_off.heading", id=device), "below"),))  # a link to the list on the same page
    return tuple(words.rich(f"cases.{name}", list=below) for name in names)


def _else_case(claims: Claims, words: Words, outlet: str, device: str) -> tuple[Case, ...]:
    """Whatever else was seen to go off with the device: where that still works, the device and all before it are on."""
    others = [id for id in claims.turns_off(device) if id != outlet]
    if not others:
        return ()
    named = list(dict.fromkeys(claims.point(id).use or at_of(claims, words, id) for id in others))
    things = "; ".join((*named[:NAMED], *("…" for _ in named[NAMED:NAMED + 1])))
    says = "cases.else_works_says" if takes_a_charger(claims, words, outlet) else "cases.else_works_look"
    return (Case(words.rich("cases.else_works", id=Tag(device), things=things), (words.rich(says, id=Tag(device)),)),)


def _parts(claims: Claims, words: Words, device: str) -> tuple[Case, ...]:
    inner = claims.inner(device)
    if not inner:
        return ()
    job = claims.report.job
    if device in job.breaker:
        says = words.rich("cases.part_says_breaker", space=job.breaker[device].space)
    else:
        says = words.rich("cases.part_says", id=Tag(device))
    return (Case(words.rich("cases.part"), (*(spot(claims, words, id) for id in inner), says)),)


def _upstream(claims: Claims, words: Words, device: str, asker: str) -> tuple[Rich | Spot, ...]:
    """One device after the other towards the panel, the breaker once, and back: no button more than twice."""
    job, tree = claims.report.job, claims.report.tree
    says: list[Rich | Spot] = []
    chain = [device]
    while (outer := claims.outer(chain[-1])) and outer not in job.breaker:
        if len(chain) > 1:
            says.append(words.rich("cases.outer_stuck_next", id=Tag(chain[-1])))
        says += [words.rich("cases.outer_go", id=Tag(outer)), spot(claims, words, outer)]
        chain.append(outer)
    if len(chain) > 1:
        says += [words.rich("cases.outer_back", outer=Tag(chain[1]), id=Tag(device)),
                 words.rich("cases.outer_stuck", id=Tag(chain[-1]))]
    breaker = tree.breaker_of(device)
    tried = claims.breaker_tried(asker)
    back = Rich(run for id in reversed(chain) for run in (Run(" "), Run(id, "tag")))
    says += [words.rich("cases.panel_go"), spot(claims, words, breaker), words.rich("cases.panel_door"),
             words.rich("cases.panel_push" if tried else "cases.panel_push_marked", space=job.breaker[breaker].space),
             words.rich("cases.panel_back", id=Tag(device)) if len(chain) == 1
             else words.rich("cases.panel_back_all", ids=back),
             words.rich("cases.end", whom=whom(claims, words))]
    return tuple(says)


def _breaker_cases(claims: Claims, words: Words, breaker: str, parts: bool) -> tuple[Case, ...]:
    kind = claims.report.tree.kind(breaker)
    if kind.stops_shock:
        again = _unplug(claims, words, breaker, "_breaker")
    else:
        again = (words.rich("cases.arc_again" if kind.stops_arcs else "cases.plain_again"),)
    return (*(_parts(claims, words, breaker) if parts else ()),
            Case(words.rich("cases.off_again"), again),
            Case(words.rich("cases.stays_no_power"), (words.rich("cases.stays_no_power_says", whom=whom(claims, words)),)),
            *_feeder_case(claims, words, breaker))


def _thing_case(claims: Claims, words: Words, outlet: str) -> tuple[Case, ...]:
    if not takes_a_charger(claims, words, outlet):
        return ()
    return (Case(words.rich("cases.thing"), (words.rich("cases.thing_says"),)),)


def _feeder_case(claims: Claims, words: Words, id: str) -> tuple[Case, ...]:
    """Where a breaker in another panel feeds this one: what to push when all of it is dead."""
    tree, job = claims.report.tree, claims.report.job
    feeders = tree.feeders(tree.breaker_of(id))[:-1]
    if not feeders or id in tree.unknown:
        return ()
    feeder = feeders[-1]
    return (Case(words.rich("cases.panel_dead"),
                 (words.rich("cases.panel_go"), spot(claims, words, feeder), words.rich("cases.panel_door"),
                  words.rich("cases.panel_push" if claims.breaker_tried(feeder) else "cases.panel_push_marked",
                             space=job.breaker[feeder].space))),)
