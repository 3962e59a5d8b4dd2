"""Takes the desk; gives the monthly round in two parts: the buttons with one lamp, in walking order, and the breakers by visits to their panel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from ..protection.rounds.monthly import not_pressed, visits
from .answer.lists import flatten, turns_off
from .answer.places import at_of, is_vital, space, spot, used_for
from .desk import Desk
from .desk.once import once
from .desk.words import Rich
from .months import guards, rule_in_words, testing_order
from .watch import watch

# Minutes: counted, not timed; common practice, no source. The page says what they are made of.
A_BUTTON, A_BREAKER, A_ROOM = 1.5, 0.5, 0.5
STEP = 5        # the sum is rounded up to it


@dataclass(frozen=True, slots=True)
class Press:
    """One line to tick."""

    id: str
    label: str          # what stands in its tag: "K4"; of a breaker its space
    what: str           # where a button is; what a breaker feeds
    how: str            # what to look at: "lamp in K4 → TEST: off → RESET: on"; of a breaker the first alone


@dataclass(frozen=True, slots=True)
class PanelVisit:
    """Breakers that are off together during one walk."""

    at: str             # of their panel
    rows: tuple[Press, ...]
    again: bool         # of a panel whose steps stand above


@dataclass(frozen=True, slots=True)
class MonthlyRound:
    rule: str           # "First Saturday of the month, in daylight ..."
    minutes: int
    basis: str          # what they are made of
    buttons: tuple[Press, ...]
    visits: tuple[PanelVisit, ...]
    held: tuple[Press, ...]                 # with medical equipment: not pressed
    results: tuple[tuple[Rich, Rich], ...]  # what is seen, what it means
    last: tuple[str, ...]                   # to be seen running again

    @property
    def presses(self) -> tuple[Press, ...]:
        return (*self.buttons, *(row for visit in self.visits for row in visit.rows))


@once
def monthly_round(desk: Desk) -> MonthlyRound:
    held = not_pressed(desk.tree)
    buttons = [id for id in testing_order(desk) if id not in desk.job.breaker]
    return MonthlyRound(desk.words.text("monthly.intro", rule=rule_in_words(desk)), minutes(desk), desk.words.text("round.basis"),
                        tuple(press(desk, id) for id in buttons if id not in held), tuple(_visits(desk)),
                        tuple(press(desk, id) for id in testing_order(desk) if id in held), tuple(_results(desk)), _last(desk, held))


def minutes(desk: Desk) -> int:
    """How long the round takes, the one time that page, paper and calendar name."""
    groups, held = visits(desk.tree), not_pressed(desk.tree)
    breakers = sum(len(group.breakers) for group in groups)
    buttons = sum(id not in held and id not in desk.job.breaker for id in desk.tree.devices)
    rooms = sum(len({desk.point(id).room for breaker in group.breakers for id in desk.tree.goes_dead(breaker)}) for group in groups)
    return STEP * max(1, ceil((A_BUTTON * buttons + A_BREAKER * breakers + A_ROOM * rooms) / STEP))


def press(desk: Desk, id: str) -> Press:
    here, breaker = spot(desk, id), desk.job.breaker.get(id)
    if not breaker:
        return Press(id, id, f"{here.room}, {here.at}", _seen(desk, id, "round.way"))
    feeds = "; ".join(circuit.serves for circuit in desk.job.circuits if circuit.breaker == id)
    return Press(id, space(desk, id), feeds, _seen(desk, id, "round.watch"))


def _seen(desk: Desk, device: str, words: str) -> str:
    """What to look at, in a few words."""
    seen = watch(desk, device)
    if not seen.outlet:
        return desk.words.text(f"{words}.none")
    room, at, use = desk.point(seen.outlet).room, at_of(desk, seen.outlet), desk.point(seen.outlet).use
    return desk.words.text(f"{words}.{seen.how}", id=seen.outlet, room=room, thing=f"{use or at}, {room}")


def _visits(desk: Desk) -> Iterator[PanelVisit]:
    before = ""
    for group in visits(desk.tree):
        yield PanelVisit(desk.job.panel[group.panel].at, tuple(press(desk, id) for id in group.breakers), group.panel == before)
        before = group.panel


def _results(desk: Desk) -> Iterator[tuple[Rich, Rich]]:
    """The rows of the table; what a failed TEST means goes by what the devices of the house guard against."""
    against = {name: [id for id in testing_order(desk) if guards(desk, id) == name] for name in ("shock", "arcs", "equipment")}
    failed = [name for name, ids in against.items() if ids]
    for name in ("no_power", "works", *failed, "stays_out"):
        named = _named(desk, against.get(name, []), len(failed) > 1 and name == failed[-1])
        yield desk.words.rich(f"round.results.{name}.seen", ids=named), desk.words.rich(f"round.results.{name}.means")


def _named(desk: Desk, ids: list[str], others: bool) -> str:
    """Buttons by their ids, breakers by their spaces; all of them, or all others, in a word."""
    words, buttons = desk.words, [id for id in ids if id not in desk.job.breaker]
    every = {id for id in desk.tree.devices if id not in desk.job.breaker} <= set(buttons)
    spaces = [space(desk, circuit.breaker) for circuit in desk.by_space() if circuit.breaker in ids]
    breakers = words.text("round.results.any_other") if others else words.text("round.results.breakers", spaces=words.join(list(dict.fromkeys(spaces))))
    return "; ".join((*([words.text("round.results.any_button") if every else words.join(buttons)] if buttons else []),
                      *([breakers] if spaces else [])))


def _last(desk: Desk, held: frozenset[str]) -> tuple[str, ...]:
    """What must not stay off, each once."""
    seen = [item.id for device in testing_order(desk) if device not in held for item in flatten(turns_off(desk, device).items)]
    last = [id for id in dict.fromkeys(seen) if is_vital(desk, id) or used_for(desk, id, "restarts")]
    return tuple(", ".join((desk.point(id).use or at_of(desk, id), desk.point(id).room)) for id in last)
