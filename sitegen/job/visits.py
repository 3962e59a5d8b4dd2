"""visits.yaml in, the visits after the handover out: what was done, to which box, and what it was before.

The map shows the house as it stands; a visit says what was touched, or that only the record was wrong. Every id is held
against the map and what it says is gone.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from types import MappingProxyType

from ..errors import Fault, nearest
from .read.fields import Fields, shape_fault
from .read.ids import Named, Names
from .read.keys import Key, Keys
from .read.nodes import Node, Pair, read_yaml
from .read.pictures import photo_name
from .read.values import clock, fold, listed, quantity
from .records import Feed, JobFile, Note, Point, Removed, TripTest
from .records.visits import Done, Measured, Visit

FILE = "visits.yaml"

# What may be done, and to which sort of thing.
DONE = {
    "refed": ("point", "panel"), "replaced": ("point", "breaker"), "opened": ("point", "breaker", "panel"),
    "added": ("point", "breaker", "panel"), "removed": (), "corrected": ("point", "breaker", "panel"),
}
_NEEDS_FEED = ("refed",)
UNITS = {"ohms": "ohms?", "megohms": "megohms?", "volts": "v|volts?", "amps": "a|amps?", "milliamps": "ma|milliamps?"}
ALSO = {"volts": ("amps", "a|amps?"), "milliamps": ("milliseconds", "ms|milliseconds?")}     # with which value another may stand

_TEXTS = ("by", "why", "found", "cause")
_VISIT = Keys("this visit", Visit, Key("date", must=True), *map(Key, ("time", *_TEXTS, "done", "readings", "minutes", "left_to_do",
                                                                      "photos", "notes")))
_DONE = Keys("this entry of `done`", Done, *map(Key, (*DONE, "was", "note")))
_WAS = Keys("`was`", None, free=True)
_READING = Keys("this reading", Measured, Key("at", must=True), Key("what", must=True), *map(Key, (*UNITS, "milliseconds", "state")))


def read_visits(text: str, names: Names, file: JobFile | None, points: Collection[Point], photos: Collection[str],
                notes: Collection[Note], faults: list[Fault]) -> list[Visit]:
    """The visits, oldest first; whole only where no fault was found. `names` know what is gone (`with_gone`)."""
    root = read_yaml(text, FILE, faults)
    if root is None:
        return []
    if root.items is None:
        faults.append(shape_fault(root, "the file of visits", "a list of visits", "begin each visit with `- date:`"))
        return []
    whole = Node(root.where, root.written, pairs=(Pair(root.where, "visits", root),))
    entries, _ = Fields(whole, Keys("the file", None, Key("visits")), faults).entries("visits", _VISIT)
    visits = [visit for fields in entries if (visit := _visit(fields, names, photos, notes))]
    _in_order(visits, file, faults)
    _changed_something(visits, points, faults)
    return visits


def with_gone(names: Names, removed: Iterable[Removed]) -> Names:
    """The names of the map and those under `removed`: old rows and visits still speak of what is gone."""
    gone = {one.id: Named(one.id, "removed", None, one.where) for one in removed}
    return replace(names, table={**gone, **names.table})


def after_removal(visits: Iterable[Visit], tests: Iterable[TripTest], faults: list[Fault]) -> None:
    """A fault for every row that speaks of a thing after the day on which it was taken out."""
    gone = {done.id: visit for visit in visits for done in visit.done if done.what == "removed"}
    for row in tests:
        for id in dict.fromkeys((*row.at, *row.tripped, *row.went_dead, *row.stayed_live)):
            if id in gone and row.date > gone[id].date:
                faults.append(Fault(row.where, f"`{id}` was taken out on {gone[id].date} ({gone[id].where})",
                                    "an id of the map as it stands", "correct the id, or the date"))


def _visit(fields: Fields, names: Names, photos: Collection[str], notes: Collection[Note]) -> Visit | None:
    when = fields.day("date", "write it with four, two and two digits")
    at = fields.text("time")
    time = clock(at) if at else None
    if at and time is None:
        fields.fault(fields.values["time"], f"`time: {at}` is no time of day", "a time on 24 hours, 0:00 to 23:59",
                     "write it as `9:00` or `18:30`")
    done = [one for entry in fields.entries("done", _DONE)[0] if (one := _done(entry, names))]
    readings = [read for entry in fields.entries("readings", _READING)[0] if (read := _measured(entry, names))]
    minutes = fields.number("minutes", "min", 10_000)
    texts = {key: fields.text(key) for key in _TEXTS}
    left = _texts(fields, "left_to_do")
    pictures = tuple(name for item in fields.items("photos", "names", "names of pictures in photos/", "write it as `[porch.jpg]`")
                     if (name := photo_name(fields, item, "photos", photos)))
    pages = tuple(name for item in fields.items("notes", "names", "names of pages in notes/", "write it as `[left-to-do]`")
                  if (name := _page(fields, item, notes)))
    if when is None:
        return None
    return Visit(when, time, texts["by"], texts["why"], texts["found"], tuple(done), tuple(readings), texts["cause"],
                 None if minutes is None else round(minutes), left, pictures, pages, fields.where)


def _done(entry: Fields, names: Names) -> Done | None:
    said = [key for key in DONE if key in entry.values]
    if len(said) != 1:
        if said or set(entry.values) <= {"was", "note"}:     # an unknown word was told already
            met = f"{listed(said)} in one entry of `done`" if said else "an entry of `done` that says nothing that was done"
            entry.fault(entry, met, f"one of {listed(DONE, 'or')}", "write one entry for each thing that was done")
        return None
    what = said[0]
    named = _named(entry, what, names, DONE[what])
    was, old = _was(entry, what, named, names)
    return Done(what, named.id, was, MappingProxyType(old), entry.text("note"), entry.where) if named else None


def _named(fields: Fields, key: str, names: Names, sorts: tuple[str, ...]) -> Named | None:
    """The thing that an entry speaks of; `sorts` that it may be, or what is gone. () asks for what is gone."""
    written = fields.text(key)
    if written is None:
        if key in fields.values and fields.values[key].blank:
            fields.fault(fields.values[key], f"`{key}` is blank", "an id of the map", "write the id")
        return None
    node = fields.values[key]
    gone = [id for id, named in names.table.items() if named.what == "removed"]
    expected = "an id under `removed` in the map" if not sorts else "an id of the map, or one under `removed`"
    do = "write it under `removed` in the map" if not sorts else "correct the id, or add it to the map"
    named = names.find(written, node.where, expected, do, fields.faults, among=(*(sorts or ("point", "breaker")), "removed"),
                       first=gone if not sorts else ())
    if named is None or named.what == "removed" or named.what in sorts:
        return named
    if not sorts:
        fields.fault(node, f"`{key}: {named.id}`, but line {named.where.line} of the map still has {named.id}, {named.words}",
                     expected, f"write {named.id} under `removed` in the map, with its entry taken out of the circuit")
    else:
        fields.fault(node, f"`{key}: {named.id}`, and {named.id} is {named.words}", f"the id of a {listed(sorts, 'or').replace('`', '')}",
                     "correct the id, or write `opened` for a box that was only opened")
    return None


def _was(entry: Fields, what: str, named: Named | None, names: Names) -> tuple[Feed | None, dict[str, str]]:
    """What it hung on before; and of a replaced thing what it was."""
    node = entry.node("was")
    if node is None:
        if what in _NEEDS_FEED:
            entry.fault(entry, f"`{what}: {named.id if named else '...'}` does not say what it hung on before", "`was:` and its feed of before this visit",
                        "write the feed that stood in the map before you changed it, with its side")
        return None, {}
    if node.pairs is not None and what in ("replaced", "corrected"):
        old = entry.fields("was", _WAS)
        return None, old.texts() if old else {}
    if what not in ("refed", "removed", "corrected"):
        entry.fault(node, f"`was: {node.written}` of what was {what}", "`was: {make: ..., model: ...}`" if what == "replaced" else
                    "no `was` here", "write that, or leave it out")
        return None, {}
    return _feed(entry, node, named, names), {}


def _feed(entry: Fields, node: Node, named: Named | None, names: Names) -> Feed | None:
    """`K1 load`, a breaker, or `unknown`. A device may have been another kind then: its side is not judged."""
    words = (node.text or "").split()
    side = words[1].casefold() if len(words) == 2 else None
    if not words or len(words) > 2 or side not in (None, "line", "load"):
        entry.fault(node, f"`was: {node.written}` is not one feed", "one breaker or point, with its side behind a device",
                    "write it as `fed_from` had it: `K1 load`")
        return None
    if words[0].casefold() == "unknown":
        return Feed("unknown")
    source = names.find(words[0], node.where, "the breaker or point that it hung on", "correct the id, or write it under "
                        "`removed` in the map", entry.faults, among=("point", "breaker", "removed"))
    if source and (source.what == "panel" or named and source.id == named.id):
        entry.fault(node, f"`was: {node.written}` of {named.id if named else 'this'}: {source.id} is "
                    f"{'itself' if named and source.id == named.id else source.words}", "the breaker or point that it hung on",
                    "write what fed it before")
        return None
    return Feed(source.id, side) if source else None


def _measured(entry: Fields, names: Names) -> Measured | None:
    named = _named(entry, "at", names, ("point", "breaker", "panel"))
    what, state = entry.text("what"), entry.text("state")
    said = [unit for unit in UNITS if entry.node(unit)]
    with_it, shape = ALSO.get(said[0], ("", "")) if said else ("", "")
    said = [unit for unit in said if unit != with_it or unit == said[0]]
    if len(said) != 1:
        entry.fault(entry, f"{listed(said) if said else 'no value'} in this reading", f"one of {listed(UNITS, 'or')}",
                    "write what the meter showed; one entry for each value")
        return None
    text = entry.text(said[0])
    value = quantity(text, UNITS[said[0]], 1e12) if text else None
    if text and value is None:
        entry.fault(entry.values[said[0]], f"`{said[0]}: {text}` is not a number from 0", f"{said[0]} as the meter showed it",
                    "write the number alone, with a point for decimals")
    also_text = entry.text(with_it) if with_it and entry.node(with_it) else None
    also = quantity(also_text, shape, 1e9) if also_text else None
    if also_text and also is None:
        entry.fault(entry.values[with_it], f"`{with_it}: {also_text}` is not a number from 0", f"{with_it} as the meter showed it",
                    "write the number alone, with a point for decimals")
    if with_it != "milliseconds" and entry.node("milliseconds"):
        entry.fault(entry.values["milliseconds"], "`milliseconds` without `milliamps`", "the current that the trip was timed at",
                    "write `milliamps` beside it, or leave it out")
    return Measured(named.id, what, value, said[0], state, also) if named and what and value is not None else None


def _texts(fields: Fields, key: str) -> tuple[str, ...]:
    node = fields.node(key)
    if node is None:
        return ()
    items = node.items if node.items is not None else (node,)
    texts = (fields.text_of(item, f"an entry of `{key}`") for item in items if not item.blank)
    return tuple(text for text in texts if text)


def _page(fields: Fields, item: Node, notes: Collection[Note]) -> str | None:
    name = fold(item.text or "").removeprefix("notes/").removesuffix(".md")
    known = [note.name for note in notes]
    if name in known:
        return name
    fields.fault(item, f"there is no notes/{name}.md", "the name of a page in notes/", "write that page, or correct its name",
                 nearest(name, known))
    return None


def _in_order(visits: list[Visit], file: JobFile | None, faults: list[Fault]) -> None:
    last = None
    for visit in visits:
        if file and file.handover and visit.date < file.handover:
            faults.append(Fault(visit.where, f"the visit of {visit.date} stands before the handover of {file.handover} "
                                f"({file.line_of('handover')})", "a day after the handover",
                                "correct one of the two; what was done before the handover stands in the map alone"))
        if last and visit.date < last.date:
            faults.append(Fault(visit.where, f"the visit of {visit.date} stands below that of {last.date}", "the oldest visit first",
                                "put the visits in the order of their days"))
        last = visit


def _changed_something(visits: list[Visit], points: Collection[Point], faults: list[Fault]) -> None:
    """A `was` that is what the map still says: nothing was changed, or the map was not."""
    now = {point.id: point.feed for point in points}
    for visit in reversed(visits):
        for done in reversed(visit.done):
            if done.what in ("refed", "corrected") and done.was:
                if now.get(done.id) == done.was:
                    faults.append(Fault(done.where, f"`was: {done.was}` of {done.id}, and after this visit it hangs there still",
                                        "what it hung on before, and the new feed in the map",
                                        "write the new feed under `fed_from` in the map, or correct `was`"))
                now[done.id] = done.was
