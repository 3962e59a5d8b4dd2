"""Takes the sightings that still stand; holds them against the map, and tells what was shown.

The only reader of evidence. A sighting is one fact of one row: this outlet was dead, or live, while these
devices were open. The law: it agrees with the map when the outlet is dead exactly if an opened device stands
before it. What a row does not name was not looked at and is evidence of nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from ..job.records import TripTest
from .elimination import Seen, Told, deduce
from .sighting import DEAD_VOLTS, Clash, Look, Looks, Sighting, age, is_own_test, opened
from .standing import Touch


@dataclass(frozen=True)
class Evidence(Looks):
    """Everything the walk-through showed."""

    @cached_property
    def presses(self) -> dict[tuple[str, str], TripTest]:
        """(where, what was pressed) -> its latest row that counts."""
        return {(row.outlet, row.pressed): row for row in self.rows if self.counts(row)}

    def own_test(self, device: str) -> TripTest | None:
        """The latest row that counts in which the device's own TEST was pressed, alone or in a round."""
        return next((row for row in self.own_tests.get(device, ()) if not self.voided_test(row, device)), None)

    @cached_property
    def own_tests(self) -> dict[str, list[TripTest]]:
        """Device -> every row in which its own TEST was pressed, the latest first."""
        table: dict[str, list[TripTest]] = {}
        for row in reversed(self.rows):
            for id in row.at:
                if is_own_test(row, id):
                    table.setdefault(id, []).append(row)
        return table

    def voided_test(self, row: TripTest, device: str) -> Touch | None:
        """What came after this row and leaves the device's own TEST in it worth nothing."""
        if not self.standing.touches:
            return None
        return self.standing.voided_press(replace(row, outlet=device, pressed="device"))

    @cached_property
    def readings(self) -> dict[str, TripTest]:
        """Outlet -> the latest row that says what the tester read there."""
        return {row.outlet: row for row in self.rows if row.wiring and row.pressed != "breaker"}

    def has_ground(self, row: TripTest) -> bool:
        """False where a plug-in tester's press can show nothing: it leaks to the ground pin. What the tester shows goes before what is written."""
        return row.wiring == "correct" or self.tree.job.point[row.outlet].grounded and row.wiring != "open ground"

    def partners(self, outlet: str) -> tuple[str, ...]:
        """What stands on circuits that share their neutral with the outlet's own: a tester may open it too."""
        job = self.tree.job
        mates = {job.circuit[key].key for key in job.circuit[job.point[outlet].circuit].shares_neutral_with} if outlet in job.point else set()
        return tuple(id for id in self.contacts if mates and (
            job.point[id].circuit in mates if id in job.point else any(job.circuit[key].breaker == id for key in mates)))

    def partners_opened(self, row: TripTest) -> tuple[str, ...]:
        """What a tester opened on circuits that share their neutral with the outlet's own, beside a device before it."""
        before, partners = set(self.tree.reset_order(row.outlet)), self.partners(row.outlet)
        return tuple(id for id in row.tripped if id not in before and id in partners) if before & set(row.tripped) else ()

    def _against(self, look: Look) -> Look:
        """What breaks the law. Behind an unknown feed anything that opened may stand before the outlet."""
        cut = 0
        for id in look.opened:
            cut |= self.tree.cuts.get(id, 0)
        unknown = self.tree.bits(self.tree.unknown) if look.opened and self.tree.unknown else 0
        return replace(look, dead=look.dead & ~cut & ~unknown, live=look.live & cut)

    @cached_property
    def clashes(self) -> tuple[Clash, ...]:
        """Every standing fact that disagrees with the map."""
        found = [Clash(s.outlet, s.row, "dead" if s.dead else "live") for look in self.stand for s in self._against(look)]
        for (outlet, pressed), row in self.presses.items():
            if pressed != "tester":
                continue
            if set(row.tripped) - set(self.tree.reset_order(outlet)) - set(self.partners_opened(row)) and outlet not in self.tree.unknown:
                found.append(Clash(outlet, row, "tester opened"))
            elif not row.tripped and self.tree.protected_by(outlet) and self.has_ground(row):
                found.append(Clash(outlet, row, "no trip"))
        return tuple(found)

    @cached_property
    def contradicted(self) -> frozenset[str]:
        return frozenset(clash.outlet for clash in self.clashes)

    @cached_property
    def _shown(self) -> dict[tuple[str, str], TripTest]:
        table: dict[tuple[str, str], TripTest] = {}
        for sighting in (s for look in self.stand for s in look.dark):
            row = sighting.row
            if row.pressed == "tester" and row.outlet == sighting.outlet:
                behind = row.tripped
            elif row.pressed == "device" and row.tripped == (row.outlet,):
                behind = row.tripped
            else:
                behind = ()
            for device in behind:
                table[sighting.outlet, device] = row
        return table

    def shown(self, outlet: str, device: str) -> TripTest | None:
        """The latest row that showed this outlet dead with this device open: by the tester pressed there,
        by the device's own TEST that opened it alone, or by what rounds tell."""
        return self._later(self._shown.get((outlet, device)), self.company.shown(outlet, device) if self.company else None)

    @cached_property
    def contacts(self) -> tuple[str, ...]:
        """Everything that can be opened: breakers, then devices, in file order."""
        job = self.tree.job
        return (*(b.id for b in job.breakers), *(p.id for p in job.points if p.kind.opens))

    @cached_property
    def company(self) -> Told | None:
        """What all that still counts tells together; None in a job without rounds. What rests on a face at odds is withheld."""
        number = {row.row: at for at, row in enumerate(self.rows)}
        given = {pair: number[row.row] for pair, row in self._shown.items()}
        return deduce(self.seen(), self.contacts, tuple(self.tree.job.breaker), given, self.contradicted) if self.in_rounds else None

    @property
    def in_rounds(self) -> bool:
        return any(row.together for row in self.rows)

    def seen(self, sightings: Iterable[Sighting] | None = None) -> list[Seen]:
        """The sightings as the rules of rounds take them, rows numbered by age."""
        number = {row.row: at for at, row in enumerate(self.rows)}
        return [Seen(s.outlet, s.dead, frozenset(s.opened), number[s.row.row])
                for s in (self.sightings if sightings is None else sightings) if not self.not_lit_again(s)]

    def not_lit_again(self, sighting: Sighting) -> bool:
        """True where an outlet was dead in a round and not seen live later that day: it may have died of something else."""
        row = sighting.row
        return bool(row.together) and sighting.dead and self._last_lit.get((sighting.outlet, row.date), -1) <= row.row

    @cached_property
    def _last_lit(self) -> dict[tuple[str, date], int]:
        """Outlet and day -> the last row that saw it live, or read its volts."""
        lit: dict[tuple[str, date], int] = {}
        for row in self.rows:
            for id in (row.outlet,) if (row.volts or 0) > DEAD_VOLTS else ():
                lit[id, row.date] = row.row
            for outlet in self.tree.of_bits(self.looks(row).live):
                lit[outlet, row.date] = row.row
        return lit

    def _later(self, row: TripTest | None, number: int | None) -> TripTest | None:
        """The later of a row and one by its number."""
        rows = [found for found in (row, None if number is None else self.rows[number]) if found]
        return max(rows, key=age, default=None)

    @cached_property
    def _while_open(self) -> dict[str, list[Look]]:
        """Device -> what stands of the rows in which it was open, the latest first."""
        table: dict[str, list[Look]] = {}
        for look in reversed(self.stand):
            for device in look.opened:
                table.setdefault(device, []).append(look)
        return table

    def live_while_open(self, outlet: str, device: str) -> TripTest | None:
        """The latest row that saw this outlet live while this device was open, or from which rounds tell that it does not cut it."""
        bit = self.tree.bit.get(outlet, 0)
        row = next((look.row for look in self._while_open.get(device, ()) if look.live & bit), None)
        return self._later(row, self.company.shown_not(outlet, device) if self.company else None)

    def accounted(self, outlet: str, device: str) -> bool:
        """True where the device's own TEST looked at this outlet, or rounds tell whether it cuts it."""
        told = self.company and (self.company.shown(outlet, device), self.company.shown_not(outlet, device)) != (None, None)
        return bool(self.looked(outlet, device, "device") or told)

    def cut_alone(self, row: TripTest, device: str, outlets: Iterable[str]) -> bool:
        """True where one of these was dead in this row, and nothing else that was open stands before it."""
        told, others = self.company, [id for id in opened(row) if id != device]
        dead = {s.outlet for look in self.press_looks(row) for s in look.dark if not self.not_lit_again(s)}
        return any(id in dead and not (told and any(told.shown_not(id, other) is None for other in others)) for id in outlets)

    def looked(self, outlet: str, where: str, pressed: str) -> Sighting | None:
        """The standing sighting of this outlet under this press, if it was looked at."""
        return next(filter(None, (look.at(outlet) for look in self._of_press.get((where, pressed), ()))), None)

    def handle_tried(self, outlet: str, breaker: str) -> TripTest | None:
        """The row in which this breaker, and nothing else, was seen to turn this outlet off: by its handle alone, or as rounds
        tell it in which it was open."""
        sighting = self.looked(outlet, breaker, "breaker")
        row = sighting.row if sighting and sighting.dead and sighting.opened == (breaker,) else None
        in_round = self.company and any(breaker in row.together for row in self.rows)
        return self._later(row, self.company.shown(outlet, breaker) if self.company and in_round else None)

    def handle(self, breaker: str) -> TripTest | None:
        """The latest row in which this breaker's handle was used, alone or in a round."""
        in_rounds = (row for row in reversed(self.rows) if breaker in row.together and breaker not in row.tripped)
        return max(filter(None, (self.presses.get((breaker, "breaker")), next(in_rounds, None))), key=age, default=None)

    def live_in_every_own_test(self, outlet: str) -> bool:
        """True when the outlet was seen live in the own TEST of every device of the house, opened alone."""
        def was_live(device: str) -> bool:
            look = self.looked(outlet, device, "device")
            return look is not None and not look.dead and look.opened == (device,) or \
                self.company is not None and self.company.shown_not(outlet, device) is not None
        return all(was_live(device) for device in self.tree.devices)
