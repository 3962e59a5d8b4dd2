"""Takes the evidence; gives the observations that no map can explain, and the findings that tell of them.

What is set aside here is a fault of the house or of a row, and no correction of the map is sought for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations

from ...job.records import TripTest
from ..evidence import Evidence
from ..finding import Finding
from ..proof import Proof
from ..say import both, day, place
from ..sighting import Sighting

Key = tuple[str, int]  # outlet and number of the row: names a sighting


def key(sighting: Sighting) -> Key:
    return sighting.outlet, sighting.row.row


@dataclass(frozen=True, slots=True)
class Quarrel:
    """Two rows, or two facts of one row, that cannot both be right on any map."""

    one: TripTest
    other: TripTest
    points: tuple[str, ...]
    why: str                # a sentence without its end


@dataclass(slots=True)
class Aside:
    """What no map can explain."""

    sightings: set[Key] = field(default_factory=set)
    presses: set[int] = field(default_factory=set)        # numbers of rows whose tester press is set aside
    miswired: dict[str, Sighting] = field(default_factory=dict)
    quarrels: list[Quarrel] = field(default_factory=list)

    def drop(self, sightings: Iterable[Sighting]) -> None:
        self.sightings |= {key(sighting) for sighting in sightings}

    @property
    def outlets(self) -> set[str]:
        return {outlet for outlet, _ in self.sightings}


def set_aside(evidence: Evidence) -> Aside:
    """Everything that no map can explain; nothing where the map as written explains all."""
    return impossible(evidence) if evidence.clashes else Aside()


def impossible(evidence: Evidence) -> Aside:
    """Everything that no map can explain, whatever is written."""
    aside = Aside()
    _doubtful(evidence, aside)
    _no_trip(evidence, aside)
    _one_outlet(evidence, aside)
    _two_sets(evidence, aside)
    return aside


def standing(evidence: Evidence, aside: Aside) -> list[Sighting]:
    """The sightings that are left."""
    return [s for s in evidence.sightings if key(s) not in aside.sightings]


def presses(evidence: Evidence, aside: Aside) -> list[TripTest]:
    """The tester presses that are left."""
    return [row for (_, pressed), row in evidence.presses.items()
            if pressed == "tester" and row.row not in aside.presses]


def _doubtful(evidence: Evidence, aside: Aside) -> None:
    """A TEST that opened another device, a face live behind its own open contacts, dead with nothing open."""
    rows: dict[int, list[Sighting]] = {}
    for sighting in evidence.sightings:
        rows.setdefault(sighting.row.row, []).append(sighting)
        row = sighting.row
        if row.pressed == "device" and row.tripped not in ((), (row.outlet,)):
            aside.drop([sighting])
        if sighting.dead and not sighting.opened:
            aside.drop([sighting])
    for sightings in rows.values():
        for face in sightings:
            if face.dead or face.outlet not in face.opened:
                continue
            aside.drop([face])
            alone = face.opened == (face.outlet,)
            if alone and any(s.dead for s in sightings):
                aside.miswired.setdefault(face.outlet, face)
            elif alone:
                aside.drop(sightings)  # its contacts may not open at all: what stayed live shows nothing of the map


def _no_trip(evidence: Evidence, aside: Aside) -> None:
    """A press that opened nothing where a guard was shown to stand: the ground or the device, not the map."""
    tree = evidence.tree
    guarded = {s.outlet for s in evidence.sightings
               if s.dead and s.opened and all(tree.kind(id).stops_shock for id in s.opened)}
    for (outlet, pressed), row in evidence.presses.items():
        if pressed == "tester" and not row.tripped and (outlet in guarded or tree.kind(outlet).stops_shock):
            aside.presses.add(row.row)


def _one_outlet(evidence: Evidence, aside: Aside) -> None:
    """Dead while these were open, and live while they were open; or live behind what its own tester opened."""
    live: dict[tuple[str, str], list[Sighting]] = {}  # outlet and what was open -> where it was live all the same
    for sighting in standing(evidence, aside):
        for id in () if sighting.dead else sighting.opened:
            live.setdefault((sighting.outlet, id), []).append(sighting)
    told: dict[str, list[tuple[Sighting, Sighting]]] = {}
    for s in standing(evidence, aside):
        if s.dead and all((s.outlet, id) in live for id in s.opened):
            against = [t for id in s.opened for t in live[s.outlet, id]]
            t = max(against, key=lambda t: len(set(s.opened) & set(t.opened)))
            told.setdefault(s.outlet, []).append((s, t))
            aside.drop([s, *against])
    for outlet, pairs in told.items():
        s, t = min(pairs, key=lambda pair: len(pair[0].opened))
        more = f", and {len(pairs) - 1} more such" if len(pairs) > 1 else ""
        aside.quarrels.append(Quarrel(*_ordered(s.row, t.row), (outlet, *s.opened), (
            f"{place(evidence.tree.job, outlet)} was dead with {both(s.opened)} open ({s.row.where}), and live with "
            f"{both(t.opened)} open ({t.row.where}){more}")))
    for row in presses(evidence, aside):
        partners = evidence.partners_opened(row)
        for t in [t for id in row.tripped if id not in partners for t in live.get((row.outlet, id), ())]:
            if key(t) not in aside.sightings:
                aside.quarrels.append(Quarrel(*_ordered(row, t.row), (row.outlet, *row.tripped), (
                    f"the tester pressed at {place(evidence.tree.job, row.outlet)} opened {both(row.tripped)} ({row.where}), "
                    f"and that outlet was live with {both(t.opened)} open ({t.row.where})")))
                aside.drop([t])
                aside.presses.add(row.row)


Seen = dict[str, dict[str, TripTest]]  # contact -> outlet -> the row that saw it so


def _cut(evidence: Evidence, aside: Aside) -> tuple[Seen, Seen]:
    """What each device or breaker, alone, was seen to turn off; and what was live while it was open."""
    dead: Seen = {}
    live: Seen = {}
    for s in standing(evidence, aside):
        if s.dead and len(s.opened) == 1:
            dead.setdefault(s.opened[0], {})[s.outlet] = s.row
        elif not s.dead:
            for id in s.opened:
                live.setdefault(id, {})[s.outlet] = s.row
    for row in presses(evidence, aside):
        for id in set(row.tripped) - set(evidence.partners_opened(row)):
            dead.setdefault(id, {}).setdefault(row.outlet, row)
    return dead, live


def _two_sets(evidence: Evidence, aside: Aside) -> None:
    """Two dead sets that overlap without one holding the other."""
    job = evidence.tree.job
    dead, live = _cut(evidence, aside)
    feeders = {panel.fed_from for panel in job.panels}
    spent: set[str] = set()
    for a, b in combinations(sorted(dead, key=lambda id: id in job.breaker), 2):
        shared = sorted(set(dead[a]) & set(dead[b]))
        only_a = sorted(set(dead[a]) & set(live.get(b, ())))
        only_b = sorted(set(dead[b]) & set(live.get(a, ())))
        plain = {a, b} <= set(job.breaker) and not {a, b} & feeders
        under = b in job.breaker and a not in job.breaker
        faces = a in dead[b] and b in dead[a]
        if not {a, b} & spent and (faces or shared and (plain or only_a and (only_b or under))):
            spent |= {a, b}  # one word for each: both may be wrong, and the rest follows from it
            aside.quarrels.append(_overlap(evidence, a, b, (dead, live), (shared, only_a, only_b)))
            aside.drop(s for s in standing(evidence, aside) if s.opened and set(s.opened) <= {a, b})
            aside.presses |= {row.row for row in presses(evidence, aside) if set(row.tripped) & {a, b}}


def _overlap(evidence: Evidence, a: str, b: str, seen: tuple[Seen, Seen], found: tuple[list[str], ...]) -> Quarrel:
    (dead, live), (shared, only_a, only_b) = seen, found
    job = evidence.tree.job
    if a in dead[b] and b in dead[a]:
        one, other = dead[a][b], dead[b][a]
        why = f"{place(job, b)} was dead with {a} open ({one.where}), and {place(job, a)} with {b} open ({other.where})"
        return Quarrel(*_ordered(one, other), (a, b), why)
    one = dead[a][only_a[0]] if only_a else dead[a][shared[0]]
    other = live[b][only_a[0]] if only_a else dead[b][shared[0]]
    told = [f"{place(job, shared[0])} was dead with {a} open ({dead[a][shared[0]].where}) and with {b} open "
            f"({dead[b][shared[0]].where})"]
    if only_a:
        told.append(f"{place(job, only_a[0])} only with {a} ({other.where})")
    if only_b:
        told.append(f"{place(job, only_b[0])} only with {b} ({live[a][only_b[0]].where})")
    return Quarrel(*_ordered(one, other), tuple(dict.fromkeys((*shared[:1], *only_a[:1], *only_b[:1], a, b))), both(told))


def _ordered(one: TripTest, other: TripTest) -> tuple[TripTest, TripTest]:
    return (one, other) if one.row <= other.row else (other, one)


def fits_no_map(proof: Proof) -> Iterator[Finding]:
    """A device whose own face stayed live while what is behind it died; observations that no map can explain."""
    job, aside = proof.tree.job, set_aside(proof.evidence)
    for device, face in aside.miswired.items():
        yield Finding("miswired", "stop", face.row.where, (device,),
                      f"{place(job, device)} left its own face live on {day(face.row.date)} while what is behind it went "
                      f"dead. Its line and load terminals are most likely exchanged: an older device, or one put back "
                      f"wrongly. Do not use it; have the wires corrected, and test again. The map is not at fault.")
    for quarrel in aside.quarrels:
        rows = "that row" if quarrel.one is quarrel.other else "both rows"
        why = quarrel.why[:1].upper() + quarrel.why[1:]
        yield Finding("cannot-both-be", "stop", quarrel.other.where, quarrel.points,
                      f"{why}. No map can explain this: one of these observations is wrong, or the wiring is. "
                      f"Do {rows} over.")
