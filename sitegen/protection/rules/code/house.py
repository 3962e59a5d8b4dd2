"""Takes the proof and the book; gives what rules ask of a point: its place, its work, what stands before it.

Words by which an appliance is known are English and Spanish: `use` is a text for people.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, cached_property

from ....job.records import Circuit, Job, Point
from ....job.records.texts import Text
from ...proof import Proof
from ...say import both
from ...tree import Tree
from .book import Book

COUNTER, KITCHEN = "countertop", ("countertop", "kitchen")

# Every word of `place` that a rule knows; `other` is none of them.
PLACES = frozenset((*KITCHEN, "bar", "pantry", "dining", "breakfast", "bathroom", "laundry", "garage", "accessory building", "outdoor", "basement", "crawl space", "boathouse",
                    "cabinet", "attic", "family", "living", "parlor", "library", "den", "bedroom", "sunroom", "recreation", "closet", "hall", "other"))

USES = {
    "dishwasher": ("dishwasher", "lavavajillas", "lavaplatos"),
    "disposal": ("disposal", "disposer", "triturador"),
    "refrigerator": ("refrigerator", "fridge", "refrigerador", "nevera"),
    "freezer": ("freezer", "congelador"),
    "range": ("range", "stove", "oven", "cooktop", "estufa", "horno", "cocina eléctrica"),
    "hood": ("hood", "campana"),
    "microwave": ("microwave", "microondas"),
    "dryer": ("clothes dryer", "tumble dryer", "secadora"),
    "washer": ("washer", "washing machine", "lavadora"),
    "sump": ("sump", "sumidero"),
    "opener": ("door opener", "abridor"),
    "medical": ("medical", "oxygen", "cpap", "dialysis", "oxígeno"),
    "alarm": ("smoke alarm", "smoke detector", "carbon monoxide", "co alarm", "alarma de humo", "detector de humo"),
    "fan": ("fan", "extractor"),
    "motor": ("motor", "compressor", "air conditioner", "heat pump", "aire acondicionado"),
    "floor heat": ("floor heat", "floor heating", "heated floor", "heating cable", "radiant floor", "piso radiante"),
    "excepted": ("snow melting", "snow-melting", "deicing", "de-icing", "alarm panel", "security panel", "burglar alarm"),
    "gas": ("gas",),
    "sink": ("sink", "basin", "fregadero", "lavabo"),
    "island": ("island", "isla"),
}


def means(text: str | None, use: str) -> bool:
    """True where one of the words stands in the text, in any of its languages. A gas dryer is a dryer and gas."""
    said = (text, *text.by_language.values()) if isinstance(text, Text) else (text or "",)
    if use == "dryer" and any(re.search(r"\b(dryer)\b", one, re.IGNORECASE) and not re.search(r"\bhair\b", one, re.IGNORECASE) for one in said):
        return True
    return any(map(_one_of(use).search, said))


@cache
def _one_of(use: str) -> re.Pattern[str]:
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, USES[use]))})(?!\w)", re.IGNORECASE)


@dataclass(frozen=True)
class House:
    """What the rules see."""

    proof: Proof
    book: Book

    @property
    def tree(self) -> Tree:
        return self.proof.tree

    @property
    def job(self) -> Job:
        return self.proof.tree.job

    @property
    def edition(self) -> int:
        return self.book.edition or 0

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Every point whose feed is known, in feed order: nothing can be judged of the others."""
        return tuple(self.job.point[id] for id in self.tree.order if id not in self.tree.unknown)

    @cached_property
    def receptacles(self) -> tuple[Point, ...]:
        return tuple(point for point in self.points if point.kind.has_face)

    def circuit(self, point: Point) -> Circuit:
        return self.job.circuit[point.circuit]

    def amps(self, point: Point) -> float | None:
        return self.job.breaker[self.circuit(point).breaker].amps

    def work(self, id: str) -> str | None:
        """new | extended | moved | replaced | existing; None: not written. Of a breaker: of its circuits."""
        if id in self.job.breaker:
            return next((circuit.work for circuit in self.job.circuits if circuit.breaker == id), None)
        if id not in self.job.point:
            return None
        point = self.job.point[id]
        return point.work or self.circuit(point).work

    @cached_property
    def _rooms(self) -> dict[str, str]:
        """Room -> the one place that all its points say that say any."""
        said: dict[str, set[str]] = {}
        for point in self.job.points:
            if point.place in PLACES:
                said.setdefault(point.room, set()).add("kitchen" if point.place in KITCHEN else point.place)
        return {room: next(iter(places)) for room, places in said.items() if len(places) == 1}

    def place(self, point: Point) -> str | None:
        """What the map says, in a word that is known; a light, switch or hard-wired appliance is where its room is."""
        known = point.place if point.place in PLACES or any(point.place in one.places for one in self.book.changes) else None
        return known or (None if point.kind.has_face else self._rooms.get(point.room))

    def place_of(self, id: str) -> str | None:
        return self.place(self.job.point[id]) if id in self.job.point else None

    def guarded(self, point: Point) -> bool:
        """A Class A device stands before it, or is it."""
        return bool(self.tree.protected_by(point.id))

    def arcs(self, point: Point) -> bool:
        return any(self.tree.kind(id).stops_arcs for id in self.tree.reset_order(point.id))

    def shared_neutral(self, ids: Iterable[str]) -> str:
        """What a remedy adds where the circuit of such a point shares its neutral; "" where none does. Behind the box where the neutrals
        part a device of one pole will do."""
        found: dict[str, dict[str, None]] = {}
        for id in ids:
            circuit = self.circuit(self.job.point[id])
            if circuit.shares_neutral_with:
                parted = [box for box in circuit.neutral_parts_at if box in self.tree.way_up(id)]
                found.setdefault(circuit.number, {}).update(dict.fromkeys(parted))
        parts = both(dict.fromkeys(box for boxes in found.values() for box in boxes))
        numbers = f"Circuit {both(found)} shares its neutral" if len(found) == 1 else f"Circuits {both(found)} share a neutral"
        says = f" Behind {parts}, where the neutrals part, a device of one pole will do." if parts else ""
        return f" {numbers}: a breaker there is two-pole, listed for a shared neutral.{says}" if found else ""

    def by_room(self, points: Iterable[Point]) -> Iterator[tuple[str, ...]]:
        """Their ids, room by room."""
        rooms: dict[str, list[str]] = {}
        for point in points:
            rooms.setdefault(point.room, []).append(point.id)
        return (tuple(ids) for ids in rooms.values())

    def by_breaker(self, points: Iterable[Point]) -> Iterator[tuple[str, tuple[str, ...]]]:
        """Breaker -> their ids."""
        found: dict[str, list[str]] = {}
        for point in points:
            found.setdefault(self.circuit(point).breaker, []).append(point.id)
        return ((breaker, tuple(ids)) for breaker, ids in found.items())

    def circuits_with(self, points: Iterable[Point]) -> tuple[Circuit, ...]:
        """The circuits of these points, once each."""
        return tuple(self.job.circuit[key] for key in dict.fromkeys(point.circuit for point in points))

    def outlets_on(self, circuit: Circuit) -> tuple[Point, ...]:
        """Every outlet of a circuit; behind an unknown feed too."""
        return tuple(point for point in self.job.points if point.circuit == circuit.key and point.kind.is_outlet)


def height_ft(point: Point) -> float | None:
    """ft from the floor, as it is drawn, or as `height` begins or says it in feet."""
    if point.drawn_at and point.drawn_at.height is not None:
        return point.drawn_at.height
    found = re.search(r"([0-9]+(?:\.[0-9]+)?)\s*(?:ft|feet|pies)\b(?:\s*([0-9]+)\s*in)?", point.height or "", re.IGNORECASE)
    return float(found[1]) + float(found[2] or 0) / 12 if found else None
