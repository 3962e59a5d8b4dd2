"""Takes the plans of a job; gives what `plan` prints: per circuit the devices and what is made up in each box, or why not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from ...job.records import Job
from ...protection.plan import CircuitPlan, Device, FewestDark, GuardShares, GuardStands, Least, UnknownFeed, Unmet, Why, Zone
from ...protection.say import both, names, place
from .. import wrapped

_SHOWN = 3  # other feeds

CAUTION = ("The plan meets the needs that the map writes, and those that the GFCI rules marked STOP in `sitegen check --rules` ask by the "
           "book that job.yaml names, and no others. Local code, the authority having jurisdiction and a licensed electrician decide. What is built is "
           "tested outlet by outlet: `sitegen walk`.")


def plan_json(job: Job, plans: Iterable[CircuitPlan]) -> dict[str, Any]:
    """The object that `plan --json` prints. Money is in dollars; without prices each device counts as one."""
    return {"job": job.file.id, "priced": job.file.prices is not None, "circuits": [_circuit_json(job, one) for one in plans]}


def _circuit_json(job: Job, one: CircuitPlan) -> dict[str, Any]:
    found = one.plan
    return {
        "circuit": one.circuits[0].number, "with": [circuit.number for circuit in one.circuits[1:]],
        "panel": one.circuits[0].panel, "breaker": one.breakers[0],
        "can": found is not None, "why": [_why(job, why) for why in one.why],
        "cost": _amount(job, found.cost) if found else None, "wishes": _amount(job, found.wishes) if found else None,
        "dark": found.dark if found else None, "most": found.most if found else None, "best": found.best if found else None,
        "devices": [{"at": device.at, "how": device.how, "load": list(device.load), "line": list(device.line),
                     "zone": list(zone.outlets), "cost": _amount(job, device.cost), "wishes": _amount(job, device.wishes),
                     "stands": device.stands} for device, zone in zip(found.devices if found else (), one.zones)],
        "unguarded": list(one.unguarded),
        "each": {"devices": one.each.devices, "cost": _amount(job, one.each.cost), "no_room": list(one.each.no_room)},
        "front": [{"most": step.most, "cost": _amount(job, step.cost), "wishes": _amount(job, step.wishes),
                   "devices": len(_new(step))} for step in one.front],
        "other_feeds": [{"id": feed.id, "from": feed.source, "saves": _amount(job, feed.saves)} for feed in one.other_feeds],
    }


def _amount(job: Job, cents: int) -> float | int:
    return cents / 100 if job.file.prices else cents


def _new(plan: Least) -> list[Device]:
    return [device for device in plan.devices if not device.stands]


def plan_text(job: Job, plans: tuple[CircuitPlan, ...]) -> str:
    """The verdict first, then circuit by circuit."""
    lines = [_verdict(job, plans)]
    for one in plans:
        lines += ["", *_circuit(job, one)]
    planned = {circuit.key for one in plans for circuit in one.circuits}
    others = [circuit.number for circuit in job.circuits if circuit.key not in planned]
    if others and plans:
        lines += ["", f"Not looked at: circuit{'s' * (len(others) > 1)} {both(others)}."]
    return wrapped([*lines, "", CAUTION])


def _verdict(job: Job, plans: tuple[CircuitPlan, ...]) -> str:
    if not any(one.needs for one in plans):
        return ("Nothing to plan: no outlet here needs protection. Name the book in job.yaml and write `place` at every outlet, or "
                "`needs: gfci` where more is called for, and leave the outlets plain receptacles.")
    stuck = [circuit.number for one in plans if one.plan is None for circuit in one.circuits]
    if stuck:
        return f"CANNOT BE DONE as the map stands: circuit{'s' * (len(stuck) > 1)} {both(stuck)}."
    devices = [device for one in plans if one.plan for device in _new(one.plan)]
    if not devices:
        return "Nothing to put in: what stands already meets every need."
    cost = sum(device.cost for device in devices)
    return f"PLAN before trim-out: {_devices(job, len(devices), cost)} to put in."


def _circuit(job: Job, one: CircuitPlan) -> Iterator[str]:
    numbers, panel = [circuit.number for circuit in one.circuits], one.circuits[0].panel
    yield (f"Circuit{'s' * (len(numbers) > 1)} {both(numbers)} of {panel}, breaker{'s' * (len(one.breakers) > 1)} "
           f"{both(one.breakers)}: {'; '.join(circuit.serves for circuit in one.circuits)}")
    yield from (f"  {_why(job, why)}" for why in one.why)
    shared = [circuit for circuit in one.circuits if circuit.shares_neutral_with]
    if shared:
        parts = names(id for circuit in shared for id in circuit.neutral_parts_at)
        yield f"  One neutral serves them: nothing goes on LOAD of a one-pole device before it parts ({parts or 'nowhere on the map'})."
    elif any(job.breaker[id].poles == 2 for id in one.breakers) and any(
            point.voltage == 120 and point.circuit in {circuit.key for circuit in one.circuits} for point in job.points):
        yield "  Planned as if every cable had its own neutral. If two hots share one, write `shares_neutral_with` first."
    if one.plan:
        new = _new(one.plan)
        yield f"  {_devices(job, len(new), one.plan.cost) if new else 'Nothing to put in'}; at most {_outlets(one.plan.most)} dark at once."
        if not one.plan.best:
            yield "  A box has too many cables to try every way to part them: there may be a cheaper plan."
        for device, zone in zip(one.plan.devices, one.zones):
            yield ""
            yield from _device(job, one, device, zone)
    more = [f"  Behind no device: {_with_use(job, one.unguarded)}."] if one.unguarded else []
    more += _compared(job, one) if one.needs and one.plan else []
    yield from ["", *more] if more else []


def _device(job: Job, one: CircuitPlan, device: Device, zone: Zone) -> Iterator[str]:
    price = "stands already" if device.stands else _money(job, device.cost) if job.file.prices else ""
    yield f"  {_what(job, one, device)}{', ' if price else ''}{price}"
    if device.how == "breaker" and not device.stands:
        yield "    the circuit's neutral goes to the breaker with its hot; the boxes stay as they are"
    elif device.how != "breaker":
        yield from (f"    {side:<5} {text}" for side, text in (("LINE", _line(job, device)), ("LOAD", _load(device))))
    yield f"    turns off {_with_use(job, zone.outlets) or 'no outlet'}"
    if device.wishes:
        unkept = [f"{_outlets(zone.over)} above {job.file.wishes.most}"] * (zone.over > 0) \
            + [f"a reset far from {both(zone.far)}"] * bool(zone.far) \
            + [f"{zone.dark} room{'s' if zone.dark != 1 else ''} without a light"] * (zone.dark > 0)
        yield f"    not as wished: {', '.join(unkept)} (weighed {_money(job, device.wishes)})"


def _what(job: Job, one: CircuitPlan, device: Device) -> str:
    if device.how == "new box":
        return f"New box in the cable before {place(job, device.at)}: faceless GFCI"
    if device.how != "breaker":
        return f"{place(job, device.at)}: {'GFCI receptacle' if device.how == 'receptacle' else 'faceless GFCI'}"
    if device.stands:
        return f"{place(job, device.at)}: {job.breaker[device.at].kind.name.replace('gfci', 'GFCI')} breaker"
    arcs = any(job.breaker[id].kind.stops_arcs for id in one.breakers)
    poles = "2-pole " if len(one.breakers) > 1 or job.breaker[device.at].poles == 2 else ""
    both_of = f", in place of {both(one.breakers)}" if len(one.breakers) > 1 else ""
    return f"{place(job, device.at)}: {poles}{'dual-function' if arcs else 'GFCI'} breaker{both_of}"


def _line(job: Job, device: Device) -> str:
    """The incoming cable first; what stays ahead of the device is spliced to it."""
    source = job.point[device.at].feed.source
    ahead = [_cable(device, id) for id in device.line]
    return f"cable from {source}" + (f", {', '.join(ahead)}: splice, one pigtail to the device" if ahead else "")


def _load(device: Device) -> str:
    return ", ".join(_cable(device, id) for id in device.load) or "nothing"


def _cable(device: Device, id: str) -> str:
    """What is in the box of a faceless device is wired to it as a cable is."""
    return f"{id} itself" if id == device.at and device.how == "faceless" else f"cable to {id}"


def _compared(job: Job, one: CircuitPlan) -> Iterator[str]:
    """What else could be done, and what it would cost."""
    each, found = one.each, one.plan
    room = f"; no room for one at {names(each.no_room)}" if each.no_room else ""
    if each.devices and (room or found and each.cost != found.cost):
        yield f"  Instead, a device at each outlet that needs one: {_devices(job, each.devices, each.cost)}{room}."
    elif room:
        yield f"  No room for a device in the box of {both(each.no_room)}."
    for step in one.front:
        if found and step.most < found.most:
            weighed = f", wishes {_money(job, step.wishes)}" if step.wishes else ""
            yield f"  At most {step.most} dark at once: {_devices(job, len(_new(step)), step.cost)}{weighed}."
    if one.other_feeds:
        yield "  Before the walls close, any one of these saves:"
        yield from (f"    {_money(job, feed.saves):>9}  {feed.id} on a cable of its own from {feed.source}"
                    for feed in one.other_feeds[:_SHOWN])


def _devices(job: Job, number: int, cost: int) -> str:
    count = f"{number} device{'s' if number != 1 else ''}"
    return f"{count}, {_money(job, cost)}" if job.file.prices else count


def _outlets(number: int) -> str:
    return f"{number} outlet{'s' if number != 1 else ''}"


def _with_use(job: Job, ids: tuple[str, ...]) -> str:
    """What goes dark, so that a freezer is not overlooked."""
    return ", ".join(f"{id} ({job.point[id].use})" if job.point[id].use else id for id in ids)


def _money(job: Job, cents: int) -> str:
    return f"${cents / 100:,.2f}" if job.file.prices else f"{cents} device{'s' if cents != 1 else ''}"


def _why(job: Job, why: Why) -> str:
    if isinstance(why, UnknownFeed):
        return f"Nobody knows what feeds {both(place(job, id) for id in why.ids)}. Find the feed first; `sitegen recover` may place it."
    if isinstance(why, FewestDark):
        return f"No plan turns off so few outlets at once: the least is {why.most}. Call it with `--most {why.most}`, or give more " \
               f"boxes room."
    if isinstance(why, GuardShares):
        return f"{place(job, why.breaker)} guards against shock, and its neutral is shared with another breaker: it would trip as " \
               f"soon as the other one carries a load. Put a 2-pole one over both, or a plain one."
    if isinstance(why, Unmet):
        return _unmet(job, why)
    wrong = [f"{names(ids)}, which must {must}" for ids, must in
             ((why.never, "stand behind no device"), (why.alone, "be the only outlet behind its device")) if ids]
    at, mend = (why.breaker, "Use a plain breaker, or other wiring") if isinstance(why, GuardStands) else \
        (why.device, f"Move the cable to LINE there, or write {why.device} as a plain receptacle to have its sides planned")
    return f"{place(job, at)} stands already and turns off {', and '.join(wrong)}. {mend}."


def _unmet(job: Job, why: Unmet) -> str:
    who = both(place(job, id) for id in why.ids)
    says = f"{who} needs GFCI protection, and no device that there is room for can give it." if len(why.ids) == 1 else \
        f"{who} need GFCI protection, and the devices that there is room for cannot give it to all of them."
    if why.lowest is None:
        return f"{says} No other box on the way would do: feed it in another way."
    if why.new_box:
        return f"{says} What would do: a new box, where its reset can be reached, in the cable before {place(job, why.lowest)}. " \
               f"Write `new_box: yes` there."
    return f"{says} The lowest box that would do is {place(job, why.lowest)}: write `may_hold: faceless` there if it has room and " \
           f"its reset can be reached."
