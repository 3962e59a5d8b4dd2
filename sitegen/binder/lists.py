"""Takes the desk; gives the list of what a device turns off, nested, and of what it was seen not to turn off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from .answer import is_vital, place
from .desk import Desk
from .words import Words


@dataclass(frozen=True, slots=True)
class Item:
    """One outlet, or a device with outlets of its own behind it."""

    id: str
    place: str
    vital: bool                  # power must not stay off here
    itself: bool                 # the device's own slots
    button: bool                 # a device: there is something to press
    children: tuple["Item", ...] = ()


@dataclass(frozen=True, slots=True)
class TurnsOff:
    device: str
    items: tuple[Item, ...]
    days: tuple[date, ...]       # the days on which they were seen to go off, first to last
    not_seen: tuple[Item, ...]   # on the map behind it, seen by nobody
    not_on: tuple[Item, ...]     # seen live while it was open; of the rooms concerned


def turns_off(desk: Desk, device: str) -> TurnsOff:
    """The list of one device, the things that must not stay off first."""
    seen = desk.claims.turns_off(device)
    days = sorted({day for id in seen if (day := desk.claims.day_shown(id, device))})
    rooms = {desk.point(id).room for id in seen}
    not_on = [id for id in desk.claims.not_on(device) if desk.point(id).room in rooms]
    return TurnsOff(device, _nest(desk, device, set(seen)), tuple(days),
                    _flat(desk, desk.claims.may_turn_off(device)), _flat(desk, tuple(not_on)))


def _item(desk: Desk, id: str, device: str, children: tuple[Item, ...] = ()) -> Item:
    vital = is_vital(desk, id) or any(child.vital for child in children)
    return Item(id, place(desk, id), vital, id == device, desk.tree.kind(id).opens, children)


def _flat(desk: Desk, ids: tuple[str, ...]) -> tuple[Item, ...]:
    return tuple(_item(desk, id, "") for id in ids)


def _nest(desk: Desk, device: str, seen: set[str]) -> tuple[Item, ...]:
    seen = seen & set(desk.tree.goes_dead(device))
    inner = desk.claims.inner(device)
    behind = {id for device_in in inner for id in desk.tree.goes_dead(device_in)} | set(inner)
    items = [_item(desk, id, device) for id in desk.tree.order if id in seen and id not in behind]
    for device_in in inner:
        children = tuple(item for item in _nest(desk, device_in, seen) if item.id != device_in)
        if desk.tree.is_outlet(device_in) and device_in not in seen:
            items += children  # its own slots were not seen to go off: it heads nothing here
        elif children or device_in in seen:
            items.append(_item(desk, device_in, device, children))
    order = {id: index for index, id in enumerate(desk.tree.order)}
    return tuple(sorted(items, key=lambda item: (not item.vital, order[item.id])))


def flatten(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Every item with its children, in the order shown."""
    return tuple(piece for item in items for piece in (item, *flatten(item.children)))


def rooms_off(desk: Desk, device: str) -> str:
    """The rooms in which a device was shown to turn something off."""
    rooms = dict.fromkeys(desk.point(id).room for id in desk.claims.turns_off(device))
    return desk.words.join(list(rooms)) or desk.words.text("turns_off.nothing")


def serves(desk: Desk, device: str) -> tuple[str, ...]:
    """What a device turns off in a few words, from the most words to the fewest; only what was shown.

    A room never stands without a number: "Kitchen" alone would say that all of it is meant.
    """
    rooms: dict[str, list[str]] = {}
    for id in desk.claims.turns_off(device):
        rooms.setdefault(desk.point(id).room, []).append(_thing(desk, id, device))
    if not rooms:
        return (desk.words.text("label.nothing"),)
    mark, kinds = desk.words.get("part_mark"), [desk.point(id).kind for id in desk.claims.turns_off(device)]
    of = "" if all(kind.has_face for kind in kinds) else "_things"     # lights and fans are no outlets
    most = mark.join(f"{room}: {_named(desk.words, things, of)}" for room, things in rooms.items())

    def counted(room: str, count: int) -> str:
        return desk.words.text("label.one" if count == 1 and not of else f"label.count{of}", room=room, count=count)

    each = mark.join(counted(room, len(things)) for room, things in rooms.items())
    count = sum(map(len, rooms.values()))
    bare = desk.words.text("label.all_one" if count == 1 and not of else f"label.all{of}", count=count)
    return tuple(dict.fromkeys((most, each, counted(desk.words.join(list(rooms)), count), bare)))


def _thing(desk: Desk, id: str, device: str) -> str:
    """An outlet in a word or two, or "" where that takes a sentence with a comma: it is only counted then."""
    point = desk.point(id)
    return point.use or (desk.words.text("label.itself") if id == device else "" if "," in point.at else point.at)


def _named(words: Words, things: list[str], of: str) -> str:
    named = list(dict.fromkeys(filter(None, things)))
    more = things.count("")
    if more:
        name = ("more" if named else "all") + (of or ("_one" if more == 1 else ""))
        named.append(words.text(f"label.{name}", count=more))
    return words.join(named)


def walking_order(desk: Desk) -> tuple[str, ...]:
    """Every device, room by room in the order of the map, the farthest of a series before the one that feeds it."""
    tree = desk.tree
    rooms: dict[str, int] = {}
    for id in tree.order:
        rooms.setdefault(desk.point(id).room, len(rooms))
    panel = len(rooms)  # the breakers come last: each stands before all that was walked already
    room = {id: panel if id in desk.job.breaker else rooms[desk.point(id).room] for id in tree.devices}
    waiting, walked = list(tree.devices), []
    here = 0
    while waiting:
        free = [id for id in waiting if not any(desk.claims.outer(other) == id for other in waiting)]
        same = [id for id in free if room[id] == here]
        next_one = same[0] if same else min(free, key=lambda id: room[id])
        here = room[next_one]
        walked.append(next_one)
        waiting.remove(next_one)
    return tuple(walked)


