"""The rules about protection against shock (210.8, 422.5, 424.44): where a Class A device has to stand, derived from place, distance, use and edition.

`asks` is the face for whoever wants to know what needs protection, whatever stands there now.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ....job.records import Point
from ...say import both
from .house import COUNTER, KITCHEN, House, height_ft, means
from .rule import Broken, Elsewhere, Lacks

Asks = Callable[[House, Point], bool | str]     # True, False, or the key that it would have to know

NEAR = 6.0          # ft from a sink, tub or shower stall: 210.8(A), all editions here, as reported
HIGHEST = 6 + 7 / 12    # ft: a reset that can be reached without climbing (404.8(A), as for switches; from memory)
_SINK_ROOMS = (*KITCHEN, "pantry", "dining", "bar", "laundry", "bathroom")


def _volts(house: House, point: Point) -> bool:
    """To 2017 125 V, 15 and 20 A; from 2020 to 250 V, of any size. As reported."""
    if house.edition >= 2020:
        return True
    return point.voltage == 120 and (house.amps(point) or 0) <= 20


def wet_place(house: House, point: Point) -> bool | str:
    place = house.place(point)
    if not point.kind.has_face or not _volts(house, point):
        return False
    if place is None:
        return "place"
    if place == "basement" and house.edition < 2020:
        return "finished" if point.finished is None else not point.finished
    return place in ("bathroom", "garage", "accessory building", "outdoor", "crawl space", "basement", "boathouse") or house.book.adds("gfci-wet-places", place)


def kitchen(house: House, point: Point) -> bool | str:
    """To 2020 what serves the countertop; in 2023 every receptacle of a kitchen, and of a bar or such."""
    places = (*KITCHEN, "bar") if house.edition >= 2023 else (COUNTER,)
    return point.kind.has_face and _volts(house, point) and house.place(point) in places


def laundry(house: House, point: Point) -> bool | str:
    return point.kind.has_face and _volts(house, point) and house.place(point) == "laundry"


def appliance(house: House, point: Point) -> bool | str:
    """Plugged in or hard-wired alike."""
    if not point.kind.is_outlet or point.kind.by_name or means(point.use, "gas") or (house.amps(point) or 0) > 60:
        return False
    if point.use is None:
        return "use" if not point.kind.has_face else False
    uses = ["dishwasher"] + ["sump"] * (house.edition >= 2020) + ["range", "dryer", "microwave"] * (house.edition >= 2023)
    return any(means(point.use, use) for use in uses) and not means(point.use, "hood")


def near_water(house: House, point: Point) -> bool | str:
    """By the shortest way of a cord; a cabinet door was in the way of it to 2017, and is no more from 2020."""
    if not point.kind.has_face or not _volts(house, point):
        return False
    behind_door = means(point.use, "disposal") or house.place(point) == "cabinet"
    if point.feet_to_sink is not None and point.feet_to_sink <= NEAR and (house.edition >= 2020 or not behind_door):
        return True
    if point.feet_to_tub is not None and point.feet_to_tub <= NEAR:
        return True
    return "feet_to_sink" if point.feet_to_sink is None and house.place(point) in _SINK_ROOMS else False


def heated_floor(house: House, point: Point) -> bool | str:
    """Of any voltage. A thermostat that holds the device is a device of its own on the map."""
    return means(point.use, "floor heat") and not point.kind.by_name and house.place(point) in ("bathroom", *KITCHEN)


ASKS: dict[str, Asks] = {"gfci-wet-places": wet_place, "gfci-kitchen": kitchen, "gfci-laundry": laundry, "gfci-appliance": appliance,
                         "gfci-near-water": near_water, "gfci-floor-heat": heated_floor}
_SAYS = {
    "gfci-wet-places": "no Class A GFCI stands before it, and its place asks for one",
    "gfci-kitchen": "no Class A GFCI stands before it, and a kitchen receptacle asks for one",
    "gfci-laundry": "no Class A GFCI stands before it, and a laundry area asks for one",
    "gfci-appliance": "no Class A GFCI stands before it, and this appliance asks for one, hard-wired or not",
    "gfci-near-water": "no Class A GFCI stands before it, within 6 ft of a sink, tub or shower",
    "gfci-floor-heat": "no Class A GFCI stands before it, and a heated floor here asks for one",
}
# Numbers of the list of 210.8(A), as reported and (most of 2023) from memory; they moved in 2023.
_ITEMS = {"bathroom": 1, "garage": 2, "accessory building": 2, "outdoor": 3, "crawl space": 4, "basement": 5, "countertop": 6, "kitchen": 6, "bar": 7}
_ITEMS_LATER = {"boathouse": (8, 9), "sink": (7, 8), "tub": (9, 10), "laundry": (10, 11)}     # to 2020, from 2023
_DO = "Feed it from the load terminals of one, or put it behind a GFCI breaker"


def first_asking(house: House, point: Point) -> tuple[str, bool | str]:
    """The rule that asks for protection here and is not dropped; else ("", False), or the first key that one lacks."""
    lacks: tuple[str, bool | str] = "", False
    for name, asks in ASKS.items():
        if house.book.drops(name, house.place(point)):
            continue
        found = asks(house, point)
        if found is True:
            return name, True
        lacks = (name, found) if found and not lacks[0] else lacks
    return lacks


def asked(house: House) -> dict[str, str]:
    """Id -> rule, of every point that has to be protected against shock as it is built now."""
    return {point.id: name for point in house.points for name, asks in [first_asking(house, point)]
            if asks is True and house.work(point.id) not in ("existing", "replaced")}


def all_asking(house: House, point: Point) -> tuple[str, ...]:
    """Every rule that asks for protection here and is not dropped."""
    return tuple(name for name, asks in ASKS.items() if asks(house, point) is True and not house.book.drops(name, house.place(point)))


def unguarded(name: str) -> Callable[[House], Iterator[Broken | Lacks | Elsewhere]]:
    """The condition of one of these rules."""
    def judge(house: House) -> Iterator[Broken | Lacks | Elsewhere]:
        found: list[Point] = []
        lacks: dict[str, list[str]] = {}
        for point in house.points:
            rule, asks = first_asking(house, point)
            if house.guarded(point) or house.work(point.id) == "replaced":
                continue
            if rule != name:
                yield from [Elsewhere(rule, (point.id,))] if asks is True and name in all_asking(house, point) else []
            elif asks is True:
                found.append(point)
            elif asks:
                lacks.setdefault(str(asks), []).append(point.id)
        yield from _broken(house, [point for point in found if not _doubt(point, name)], name)
        for point in found:
            if doubt := _doubt(point, name):
                yield Broken((point.id,), f"{_SAYS[name]}; {doubt}", "Ask the authority having jurisdiction.", level="know",
                             section=_section(house, point, name))
        yield from (Lacks(key, tuple(ids)) for key, ids in lacks.items())
    return judge


def _doubt(point: Point, name: str) -> str:
    """Why it may be right as it is; "" where nothing says so."""
    if name == "gfci-near-water" and point.voltage != 120:
        return f"it is for {point.voltage:g} V, and officials measure differently"
    return "the book has exceptions for snow-melting and for alarm panels" if name == "gfci-wet-places" and means(point.use, "excepted") else ""


def _broken(house: House, points: list[Point], name: str) -> Iterator[Broken]:
    sections = {point.id: _section(house, point, name) for point in points}
    for section in dict.fromkeys(sections.values()):
        for ids in house.by_room(point for point in points if sections[point.id] == section):
            it = _SAYS[name] if len(ids) == 1 else _SAYS[name].replace("before it", "before them").replace("its place asks", "their place asks")
            yield Broken(ids, it, f"{_DO if len(ids) == 1 else _DO.replace('Feed it', 'Feed them').replace('put it', 'put them')}; or correct the map." + house.shared_neutral(ids),
                         section=section)


def _section(house: House, point: Point, name: str) -> str | None:
    """Every item of the lists that asks here; None where the rule's own section says it."""
    items = [_item(house, point, one) for one in all_asking(house, point)]
    return both(dict.fromkeys(filter(None, items))) if name != "gfci-appliance" or len(items) > 1 else None


