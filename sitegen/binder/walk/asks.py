"""Takes the report; gives what a walk-through has to press and to look at: all of it, or what is not shown yet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...job.trips import FILE
from ...protection.examine import Report
from ...protection.maps import missing
from ...protection.rounds import looks_alone
from ...protection.rounds.handles import handles_in_company
from ...protection.rounds.report import Left


@dataclass(frozen=True, slots=True)
class Ask:
    """One row to be written: something to press, or with `none` a receptacle to read."""

    outlet: str
    pressed: str                # tester | device | breaker | none
    looks: tuple[str, ...] = () # outlets to look at


def all_tests(report: Report) -> tuple[Ask, ...]:
    """A reading at every receptacle; the own TEST of every device, with a look at all of its circuit; the tester's button at
    the face of every device and at the last grounded receptacle of every branch; every breaker's handle but those that are off
    in company. Nothing at an outlet that nobody can reach."""
    tree, away = report.tree, set(not_reached(report))

    def looks(ids: Iterable[str]) -> tuple[str, ...]:
        return tuple(id for id in tree.outlets_of(ids) if id not in away)

    asks = [Ask(id, "none") for id in looks(tree.outlets) if tree.kind(id).plugs]
    asks += [Ask(id, "device", looks(tree.same_circuit(id))) for id in tree.devices]
    asks += [Ask(id, "tester", (id,)) for id in looks(tree.outlets) if _adds_proof(report, id)]
    together = {id for one in handles_in_company(tree).rounds for id in one.open}
    return (*asks, *(Ask(id, "breaker", looks(tree.on_breaker(id))) for id in tree.breakers if id not in together))


def read_before(report: Report) -> tuple[str, ...]:
    """The receptacles whose latest reading is of before a visit that touched them."""
    readings, standing = report.evidence.readings, report.evidence.standing
    return tuple(id for id in report.tree.outlets
                 if report.tree.kind(id).plugs and id in readings and standing.voided(id, readings[id]))


def not_reached(report: Report) -> tuple[str, ...]:
    """The outlets with a reason why they could not be proved. A device is pressed all the same: no reason excuses one."""
    return tuple(id for id in report.tree.outlets if report.job.point[id].not_proved and not report.tree.kind(id).opens)


def _adds_proof(report: Report, outlet: str) -> bool:
    """True where the tester's button shows what no TEST does: a device's own face, and the end of a branch."""
    def can_open(id: str) -> bool:
        point = report.job.point[id]
        return point.kind.plugs and point.grounded and point.voltage == 120 and bool(report.tree.protected_by(id)) \
            and (point.kind.opens or not point.not_proved)

    last = not any(can_open(id) for id in report.tree.below(outlet))
    return can_open(outlet) and (last or report.tree.kind(outlet).stops_shock)


def round_asks(report: Report, rounds: Left, missing: bool) -> tuple[Ask, ...]:
    """What is asked beside the rounds: a reading at every receptacle, the tester's button as ever, what is pressed alone; of what
    is missing, first what settles a disagreement."""
    tree, made = report.tree, rounds.plan if missing else rounds.whole
    asks = [ask for ask in all_tests(report) if ask.pressed in ("none", "tester")]
    if missing:
        asks = [Ask(ask.outlet, ask.pressed) for ask in missing_tests(report) if ask.pressed == "none"]
        asks += [Ask(id, "none") for id in tree.outlets if tree.kind(id).plugs and id not in report.evidence.readings
                 and id not in not_reached(report) and id not in [ask.outlet for ask in asks]]
        settle: dict[str, list[str]] = {}
        for stand in rounds.stands:
            for id in stand.contacts:
                settle.setdefault(id, []).append(stand.outlet)
        asks += [Ask(id, _pressed(report, id), looks_alone(tree, id, outlets)) for id, outlets in settle.items()]
    return (*asks, *(Ask(id, _pressed(report, id), made.look) for id in made.alone))


def _pressed(report: Report, id: str) -> str:
    return "device" if report.tree.kind(id).opens else "breaker"


def missing_tests(report: Report) -> tuple[Ask, ...]:
    """What is not shown yet; while something is contradicted or failed, the presses that the stops speak of as well."""
    needed = missing.missing_tests(report.proof)
    if needed or report.ready:
        asks = tuple(Ask(test.outlet, test.pressed, test.look_at) for test in needed)
        pressed = {ask.outlet for ask in asks if ask.pressed == "tester"}
        return (*(Ask(id, "none") for id in read_before(report) if id not in pressed), *asks)
    tree, proof, evidence = report.tree, report.proof, report.evidence
    reads = [id for id in tree.outlets if tree.kind(id).plugs and tree.protected_by(id) and id not in evidence.readings
             and not report.job.point[id].not_proved]
    looks: dict[tuple[str, str], set[str]] = {}
    for device, state in proof.devices.items():
        ids = tree.outlets_of(tree.same_circuit(device)) if state != "proved" else proof.not_accounted(device)
        behind = (id for id in tree.outlets_of(tree.goes_dead(device)) if not report.job.point[id].not_proved)
        to_see = {*ids, *(id for id in behind if not evidence.shown(id, device))}
        if to_see:
            looks[device, "device"] = to_see
    rows = {row.where: row for row in evidence.rows}
    for finding in report.findings:
        if finding.level == "stop" and finding.where.file == FILE:
            row = rows[finding.where]
            if row.pressed == "none":
                reads.append(row.outlet)
            elif row.together:
                for stand in Left(proof).stands:
                    for id in stand.contacts:
                        looks.setdefault((id, _pressed(report, id)), set()).update(looks_alone(tree, id, (stand.outlet,)))
            else:
                looks.setdefault((row.outlet, row.pressed), set()).update(
                    id for id in (row.outlet, *finding.points) if id in report.job.point and tree.is_outlet(id))
    return (*(Ask(id, "none") for id in dict.fromkeys(reads)),
            *(Ask(id, pressed, tuple(look for look in tree.outlets if look in ids))
              for (id, pressed), ids in looks.items()))
