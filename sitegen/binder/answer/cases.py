"""Takes the desk; gives what the reader may see after the first press, and what to do then."""

from __future__ import annotations

from dataclasses import dataclass

from ..desk import Desk
from ..desk.words import Piece, Rich, Tag
from .places import Spot, at_of, may_be_tried, spot, takes_a_charger

NAMED = 3   # things that are named where more hang on the same device


@dataclass(frozen=True, slots=True)
class Case:
    """What the reader sees, and what to do then."""

    title: Rich
    says: tuple[Rich | Spot, ...]


def device_cases(desk: Desk, device: str, asker: str, parts: bool) -> tuple[Case, ...]:
    if desk.tree.kind(device).is_breaker:
        return breaker_cases(desk, device, parts)
    pops = _unplug(desk, device, "")
    dead = desk.words.rich("cases.dead" if device == asker else "cases.dead_here", id=Tag(device))
    return (*(_parts(desk, device) if parts else ()),
            Case(dead, _upstream(desk, device, asker)),
            Case(desk.words.rich("cases.pops"), pops), *_feeder_case(desk, device))


def breaker_cases(desk: Desk, breaker: str, parts: bool) -> tuple[Case, ...]:
    kind = desk.tree.kind(breaker)
    if kind.stops_shock:
        again = _unplug(desk, breaker, "_breaker")
    else:
        again = (desk.words.rich("cases.arc_again" if kind.stops_arcs else "cases.plain_again"),)
    return (*(_parts(desk, breaker) if parts else ()),
            Case(desk.words.rich("cases.off_again"), again),
            Case(desk.words.rich("cases.stays_no_power"), (desk.words.rich("cases.stays_no_power_says", whom=whom(desk)),)),
            *_feeder_case(desk, breaker))


def other_thing_case(desk: Desk, outlet: str, device: str) -> tuple[Case, ...]:
    """Whatever else was seen to go off with the device: where that still works, the device and all before it are on."""
    things = _others(desk, device, outlet)
    if not things:
        return ()
    says = "cases.else_works_says" if takes_a_charger(desk, outlet) else "cases.else_works_look"
    return (Case(desk.words.rich("cases.else_works", id=Tag(device), things=things), (desk.words.rich(says, id=Tag(device)),)),)


def _others(desk: Desk, device: str, outlet: str, behind: str | None = None) -> str:
    """What else was seen to go off with the device, some of it: by use, where one of them has a use written. Nothing `behind` the
    device that is dead now."""
    dead = {outlet, *(desk.tree.goes_dead(behind) if behind else ())}
    others = [id for id in desk.claims.turns_off(device) if id not in dead and may_be_tried(desk, id)]
    named = list(dict.fromkeys(filter(None, (desk.point(id).use for id in others)))) or [at_of(desk, id) for id in others]
    return "; ".join((*named[:NAMED], *("…" for _ in named[NAMED:NAMED + 1])))


def plugged_case(desk: Desk, outlet: str) -> tuple[Case, ...]:
    if not takes_a_charger(desk, outlet):
        return ()
    return (Case(desk.words.rich("cases.thing"), (desk.words.rich("cases.thing_says"),)),)


def _unplug(desk: Desk, device: str, manner: str) -> tuple[Rich, ...]:
    """Everything unplugged and one more try; where one outlet alone hangs on the device there is no list to go through."""
    if len((*desk.claims.turns_off(device), *desk.claims.may_turn_off(device))) == 1:
        names: tuple[str, ...] = (f"unplug{manner}_one", f"stays{manner}_one", f"out{manner}")
    else:
        names = (f"one_thing{manner}", f"unplug{manner}", f"stays{manner}", f"out{manner}")
    below = Rich((Piece(desk.words.text("turns_off.heading", id=device), "below"),))  # a link to the list on the same page
    return tuple(desk.words.rich(f"cases.{name}", list=below) for name in names)


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
            says.append(desk.words.rich("cases.outer_stuck", id=Tag(chain[-1])))
        elif things := _others(desk, outer, asker, behind=device):
            says.append(desk.words.rich("cases.outer_works", things=things))
        says += [desk.words.rich("cases.outer_go", id=Tag(outer)), spot(desk, outer)]
        chain.append(outer)
    if len(chain) > 1:
        says += [desk.words.rich("cases.outer_back", outer=Tag(chain[1]), id=Tag(device)),
                 desk.words.rich("cases.outer_stuck", id=Tag(chain[-1]))]
    breaker = tree.breaker_of(device)
    tried = desk.claims.breaker_tried(asker)
    back = Rich(run for id in reversed(chain) for run in (Piece(" "), Piece(id, "tag")))
    says += [desk.words.rich("cases.panel_go"), spot(desk, breaker), desk.words.rich("cases.panel_door"),
             desk.words.rich("cases.panel_push" if tried else "cases.panel_push_marked", space=job.breaker[breaker].space),
             desk.words.rich("cases.panel_back", id=Tag(device)) if len(chain) == 1
             else desk.words.rich("cases.panel_back_all", ids=back),
             desk.words.rich("cases.end", whom=whom(desk))]
    return tuple(says)


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


def whom(desk: Desk) -> Rich:
    """Whom to call, the number apart: a page on a phone makes it a link."""
    return Rich((Piece(f"{desk.firm}, "), Piece(desk.phone, "phone"))) if desk.phone else Rich((Piece(desk.firm),))
