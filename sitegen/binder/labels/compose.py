"""Takes the claims and the words; gives every label of the house as plain data: only what was shown is claimed.

A label says more in three words than a page in thirty: where nobody saw an outlet go off with a device it says "Try".
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ...job.purposes import PURPOSES
from ...job.records import Breaker, Panel
from ..answer import Spot, at_of, spot
from ..claims import Claims
from ..lists import serves, walking_order
from ..site.service import by_space
from ..walk.ways import doorways, shortest_walk
from ..words import Rich, Run, Tag, Words
from .codes import Maker, device_code, door_code, outlet_code
from .records import DeviceLabel, DoorLabel, LabelSet, OutletLabel, SheetLabel, Stick, Strip

PLATE_MM = (66.0, 7.0)      # the rim of a plate below or above its slots is 7 mm and more (page design)
BREAKER_MM = (90.0, 9.0)    # a line of a panel's directory; two lines of 8 points stand in it

# NEC 406.4(D)(2) (406.3(D)(3) in 2008), as reported: the marks of a receptacle without an equipment ground, word for
# word and in no other language. Blanks that do not break keep each mark on one line.
NO_GROUND = "No\u00a0Equipment\u00a0Ground"
GFCI_PROTECTED = "GFCI\u00a0Protected"


def compose_labels(claims: Claims, words: Words, draft: bool, firm: str, phone: str, emergency: str,
                   further: Iterable[tuple[Claims, Words]] = ()) -> LabelSet:
    """The pictures of all devices, and what the job wants on sheets; `emergency` is the number to call for fire.
    `further`: the job in its other languages, for labels in two."""
    second = next((pair for pair in further if pair[1].language in claims.report.job.file.labels.languages[1:]), None)
    make = Maker(claims, words, words.text("draft") if draft else None, firm, phone, emergency, second)
    job, tree = claims.report.job, claims.report.tree
    wanted = set(job.file.labels.wanted)
    devices = {id: device_label(make, id) for id in tree.devices}
    rooms = _rooms(claims, words)
    outlets = sorted(labelled(claims), key=lambda id: rooms.index(claims.point(id).room))
    sheet: list[SheetLabel] = [devices[id] for id in walking_order(claims) if "device" in wanted]
    sheet += [door_label(make, panel) for panel in job.panels if "door" in wanted]
    sheet += [outlet_label(make, id) for id in outlets if "outlet" in wanted]
    strips = [plate_strip(make, id) for id in outlets if "plate" in wanted and claims.point(id).kind.has_face]
    strips += [breaker_strip(make, breaker) for breaker in _in_panels(claims) if "breaker" in wanted]
    strips += [ground_mark(make, id) for id in tree.outlets if "ground" in wanted and _ungrounded(claims, id)]
    return LabelSet(tuple(devices.values()), tuple(sheet), tuple(strips), _sticking(make, rooms, sheet, strips))


def labelled(claims: Claims) -> tuple[str, ...]:
    """The outlets that get a label: receptacles and appliances that are no devices; lights where `label_at` says so."""
    points = (claims.point(id) for id in claims.report.tree.outlets)
    return tuple(point.id for point in points
                 if not point.kind.opens and (not point.kind.by_name or point.label_at))


# --- labels of the sheet

def device_label(make: Maker, device: str) -> DeviceLabel:
    room, act, served, rule = _device_words(make.claims, make.words, device)
    if make.second:
        room_2, act_2, served_2, rule_2 = _device_words(*make.second, device)
        # As many words of the one as of the other; what each language says of the act stands before its own words.
        least = _both(f"{act} {served[-1]}".strip(), served_2[-1])
        served = tuple(_both(f"{act} {one}".strip(), f"{act_2} {two}".strip()) for one, two in zip(served, served_2))
        room, act, served, rule = _both(room, room_2), "", (*served, least), _both(rule, rule_2)
    code, shorter = device_code(make, device)
    label = DeviceLabel(device, room, act, served, rule, code, make.draft, *make.size, shorter, bool(make.second),
                        outlets=make.claims.turns_off(device))
    return label if make.second or not act else replace(label, **_at_once(make, device))


def _at_once(make: Maker, device: str) -> dict[str, str]:
    """The order of the hour: whoever scans nothing still knows what to press, and when to stop."""
    words, ending = make.words, "_breaker" if make.claims.report.tree.kind(device).is_breaker else ""
    stop = words.text(f"label.stop{ending}", phone=make.phone) if make.phone else ""
    return {"now": words.text(f"label.now{ending}"), "then": words.text(f"label.then{ending}"), "stop": stop}


def _device_words(claims: Claims, words: Words, device: str) -> tuple[str, str, tuple[str, ...], str]:
    """Room, act, what it serves, rule: in one language."""
    room, breaker = spot(claims, words, device).room, claims.report.tree.kind(device).is_breaker
    if breaker:
        room = words.text("label.breaker_room", room=room, space=claims.report.job.breaker[device].space)
    act = words.text("label.off_on" if breaker else "label.resets") if claims.turns_off(device) else ""
    return room, act, serves(claims, words, device), words.text("label.rule_breaker" if breaker else "label.rule")


def _both(one: str, two: str) -> str:
    """A text in two languages; once where they say it alike."""
    return one if one == two else f"{one}\u00a0/ {two}"


def _first(claims: Claims, outlet: str) -> tuple[str, bool]:
    """The device nearest to a dead outlet, else its breaker; False where nobody saw the outlet go off with the device."""
    cuts = claims.cuts(outlet)
    if not cuts:
        return claims.report.tree.breaker_of(outlet), True
    return cuts[0].device, cuts[0].shown is not None


def _act(claims: Claims, words: Words, outlet: str) -> tuple[str, Rich, bool]:
    """What to press first for a dead outlet: its id, the words, and whether it was shown."""
    job = claims.report.job
    first, shown = _first(claims, outlet)
    name = "try_" if not shown else ""
    if first not in job.breaker:
        return first, words.rich(f"label.{name}reset", id=Tag(first)), shown
    name += "breaker" if claims.breaker_tried(outlet) else "breaker_marked"
    return first, words.rich(f"label.{name}", space=Tag(job.breaker[first].space)), shown


def _where(claims: Claims, words: Words, first: str) -> tuple[str, str]:
    """The room in capitals, as on the sheet of a stranger in a hurry, and the spot in it."""
    if first in claims.report.job.breaker:
        room, _, at = claims.panel_of(first).at.partition(", ")
        return words.text("label.panel", room=room.upper()), at
    return words.text("label.in_room", room=claims.point(first).room.upper()), at_of(claims, words, first)


def outlet_label(make: Maker, outlet: str) -> OutletLabel:
    first, act, _ = _act(make.claims, make.words, outlet)
    ask, how, where, at, doubt = _outlet_words(make.claims, make.words, outlet)
    code, shorter = outlet_code(make, outlet, first, act.plain, how)
    big = act.plain
    if code or make.second:     # less room: the destination alone is big, what to do with it stands before it
        ask, big = f"{ask} {_before(act)}", _tagged(act)
    if make.second:
        two = _outlet_words(*make.second, outlet)
        ask = _both(ask, f"{two[0]} {_before(_act(*make.second, outlet)[1])}")
        how, where, at, doubt = map(_both, (how, where, at, doubt), two[1:])
    return OutletLabel(outlet, ask, big, how, where, at, doubt, _own(make, outlet), make.draft, *make.size, code, shorter,
                       bool(make.second), first)


def _outlet_words(claims: Claims, words: Words, outlet: str) -> tuple[str, str, str, str, str]:
    """The question, how to push a breaker, room, spot, doubt: in one language."""
    first, shown = _first(claims, outlet)
    where, at = _where(claims, words, first)
    how = ""
    if first in claims.report.job.breaker:
        how = words.text("label.then_on" if claims.report.tree.kind(first).opens else "label.then_on_once")
    ask = words.text("label.ask_reset" if shown and not how else "label.ask")
    return ask, how, where, at, "" if shown else words.text("label.doubt")


def _before(act: Rich) -> str:
    """An act without its id: "Try RESET on"."""
    return "".join(run.text for run in act if run.look != "tag").strip()


def _tagged(act: Rich) -> str:
    return "".join(run.text for run in act if run.look == "tag")


def _own(make: Maker, outlet: str) -> str:
    point = make.claims.point(outlet)
    if point.half:
        return make.words.text("label.own_half", id=outlet, half=make.words.get(f"answer.half.{point.half}"))
    return make.words.text("label.own", id=outlet)


def door_label(make: Maker, panel: Panel) -> DoorLabel:
    words = make.words
    shock = words.text("label.door.shock", number=make.emergency)
    fewest = words.text("label.door.shock_short", number=make.emergency)
    if panel.fed_from:
        fewest = ""     # where MAIN is must stand
        main = _source(make.claims, panel)
        shock = words.text("label.door.shock_elsewhere", at=main.at, number=make.emergency)
    danger = [shock, words.text("label.door.fire", number=make.emergency)]
    if panel.also_supplied_by:
        names = words.join([words.get(f"answer.sources.{source}") for source in panel.also_supplied_by])
        danger.append(words.text("label.door.other", sources=names))
    call = words.text("label.door.call", firm=make.firm, phone=make.phone) if make.phone else words.text("label.door.blank")
    rules = tuple(rule.plain for rule in words.many("label.door.rules"))
    code, shorter = door_code(make, tuple(danger), fewest, rules, call)
    head = words.text("label.door.head" if code else "label.door.head_without")
    return DoorLabel(panel.id, head, tuple(danger), rules, call, code, make.draft, *make.size, shorter, fewest)


def _source(claims: Claims, panel: Panel) -> Panel:
    """The panel where the power of this one comes in."""
    return _source(claims, claims.panel_of(panel.fed_from)) if panel.fed_from else panel


# --- strips

def plate_strip(make: Maker, outlet: str) -> Strip:
    """The words of the outlet label on one line where they fit; on two where a breaker has to be pushed OFF first."""
    words = make.words
    first, act, shown = _act(make.claims, words, outlet)
    where, at = _where(make.claims, words, first)
    ask = Rich((Run(f"{_outlet_words(make.claims, words, outlet)[0]} "), *act))
    doubt = "" if shown else f" ({words.text('label.doubt_short')})"
    if make.claims.report.tree.kind(first).is_breaker and make.claims.report.tree.kind(first).opens:
        then = words.text("label.then_on")
        offers = [(ask, Rich((Run(f"{then}, {where}, {at}{doubt}"),)))] if at else []
        offers.append((ask, Rich((Run(f"{then}, {where}{doubt}"),))))
    else:
        offers = [(Rich((*ask, Run(f" {where}, {at}{doubt}"))),)] if at else []
        offers += [(Rich((*ask, Run(f" {where}{doubt}"))),), (ask, Rich((Run(f"{where}{doubt}"),)))]
    return Strip("plate", outlet, outlet, "", tuple(offers), "", make.draft, *PLATE_MM, first)


def breaker_strip(make: Maker, breaker: Breaker) -> Strip:
    """A line of the directory: what the circuit serves in words that stand alone, and what kind of breaker it is."""
    claims, words = make.claims, make.words
    served = "; ".join(circuit.serves for circuit in claims.report.job.circuits if circuit.breaker == breaker.id)
    tried = claims.breaker_tried(breaker.id)
    text = served if tried else words.text("label.not_tried", serves=served)
    return Strip("breaker", breaker.id, breaker.id, breaker.space, ((Rich((Run(text),)),),),
                 words.get(f"label.marks.{breaker.kind.name}"), make.draft, *BREAKER_MM)


def _in_panels(claims: Claims) -> list[Breaker]:
    """The breakers of circuits, panel by panel, in the order of their spaces; one that two circuits share once."""
    job = claims.report.job
    return [job.breaker[id] for id in dict.fromkeys(circuit.breaker for circuit in by_space(job))]


def _ungrounded(claims: Claims, outlet: str) -> bool:
    point = claims.point(outlet)
    return point.kind.has_face and not point.grounded


def ground_mark(make: Maker, outlet: str) -> Strip:
    """The marks of a receptacle without an equipment ground; a GFCI receptacle says itself that it is one."""
    itself = make.claims.point(outlet).kind.stops_shock
    guarded = not itself and make.claims.report.proof.proved_by(outlet)
    text = f"{GFCI_PROTECTED} \u00b7 {NO_GROUND}" if guarded else NO_GROUND
    return Strip("ground", outlet, outlet, "", ((Rich((Run(text),)),),), "", make.draft, *PLATE_MM)


# --- the list for the person who sticks them

def _rooms(claims: Claims, words: Words) -> list[str]:
    """Every room as one walks through the doors that are drawn; else as the devices are tested, then the others, the
    panels last."""
    job, tree = claims.report.job, claims.report.tree
    devices = [id for id in walking_order(claims) if id not in job.breaker]
    named = [claims.point(id).room for id in (*devices, *tree.outlets)]
    rooms = list(dict.fromkeys((*named, *(_panel_room(panel) for panel in job.panels))))
    return [rooms[at] for at in shortest_walk([(room, room) for room in rooms], doorways(job), rooms[0])] if rooms else []


def _panel_room(panel: Panel) -> str:
    return panel.at.partition(", ")[0]


def _sticking(make: Maker, rooms: list[str], sheet: list[SheetLabel],
              strips: list[Strip]) -> tuple[tuple[str, tuple[Stick, ...]], ...]:
    found: dict[str, list[Stick]] = {room: [] for room in rooms}
    job, breakers = make.claims.report.job, [breaker.id for breaker in _in_panels(make.claims)]
    for number, label in enumerate(sheet):
        _stick(make, found, label, number)
    for number, strip in enumerate(strips):
        _stick(make, found, strip, number)
    # Thing by thing: devices and outlets as they come, then a panel's door, then its breakers from the first space on.
    order = {id: at for at, id in enumerate(dict.fromkeys(stick.id for sticks in found.values() for stick in sticks))}
    order |= {panel.id: len(order) for panel in job.panels}
    order |= {id: len(order) + at for at, id in enumerate(breakers, 1)}
    return tuple((room, tuple(sorted(sticks, key=lambda stick: order[stick.id])))
                 for room, sticks in found.items() if sticks)


def _stick(make: Maker, found: dict[str, list[Stick]], label: SheetLabel | Strip, number: int) -> None:
    id, purpose = label.id, label.purpose
    claims, words, job = make.claims, make.words, make.claims.report.job
    name = words.text(f"label.stick.name.{purpose}")
    where = words.text(f"label.stick.where.{purpose}")
    if purpose == "door":
        room, _, at = job.panel[id].at.partition(", ")
    else:
        here: Spot = spot(claims, words, id)
        room, at = here.room, here.at
    if id in job.breaker:
        where = words.text(f"label.stick.where.{'panel' if purpose == 'device' else purpose}")
    elif purpose in ("device", "outlet") and id in job.point:
        where = claims.point(id).label_at or where
    found[room].append(Stick(PURPOSES[purpose].strip, number, id, at, name, where))
