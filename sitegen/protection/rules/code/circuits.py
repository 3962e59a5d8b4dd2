"""The rules about circuits: arcs (210.12), the circuits of kitchen, laundry, bath and garage (210.11, 210.52(B)), sizes, shared neutrals, directory, generators (702), bonds (250)."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from ....job.records import Circuit, Point
from ...say import both, day, place
from ...tree import bus_leg
from ..neutrals import gone_apart
from ..readings import RANGES
from .house import COUNTER, KITCHEN, House, means
from .rule import Beyond, Broken, Lacks

# 210.12, rooms from 2014 on, as reported; pantry as a similar area: from memory.
ARC_PLACES = frozenset((*KITCHEN, "family", "dining", "living", "parlor", "library", "den", "bedroom", "sunroom", "recreation", "closet", "hall",
                        "laundry", "pantry"))

# 240.4(D), as reported: the largest breaker for small wire, A. 14 AWG aluminum is not in it: 12 AWG is the smallest.
LARGEST = {("copper", "18"): 7, ("copper", "16"): 10, ("copper", "14"): 15, ("copper", "12"): 20, ("copper", "10"): 30,
           ("aluminum", "12"): 15, ("aluminum", "10"): 25}

# Table 210.21(B)(3), as reported (15, 20, 40 A) and from memory: circuit -> receptacles, A, where there are two or more.
RATINGS = {15: (15,), 20: (15, 20), 30: (30,), 40: (40, 50), 50: (50,)}

_VAGUE = re.compile(r"(misc\w*|outlets?|lights?|lighting|plugs?|receptacles?|general|various|other|house|stuff|\?+|-+)", re.IGNORECASE)
_SOMEONES = re.compile(r"\b(?!kitchen|bath|garage|owner|tenant|range|fridge|dryer|washer|men|women)[a-z]+'s\s+(bed)?(room|den|office|bath|study|desk)", re.IGNORECASE)


def _without_arcs(house: House, point: Point) -> bool:
    """An outlet or switch for 120 V on 15 or 20 A (10 A from 2023) with no AFCI before it."""
    return (point.kind.is_outlet or point.kind.switches) and point.voltage == 120 and (house.amps(point) or 0) <= 20 and not house.arcs(point)


def _for_arcs(house: House, point: Point) -> bool:
    """One of these in a place on the list."""
    return _without_arcs(house, point) and (house.place(point) in ARC_PLACES or house.book.adds("afci", house.place(point)))


def arcs(house: House) -> Iterator[Broken | Lacks]:
    """New circuits: an AFCI or dual-function device at the origin."""
    found = [point for point in house.points if house.circuit(point).work != "extended" and house.work(point.id) != "replaced" and _for_arcs(house, point)
             and not house.book.drops("afci", house.place(point))]
    for breaker, ids in house.by_breaker(found):
        yield Broken(ids, f"no AFCI stands before {'it' if len(ids) == 1 else 'them'} on {place(house.job, breaker)}",
                     "Put an AFCI or dual-function breaker in." + house.shared_neutral(ids))
    unsaid = tuple(point.id for point in house.points if point.kind.is_outlet and house.place(point) is None and _without_arcs(house, point))
    if unsaid:
        yield Lacks("place", unsaid)


def arcs_extended(house: House) -> Iterator[Broken | Lacks]:
    """An extended or altered circuit; not a move of 6 ft or less without a new outlet or device."""
    found = []
    for point in house.points:
        if house.circuit(point).work != "extended" or house.work(point.id) in ("existing", "replaced") or not _for_arcs(house, point) \
                or house.book.drops("afci-extended", house.place(point)):
            continue
        if point.work == "moved" and point.length_ft is None:
            yield Lacks("length_ft", (point.id,))
        elif point.work != "moved" or (point.length_ft or 0) > 6:
            found.append(point)
    for breaker, ids in house.by_breaker(found):
        yield Broken(ids, f"the circuit was extended, and no AFCI stands before {'it' if len(ids) == 1 else 'them'} on {place(house.job, breaker)}",
                     "Put an AFCI in at its origin, or as the section allows at the first outlet." + house.shared_neutral(ids))


def counter_circuits(house: House) -> Iterator[Broken | Lacks]:
    """Two or more 20 A circuits for the receptacles of the countertops."""
    counters = [point for point in house.receptacles if point.place == COUNTER and point.voltage == 120]
    circuits = house.circuits_with(counters)
    unsaid = tuple(circuit.breaker for circuit in circuits if house.job.breaker[circuit.breaker].amps is None)
    if unsaid:
        yield Lacks("amps", unsaid)
    elif counters and sum(house.job.breaker[circuit.breaker].amps == 20 for circuit in circuits) < 2:
        yield Broken(tuple(point.id for point in counters),
                     f"the countertops are on {both(place(house.job, circuit.breaker) for circuit in circuits)}, fewer than two 20 A circuits",
                     "Bring a second 20 A small-appliance circuit to the countertops.")


_APART = ("refrigerator", "range", "hood", "microwave", "dishwasher", "disposal")   # outlets for one appliance; range: gas and its spark too


def counter_alone(house: House) -> Iterator[Broken | Lacks]:
    """Kitchen, pantry and dining outlets are on the small-appliance circuits, and nothing else is."""
    counters = [point for point in house.receptacles if point.place == COUNTER]
    small = {circuit.key for circuit in house.circuits_with(counters)}
    if not small:
        return
    rooms = (*KITCHEN, "pantry", "dining", "breakfast")
    off = [point for point in house.receptacles if house.place(point) in rooms and point.circuit not in small and point.voltage == 120
           and (house.place(point) in KITCHEN or not point.switched_by)      # a switched one in place of a light: from memory
           and (not any(means(point.use, use) for use in _APART)
                or means(point.use, "refrigerator") and len(house.outlets_on(house.circuit(point))) > 1)]
    for ids in house.by_room(off):
        yield Broken(ids, "not on a small-appliance circuit, where receptacles of kitchen, pantry and dining area belong", "Feed it from one of them.")
    foreign = [point for point in house.points if point.circuit in small and point.kind.is_outlet
               and (not point.kind.has_face or house.place(point) not in (*rooms, None))
               and not (means(point.use, "range") and not means(point.use, "hood"))]
    for breaker, ids in house.by_breaker(foreign):
        yield Broken(ids, f"on {place(house.job, breaker)}, a small-appliance circuit, which may serve nothing else", "Feed it from another circuit.")


def own_circuit(place_is: str, company: tuple[str, ...], may: str = "") -> Callable[[House], Iterator[Broken | Lacks]]:
    """The outlets of such a place have a 20 A circuit with no other outlets; `company` are the places that may share it."""
    def judge(house: House) -> Iterator[Broken | Lacks]:
        here = [point for point in house.receptacles if house.place(point) == place_is and point.voltage == 120]
        circuits = house.circuits_with(here)
        if not here or any(house.job.breaker[circuit.breaker].amps == 20 and not _others(house, circuit, company, may) for circuit in circuits):
            return
        others = [point.id for circuit in circuits for point in _others(house, circuit, company, may)]
        why = f"shares its circuit with {both(others[:4])}" if others else "is on no 20 A circuit"
        yield Broken(tuple(point.id for point in here), f"no 20 A circuit is there for this place alone: it {why}",
                     f"Give it one, and take the rest off{'; one bath alone may have its own fan and light on it' if may else ''}.")
    return judge


def _others(house: House, circuit: Circuit, company: tuple[str, ...], may: str) -> list[Point]:
    """The outlets that do not belong on it. `may`: where the circuit serves one room alone, that room's other equipment may."""
    on = [point for point in house.outlets_on(circuit) if point.id not in house.tree.unknown]
    if may and len({point.room for point in on}) == 1:
        return []
    return [point for point in on if not point.kind.has_face or house.place(point) not in company]


