"""The rules about what a room has to have: receptacles (210.52(D) to (H)), one for each bay of a garage, lights (210.70)."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ....job.records import Point
from ...say import both
from .house import House, height_ft, means
from .rule import Beyond, Broken, Lacks

# 210.70(A), from memory: where a light hangs on a wall switch; in rooms to live in a switched receptacle will do.
LIT = ("kitchen", "countertop", "bathroom", "hall", "garage")
LIVED_IN = ("dining", "breakfast", "family", "living", "parlor", "library", "den", "bedroom", "sunroom", "recreation")
_OWN = ("refrigerator", "freezer", "opener", "sump", "washer", "dryer", "motor")    # equipment that has its own receptacle
_LIGHTS = re.compile(r"\b(lights?|lighting|luz|luces)\b", re.IGNORECASE)
_FOR_VEHICLES = 7.0  # ft: a door this wide in a garage is for vehicles (common practice, no source), and asks for no light (from memory)
_HIGHEST = 5.5      # ft: a receptacle of a vehicle bay, 210.52(G)(1), from memory


def by_room(house: House) -> dict[str, list[Point]]:
    rooms: dict[str, list[Point]] = {}
    for point in house.job.points:
        rooms.setdefault(point.room, []).append(point)
    return rooms


def rooms_have(house: House) -> Iterator[Broken | Lacks]:
    """Receptacles that a room has to have: within 3 ft of a bath's basin, in a laundry, a garage, a hall of 10 ft or more, outdoors front and back."""
    rooms = by_room(house)
    for points in rooms.values():
        places = {house.place(point) for point in points}
        here = [point for point in points if point.kind.has_face]
        if "bathroom" in places:
            feet = [point.feet_to_sink for point in here if point.feet_to_sink is not None]
            if here and not feet:
                yield Lacks("feet_to_sink", tuple(point.id for point in here))
            elif not feet or min(feet) > 3:
                yield Broken(tuple(point.id for point in here or points[:1]), "no receptacle within 3 ft of the basin of this bath", "Look at the room again.")
        for place, says in (("laundry", "this laundry area"), ("garage", "this garage")):
            if places == {place} and not here:
                yield Broken((points[0].id,), f"no receptacle in {says}", "Look at the room again.")
    outdoor = [point for point in house.receptacles if house.place(point) == "outdoor"]
    if len(outdoor) == 1:
        yield Broken((outdoor[0].id,), "the only receptacle outdoors on this map; a dwelling has one in front and one at the back", "Look whether the other is missing.")
    for plan in house.job.rooms:
        width = max(x for x, _ in plan.corners) - min(x for x, _ in plan.corners)
        depth = max(y for _, y in plan.corners) - min(y for _, y in plan.corners)
        in_hall = [point for point in rooms.get(plan.room, ()) if house.place(point) == "hall"]
        if max(width, depth) >= 10 and in_hall and not any(point.kind.has_face for point in in_hall):
            yield Broken((in_hall[0].id,), "a hall of 10 ft or more without a receptacle", "Look at the room again.", where=plan.where)


def garage_bays(house: House) -> Iterator[Broken | Lacks | Beyond]:
    """One receptacle for each vehicle bay, at most 5 1/2 ft up, beside those of equipment."""
    bays = {plan.room: plan.bays for plan in house.job.rooms}
    for room, points in by_room(house).items():
        here = [point for point in points if point.kind.has_face and house.place(point) == "garage" and house.work(point.id) != "existing"]
        count, ids = bays.get(room), tuple(point.id for point in here)
        fit = [point.id for point in here if (height_ft(point) or 0) <= _HIGHEST and (point.drawn_at is None or point.drawn_at.wall)
               and not any(means(point.use, use) for use in _OWN)]
        if here and count is None:
            yield Lacks("bays", ids)
        elif here and len(fit) < (count or 0):
            yield Broken(ids, f"{count} vehicle bay{'s' if count != 1 else ''}, and {len(fit)} receptacle{'s' if len(fit) != 1 else ''} for vehicles"
                         f"{f' ({both(fit)})' if fit else ''}: equipment has its own, and none counts over 5 1/2 ft up", "Put one in for each bay.")
        elif fit and (count or 0) > 1:
            yield Beyond("in which bay each one is, the map does not say", tuple(fit))


def lights(house: House) -> Iterator[Broken | Beyond]:
    """A light on a wall switch where one is asked for; outdoors the map cannot say which door each is for."""
    dark_circuits = [circuit for circuit in house.job.circuits if _LIGHTS.search(circuit.serves)
                     and not any(point.kind.by_name or _LIGHTS.search(point.use or "") for point in house.outlets_on(circuit))]
    asks = [point for point in house.job.points if house.place(point) in (*LIT, *LIVED_IN, "outdoor")]
    if asks and not any(point.kind.by_name for point in house.job.points):
        said = both(f"circuit {circuit.number} says `{circuit.serves}`" for circuit in dark_circuits)
        yield Beyond(f"no light is on the map{f', though {said}' if said else ''}", tuple(point.id for point in asks))
        return
    for circuit in dark_circuits:
        yield Beyond(f"circuit {circuit.number} says `{circuit.serves}`, and no light on it is on the map", (circuit.breaker,))
    dark = []
    for points in by_room(house).values():
        places = {house.place(point) for point in points}
        lit = any(point.switched_by and (point.kind.by_name or point.kind.has_face and not places & set(LIT)) for point in points)
        dark += [points[0].id] if places & {*LIT, *LIVED_IN} and not lit else []
    if dark:
        rooms = both(dict.fromkeys(house.job.point[id].room for id in dark))
        yield Broken(tuple(dark), f"no light on a wall switch is on the map for {rooms}", "Look whether one is there.")
    outside = [point for point in asks if house.place(point) == "outdoor"]
    if outside:
        seen = both(f"{point.id} ({point.at})" for point in outside if point.kind.by_name) or "none"
        doors = both(_doors_out(house))
        drawn = f"drawn are doors to no room of the map, {doors}, and rooms that are not drawn may have more" if doors else "no door outdoors is drawn"
        yield Beyond(f"{drawn}; look whether each has a light: on the map is {seen}", tuple(point.id for point in outside))


def _doors_out(house: House) -> list[str]:
    """`Garage to side yard`: the doors that lead to no room with something indoors, those for vehicles apart."""
    indoors = {plan.room.casefold() for plan in house.job.rooms} | {point.room.casefold() for point in house.job.points if house.place(point) != "outdoor"}
    return [f"{plan.room} to {door.leads_to}" for plan in house.job.rooms for door in plan.doors
            if door.leads_to and door.leads_to.casefold() not in indoors and (plan.bays is None or door.end - door.start < _FOR_VEHICLES)]
