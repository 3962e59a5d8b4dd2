"""trip_tests.csv in, the rows of the walk-through out, every id in them held against the map."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, time

from ..errors import Fault
from .kinds import Kind
from .read.ids import Named, Names
from .read.keys import Key, Keys
from .read.rows import Row, read_rows
from .read.values import clock, day, fold, likely_day, listed
from .records import TripTest
from .wiring import testers_words

FILE = "trip_tests.csv"
COLUMNS = ("date", "outlet", "pressed", "volts", "wiring", "tripped", "went_dead", "stayed_live", "volts_after",
           "reset", "by", "note")
MORE = ("time", "page")    # what the walk page writes too; `time` is asked only where a visit fell on the same day
REQUIRED = ("date", "outlet", "pressed", "tripped")
ROW = Keys("a row of trip tests", None, *(Key(name, must=name in REQUIRED) for name in (*COLUMNS, *MORE)))

REPEATED = ("date", "by")  # a blank or a ditto mark repeats the row above

_RESET = {"yes": "yes", "no": "no"}
_RESET_ALSO = {"y": "yes", "ok": "yes", "n": "no"}
_REST = re.compile(r"\brest\s+of\s+(?:the\s+)?(circuit|house)\b", re.IGNORECASE)
# The first line may name the job; a spreadsheet hangs its delimiters on it.
_JOB = re.compile(r"""\A\s*"?[ ]*#[ ]*(?P<id>[^\s,;"]+)[ \t,;"]*(?=\n|\Z)""")
_EXCEPT = re.compile(r"\bexcept\b(.*)", re.IGNORECASE | re.DOTALL)
_NOTHING = frozenset({"none", "nothing", "-", "\u2013", "\u2014"})


@dataclass(frozen=True, slots=True)
class _Press:
    """What `outlet` must be where this was pressed."""

    name: str
    fits: Callable[[Kind], bool]
    expected: str
    do: str


_PRESSED: Mapping[str, _Press] = {press.name: press for press in (
    _Press("tester", lambda kind: kind.plugs, "an outlet that a tester plugs into",
           "write the receptacle that the tester was in, or `none` for a reading without a press"),
    _Press("device", lambda kind: kind.opens, "the protective device whose own TEST was pressed",
           "write that device, or correct `pressed`"),
    _Press("breaker", lambda kind: kind.is_breaker, "the breaker whose handle was switched off and on",
           "write that breaker, or correct `pressed`"),
    _Press("round", lambda kind: kind.opens or kind.is_breaker, "all breakers and devices that were open during the walk",
           "write those, parted by blanks, or correct `pressed`"),
    _Press("none", lambda kind: kind.is_outlet, "an outlet: a receptacle, a light or an appliance",
           "write the outlet that was read, or correct `pressed`"),
)}
_PRESSED_ALSO = {
    "test": "device", "own test": "device", "device test": "device",
    "plug-in": "tester", "plug in": "tester", "tester button": "tester",
    "handle": "breaker", "reading": "none", "read": "none",
}


@dataclass(slots=True)
class _Above:
    """What a `date` or `by` that is blank or a ditto mark repeats."""

    begun: bool = False        # there is a row above
    date: date | None = None   # None below a date at fault: no second fault
    by: str | None = None      # "" below a ditto mark that repeats nothing: no second fault


def job_line(text: str) -> tuple[str | None, str]:
    """The job that the first line names, and the text with that line blank.

    >>> job_line("# 26-041,,,\\ndate,outlet")
    ('26-041', '\\ndate,outlet')
    """
    found = _JOB.match(text)
    return (found["id"], "\n" * found[0].count("\n") + text[found.end():]) if found else (None, text)


def read_trips(text: str, names: Names, faults: list[Fault], file: str = FILE) -> list[TripTest]:
    """The rows in file order; whole only where no fault was found."""
    tests: list[TripTest] = []
    above = _Above()
    for written in read_rows(job_line(text)[1], file, (*COLUMNS, *MORE), REQUIRED, faults, free=("note",)):
        if not written.spoilt:
            row = _without_dittos(written, above)
            above.date = _date(row, above)
            above.by = fold(row.text("by") or "") or above.by
            test = _test(row, len(tests), above, names)
            if test:
                tests.append(test)
        above.begun = True
    return tests


def _without_dittos(row: Row, above: _Above) -> Row:
    """The row with a blank for every ditto mark that may stand; the cells of the others left out, with a fault."""
    cells = dict(row.cells)
    for column in [column for column in cells if row.ditto(column)]:
        if column not in REPEATED:
            row.fault(f"`{column}: {cells.pop(column)}` repeats the row above", "what was seen in this test",
                      f"write it out; only {listed(REPEATED)} may be repeated")
        elif not above.begun or column == "by" and above.by is None:
            row.fault(f"`{column}: {cells.pop(column)}` repeats nothing", f"a `{column}` above it to repeat",
                      "write it out")
            above.by = "" if column == "by" else above.by
        else:
            cells[column] = ""
    return replace(row, cells=cells)