def wire_too_small(house: House) -> Iterator[Broken | Lacks | Beyond]:
    """A breaker larger than its wire may have."""
    job = house.job
    for circuit in house.tree.circuits:
        breaker, wire = job.breaker[circuit.breaker], circuit.wire
        most = LARGEST.get((wire.metal, wire.awg)) if wire else None
        if wire and most and breaker.amps and breaker.amps > most:
            stop = _plain(house, circuit)
            apart = "" if stop else ", apart from motor, air-conditioner and range-tap circuits"
            yield Broken((breaker.id,), f"{breaker.amps:g} A on {wire.awg} AWG {wire.metal}, and {most} A is the most{apart}",
                         f"Look which is wrong; if it is so, keep it off and put a {most} A breaker in.{_then_too_large(house, circuit, most)}"
                         if stop else "Look which is wrong.",
                         level="stop" if stop else None)
        elif wire and (wire.metal, wire.awg) == ("aluminum", "14"):
            yield Broken((breaker.id,), "14 AWG aluminum, and 12 AWG is the smallest for a branch circuit (copper-clad on 10 A apart, from 2023)",
                         "Look at the wire again.")
        elif wire and breaker.amps and not most:
            yield Beyond(f"{wire.awg} AWG {wire.metal} is not in the table of 240.4(D): see 310.16 and the terminals", (breaker.id,))
        if circuit.work != "existing":
            yield from (Lacks(key, (breaker.id,)) for key, known in (("wire", wire), ("amps", breaker.amps)) if not known)


