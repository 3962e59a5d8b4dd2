"""Takes the desk and an id; gives where it is, how it is named there, and what it is used for."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from ...job.kinds import Kind
from ...protection.rounds.uses import SPARK, used_as
from ..desk import Desk, room_and_spot
from ..desk.once import once
from ..desk.words import Name, Tag
from ..panel import place_in_words


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a device is and what it looks like."""

    id: str
    room: str
    at: str
    looks: str
    picture: str             # outlet | plate | breaker
    more: tuple[str, ...]    # height, what stands in front
    test: bool               # it has a TEST button: a standard breaker has none
    folder: str              # of its page


def manner(kind: Kind) -> str:
    """How the reader meets a device: outlet | plate | breaker."""
    return "breaker" if kind.is_breaker else "outlet" if kind.has_face else "plate"


def page_folder(desk: Desk, id: str) -> str:
    """The folder of the page of an outlet, device, breaker or panel: names of 8 letters or fewer are kept for what labels lead to."""
    labelled = id in desk.job.point or id in desk.job.breaker and desk.tree.kind(id).opens
    return id if labelled else f"breaker-panels/{id}"


@once
def spot(desk: Desk, id: str) -> Spot:
    """Where a breaker or device is."""
    job = desk.job
    if id in job.breaker:
        breaker = job.breaker[id]
        looks = desk.words.text("answer.looks.breaker" if breaker.kind.opens else "answer.looks.plain_breaker")
        room, at = room_and_spot(desk.panel_of(id))
        column = place_in_words(desk, id)
        says = desk.words.text("answer.breaker_column" if column else "answer.breaker_spot", space=breaker.space, column=column)
        return Spot(id, room, desk.words.text("answer.breaker_spot_at", at=at, spot=says) if at else says, looks, "breaker", (),
                    breaker.kind.opens, page_folder(desk, id))
    point = job.point[id]
    how = manner(point.kind)
    more = tuple(text for text in (point.height, point.behind) if text)
    return Spot(id, point.room, at_of(desk, id), point.looks or desk.words.text(f"answer.looks.{how}"), how, more, True, id)


def at_of(desk: Desk, id: str) -> str:
    """The exact spot, with the half of a split outlet."""
    point = desk.point(id)
    if not point.half:
        return point.at
    return desk.words.text("answer.half_at", at=point.at, half=desk.words.get(f"answer.half.{point.half}"))


def spots_of(desk: Desk, ids: Iterable[str], room: str) -> str:
    """Where these points are; the room only where it is not this one."""
    points = [desk.point(id) for id in ids]
    return desk.words.join([one.at if one.room == room else f"{one.room}, {one.at}" for one in points])


def space(desk: Desk, breaker: str) -> str:
    """The number of a breaker, with the room of its panel where there are several."""
    number = desk.job.breaker[breaker].space
    return number if len(desk.job.panels) == 1 else f"{number} ({room_and_spot(desk.panel_of(breaker))[0]})"


@once
def place(desk: Desk, id: str) -> str:
    """A point's place as a value: "Kitchen · left of the sink · toaster"."""
    point = desk.point(id)
    return desk.words.parts((point.room, at_of(desk, id), point.use))


def main_switch(desk: Desk) -> str:
    """What turns the whole house off, where the record says where that is; and what else brings power in."""
    words, panels = desk.words, desk.job.panels
    names = []
    for panel in panels:
        if panel.fed_from is None and panel.main:
            names.append(words.text("call.main_at", at=panel.main.at) if panel.main.at else words.text("call.main_here", at=panel.at))
    sources = [words.text(f"answer.sources.{source}") for panel in panels for source in panel.also_supplied_by]
    return words.join(list(dict.fromkeys((*(names or [words.text("call.main")]), *sources))))


def tag(desk: Desk, id: str) -> Tag:
    """An id as it looks on a page: filled where there is something to press, outlined as the name of an outlet."""
    return Tag(id) if id in desk.job.breaker or desk.tree.kind(id).opens else Name(id)


def may_be_tried(desk: Desk, id: str) -> bool:
    """Nobody is sent to an outlet that rain may have got into, nor to a gas knob."""
    point = desk.point(id)
    return not (point.kind.has_face and point.place == "outdoor" or used_as(point, SPARK))


def takes_a_charger(desk: Desk, outlet: str) -> bool:
    """False at 240 V, at a light or hard-wired thing, behind something, and where a freezer is plugged in: there one looks."""
    point = desk.point(outlet)
    return point.kind.has_face and point.voltage <= 125 and not point.behind and not is_vital(desk, outlet)


def rain_gets_in(desk: Desk, id: str) -> bool:
    """True where this outlet, or one behind this breaker or device, stands outdoors and is no light."""
    cuts = id in desk.job.breaker or desk.tree.kind(id).opens
    outlets = desk.tree.outlets_of(desk.tree.goes_dead(id)) if cuts else (id,)
    return any(desk.point(one).place == "outdoor" and not desk.point(one).kind.by_name for one in outlets)


def is_vital(desk: Desk, id: str) -> bool:
    """True for a freezer, a pump and the like: power must not stay off there."""
    return used_for(desk, id, "vital")


def used_for(desk: Desk, id: str, names: str) -> bool:
    """True where one of these words stands in what it is used for, whole or as more than one of it."""
    use = (desk.point(id).use or "").casefold()
    return any(re.search(rf"\b{re.escape(word.casefold())}(e?s)?\b", use) for word in desk.words.get(names))
