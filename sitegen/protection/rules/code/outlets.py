"""The rules about single outlets: no ground (406.4(D)), replacements, box fill (314), marks (406.9, 406.12), torque (110.14), alarms."""

from __future__ import annotations

from collections.abc import Iterator
from math import isclose

from ....job.records import Fill, Point
from ...say import both
from .circuits import ARC_PLACES
from .house import House, height_ft, means
from .rule import Broken, Lacks
from .shock import first_asking

# Table 314.16(B), as reported (14 to 6 AWG) and from memory (18, 16): cu in for one conductor.
VOLUME = {"18": 1.50, "16": 1.75, "14": 2.00, "12": 2.25, "10": 2.50, "8": 3.00, "6": 5.00}
_WORDS = "“GFCI Protected” and “No Equipment Ground”"
_TR_TO = 5.5        # ft from the floor: 406.12 exceptions, as reported


def box_fill(fill: Fill, edition: int) -> float:
    """cu in, by 314.16(B): conductors 1 each, all clamps together 1 of the largest, a yoke 2 of the largest conductor on it;
    grounds to 2017 all together 1, from 2020 the first four 1 and each further one a quarter, of the largest ground.

    >>> box_fill(Fill(18.0, ((4, "12"),), ((2, "12"),), ((1, "12"),), clamps=True), 2020)
    18.0
    """
    largest = max((VOLUME[awg] for _, awg in fill.wires), default=0.0)
    total = sum(count * VOLUME[awg] for count, awg in fill.wires) + sum(2 * count * VOLUME[awg] for count, awg in fill.yokes)
    grounds = sum(count for count, _ in fill.grounds)
    if grounds:
        more = max(0, grounds - 4) / 4 if edition >= 2020 else 0.0
        total += (1 + more) * max(VOLUME[awg] for _, awg in fill.grounds)
    return total + (max([largest, *(VOLUME[awg] for _, awg in fill.grounds)]) if fill.clamps else 0.0)


def box(house: House) -> Iterator[Broken | Lacks]:
    """What is in a box against its volume, and how far it is set back."""
    for point in house.points:
        if point.fill is None:
            continue
        needs, has = box_fill(point.fill, house.edition), point.fill.cu_in
        if needs > has and not isclose(needs, has):
            yield Broken((point.id,), f"what is in its box needs {needs:g} cu in, and the box has {has:g}", "Put in a larger box or an extension.")
        back = point.fill.set_back or 0.0
        if back > (0.25 if point.fill.combustible is False else 0.0) and point.fill.combustible is not None:
            yield Broken((point.id,), f"its box stands {back:g} in behind a {'' if point.fill.combustible else 'non'}combustible surface",
                         "Put an extension ring in: no more than 1/4 in, and none where the surface can burn.")
    told = {_box_of(house, point) for point in house.points if point.fill}
    unsaid = [point.id for point in house.points if _box_of(house, point) not in told and boxed(point)
              and house.work(point.id) != "existing"]
    if unsaid:
        yield Lacks("fill", tuple(unsaid))


def boxed(point: Point) -> bool:
    """It has a box that the trade counts out: not a light's or an appliance's own."""
    return point.kind.has_face or not point.kind.is_outlet


def _box_of(house: House, point: Point) -> str:
    """The first point of its box: what hangs on another by 0 ft of cable is in the same."""
    while point.length_ft == 0 and (before := house.job.point.get(point.feed.source)):
        point = before
    return point.id


def three_slots(house: House) -> Iterator[Broken | Lacks]:
    """Three slots promise a ground."""
    bare = [point for point in house.receptacles if not point.grounded and not house.guarded(point)]
    for ids in house.by_room(point for point in bare if point.slots == 3):
        yield Broken(ids, "three slots, no ground, and no GFCI before it", f"Put it behind a GFCI and mark it {_WORDS}, run a ground, or put a two-slot receptacle in; do not "
                     f"use it until then, and put no strip on it.{house.shared_neutral(ids)}")
    unsaid = tuple(point.id for point in bare if point.slots is None)
    if unsaid:
        yield Lacks("slots", unsaid)