def _plain(house: House, circuit: Circuit) -> bool:
    """A light or a receptacle for anything hangs on it: none of the exceptions can be meant."""
    return any(point.kind.has_face and not means(point.use, "motor") or point.kind.by_name for point in house.outlets_on(circuit))


def _then_too_large(house: House, circuit: Circuit, amps: int) -> str:
    """Receptacles that do not fit the smaller breaker."""
    ids = [point.id for point in house.outlets_on(circuit) if point.kind.has_face and amps in RATINGS and _rated(point) not in (None, *RATINGS[amps])]
    return f" Then {both(ids)} {'is' if len(ids) == 1 else 'are'} too large for it (210.21(B)): put in {' or '.join(map(str, RATINGS[amps]))} A." if ids else ""


def _rated(point: Point) -> int | None:
    found = re.match(r"\s*([0-9]+)\s*A\b", point.device.get("rating", ""))
    return int(found[1]) if found else None


def receptacle_rating(house: House) -> Iterator[Broken | Lacks]:
    """A receptacle's rating against its circuit; a duplex counts as two, so it is never single."""
    for point in house.receptacles:
        rating = _rated(point)
        amps = house.amps(point)
        alone = point.single and len(house.outlets_on(house.circuit(point))) == 1
        if rating is None or amps is None:
            if (alone or amps == 15) and house.work(point.id) != "existing":
                yield Lacks("device: rating", (point.id,))
            continue
        fits = RATINGS.get(int(amps), ())
        if alone and rating < amps:
            yield Broken((point.id,), f"a single {rating} A receptacle alone on a {amps:g} A circuit", "It has to be rated as the circuit at least.")
        elif not alone and fits and rating not in fits:
            yield Broken((point.id,), f"a {rating} A receptacle on a {amps:g} A circuit with more than one",
                         f"{' or '.join(map(str, fits))} A fits there.")


def directory(house: House) -> Iterator[Broken | Lacks]:
    """Every circuit by its clear, evident and specific purpose, told apart from all others, and nobody's name."""
    seen: dict[tuple[str, str], Circuit] = {}
    for circuit in house.job.circuits:
        says = " ".join(circuit.serves.casefold().split())
        twin = seen.setdefault((circuit.panel, says), circuit)
        if twin is not circuit:
            yield Broken((circuit.breaker,), f"circuit {circuit.number} says `{circuit.serves}` as circuit {twin.number} does",
                         "Write what tells them apart.", where=circuit.where)
        elif _VAGUE.fullmatch(says):
            yield Broken((circuit.breaker,), f"circuit {circuit.number} says only `{circuit.serves}`", "Write which, and where.", where=circuit.where)
        elif _SOMEONES.search(says):
            yield Broken((circuit.breaker,), f"circuit {circuit.number} says whose it is (`{circuit.serves}`), and people move",
                         "Write where it is.", where=circuit.where)


def _partners(house: House) -> Iterator[tuple[Circuit, list[Circuit]]]:
    """Circuits that share a neutral and are on breakers of their own, told once for all that share."""
    for circuit in house.tree.circuits:
        partners = [house.job.circuit[key] for key in circuit.shares_neutral_with]
        apart = all(partner.breaker != circuit.breaker for partner in partners)
        if partners and apart and all(circuit.key < partner.key for partner in partners):
            yield circuit, partners