def _item(house: House, point: Point, name: str) -> str | None:
    what = house.place(point) or ""
    if name == "gfci-near-water":
        what = "sink" if point.feet_to_sink is not None and point.feet_to_sink <= NEAR else "tub"
    if what in _ITEMS and name in ("gfci-wet-places", "gfci-kitchen"):
        return f"210.8(A)({_ITEMS[what]})"
    if name == "gfci-appliance":
        return "210.8(D) with 422.5(A)" if house.edition == 2020 else "210.8(D)"
    if what in _ITEMS_LATER:
        return f"210.8(A)({_ITEMS_LATER[what][house.edition >= 2023]})"
    return None


def outdoors(house: House, point: Point) -> bool:
    """Hard-wired there, and no light: outdoors; from 2023 in garages with a floor at or below grade, accessory buildings and boathouses too (from memory)."""
    more = ("garage", "accessory building", "boathouse") if house.edition >= 2023 else ()
    return house.place(point) in ("outdoor", *more) and point.kind.is_outlet and not point.kind.has_face and not point.kind.by_name


def outdoor_appliance(house: House) -> Iterator[Broken | Lacks]:
    """To 50 A (60 A in 2026), as reported; with an exception for listed HVAC that ends."""
    most = 60 if house.edition >= 2026 else 50
    found = [point for point in house.points if outdoors(house, point) and not house.guarded(point) and (house.amps(point) or 0) <= most]
    for ids in house.by_room(found):
        where = house.place_of(ids[0])
        grade = " where the floor is at or below grade" if where == "garage" else ""
        hvac = "; for listed heating and cooling equipment an exception held for a time"
        yield Broken(ids, f"hard-wired {'outdoors' if where == 'outdoor' else f'in a {where}' if where != 'accessory building' else f'in an {where}'}, and no "
                     f"Class A GFCI stands before {'it' if len(ids) == 1 else 'them'}{hvac}", f"Put it behind one{grade}, or ask the authority having "
                     f"jurisdiction.{house.shared_neutral(ids)}")


