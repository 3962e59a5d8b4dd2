"""Takes the desk; gives what the service pages and the sheet on paper say of the visits after the handover, the newest first."""

from __future__ import annotations

from collections.abc import Collection

from ...job.records.visits import Done, Measured, Visit
from ...protection.isolate.meters import Meaning, loaded, of_visit
from ...protection.standing import Touch
from ..answer.places import place
from ..desk import Desk
from .records import VisitRecord


def visit_records(desk: Desk, ids: Collection[str] | None = None) -> tuple[VisitRecord, ...]:
    """Every visit, or those that speak of one of these ids."""
    return tuple(_record(desk, visit) for visit in reversed(desk.job.visits) if ids is None or spoken_of(visit) & set(ids))


def spoken_of(visit: Visit) -> set[str]:
    """Every id that a visit names."""
    named = {done.id for done in visit.done} | {done.was.source for done in visit.done if done.was}
    return named | {reading.at for reading in visit.readings}


def _record(desk: Desk, visit: Visit) -> VisitRecord:
    words = desk.words
    values = {"why": visit.why, "found": visit.found, "cause": visit.cause, "by": visit.by,
              "minutes": words.text("visits.minutes", minutes=visit.minutes) if visit.minutes is not None else None,
              "photos": words.join(list(visit.photos)), "notes": words.join(_titles(desk, visit))}
    facts = tuple((words.text(f"visits.facts.{name}"), value) for name, value in values.items() if value)
    return VisitRecord(visit, words.text("visits.title", day=words.day(visit.date)), facts,
                       tuple(_did(desk, visit, done) for done in visit.done),
                       tuple(_measured(desk, visit, reading) for reading in visit.readings), visit.left_to_do)


def _titles(desk: Desk, visit: Visit) -> list[str]:
    return [note.title for note in desk.job.notes if note.name in visit.notes]


def _did(desk: Desk, visit: Visit, done: Done) -> str:
    """K4 (Dining, by the door) fed from A1 load, before from K3."""
    says = desk.words.text(f"visits.done.{done.what}", id=_named(desk, done.id))
    if done.what in ("refed", "added") and (now := _fed_after(desk, visit, done.id)):
        says += ", " + desk.words.text("visits.fed_from", feed=now)
    if done.was:
        says += ", " + desk.words.text("visits.fed_before", feed=_sided(str(done.was)))
    if done.old_device:
        says += "; " + desk.words.text("visits.was", was=", ".join(f"{key} {value}" for key, value in done.old_device.items()))
    return f"{says}. {done.note}" if done.note else f"{says}."


def _named(desk: Desk, id: str) -> str:
    return f"{id} ({place(desk, id)})".replace(".)", ")") if id in desk.job.point else id


def _sided(feed: str) -> str:
    source, blank, side = feed.partition(" ")
    return source + blank + side.upper()


def _fed_after(desk: Desk, visit: Visit, id: str) -> str:
    """What it hung on when the visit was over: what the next visit that moved it says, else the map."""
    later = desk.job.visits[desk.job.visits.index(visit) + 1:]
    moved = next((done.was for one in later for done in one.done if done.id == id and done.was), None)
    feed = moved or (desk.job.point[id].feed if id in desk.job.point else None)
    return _sided(str(feed)) if feed else ""


def _measured(desk: Desk, visit: Visit, reading: Measured) -> str:
    return f"{_named(desk, reading.at)}: {_value(desk, visit, reading)}"


def _value(desk: Desk, visit: Visit, reading: Measured) -> str:
    """Hot to ground, 210 MΩ, load lifted; and what it means, with how sure that is."""
    value = f"{reading.value:,.12g}".rstrip(".") + " " + desk.words.text(f"visits.units.{reading.unit}")
    if reading.also is not None:
        unit = "amps" if reading.unit == "volts" else "milliseconds"
        value += f" ({reading.also:g} {desk.words.text(f'visits.units.{unit}')})"
    told = _loaded(desk, visit, reading) if reading.unit == "volts" and reading.also else of_visit(
        reading.what, reading.state or "", reading.value, reading.unit, reading.also)
    return f"{reading.what}, {value}" + (f", {reading.state}" if reading.state else "") \
        + (f" ({told.says}; {told.sure})" if told else "")


def _loaded(desk: Desk, visit: Visit, reading: Measured) -> Meaning:
    """A voltage under load against that of the same day without it, by a meter or else a tester, and against the cable."""
    job = desk.job
    idle = [one.value for one in visit.readings if (one.at, one.unit) == (reading.at, "volts") and one.also is None]
    idle += [row.volts for row in job.tests if row.outlet == reading.at and row.date == visit.date and row.volts is not None]
    points = [job.point[id] for id in desk.tree.way_up(reading.at)] if reading.at in job.point else []
    wire = job.circuit[points[0].circuit].wire if points else None
    known = [point.length_ft for point in points if point.length_ft is not None]
    whole = wire and wire.metal == "copper" and len(known) == len(points) and not points[-1].feed.unknown
    return loaded(reading.value, reading.also or 0.0, idle[0] if idle else None, sum(known) if whole else None, wire.awg if wire else None)


def measured_at(desk: Desk, id: str) -> tuple[str, ...]:
    """What a meter showed here at visits, each value with its own day, the newest first."""
    return tuple(f"{desk.words.day(visit.date)}: {_value(desk, visit, reading)}" for visit in reversed(desk.job.visits)
                 for reading in visit.readings if reading.at == id)


def metered(desk: Desk, ids: Collection[str]) -> tuple[str, ...]:
    """What a technician asks a meter for at these ids, each with where a visit's meter showed it, or that none did."""
    shown: dict[str, list[str]] = {"trip": [], "insulation": [], "loaded": []}
    if not any(desk.tree.kind(id).stops_shock for id in ids):
        del shown["trip"]
    for reading in (reading for visit in desk.job.visits for reading in visit.readings if reading.at in ids):
        sort = "insulation" if reading.unit == "megohms" else {"milliamps": "trip", "volts": "loaded"}.get(reading.unit) if reading.also else None
        if sort in shown:
            shown[sort].append(reading.at)
    return tuple(desk.words.text(f"visits.metered.{sort}", at=" ".join(dict.fromkeys(at)) or desk.words.text("visits.metered.nowhere"))
                 for sort, at in shown.items() if len(ids) > 1 or not at)


def touch_of(desk: Desk, visit: Visit) -> Touch:
    """What the visit touched."""
    return next(touch for touch in desk.evidence.standing.touches if touch.visit is not None and touch.visit.where == visit.where)


def concerned(desk: Desk, visit: Visit) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The outlets of today of which the binder on paper says something that the visit made old; and the devices whose leaves do."""
    tree, touch = desk.tree, touch_of(desk, visit)
    corrected = {below for done in visit.done if done.what == "corrected" and done.id in desk.job.point
                 for below in (done.id, *tree.below(done.id))}
    outlets = tuple(id for id in tree.outlets if id in touch.behind | corrected)
    before = {id for outlet in corrected for id in tree.reset_order(outlet)} | {
        done.was.source for done in visit.done if done.what == "corrected" and done.was}
    return outlets, tuple(id for id in tree.devices if id in touch.behind | touch.above | before)