def _date(row: Row, above: _Above) -> date | None:
    if above.begun and not row.text("date"):
        return above.date
    text = row.needed("date", "the day of the first test, YYYY-MM-DD", "write it; the rows below may leave it blank")
    found = day(text) if text else None
    if text and found is None:
        row.fault(f"`date: {text}` is not a date", "a real day, YYYY-MM-DD", "write it with four, two and two digits",
                  likely_day(text))
    return found


def _time(row: Row) -> time | None:
    text = row.text("time")
    found = clock(text, seconds=True) if text else None
    if text and found is None:
        row.fault(f"`time: {text}` is no time of day", "a time on 24 hours, 0:00 to 23:59", "write it as `9:00` or `18:30`")
    return found


def _test(row: Row, order: int, above: _Above, names: Names) -> TripTest | None:
    row.needed("pressed", "`tester`, `device`, `breaker`, `round` or `none`", "write it; `none` for a reading only")
    press = row.word("pressed", _PRESSED, _PRESSED_ALSO)
    together = _together(row, press, names) if press and press.name == "round" else ()
    outlet = _outlet(row, press, names) if together == () else " ".join(sorted(together or ())) or None
    tripped = _tripped(row, names)
    if together:
        _round(row, together, tripped, names)
    went_dead = _sighted(row, "went_dead", row.text("went_dead") or "", names)
    rest_live, named_live = _rest(row.text("stayed_live") or "")
    rest_except, named_live = _except(row, rest_live, named_live, names)
    stayed_live = _sighted(row, "stayed_live", named_live, names)
    for id in went_dead:
        if id in stayed_live:
            row.fault(f"`{id}` stands in `went_dead` and in `stayed_live`", "each id in one of the two",
                      "remove it where it was not seen; if it was not looked at, remove both")
    volts, volts_after = row.number("volts", "V", 1000), row.number("volts_after", "V", 1000)
    reset = row.word("reset", _RESET, _RESET_ALSO)
    wiring = testers_words(row.text("wiring") or "") or None
    if above.date is None or outlet is None or press is None or tripped is None:
        return None
    return TripTest(order, above.date, outlet, press.name, volts, wiring, tripped, went_dead, stayed_live, rest_live,
                    volts_after, None if reset is None else reset == "yes", above.by, row.text("note"), row.where,
                    _time(row), rest_except, together or (), row.text("page"))


def _together(row: Row, press: _Press, names: Names) -> tuple[str, ...] | None:
    """All that was open in a round; None where that is at fault."""
    written = row.needed("outlet", press.expected, press.do)
    words = _words(written or "")
    found = _found(row, words, ("breaker", "point", "removed"), names)
    odd = [named for named in found if named.what == "panel" or named.kind and not press.fits(named.kind)]
    for named in odd:
        row.fault(f"`pressed: round` with {named.id}, which is {named.words}", press.expected, "write what was opened, or correct "
                  "what it is in the map")
    if written and len(_ids(words)) < 2:
        row.fault(f"`pressed: round` with {_ids(words)[0] if words else 'nothing'} alone", "two ids or more under `outlet`",
                  "write `device` for its own TEST or `breaker` for its handle, or add what was open too")
    return _ids(words) if len(_ids(words)) > 1 and len(found) == len(words) and not odd else None


def _round(row: Row, together: tuple[str, ...], tripped: tuple[str, ...] | None, names: Names) -> None:
    """What only a round must have, and what it has no place for."""
    for id in together:
        kind, pressed = names.table[id].kind, tripped is None or id in tripped
        if kind and not kind.is_breaker and not pressed:
            row.fault(f"`{id}` was open in the round and does not stand in `tripped`", "every device that is no breaker there: "
                      "its own TEST alone opens it", f"add {id} to `tripped`, or take it out of `outlet` if it did not open")
        if kind and not kind.opens and tripped and id in tripped:
            row.fault(f"`{id}` in `tripped`, and it is {names.table[id].words}, which has no TEST", "what was opened by its own TEST",
                      f"take {id} out of `tripped`; under `outlet` it counts as switched off")
    for column in ("volts", "wiring", "volts_after"):
        if row.text(column):
            row.fault(f"`{column}: {row.text(column)}` in a round", "a blank cell: a round is a walk, not a reading",
                      "write the reading as a row of its own with `pressed: none`")
    if _rest(row.text("stayed_live") or "")[0] == "circuit":
        row.fault("`stayed_live` says `rest of circuit` in a round", "ids, or `rest of house` where every room was walked",
                  "write one of these; a round has no circuit of its own")


