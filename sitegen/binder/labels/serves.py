"""Takes the desk; gives what a device turns off in as few words as a label has room for."""

from __future__ import annotations

from ..desk import Desk
from ..desk.words import Words


def serves(desk: Desk, device: str, apart: bool = False) -> tuple[str, ...]:
    """What a device turns off in a few words, from the most words to the fewest; only what was shown.

    `apart`: without what stands behind another button, which has a line of its own; but never without all.
    A room never stands without a number: "Kitchen" alone would say that all of it is meant.
    """
    rooms: dict[str, list[str]] = {}
    ids = desk.claims.turns_off(device)
    behind = {id for inner in desk.claims.inner(device) for id in desk.claims.turns_off(inner)} if apart else set()
    ids = tuple(id for id in ids if id not in behind) or ids
    for id in ids:
        rooms.setdefault(desk.point(id).room, []).append(_thing(desk, id, device))
    if not rooms:
        return (desk.words.text("label.nothing"),)
    mark, kinds = desk.words.get("part_mark"), [desk.point(id).kind for id in ids]
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
