"""Takes the claims and the words; gives what the QR code of a label says where no page can be opened: the answer itself,
from the most words to the fewest.

Each sentence must stand alone, in any of the offers: safety and whom to call are the last to be shortened.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..address import page_url, start_url
from ..answer import at_of, spot
from ..claims import Claims
from ..lists import serves, walking_order
from ..words import Words

Codes = tuple[str | None, tuple[str, ...]]      # what a code holds, and the same in fewer words


@dataclass(frozen=True)
class Maker:
    """What the composing functions work with."""

    claims: Claims
    words: Words
    draft: str | None
    firm: str
    phone: str
    emergency: str
    second: tuple[Claims, Words] | None = None    # the same house in the second language of the labels

    @property
    def size(self) -> tuple[float, float]:
        stock = self.claims.report.job.file.labels
        return stock.width_mm, stock.height_mm

    @property
    def qr(self) -> str:
        """address | text | none"""
        return self.claims.report.job.file.labels.qr

    @property
    def call(self) -> str:
        """Whom to call, in as few letters as will do."""
        return self.phone or self.firm

    @property
    def call_in_full(self) -> str:
        return self.words.join([text for text in (self.firm, self.phone) if text])


def device_code(make: Maker, device: str) -> Codes:
    """For who stands before a device: where it is, what to press, when to stop, what it turns off, whom to call."""
    if make.qr != "text":
        return _address(make, page_url(make.claims, device))
    claims, words = make.claims, make.words
    here, breaker = spot(claims, words, device), claims.report.job.breaker.get(device)
    short = words.text("label.code.here_short", id=device, room=here.room)
    if breaker:
        short = words.text("label.code.here_short", id=device,
                           room=words.text("label.breaker_room", room=here.room, space=breaker.space))
    return _offers(make, {
        "where": (words.text("label.code.here", id=device, room=here.room, at=_bare(here.at)), short, f"{device}."),
        **_stop(make),
        "act": tuple(words.text(f"label.code.{name}.{_manner(claims, device)}", space=breaker.space if breaker else "")
                     for name in ("device", "device_short")),
        "again": _again(make, device), "outer": (_outer(make, device), ""),
        "sources": (_sources(make, device), ""), "fire": _fire(make), "seen": (*_serves(make, device), ""),
    }, ("again", "where", "seen", "outer", "seen", "stop", "again", "fire", "sources", "act", "seen", "seen", "where", "stop"))


def outlet_code(make: Maker, outlet: str, first: str, act: str, how: str) -> Codes:
    """For who stands before a dead outlet; `act` and `how` as on its label ("RESET K1"; "OFF, then ON"), `first` the
    device or breaker they name."""
    if not make.claims.report.job.file.labels.outlet_qr:
        return None, ()
    if make.qr != "text":
        return _address(make, page_url(make.claims, outlet))
    claims, words = make.claims, make.words
    point = claims.point(outlet)
    if first in claims.report.job.breaker:
        place = _bare(claims.panel_of(first).at)
        room = place.partition(", ")[0]
    else:
        goal = spot(claims, words, first)
        room, place = goal.room, words.text("label.code.place", room=goal.room, at=_bare(goal.at))
    ask, long, short = words.text("label.ask"), *(words.text(f"label.code.{name}.{'panel' if how else 'button'}", how=how)
                                                  for name in ("outlet", "outlet_short"))
    switches = words.join([f"{claims.point(id).room}, {at_of(claims, words, id)}" for id in point.switched_by])
    switch = words.text("label.code.switch", places=switches) if switches else ""
    # By room and number alone: "this outlet" would be another one here.
    seen = _serves(make, first)[1:] if claims.turns_off(first) else ()
    return _offers(make, {
        "where": (words.text("label.code.here", id=outlet, room=point.room, at=_bare(at_of(claims, words, outlet))),
                  f"{outlet}."),
        "no reset": (_no_reset(make, outlet), ""),
        **_stop(make), "act": (f"{ask} {act}: {place}. {long}", f"{ask} {act}: {place}. {short}", f"{ask} {act}: {room}. {short}"),
        "doubt": _doubt(make, outlet), "again": _again(make, first), "switch": (switch, ""),
        "sources": (_sources(make, outlet), ""), "fire": _fire(make), "seen": (*seen, ""),
    }, ("again", *("seen" for _ in seen), "no reset", "where", "fire", "switch", "sources", "stop", "act", "doubt", "again",
        "act", "stop"))


def door_code(make: Maker, danger: tuple[str, ...], fewest: str, rules: tuple[str, ...], call: str) -> Codes:
    """For who stands before a panel: the emergency words of its label, then where the buttons are."""
    if make.qr != "text":
        return _address(make, start_url(make.claims))
    claims, words = make.claims, make.words
    buttons = [spot(claims, words, id) for id in walking_order(claims) if id not in claims.report.job.breaker]
    named = ["; ".join(f"{one.id} {part(one)}" for one in buttons) for part in (
        lambda one: words.text("label.code.place", room=one.room, at=_bare(one.at)), lambda one: one.room)]
    listed = [words.text("label.code.buttons", buttons=text) for text in dict.fromkeys(named)] if buttons else []
    return _offers(make, {
        "danger": (" ".join(danger), danger[0], fewest or danger[0]), "rules": (" ".join(rules), rules[0], ""),
        "call": (f"{_bare(call)}.", words.text("label.code.call", call=make.call)),
        "buttons": (*listed, ""),
    }, ("buttons",) * len(listed) + ("rules", "call", "danger", "rules", "danger"))


def _address(make: Maker, url: str | None) -> Codes:
    return (url if make.qr == "address" else None), ()


def _offers(make: Maker, pieces: dict[str, Sequence[str]], shorten: Sequence[str]) -> Codes:
    """Every piece at its longest; then, one after the other, the pieces named in `shorten` one step shorter."""
    pieces = {name: _falling(texts) for name, texts in pieces.items()}
    at = dict.fromkeys(pieces, 0)
    offers = []
    for name in ("", *shorten):
        if name:
            at[name] = min(at[name] + 1, len(pieces[name]) - 1)
        said = [f"{make.draft}." if make.draft else "", *(texts[at[name]] for name, texts in pieces.items())]
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


def _manner(claims: Claims, device: str) -> str:
    if not claims.report.tree.kind(device).is_breaker:
        return "button"
    return "breaker" if claims.breaker_tried(device) else "breaker_marked"


def _serves(make: Maker, device: str) -> tuple[str, ...]:
    """What it was seen to turn off, in fewer and fewer words; the mark between two rooms is one byte here."""
    texts = tuple(f"{_bare(text.replace(make.words.get('part_mark'), '; '))}."
                  for text in serves(make.claims, make.words, device))
    if not make.claims.turns_off(device):
        return texts
    return tuple(make.words.text("label.code.off", id=device, serves=text) for text in texts)


def _no_reset(make: Maker, outlet: str) -> str:
    """Said where no device stands before the outlet."""
    if make.claims.cuts(outlet):
        return ""
    return f"{make.words.text('answer.no_reset' if make.claims.no_reset_problem(outlet) else 'answer.no_button')}."


def _doubt(make: Maker, outlet: str) -> tuple[str, ...]:
    """Said where nobody saw the outlet go off with the device that is named; never left out."""
    claims, words = make.claims, make.words
    cuts = claims.cuts(outlet)
    if not cuts or cuts[0].shown:
        return ("",)
    stayed = claims.report.evidence.live_while_open(outlet, cuts[0].device)
    return words.text("answer.stayed_on" if stayed else "answer.untested", id=cuts[0].device), words.text("label.doubt")


def _sources(make: Maker, id: str) -> str:
    names = [make.words.get(f"answer.sources.{source}") for source in make.claims.report.tree.other_sources(id)]
    return make.words.text("answer.other_sources", sources=make.words.join(names)) if names else ""


def _stop(make: Maker) -> dict[str, Sequence[str]]:
    """Before any press; the last to be left out."""
    return {"stop": (f"{make.words.text('stop_line.ask')} {make.words.text('stop_line.do')}", make.words.text("label.code.wet"), "")}


def _fire(make: Maker) -> tuple[str, str]:
    return f"{make.words.text('stop_line.fire', number=make.emergency)}.", ""


def _again(make: Maker, id: str) -> tuple[str, ...]:
    """What to do where it opens once more: the stop rule of its kind, as on its page."""
    kind = make.claims.report.tree.kind(id)
    name = "button" if not kind.is_breaker else "breaker" if kind.stops_shock else "once"
    return tuple(make.words.text(f"label.code.{how}.{name}", id=id, call=call) for how, call in (
        ("again", make.call_in_full), ("again", make.call), ("again_short", make.call)))


def _outer(make: Maker, device: str) -> str:
    """Where to go when RESET will not click: the device before it, else the breaker, once."""
    claims, words = make.claims, make.words
    if device in claims.report.job.breaker:
        return ""
    outer = claims.outer(device)
    if outer and outer not in claims.report.job.breaker:
        there = spot(claims, words, outer)
        place = words.text("label.code.place", room=there.room, at=_bare(there.at))
        return words.text("label.code.outer", id=outer, place=place)
    breaker = claims.report.job.breaker[claims.report.tree.breaker_of(device)]
    name = "outer_breaker" if claims.breaker_tried(device) else "outer_breaker_marked"
    return words.text(f"label.code.{name}", space=breaker.space, at=_bare(claims.panel_of(breaker.id).at))