def _outlet(row: Row, press: _Press | None, names: Names) -> str | None:
    written = row.needed("outlet", press.expected if press else "the id of what was tested", "write its id")
    if written is None:
        return None
    if len(_ids(_words(written))) > 1:
        row.fault(f"`outlet: {fold(written)}` names several", press.expected if press else "one id",
                  "write one id a row; several only with `pressed: round`, all that was open during one walk")
        return None
    named = names.find(written, row.where, "an id of the map", "correct the id, or add it to the map", row.faults,
                       among=("breaker", "point"))
    if named and press and (named.what == "panel" or named.kind and not press.fits(named.kind)):
        row.fault(f"`pressed: {press.name}` at {named.id}, which is {named.words}", press.expected, press.do)
    return written.upper()


def _words(text: str) -> list[str]:
    return [word for word in re.split(r"[\s,;+]+", text) if word and word.casefold() != "and"]


def _found(row: Row, words: list[str], among: tuple[str, ...], names: Names) -> list[Named]:
    found = (names.find(word, row.where, "ids of the map", "correct the id, or add it to the map", row.faults,
                        among=among) for word in words)
    return [named for named in found if named]


def _tripped(row: Row, names: Names) -> tuple[str, ...] | None:
    text = row.needed("tripped", "the ids of what opened, or `none`", "write what opened; `none` if nothing did")
    if text is None:
        return None
    words = _words(text)
    if fold(text).casefold() in _NOTHING | {"no trip"}:
        return ()
    none = next((word for word in words if word.casefold() in _NOTHING), None)
    if none:
        row.fault(f"`tripped: {text}` says `{none}` and more", "ids, or `none` alone", "remove what is not so")
        return None
    for named in _found(row, words, ("breaker", "point"), names):
        opens = named.what in ("breaker", "removed") or named.what == "point" and (named.kind is None or named.kind.opens)
        if not opens:
            row.fault(f"`{named.id}` in `tripped` is {named.words}", "breakers and protective devices",
                      "write what opened, or correct what it is in the map")
    return _ids(words)


def _rest(text: str) -> tuple[str | None, str]:
    """What `rest of ...` takes in ("circuit", the wider "house", or None), and the text without it."""
    said = {found.casefold() for found in _REST.findall(text)}
    widest = "house" if "house" in said else "circuit" if said else None
    return widest, _REST.sub(" ", text)


def _except(row: Row, rest: str | None, text: str, names: Names) -> tuple[tuple[str, ...], str]:
    """The ids that `rest of ... except` leaves out, and the text before it."""
    found = _EXCEPT.search(text)
    if found is None:
        return (), text
    left_out = _sighted(row, "stayed_live", found[1], names)
    lights = [id for id in left_out if (named := names.table.get(id)) and named.kind and named.kind.by_name]
    if rest and lights:
        row.fault(f"`except` is followed by {listed(lights)}, which no `rest of {rest}` speaks of: a light counts by its id alone",
                  "receptacles and appliances there", f"if seen live, write lights first: `{' '.join(lights)} rest of {rest}`, and behind it "
                  f"`except` with what else was not looked at; if not seen, leave them out")
    if rest is None or not found[1].strip():
        row.fault(f"`stayed_live: {fold(row.text('stayed_live') or '')}` says `except`", "`rest of house except V1 V3`",
                  "write what it leaves out behind `rest of circuit` or `rest of house`")
    return left_out, text[:found.start()]


def _sighted(row: Row, column: str, text: str, names: Names) -> tuple[str, ...]:
    """The ids of points in a cell; switches and junctions are left to the reasoning to speak of."""
    words = _words(text)
    folded = [word.casefold() for word in words]
    if any(word in ("light", "lights") and word.upper() not in names.table for word in folded):
        row.fault(f"`{column}: {fold(row.text(column) or '')}` speaks of lights without their ids", "the id of each light",
                  "name each light that was seen" + (": `L1 L2 rest of house`" if column == "stayed_live" else ""))
        return ()
    if "rest" in folded:
        expected = "ids, `rest of circuit` or `rest of house`" if column == "stayed_live" else "the id of each point"
        row.fault(f"`{column}: {fold(text)}` says `rest`", expected,
                  "write one of these" if column == "stayed_live" else "write each one that was seen dead")
        return ()
    none = next((word for word in words if word.casefold() in _NOTHING), None)
    if none:
        row.fault(f"`{column}: {fold(text)}` says `{none}`", "ids of points, or a blank cell",
                  "leave the cell blank; what it does not name was not looked at")
        return ()
    for named in _found(row, words, ("point",), names):
        if named.what not in ("point", "removed"):
            row.fault(f"`{named.id}` in `{column}` is {named.words}", "ids of points",
                      "write the points that were looked at")
    return _ids(words)


def _ids(words: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(word.upper() for word in words))
