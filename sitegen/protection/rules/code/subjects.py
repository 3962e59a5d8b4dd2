"""Takes the house; gives what each rule is about in it: ids of points, or of breakers where circuits are judged. None: nothing here to judge."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from ....job.records import Point
from .circuits import ARC_PLACES
from .house import COUNTER, House, means
from .outlets import boxed
from .rooms import LIT, LIVED_IN
from .shock import ASKS, has_buttons, in_crawl_space, outdoors


def concerned(house: House, rule: str) -> frozenset[str]:
    """Without the places in which an amendment drops the rule."""
    return frozenset(id for id in _SUBJECTS[rule](house) if not house.book.drops(rule, house.place_of(id)))


def _points(test: Callable[[House, Point], object]) -> Callable[[House], Iterable[str]]:
    return lambda house: (point.id for point in house.points if test(house, point))


def _outlets(test: Callable[[House, Point], object]) -> Callable[[House], Iterable[str]]:
    return lambda house: (point.id for point in house.receptacles if test(house, point))


def _breakers(house: House) -> Iterable[str]:
    return (circuit.breaker for circuit in house.job.circuits)


def _shared(house: House) -> Iterable[str]:
    return (circuit.breaker for circuit in house.job.circuits if circuit.shares_neutral_with)


def _islands(house: House) -> Iterable[str]:
    return (thing.name for plan in house.job.rooms for thing in plan.things if thing.wall is None and means(thing.name, "island"))


def _in(*places: str) -> Callable[[House], Iterable[str]]:
    return _outlets(lambda house, point: house.place(point) in places)


def _arcs(house: House, point: Point) -> bool:
    place = house.place(point)
    return (point.kind.is_outlet or point.kind.switches) and (place in ARC_PLACES or place is None or house.book.adds("afci", place))


def _asked(house: House, point: Point) -> bool:
    """A key that is not written is asked for: of existing wiring none is, so it is not judged there."""
    return house.work(point.id) != "existing"


_ungrounded = _outlets(lambda house, point: not point.grounded)
_counters = _outlets(lambda house, point: point.place == COUNTER)

_SUBJECTS: dict[str, Callable[[House], Iterable[str]]] = {
    **{name: _points(asks) for name, asks in ASKS.items()},
    "gfci-outdoor-appliance": _points(outdoors),
    "gfci-in-reach": _points(has_buttons),
    "afci": _points(lambda house, point: _arcs(house, point) and house.circuit(point).work != "extended"),
    "afci-extended": _points(lambda house, point: _arcs(house, point) and house.circuit(point).work == "extended"),
    "three-slots-no-ground": _ungrounded, "no-ground-words": _ungrounded,
    "replaced": _outlets(lambda house, point: house.work(point.id) == "replaced"),
    "counter-circuits": _counters, "counter-alone": _counters, "counter-spacing": _counters,
    "laundry-circuit": _in("laundry"), "bath-circuit": _in("bathroom"), "garage-circuit": _in("garage"),
    "island": _islands, "rooms-have": _points(lambda house, point: house.place(point) in ("bathroom", "laundry", "garage", "hall", "outdoor")),
    "wire-too-small": lambda house: (circuit.breaker for circuit in house.job.circuits if circuit.wire or circuit.work != "existing"), "receptacle-rating": _outlets(lambda house, point: "rating" in point.device or _asked(house, point)),
    "multiwire-handles": _shared, "multiwire-leg": _shared,
    "box-fill": _points(lambda house, point: point.fill or boxed(point) and _asked(house, point)),
    "tamper-resistant": _outlets(lambda house, point: (house.amps(point) or 0) <= 20 and (point.marks is not None or _asked(house, point))),
    "directory": _breakers, "torque": lambda house: (*_breakers(house), *(point.id for point in house.points if point.kind.opens)),
    "garage-bays": _in("garage"), "lights": _points(lambda house, point: house.place(point) in (*LIT, *LIVED_IN, "outdoor")),
    "gfci-crawl-light": _points(in_crawl_space),
    "bonded-once": lambda house: (panel.id for panel in house.job.panels if panel.fed_from),
    "transfer": lambda house: (panel.id for panel in house.job.panels if panel.also_supplied_by),
    "alarm-power": _points(lambda house, point: point.kind.is_outlet and means(point.use, "alarm")),
}
