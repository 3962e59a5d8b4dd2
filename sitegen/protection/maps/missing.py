"""Takes the proof; gives the fewest further presses, and with them the fewest looks, that would make the job ready.

Reckoned as if every further test agreed with the map. Most needs leave no choice: a device's TEST, what it has to account
for, a reading. The one choice is how an outlet is shown behind a device: by the tester there, which opens the nearest guard,
or by that device's own TEST; every way of choosing is tried.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from ...errors import Where
from ...job.records import TripTest
from ..evidence import Evidence
from ..proof import Proof
from ..sighting import DEAD_VOLTS
from ..tree import Tree

MOST_CHOICES = 10  # devices whose TEST may or may not be pressed again; beyond, all are, which may not be the fewest


@dataclass(frozen=True, slots=True)
class MissingTest:
    """One press, and the outlets to look at after it."""

    outlet: str                # where to press: the device, or the outlet for the tester
    pressed: str               # device | tester
    look_at: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        return {"outlet": self.outlet, "pressed": self.pressed, "look_at": list(self.look_at)}


Looks = dict[str, set[str]]    # where to press -> what to look at
Pair = tuple[str, str]         # outlet, device
Plan = tuple[Looks, Looks]     # TEST presses, tester presses


def missing_tests(proof: Proof) -> tuple[MissingTest, ...]:
    """The tests in feed order, TESTs first; none while anything is contradicted or a device has failed.

    A need that no test can meet (a device that cuts no outlet) is left out. In a house of rounds a press that brings back what
    a visit took away, or looks at what it added, may let the old rounds tell the rest: what is shown without it is not asked.
    """
    asked = _each(proof)
    if not (proof.evidence.in_rounds and proof.tree.job.visits):
        return asked
    for test in sorted(asked, key=lambda test: len({test.outlet, *test.look_at} & set(proof.evidence.voided))):
        rest = tuple(other for other in asked if other is not test)
        asked = asked if _each(_after(proof, rest)) else rest
    return asked


def _after(proof: Proof, tests: Iterable[MissingTest]) -> Proof:
    """What would be proved after these tests, each as the map has it."""
    tree, job = proof.tree, proof.tree.job
    today = max((*(row.date for row in job.tests), *(touch.date for touch in proof.evidence.standing.touches)))
    rows = list(job.tests)
    for test in tests:
        opened = test.outlet if test.pressed == "device" else _opens_here(proof, test.outlet)
        dead = tuple(id for id in test.look_at if opened in tree.reset_order(id))
        wiring = None if test.pressed == "device" else "correct" if job.point[test.outlet].grounded else "open ground"
        rows.append(TripTest(len(rows), today, test.outlet, test.pressed, None, wiring, (opened,) if opened else (), dead,
                             tuple(id for id in test.look_at if id not in dead), None, None, True, None, None, Where("", 0)))
    return Proof(Evidence(Tree(replace(job, tests=tuple(rows)))))


def _each(proof: Proof) -> tuple[MissingTest, ...]:
    """What is asked of each thing by itself."""
    if proof.evidence.contradicted or "failed" in proof.devices.values():
        return ()
    tests, testers = _forced(proof)
    pairs = [pair for pair in _pairs(proof) if pair[0] not in tests.get(pair[1], ())]
    free = sorted({device for _, device in pairs if device not in tests})
    choices = [extra for count in range(len(free) + 1) for extra in combinations(free, count)] \
        if len(free) <= MOST_CHOICES else [tuple(free)]
    plans = (_plan(proof, (tests, testers), pairs, extra) for extra in choices)
    best = min((plan for plan in plans if plan), key=_cost)
    order = {id: index for index, id in enumerate((*proof.tree.breakers, *proof.tree.order))}
    return tuple(MissingTest(where, pressed, tuple(sorted(looks, key=order.__getitem__)))
                 for pressed, presses in zip(("device", "tester"), best)
                 for where, looks in sorted(presses.items(), key=lambda item: order[item[0]]))


def _cost(plan: Plan) -> tuple[int, int]:
    presses = [looks for part in plan for looks in part.values()]
    return len(presses), sum(map(len, presses))


def _forced(proof: Proof) -> Plan:
    """The presses that nothing else can stand for, with the looks that only they can give."""
    tree = proof.tree
    tests: Looks = {device: set(proof.not_accounted(device)) for device in tree.devices
                    if (proof.devices[device] != "proved" or proof.not_accounted(device)) and _to_see(proof, device)}
    testers: Looks = {id: set() for id in tree.outlets if _no_reading(proof, id)}
    for where, pressed in _over_again(proof):
        (tests if pressed == "device" else testers).setdefault(where, set())
    return tests, testers


def _no_reading(proof: Proof, outlet: str) -> bool:
    point = proof.tree.job.point[outlet]
    return point.kind.has_face and bool(proof.tree.protected_by(outlet)) and not point.not_proved \
        and outlet not in proof.evidence.readings


def _over_again(proof: Proof) -> Iterator[tuple[str, str]]:
    """Presses whose latest row stops the job for a reason that the same press done over would mend."""
    evidence, job = proof.evidence, proof.tree.job
    for (where, pressed), row in evidence.presses.items():
        plugs = where in job.point and job.point[where].kind.plugs
        said, volts = row.outlet in row.went_dead, row.volts_after
        measured = volts is not None and (said and volts > DEAD_VOLTS or where in row.stayed_live and volts <= DEAD_VOLTS)
        guards = proof.tree.protected_by(where) if where in job.point and proof.tree.is_outlet(where) else ()
        held = pressed == "tester" and guards and row.tripped and not set(row.tripped) & set(guards)
        if pressed == "device" and measured or pressed == "tester" and plugs and (measured or held or row.reset is False):
            yield where, pressed
    for outlet, row in evidence.readings.items():
        plugs = outlet in job.point and job.point[outlet].kind.plugs
        if plugs and row.wiring != "correct" and not (row.wiring == "open ground" and not job.point[outlet].grounded):
            yield outlet, "tester"


def _to_see(proof: Proof, device: str) -> tuple[str, ...]:
    """What a device's own TEST has to show dead, one of these at least; those that can be reached first."""
    tree = proof.tree
    if tree.kind(device).has_face:
        return (device,)
    return tuple(sorted(tree.outlets_of(tree.goes_dead(device)), key=lambda id: bool(tree.job.point[id].not_proved)))


