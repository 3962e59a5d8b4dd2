"""Takes the report; gives the walk-through as a sheet to fill in with a pencil: what to read, press and look at, in walking
order. What was seen stays empty: the map says where to look, never what will be found."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ...job.trips import COLUMNS
from ...protection.rounds import Plan, looks_again
from ...protection.rounds.handles import handles_in_company
from ...protection.rounds.limits import alarms_of
from ...protection.rounds.report import Left
from ..answer.places import at_of, is_vital, place
from ..desk import Desk, room_and_spot
from ..desk.words import Rich
from ..walking import Steps, Way, doorways, passed, shortest_walk
from .asks import Ask, all_tests, missing_tests, not_reached, round_asks
from .rounds import Rooms, RoundPage, again_pages, by_room, lit_by, round_pages, switch_on


@dataclass(frozen=True, slots=True)
class Look:
    """One outlet to look at."""

    id: str
    room: str                   # "" where it is the room of the look above
    says: str                   # the exact spot and what is there
    plugs: bool                 # a tester fits: volts and wiring are read


@dataclass(frozen=True, slots=True)
class Press:
    """One press, with the outlets to look at in the order of the walk."""

    number: int
    says: Rich                  # what to do
    where: str
    outlet: str
    pressed: str
    looks: tuple[Look, ...]


@dataclass(frozen=True, slots=True)
class WalkSheet:
    job: str
    title: str
    missing: bool               # only what is not shown yet
    first: tuple[Look, ...]     # everything on, seen live, read
    again: tuple[RoundPage, ...]  # before anything else: rounds of which a look disagrees with the map
    rounds: tuple[RoundPage, ...]
    last: Rooms                 # after rounds: what is to be seen on again
    told: tuple[str, ...]       # before rounds: alarms that lose power, what is off twice running
    presses: tuple[Press, ...]
    handles: tuple[Press, ...]
    not_reached: tuple[str, ...]  # what nobody can get to, with the reason: nothing is asked there
    vital: tuple[str, ...]      # what must be back on at the end
    rows: tuple[tuple[str, str], ...]  # outlet and pressed of every row, in order
    doorways: int               # passed from the first press to the last reset, handles left out


def walk_sheet(desk: Desk, missing: bool = False, rounds: Left | None = None) -> WalkSheet:
    """The whole walk-through, or only what is not shown yet; with `rounds` in company, what may not be pressed there alone.

    Without, only the handles of breakers with a TEST are in company.
    """
    made = (rounds.plan if missing else rounds.whole) if rounds else None if missing else handles_in_company(desk.tree)
    asks = round_asks(desk.report, rounds, missing) if rounds else missing_tests(desk.report) if missing else all_tests(desk.report)
    steps = doorways(desk.job)
    toured = walking_order(desk, made.look, steps) if made and made.rounds else ()
    # One thing alone is told without a look before and after at the whole house.
    before_and_after = toured if made and any(len(one.open) > 1 for one in made.rounds) else ()
    presses = _walked(desk, [ask for ask in asks if ask.pressed in ("device", "tester")], steps)
    handles = _walked(desk, [ask for ask in asks if ask.pressed == "breaker"], steps)
    reads = [ask.outlet for ask in asks if ask.pressed == "none"]
    seen = {*reads, *before_and_after, *(id for ask in asks for id in ask.looks)}
    round_trip = _by_room(desk, [id for id in desk.tree.outlets if id in seen], steps,
                          end=room_of(desk, presses[0].outlet) if presses else None)
    away = [id for id in not_reached(desk.report) if id not in round_trip]
    again = again_pages(desk, looks_again(desk.report.evidence) if missing else (), steps)
    rounds_left = round_pages(desk, made, toured, steps) if made else ()
    rows = [(" ".join(one.open), one.pressed) for one in again]
    rows += [(id, "none") for id in round_trip if id in reads]
    rows += [(" ".join(one.open), one.pressed) for one in rounds_left]
    rows += [(ask.outlet, ask.pressed) for ask in (*presses, *handles)]
    rows += [(next((id for id in before_and_after if desk.tree.kind(id).plugs), before_and_after[0]), "none")] if before_and_after else []
    file = desk.job.file
    return WalkSheet(file.id, file.title, missing, _looks(desk, round_trip, reads),
                     again, rounds_left, by_room(desk, before_and_after), _told(desk, made) if made and made.rounds else (),
                     _presses(desk, presses, 1), _presses(desk, handles, len(presses) + 1),
                     tuple(f"{id} {place(desk, id)}: {desk.point(id).not_proved}" for id in away),
                     tuple(f"{id} {place(desk, id)}" for id in _switched(desk, rows, (*round_trip, *away)) if is_vital(desk, id)),
                     tuple(rows), passed([room for ask in presses for room in rooms_walked(desk, ask)], steps))


def _switched(desk: Desk, rows: Iterable[tuple[str, str]], looked: Sequence[str]) -> tuple[str, ...]:
    """What is looked at, and what the presses of these rows turn off unseen."""
    opened = {id for outlet, pressed in rows if pressed != "none" for id in outlet.split()}
    return (*looked, *(id for id in desk.tree.outlets if id not in looked and opened & set(desk.tree.reset_order(id))))


def walking_order(desk: Desk, ids: Sequence[str], steps: Steps) -> tuple[str, ...]:
    """Outlets as a whole walk passes them, from the panel and back to it."""
    panel = room_and_spot(desk.job.panels[0])[0]
    return _by_room(desk, ids, steps, panel, panel)


def _told(desk: Desk, made: Plan) -> tuple[str, ...]:
    """What people in the house have to know before the first round."""
    alarms = [f"{id} {place(desk, id)}" for id in alarms_of(desk.tree) if id in made.look]
    told = [desk.words.text("walk.rounds.alarms", things=", ".join(alarms))] if alarms else []
    told += [desk.words.text("walk.rounds.lit_by", id=id, place=place(desk, id), says=says)
             for id in made.look if (says := lit_by(desk, id))]
    if made.cold_twice:
        told.append(desk.words.text("walk.rounds.cold", ids=", ".join(made.cold_twice)))
    return tuple(told)


def walk_csv(sheet: WalkSheet) -> str:
    """The rows to fill in, as trip_tests.csv has them: `outlet` and `pressed` written, all that was seen left blank."""
    out = io.StringIO()
    out.write(f"# {sheet.job}\n")
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows({"outlet": outlet, "pressed": pressed} for outlet, pressed in sheet.rows)
    return out.getvalue()


def room_of(desk: Desk, id: str) -> str:
    """The room of a point, or that of a breaker's panel."""
    if id in desk.job.breaker:
        return room_and_spot(desk.panel_of(id))[0]
    return str(desk.point(id).room)