def no_ground_words(house: House) -> Iterator[Broken | Lacks]:
    """Where a GFCI stands in for the ground, the words on it; and no ground runs on from there."""
    printed = "ground" in house.job.file.labels.wanted
    for point in house.receptacles:
        bare = not point.grounded and house.guarded(point) and point.slots != 2
        if bare and point.marks is None:     # what is printed is not yet stuck on
            yield Lacks("marks: GFCI Protected, No Equipment Ground", (point.id,))
        elif bare:
            wanted = ["No Equipment Ground"] if point.kind.stops_shock else ["GFCI Protected", "No Equipment Ground"]
            missing = [words for words in wanted if words.casefold() not in (point.marks or ())]
            if missing:
                yield Broken((point.id,), f"no ground here, and its plate does not say {both(f'“{words}”' for words in missing)}",
                             "Stick on the strip that is printed for it, and write it into `marks`." if printed
                             else "Stick the words on, or let `labels: wanted` have `ground`.")
        source = house.job.point.get(point.feed.source)
        if point.grounded and source and not source.grounded and point.kind.has_face:
            yield Broken((point.id,), f"nothing says that it has no ground, and it is fed through {source.id}, which has none",
                         "Look where its ground comes from: none may run on from there, and a bootleg ground reads correct.")


def replaced(house: House) -> Iterator[Broken | Lacks]:
    """A receptacle put in for an old one gets what its place asks today."""
    for point in house.receptacles:
        if house.work(point.id) != "replaced":
            continue
        wants, (_, asks) = [], first_asking(house, point)
        lacks = [str(asks)] if asks and asks is not True and not house.guarded(point) else []
        yield from (Lacks(key, (point.id,)) for key in lacks + ["marks"] * (point.marks is None))
        if asks is True and not house.guarded(point):
            wants.append("GFCI")
        if house.place(point) in ARC_PLACES and not house.arcs(point) and point.voltage == 120 and (house.amps(point) or 0) <= 20 \
                and not house.book.drops("afci", house.place(point)):
            wants.append("AFCI")
        if point.marks is not None and "tr" not in point.marks and (point.grounded or point.slots == 3 or point.kind.stops_shock):
            wants.append("a tamper-resistant receptacle")
        if point.marks is not None and house.place(point) == "outdoor" and "wr" not in point.marks:
            wants.append("a weather-resistant receptacle")
        if wants:
            yield Broken((point.id,), f"replaced, and its place asks for {both(wants)} today", "Put it right while the box is open.")


def marks(house: House) -> Iterator[Broken | Lacks]:
    """Tamper-resistant at 15 and 20 A, from 2017 for 250 V too; outdoors weather-resistant with an in-use cover."""
    unsaid, plain, wet = [], [], []
    for point in house.receptacles:
        if (house.amps(point) or 0) > 20 or house.work(point.id) == "replaced" or point.voltage > 125 and house.edition < 2017:
            continue
        height, outdoor = height_ft(point), house.place(point) == "outdoor"
        spared = height is not None and height > _TR_TO or not point.grounded \
            or bool(point.behind) and any(means(point.use, use) for use in ("refrigerator", "freezer", "washer", "dryer", "range"))
        if point.marks is None:
            unsaid += [] if spared and not outdoor or house.work(point.id) == "existing" else [point.id]
        elif "tr" not in point.marks and not spared:
            plain.append(point)
        if point.marks is not None and outdoor and not {"wr", "in-use cover"} <= set(point.marks):
            wet.append(point)
    for ids in house.by_room(plain):
        yield Broken(ids, "not tamper-resistant", "Put in a receptacle marked TR; above 5 1/2 ft, and behind what is hard to move, none is asked.")
    for ids in house.by_room(wet):
        yield Broken(ids, "outdoors without a receptacle marked WR and a cover that closes over a plug", "Put in what is missing.")
    if unsaid:
        yield Lacks("marks", tuple(unsaid))


def torque(house: House) -> Iterator[Broken | Lacks]:
    """The figure and the tool, of devices and breakers that were put in."""
    for devices in ((point for point in house.points if point.kind.opens), house.job.breakers):
        missing = tuple(one.id for one in devices if not any(sign.isdigit() for sign in one.device.get("torque", "")) and house.work(one.id) != "existing")
        if missing:
            yield Broken(missing, "nobody wrote to what figure the terminals were tightened, and with which tool",
                         "Write `torque` in `device`, such as `14 lbf-in, no. 3`.")


def alarms(house: House) -> Iterator[Broken | Lacks]:
    """An alarm keeps its power: no switch and no GFCI before it."""
    for point in house.points:
        if point.kind.is_outlet and means(point.use, "alarm"):
            why = f"the switch {both(point.switched_by)}" if point.switched_by else f"{house.tree.protected_by(point.id)[0]}" if house.guarded(point) else ""
            if why:
                yield Broken((point.id,), f"an alarm, and it loses its power with {why}",
                             "Feed it where neither a switch nor a GFCI can leave it on its battery, unless its maker or your authority says otherwise.")
