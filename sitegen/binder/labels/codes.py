"""Takes the desk; gives what the QR code of a label says where no page can be opened: the answer itself,
from the most words to the fewest.

Each sentence must stand alone, in any of the offers: safety and whom to call are the last to be shortened.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..answer.places import at_of, spot
from ..desk import Desk, room_and_spot
from ..desk.address import page_url, start_url
from ..months import testing_order
from .serves import serves

Codes = tuple[str | None, tuple[str, ...]]      # what a code holds, and the same in fewer words


def device_code(desk: Desk, device: str) -> Codes:
    """For who stands before a device: where it is, what to press, when to stop, what it turns off, whom to call."""
    if desk.job.file.labels.qr != "text":
        return _address(desk, page_url(desk, device))
    here, breaker = spot(desk, device), desk.job.breaker.get(device)
    short = desk.words.text("label.code.here_short", id=device, room=here.room)
    if breaker:
        short = desk.words.text("label.code.here_short", id=device,
                           room=desk.words.text("label.breaker_room", room=here.room, space=breaker.space))
    return _offers(desk, {
        "where": (desk.words.text("label.code.here", id=device, room=here.room, at=_bare(here.at)), short, f"{device}."),
        **_stop(desk),
        "act": tuple(desk.words.text(f"label.code.{name}.{_manner(desk, device)}", space=breaker.space if breaker else "")
                     for name in ("device", "device_short")),
        "again": _again(desk, device), "outer": (_outer(desk, device), ""),
        "sources": (_sources(desk, device), ""), "fire": _fire(desk), "seen": (*_serves(desk, device), ""),
    }, ("again", "where", "seen", "outer", "seen", "stop", "again", "fire", "sources", "act", "seen", "seen", "where", "stop"))


def outlet_code(desk: Desk, outlet: str, first: str, act: str, how: str) -> Codes:
    """For who stands before a dead outlet; `act` and `how` as on its label ("RESET K1"; "OFF, then ON"), `first` the
    device or breaker they name."""
    if not desk.job.file.labels.outlet_qr:
        return None, ()
    if desk.job.file.labels.qr != "text":
        return _address(desk, page_url(desk, outlet))
    point = desk.point(outlet)
    if first in desk.job.breaker:
        place, room = _bare(desk.panel_of(first).at), _bare(room_and_spot(desk.panel_of(first))[0])
    else:
        goal = spot(desk, first)
        room, place = goal.room, desk.words.text("label.code.place", room=goal.room, at=_bare(goal.at))
    ask, manner = desk.words.text("label.ask"), "panel" if how else "button"
    long, short = (desk.words.text(f"label.code.{name}.{manner}", how=how) for name in ("outlet", "outlet_short"))
    switches = desk.words.join([f"{desk.point(id).room}, {at_of(desk, id)}" for id in point.switched_by])
    name = "switch_either" if desk.tree.either_way(outlet) else "switch"
    switch = desk.words.text(f"label.code.{name}", places=switches) if switches else ""
    # By room and number alone: "this outlet" would be another one here.
    seen = _serves(desk, first)[1:] if desk.claims.turns_off(first) else ()
    return _offers(desk, {
        "where": (desk.words.text("label.code.here", id=outlet, room=point.room, at=_bare(at_of(desk, outlet))),
                  f"{outlet}."),
        "no reset": (_no_reset(desk, outlet), ""),
        **_stop(desk), "act": (f"{ask} {act}: {place}. {long}", f"{ask} {act}: {place}. {short}", f"{ask} {act}: {room}. {short}"),
        "doubt": _doubt(desk, outlet), "again": _again(desk, first), "switch": (switch, ""),
        "sources": (_sources(desk, outlet), ""), "fire": _fire(desk), "seen": (*seen, ""),
    }, ("again", *("seen" for _ in seen), "no reset", "where", "fire", "switch", "sources", "stop", "act", "doubt", "again",
        "act", "stop"))


def door_code(desk: Desk, danger: tuple[str, ...], fewest: str, rules: tuple[str, ...], call: str) -> Codes:
    """For who stands before a panel: the emergency words of its label, then where the buttons are."""
    if desk.job.file.labels.qr != "text":
        return _address(desk, start_url(desk))
    buttons = [spot(desk, id) for id in testing_order(desk) if id not in desk.job.breaker]
    named = ["; ".join(f"{one.id} {part(one)}" for one in buttons) for part in (
        lambda one: desk.words.text("label.code.place", room=one.room, at=_bare(one.at)), lambda one: one.room)]
    listed = [desk.words.text("label.code.buttons", buttons=text) for text in dict.fromkeys(named)] if buttons else []
    return _offers(desk, {
        "danger": (" ".join(danger), danger[0], fewest or danger[0]), "rules": (" ".join(rules), rules[0], ""),
        "call": (f"{_bare(call)}.", desk.words.text("label.code.call", call=_call(desk))),
        "buttons": (*listed, ""),
    }, ("buttons",) * len(listed) + ("rules", "call", "danger", "rules", "danger"))


def _address(desk: Desk, url: str | None) -> Codes:
    return (url if desk.job.file.labels.qr == "address" else None), ()


def _offers(desk: Desk, pieces: dict[str, Sequence[str]], shorten: Sequence[str]) -> Codes:
    """Every piece at its longest; then, one after the other, the pieces named in `shorten` one step shorter."""
    pieces = {name: _falling(texts) for name, texts in pieces.items()}
    at = dict.fromkeys(pieces, 0)
    offers = []
    for name in ("", *shorten):
        if name:
            at[name] = min(at[name] + 1, len(pieces[name]) - 1)
        said = [f"{desk.draft_mark}." if desk.draft_mark else "", *(texts[at[name]] for name, texts in pieces.items())]
        offers.append(" ".join(text.strip() for text in said if text.strip()))
    first, *shorter = dict.fromkeys(offers)
    return first, tuple(shorter)


def _falling(texts: Sequence[str]) -> list[str]:
    """Without those that are no shorter than one before: "Den: 1 outlet" after "Den: piano"."""
    kept = [texts[0]]
    kept += [text for number, text in enumerate(texts) if number and len(text) < min(map(len, texts[:number]))]
    return kept


def _bare(text: str) -> str:
    """Without a full stop at its end: the sentence sets its own."""
    return text.rstrip(". ")


def _manner(desk: Desk, device: str) -> str:
    if not desk.tree.kind(device).is_breaker:
        return "button"
    return "breaker" if desk.claims.breaker_tried(device) else "breaker_marked"


def _serves(desk: Desk, device: str) -> tuple[str, ...]:
    """What it was seen to turn off, in fewer and fewer words; the mark between two rooms is one byte here."""
    texts = tuple(f"{_bare(text.replace(desk.words.get('part_mark'), '; '))}."
                  for text in serves(desk, device))
    if not desk.claims.turns_off(device):
        return texts
    return tuple(desk.words.text("label.code.off", id=device, serves=text) for text in texts)


def _no_reset(desk: Desk, outlet: str) -> str:
    """Said where no device stands before the outlet."""
    if desk.claims.cuts(outlet):
        return ""
    return f"{desk.words.text('answer.no_reset' if desk.claims.no_reset_problem(outlet) else 'answer.no_button')}."


def _doubt(desk: Desk, outlet: str) -> tuple[str, ...]:
    """Said where nobody saw the outlet go off with the device that is named; never left out."""
    cuts = desk.claims.cuts(outlet)
    if not cuts or cuts[0].shown:
        return ("",)
    stayed = desk.evidence.live_while_open(outlet, cuts[0].device)
    return desk.words.text("answer.stayed_on" if stayed else "answer.untested", id=cuts[0].device), desk.words.text("label.doubt")


def _sources(desk: Desk, id: str) -> str:
    names = [desk.words.get(f"answer.sources.{source}") for source in desk.tree.other_sources(id)]
    return desk.words.text("answer.other_sources", sources=desk.words.join(names)) if names else ""


def _stop(desk: Desk) -> dict[str, Sequence[str]]:
    """Before any press; the last to be left out."""
    stop = f"{desk.words.text('stop_line.ask')} {desk.words.text('stop_line.do', number=desk.emergency)}"
    return {"stop": (stop, desk.words.text("label.code.wet"), "")}


def _fire(desk: Desk) -> tuple[str, str]:
    return f"{desk.words.text('stop_line.fire', number=desk.emergency)}.", ""


def _again(desk: Desk, id: str) -> tuple[str, ...]:
    """What to do where it opens once more: the stop rule of its kind, as on its page."""
    kind = desk.tree.kind(id)
    name = "button" if not kind.is_breaker else "breaker" if kind.stops_shock else "once"
    short = _call(desk)
    return tuple(desk.words.text(f"label.code.{how}.{name}", id=id, call=call) for how, call in (
        ("again", desk.words.join([text for text in (desk.firm, desk.phone) if text])), ("again", short), ("again_short", short)))


def _call(desk: Desk) -> str:
    """Whom to call, in as few letters as will do."""
    return desk.phone or desk.firm


def _outer(desk: Desk, device: str) -> str:
    """Where to go when RESET will not click: the device before it, else the breaker, once."""
    if device in desk.job.breaker:
        return ""
    outer = desk.claims.outer(device)
    if outer and outer not in desk.job.breaker:
        there = spot(desk, outer)
        place = desk.words.text("label.code.place", room=there.room, at=_bare(there.at))
        return desk.words.text("label.code.outer", id=outer, place=place)
    breaker = desk.job.breaker[desk.tree.breaker_of(device)]
    name = "outer_breaker" if desk.claims.breaker_tried(device) else "outer_breaker_marked"
    return desk.words.text(f"label.code.{name}", space=breaker.space, at=_bare(desk.panel_of(breaker.id).at))
