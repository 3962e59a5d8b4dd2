"""Takes the desk; gives the list of what a device turns off, nested, and of what it was seen not to turn off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..desk import Desk
from ..desk.once import once
from ..desk.words import Words
from .places import at_of, is_vital, place


@dataclass(frozen=True, slots=True)
class Item:
    """One outlet, or a device with outlets of its own behind it."""

    id: str
    place: str
    vital: bool                  # power must not stay off here
    itself: bool                 # the device's own slots
    button: bool                 # a device: there is something to press
    children: tuple[Item, ...] = ()


@dataclass(frozen=True, slots=True)
class TurnsOff:
    device: str
    items: tuple[Item, ...]
    seen: str                    # "Seen to go off with K1 on 12 May 2026."
    not_seen: tuple[Item, ...]   # on the map behind it, seen by nobody
    not_on: tuple[tuple[str, str], ...]   # room, things seen live while it was open; of the rooms concerned
    rooms: tuple[tuple[str, str], ...]    # room, things of `items`, in fewer words
    vital: str                            # of these, what must be seen to be back on


@once
def turns_off(desk: Desk, device: str) -> TurnsOff:
    """The list of one device, the things that must not stay off first."""
    seen = desk.claims.turns_off(device)
    rooms = {desk.point(id).room for id in seen}
    not_on = desk.claims.not_on(device, (id for id in desk.tree.outlets if desk.point(id).room in rooms))
    return TurnsOff(device, _nest(desk, device, set(seen)), _seen(desk, device), _flat(desk, desk.claims.may_turn_off(device)),
                    by_room(desk, not_on), by_room(desk, seen), in_a_row(desk.words, [_thing(desk, id) for id in seen if is_vital(desk, id)]))


def by_room(desk: Desk, ids: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Room by room what outlets are used for, else where they are."""
    rooms: dict[str, list[str]] = {}
    for id in ids:
        rooms.setdefault(desk.point(id).room, []).append(_thing(desk, id))
    return tuple((room, in_a_row(desk.words, things)) for room, things in rooms.items())


def _thing(desk: Desk, id: str) -> str:
    return desk.point(id).use or at_of(desk, id)


def in_a_row(words: Words, things: list[str]) -> str:
    """Each thing once, one after the other; where one has a comma in it, a clearer mark stands between them."""
    once = list(dict.fromkeys(things))
    return words.parts(once) if any("," in thing for thing in once) else words.join(once)


def _seen(desk: Desk, device: str) -> str:
    """When they were seen to go off: the last day; after visits the last before each and the last of all."""
    days = [day for id in desk.claims.turns_off(device) if (day := desk.claims.day_shown(id, device))]
    if not days:
        return desk.words.text("turns_off.nothing")
    visits = [visit.date for visit in desk.job.visits]
    last = {sum(day >= visit for visit in visits): day for day in sorted(days)}
    return desk.words.text("turns_off.seen", id=device, day=desk.words.join([desk.words.day(day) for day in last.values()]))


def _item(desk: Desk, id: str, device: str, children: tuple[Item, ...] = ()) -> Item:
    vital = is_vital(desk, id) or any(child.vital for child in children)
    return Item(id, place(desk, id), vital, id == device, desk.tree.kind(id).opens, children)


def _flat(desk: Desk, ids: tuple[str, ...]) -> tuple[Item, ...]:
    return tuple(_item(desk, id, "") for id in ids)


def _nest(desk: Desk, device: str, seen: set[str]) -> tuple[Item, ...]:
    seen = seen & set(desk.tree.goes_dead(device))
    inner = desk.claims.inner(device)
    behind = {id for device_in in inner for id in desk.tree.goes_dead(device_in)} | set(inner)
    order = {id: index for index, id in enumerate(desk.tree.goes_dead(device))}     # of the feed
    items = [_item(desk, id, device) for id in order if id in seen and id not in behind]
    for device_in in inner:
        children = tuple(item for item in _nest(desk, device_in, seen) if item.id != device_in)
        if desk.tree.is_outlet(device_in) and device_in not in seen:
            items += children  # its own slots were not seen to go off: it heads nothing here
        elif children or device_in in seen:
            items.append(_item(desk, device_in, device, children))
    return tuple(sorted(items, key=lambda item: (not item.vital, order[item.id])))


def flatten(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Every item with its children, in the order shown."""
    return tuple(piece for item in items for piece in (item, *flatten(item.children)))


def rooms_off(desk: Desk, device: str) -> str:
    """The rooms in which a device was shown to turn something off."""
    rooms = dict.fromkeys(desk.point(id).room for id in desk.claims.turns_off(device))
    return desk.words.join(list(rooms)) or desk.words.text("turns_off.nothing")