def in_crawl_space(house: House, point: Point) -> bool:
    return house.place(point) == "crawl space" and point.kind.by_name


def crawl_light(house: House) -> Iterator[Broken | Lacks]:
    """To 120 V."""
    for ids in house.by_room(point for point in house.points if in_crawl_space(house, point) and not house.guarded(point)):
        yield Broken(ids, "a light in a crawl space, and no GFCI stands before it", "Put it behind one." + house.shared_neutral(ids))


def has_buttons(house: House, point: Point) -> bool:
    return point.kind.stops_shock or point.kind.stops_arcs


def out_of_reach(house: House) -> Iterator[Broken | Lacks]:
    """A reset that one has to climb, crawl or move something for."""
    for point in house.points:
        if not has_buttons(house, point):
            continue
        height = height_ft(point)
        why = f"stands behind {point.behind}" if point.behind else f"is {height:g} ft up, over 6 ft 7 in (from memory)" if height and height > HIGHEST \
            else f"is in a {house.place(point)}" if house.place(point) in ("attic", "crawl space") else ""
        if why:
            yield Broken((point.id,), f"its buttons are not readily accessible: it {why}",
                         "Put the device where it can be reached without tools, ladder or moving anything.",
                         section=both(["210.8"] * point.kind.stops_shock + ["210.12"] * point.kind.stops_arcs))
        elif height is None and not point.behind and not point.kind.is_breaker:
            yield Lacks("height", (point.id,))