def ends(desk: Desk, ask: Ask) -> Way:
    """A press begins where it is pressed and ends where it is reset: after the tester's, at the nearest device on the map."""
    guards = desk.tree.protected_by(ask.outlet) if ask.pressed == "tester" else ()
    return room_of(desk, ask.outlet), room_of(desk, guards[0] if guards else ask.outlet)


def _walked(desk: Desk, asks: list[Ask], steps: Steps) -> list[Ask]:
    """The presses, and the looks of each, in walking order."""
    ways = [ends(desk, ask) for ask in asks]
    return [Ask(asks[at].outlet, asks[at].pressed, _by_room(desk, asks[at].looks, steps, *ways[at]))
            for at in shortest_walk(ways, steps)]


def _by_room(desk: Desk, ids: Sequence[str], steps: Steps, start: str | None = None,
             end: str | None = None) -> tuple[str, ...]:
    """Outlets room by room, on the way from one room to another."""
    rooms = [room_of(desk, id) for id in ids]
    return tuple(ids[at] for at in shortest_walk([(room, room) for room in rooms], steps, start, end))


def rooms_walked(desk: Desk, ask: Ask) -> tuple[str, ...]:
    """The rooms of one press in the order they are entered: from the press over the looks to the reset."""
    start, end = ends(desk, ask)
    rooms = [start, *(room_of(desk, id) for id in ask.looks), end]
    return tuple(rooms)


def _looks(desk: Desk, ids: Iterable[str], reads: Iterable[str] = ()) -> tuple[Look, ...]:
    found: list[Look] = []
    here = None
    for id in ids:
        point = desk.point(id)
        says = desk.words.parts((at_of(desk, id), point.use)) + switch_on(desk, id)
        found.append(Look(id, "" if point.room == here else str(point.room), says, id in reads))
        here = point.room
    return tuple(found)


def _presses(desk: Desk, asks: list[Ask], number: int) -> tuple[Press, ...]:
    job, made = desk.job, []
    for at, ask in enumerate(asks, number):
        if ask.outlet in job.breaker:
            panel = desk.panel_of(ask.outlet)
            says = desk.words.rich(f"walk.press.{ask.pressed}_breaker" if ask.pressed == "device" else "walk.press.breaker",
                              space=job.breaker[ask.outlet].space, id=ask.outlet)
            where = f"{panel.at} ({panel.id})"
        else:
            says = desk.words.rich(f"walk.press.{ask.pressed}", id=ask.outlet)
            where = place(desk, ask.outlet)
        made.append(Press(at, says, where, ask.outlet, ask.pressed, _looks(desk, ask.looks)))
    return tuple(made)