def _pairs(proof: Proof) -> list[Pair]:
    """Outlets that are still to be shown behind a guard."""
    tree = proof.tree
    return [(id, device) for id in tree.outlets
            if not tree.kind(id).by_name and not tree.job.point[id].not_proved for device in proof.not_shown(id)]


def _plan(proof: Proof, forced: Plan, pairs: list[Pair], extra: Iterable[str]) -> Plan | None:
    """The cheapest plan in which these further devices' TESTs are pressed and no others; None where that cannot do."""
    tests = {device: set(looks) for device, looks in forced[0].items()} | {device: set() for device in extra}
    testers = {id: set(looks) for id, looks in forced[1].items()}
    for outlet, device in pairs:
        if device in tests:
            tests[device].add(outlet)
        elif _opens_here(proof, outlet) == device and (lost := _lost(proof, outlet, device)) <= set(tests):
            testers.setdefault(outlet, set()).add(outlet)
            for other in lost:
                tests[other].add(outlet)
        else:
            return None
    for device, looks in tests.items():
        to_see = _to_see(proof, device)
        if to_see and not looks & set(to_see):
            looks.add(to_see[0])
    return tests, testers


def _opens_here(proof: Proof, outlet: str) -> str | None:
    """What a tester pressed here would open: the nearest guard; nothing where it cannot be used or has no ground."""
    point = proof.tree.job.point[outlet]
    guards = proof.tree.protected_by(outlet)
    return guards[0] if guards and point.kind.plugs and point.grounded else None


def _lost(proof: Proof, outlet: str, device: str) -> set[str]:
    """The guards that only an earlier press of the tester here showed: a new one that opens another takes its place."""
    old = proof.evidence.looked(outlet, outlet, "tester")
    if old is None or not old.dead:
        return set()
    by_test = {id for id in old.opened if (look := proof.evidence.looked(outlet, id, "device"))
               and look.dead and look.opened == (id,)}
    guards = set(proof.tree.protected_by(outlet))
    return {id for id in old.opened if id != device and id in guards and id not in by_test}
