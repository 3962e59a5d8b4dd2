"""Takes the desk; gives every label of the house as plain data: only what was shown is claimed.

A label says more in three words than a page in thirty: where nobody saw an outlet go off with a device it says "Try".
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ...job.purposes import PURPOSES
from ...job.records import Breaker, Panel
from ..answer import Spot, at_of, spot
from ..desk import Desk, room_and_spot
from ..lists import serves, walking_order
from ..walk.ways import doorways, shortest_walk
from ..words import Rich, Run, Tag
from .codes import device_code, door_code, outlet_code
from .records import DeviceLabel, DoorLabel, LabelSet, OutletLabel, SheetLabel, Stick, Strip

PLATE_MM = (66.0, 7.0)      # the rim of a plate below or above its slots is 7 mm and more (page design)
BREAKER_MM = (90.0, 9.0)    # a line of a panel's directory; two lines of 8 points stand in it

# NEC 406.4(D)(2) (406.3(D)(3) in 2008), as reported: the marks of a receptacle without an equipment ground, word for
# word and in no other language. Blanks that do not break keep each mark on one line.
NO_GROUND = "No\u00a0Equipment\u00a0Ground"
GFCI_PROTECTED = "GFCI\u00a0Protected"


def compose_labels(desk: Desk, others: Iterable[Desk] = ()) -> LabelSet:
    """The pictures of all devices, and what the job wants on sheets; `others`: the desks of its further languages."""
    second = next((other for other in others if other.words.language in desk.job.file.labels.languages[1:]), None)
    job, tree = desk.job, desk.tree
    wanted = set(job.file.labels.wanted)
    devices = {id: device_label(desk, id, second) for id in tree.devices}
    rooms = _rooms(desk)
    outlets = sorted(labelled(desk), key=lambda id: rooms.index(desk.point(id).room))
    sheet: list[SheetLabel] = [devices[id] for id in walking_order(desk) if "device" in wanted]
    sheet += [door_label(desk, panel) for panel in job.panels if "door" in wanted]
    sheet += [outlet_label(desk, id, second) for id in outlets if "outlet" in wanted]
    strips = [plate_strip(desk, id) for id in outlets if "plate" in wanted and desk.point(id).kind.has_face]
    strips += [breaker_strip(desk, breaker) for breaker in _in_panels(desk) if "breaker" in wanted]
    strips += [ground_mark(desk, id) for id in tree.outlets if "ground" in wanted and _ungrounded(desk, id)]
    return LabelSet(tuple(devices.values()), tuple(sheet), tuple(strips), _sticking(desk, rooms, sheet, strips))


def labelled(desk: Desk) -> tuple[str, ...]:
    """The outlets that get a label: receptacles and appliances that are no devices; lights where `label_at` says so."""
    points = (desk.point(id) for id in desk.tree.outlets)
    return tuple(point.id for point in points
                 if not point.kind.opens and (not point.kind.by_name or point.label_at))


# --- labels of the sheet

def device_label(desk: Desk, device: str, second: Desk | None) -> DeviceLabel:
    room, act, served, rule = _device_words(desk, device)
    if second:
        room_2, act_2, served_2, rule_2 = _device_words(second, device)
        # As many words of the one as of the other; what each language says of the act stands before its own words.
        least = _both(f"{act} {served[-1]}".strip(), served_2[-1])
        served = tuple(_both(f"{act} {one}".strip(), f"{act_2} {two}".strip()) for one, two in zip(served, served_2))
        room, act, served, rule = _both(room, room_2), "", (*served, least), _both(rule, rule_2)
    code, shorter = device_code(desk, device)
    label = DeviceLabel(device, room, act, served, rule, code, desk.draft_mark, *_size(desk), shorter, bool(second),
                        outlets=desk.claims.turns_off(device))
    return label if second or not act else replace(label, **_at_once(desk, device))


def _size(desk: Desk) -> tuple[float, float]:
    stock = desk.job.file.labels
    return stock.width_mm, stock.height_mm


def _at_once(desk: Desk, device: str) -> dict[str, str]:
    """The order of the hour: whoever scans nothing still knows what to press, and when to stop."""
    ending = "_breaker" if desk.tree.kind(device).is_breaker else ""
    stop = desk.words.text(f"label.stop{ending}", phone=desk.phone) if desk.phone else ""
    return {"now": desk.words.text(f"label.now{ending}"), "then": desk.words.text(f"label.then{ending}"), "stop": stop}


def _device_words(desk: Desk, device: str) -> tuple[str, str, tuple[str, ...], str]:
    """Room, act, what it serves, rule: in one language."""
    room, breaker = spot(desk, device).room, desk.tree.kind(device).is_breaker
    if breaker:
        room = desk.words.text("label.breaker_room", room=room, space=desk.job.breaker[device].space)
    act = desk.words.text("label.off_on" if breaker else "label.resets") if desk.claims.turns_off(device) else ""
    return room, act, serves(desk, device), desk.words.text("label.rule_breaker" if breaker else "label.rule")


def _both(one: str, two: str) -> str:
    """A text in two languages; once where they say it alike."""
    return one if one == two else f"{one}\u00a0/ {two}"


def _first(desk: Desk, outlet: str) -> tuple[str, bool]:
    """The device nearest to a dead outlet, else its breaker; False where nobody saw the outlet go off with the device."""
    cuts = desk.claims.cuts(outlet)
    if not cuts:
        return desk.tree.breaker_of(outlet), True
    return cuts[0].device, cuts[0].shown is not None


def _act(desk: Desk, outlet: str) -> tuple[str, Rich, bool]:
    """What to press first for a dead outlet: its id, the words, and whether it was shown."""
    job = desk.job
    first, shown = _first(desk, outlet)
    name = "try_" if not shown else ""
    if first not in job.breaker:
        return first, desk.words.rich(f"label.{name}reset", id=Tag(first)), shown
    name += "breaker" if desk.claims.breaker_tried(outlet) else "breaker_marked"
    return first, desk.words.rich(f"label.{name}", space=Tag(job.breaker[first].space)), shown


def _where(desk: Desk, first: str) -> tuple[str, str]:
    """The room in capitals, as on the sheet of a stranger in a hurry, and the spot in it."""
    if first in desk.job.breaker:
        room, at = room_and_spot(desk.panel_of(first))
        return desk.words.text("label.panel", room=room.upper()), at
    return desk.words.text("label.in_room", room=desk.point(first).room.upper()), at_of(desk, first)


def outlet_label(desk: Desk, outlet: str, second: Desk | None) -> OutletLabel:
    first, act, _ = _act(desk, outlet)
    ask, how, where, at, doubt = _outlet_words(desk, outlet)
    code, shorter = outlet_code(desk, outlet, first, act.plain, how)
    big = act.plain
    if code or second:     # less room: the destination alone is big, what to do with it stands before it
        ask, big = f"{ask} {_before(act)}", _tagged(act)
    if second:
        two = _outlet_words(second, outlet)
        ask = _both(ask, f"{two[0]} {_before(_act(second, outlet)[1])}")
        how, where, at, doubt = map(_both, (how, where, at, doubt), two[1:])
    return OutletLabel(outlet, ask, big, how, where, at, doubt, _own(desk, outlet), desk.draft_mark, *_size(desk), code, shorter,
                       bool(second), first)


def _outlet_words(desk: Desk, outlet: str) -> tuple[str, str, str, str, str]:
    """The question, how to push a breaker, room, spot, doubt: in one language."""
    first, shown = _first(desk, outlet)
    where, at = _where(desk, first)
    how = ""
    if first in desk.job.breaker:
        how = desk.words.text("label.then_on" if desk.tree.kind(first).opens else "label.then_on_once")
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
    return desk.words.text("label.own", id=outlet)


def door_label(desk: Desk, panel: Panel) -> DoorLabel:
    shock = desk.words.text("label.door.shock", number=desk.emergency)
    fewest = desk.words.text("label.door.shock_short", number=desk.emergency)
    if panel.fed_from:
        fewest = ""     # where MAIN is must stand
        main = _source(desk, panel)
        shock = desk.words.text("label.door.shock_elsewhere", at=main.at, number=desk.emergency)
    danger = [shock, desk.words.text("label.door.fire", number=desk.emergency)]
    if panel.also_supplied_by:
        names = desk.words.join([desk.words.get(f"answer.sources.{source}") for source in panel.also_supplied_by])
        danger.append(desk.words.text("label.door.other", sources=names))
    call = desk.words.text("label.door.call" if desk.phone else "label.door.blank", firm=desk.firm, phone=desk.phone)
    rules = tuple(rule.plain for rule in desk.words.many("label.door.rules"))
    code, shorter = door_code(desk, tuple(danger), fewest, rules, call)
    head = desk.words.text("label.door.head" if code else "label.door.head_without")
    return DoorLabel(panel.id, head, tuple(danger), rules, call, code, desk.draft_mark, *_size(desk), shorter, fewest)


def _source(desk: Desk, panel: Panel) -> Panel:
    """The panel where the power of this one comes in."""
    return _source(desk, desk.panel_of(panel.fed_from)) if panel.fed_from else panel


# --- strips

def plate_strip(desk: Desk, outlet: str) -> Strip:
    """The words of the outlet label on one line where they fit; on two where a breaker has to be pushed OFF first."""
    first, act, shown = _act(desk, outlet)
    where, at = _where(desk, first)
    ask = Rich((Run(f"{_outlet_words(desk, outlet)[0]} "), *act))
    doubt = "" if shown else f" ({desk.words.text('label.doubt_short')})"
    if desk.tree.kind(first).is_breaker and desk.tree.kind(first).opens:
        then = desk.words.text("label.then_on")
        offers = [(ask, Rich((Run(f"{then}, {where}, {at}{doubt}"),)))] if at else []
        offers.append((ask, Rich((Run(f"{then}, {where}{doubt}"),))))
    else:
        offers = [(Rich((*ask, Run(f" {where}, {at}{doubt}"))),)] if at else []
        offers += [(Rich((*ask, Run(f" {where}{doubt}"))),), (ask, Rich((Run(f"{where}{doubt}"),)))]
    return Strip("plate", outlet, outlet, "", tuple(offers), "", desk.draft_mark, *PLATE_MM, first)


def breaker_strip(desk: Desk, breaker: Breaker) -> Strip:
    """A line of the directory: what the circuit serves in words that stand alone, and what kind of breaker it is."""
    served = "; ".join(circuit.serves for circuit in desk.job.circuits if circuit.breaker == breaker.id)
    tried = desk.claims.breaker_tried(breaker.id)
    text = served if tried else desk.words.text("label.not_tried", serves=served)
    return Strip("breaker", breaker.id, breaker.id, breaker.space, ((Rich((Run(text),)),),),
                 desk.words.get(f"kinds.breakers.{breaker.kind.name}.mark"), desk.draft_mark, *BREAKER_MM)


def _in_panels(desk: Desk) -> list[Breaker]:
    """The breakers of circuits, panel by panel, in the order of their spaces; one that two circuits share once."""
    job = desk.job
    return [job.breaker[id] for id in dict.fromkeys(circuit.breaker for circuit in desk.by_space())]


def _ungrounded(desk: Desk, outlet: str) -> bool:
    point = desk.point(outlet)
    return point.kind.has_face and not point.grounded


def ground_mark(desk: Desk, outlet: str) -> Strip:
    """The marks of a receptacle without an equipment ground; a GFCI receptacle says itself that it is one."""
    itself = desk.point(outlet).kind.stops_shock
    guarded = not itself and desk.proof.proved_by(outlet)
    text = f"{GFCI_PROTECTED} \u00b7 {NO_GROUND}" if guarded else NO_GROUND
    return Strip("ground", outlet, outlet, "", ((Rich((Run(text),)),),), "", desk.draft_mark, *PLATE_MM)


# --- the list for the person who sticks them

def _rooms(desk: Desk) -> list[str]:
    """Every room as one walks through the doors that are drawn; else as the devices are tested, then the others, the
    panels last."""
    job, tree = desk.job, desk.tree
    devices = [id for id in walking_order(desk) if id not in job.breaker]
    named = [desk.point(id).room for id in (*devices, *tree.outlets)]
    rooms = list(dict.fromkeys((*named, *(room_and_spot(panel)[0] for panel in job.panels))))
    return [rooms[at] for at in shortest_walk([(room, room) for room in rooms], doorways(job), rooms[0])] if rooms else []


def _sticking(desk: Desk, rooms: list[str], sheet: list[SheetLabel],
              strips: list[Strip]) -> tuple[tuple[str, tuple[Stick, ...]], ...]:
    found: dict[str, list[Stick]] = {room: [] for room in rooms}
    job, breakers = desk.job, [breaker.id for breaker in _in_panels(desk)]
    for number, label in enumerate(sheet):
        _stick(desk, found, label, number)
    for number, strip in enumerate(strips):
        _stick(desk, found, strip, number)
    # Thing by thing: devices and outlets as they come, then a panel's door, then its breakers from the first space on.
    order = {id: at for at, id in enumerate(dict.fromkeys(stick.id for sticks in found.values() for stick in sticks))}
    order |= {panel.id: len(order) for panel in job.panels}
    order |= {id: len(order) + at for at, id in enumerate(breakers, 1)}
    return tuple((room, tuple(sorted(sticks, key=lambda stick: order[stick.id])))
                 for room, sticks in found.items() if sticks)


def _stick(desk: Desk, found: dict[str, list[Stick]], label: SheetLabel | Strip, number: int) -> None:
    id, purpose = label.id, label.purpose
    job = desk.job
    name = desk.words.text(f"label.stick.name.{purpose}")
    where = desk.words.text(f"label.stick.where.{purpose}")
    if purpose == "door":
        room, at = room_and_spot(job.panel[id])
    else:
        here: Spot = spot(desk, id)
        room, at = here.room, here.at
    if id in job.breaker:
        where = desk.words.text(f"label.stick.where.{'panel' if purpose == 'device' else purpose}")
    elif purpose in ("device", "outlet") and id in job.point:
        where = desk.point(id).label_at or where
    found[room].append(Stick(PURPOSES[purpose].strip, number, id, at, name, where))