def handles(house: House) -> Iterator[Broken | Lacks]:
    """All hots of a shared neutral open together: one breaker of two poles, or handles that are tied."""
    for circuit, partners in _partners(house):
        ids = (circuit.breaker, *(partner.breaker for partner in partners))
        what = f"circuit {circuit.number} shares its neutral with circuit {both(partner.number for partner in partners)}"
        section = "210.4(B), 210.7" if _one_yoke(house, circuit, partners) else None
        rows = [row for id in ids for other in house.job.circuits if other.breaker in ids and other.breaker != id
                for point in house.outlets_on(other)
                if (s := house.proof.evidence.looked(point.id, id, "breaker")) and not s.dead and id in s.opened for row in [s.row]]
        if rows:
            yield Broken(ids, f"{what}, and on {day(rows[0].date)} one was live with the handle of the other off ({rows[0].where}): they are not tied",
                         "Tie the handles, or put in a two-pole breaker.", section=section)
        elif any(house.job.breaker[id].tied is False for id in ids):
            yield Broken(ids, f"{what}, and the handles are not tied", "Tie the handles, or put in a two-pole breaker.", section=section)
        elif not all(house.job.breaker[id].tied for id in ids):
            yield Broken(ids, f"{what}, and the map does not say whether the handles are tied",
                         "They must move together; write `tied: yes` at each breaker when they do.", level="know", section=section)


def _one_yoke(house: House, circuit: Circuit, partners: list[Circuit]) -> bool:
    """One yoke carries both: the halves of a duplex on two of the circuits."""
    keys = {mate.key for mate in (circuit, *partners)}
    halves = {(point.yoke, point.circuit) for point in house.job.points if point.circuit in keys and point.yoke}
    return len(halves) > len({yoke for yoke, _ in halves})


def one_leg(house: House) -> Iterator[Broken | Lacks]:
    """Partners on one leg: their currents add up on the neutral instead of cancelling. Legs by the usual numbering of spaces."""
    for circuit, partners in _partners(house):
        legs = {id: bus_leg(house.job.breaker[id].space) for id in (circuit.breaker, *(partner.breaker for partner in partners))}
        if None in legs.values() or len(set(legs.values())) != 1:
            continue
        gone = gone_apart(house.proof, (circuit, *partners))
        if gone and RANGES[240.0][1] <= (both_volts := sum(row.volts or 0 for row in gone)) <= RANGES[240.0][2]:
            yield Broken(tuple(legs), f"they share a neutral; by the usual numbering of spaces both are on one leg, but {gone[0].outlet} had "
                         f"{gone[0].volts:g} V and {gone[1].outlet} {gone[1].volts:g} V, {both_volts:g} V together as on two legs: space numbers and "
                         f"readings disagree", "Look which is right: between the two hots about 240 V means two legs, about 0 V one.", level="fix")
        else:
            yield Broken(tuple(legs), "they share a neutral, and by the usual numbering of spaces both are on one leg: the neutral would carry the sum",
                         "Measure between the two hots: about 240 V is right, about 0 V means one leg. Move one of them.")


def transfer(house: House) -> Iterator[Broken | Lacks | Beyond]:
    """What keeps a generator and the utility apart. Batteries and solar run beside the utility, by articles that are not in here."""
    for panel in house.job.panels:
        if "generator" in panel.also_supplied_by and panel.transfer is None:
            yield Lacks("transfer", (panel.id,))
        elif "generator" in panel.also_supplied_by and panel.transfer == "none":
            yield Broken((), f"panel {panel.id} may have power from a generator, and nothing keeps it apart from the utility",
                         "Do not connect it until transfer equipment is in: it would feed back into the street.", where=panel.where)
        if beside := [one for one in panel.also_supplied_by if one != "generator"]:
            yield Beyond(f"{both(beside)}: see articles 705 and 706 (from memory)", (panel.id,))


def bonded_once(house: House) -> Iterator[Broken | Lacks]:
    """Joined in a subpanel too, the neutral's current runs on grounds and cases."""
    for panel in house.job.panels:
        if panel.fed_from and panel.bonded is None:
            yield Lacks("bonded", (panel.id,))
        elif panel.fed_from and panel.bonded:
            yield Broken((), f"panel {panel.id} is fed from {panel.fed_from}, and its neutral is joined to the ground there too",
                         "Take the bond out and keep neutrals and grounds apart there; existing feeders without a ground of their own apart: "
                         "ask the authority having jurisdiction.", where=panel.where)
