"""`sitegen isolate`: the shortest way to a fault behind a device, or to a break that leaves part dead. For the technician."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from ...binder.site.fault.dead import broken_sheet
from ...binder.site.fault.records import FaultSheet
from ...binder.site.fault.sheet import fault_sheet
from ...errors import CallError
from ...job import read_job
from ...protection.evidence import Evidence
from ...protection.isolate import AIMS, Isolation, NoCable, Opposite, broken, isolate
from ...protection.isolate.symptoms import SYMPTOMS
from ...protection.proof import Proof
from ...protection.tree import Tree
from .. import wrapped
from .as_json import broken_json, isolation_json
from .asked import device_of, ids_of, metered_of, outlets_of, reading_of


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="the job folder")
    parser.add_argument("device", metavar="DEVICE", nargs="?", help="the protective device or breaker that will not hold")
    parser.add_argument("--symptom", choices=SYMPTOMS, help="what it does (trips); with --dead part-dead")
    parser.add_argument("--worst", action="store_true", help="fewest in the worst case, in place of on average")
    parser.add_argument("--read", metavar="BOX:TOWARD=bad|good", nargs="+", action="extend", default=[],
                        help="what was read at boxes that are open already")
    parser.add_argument("--reading", metavar='"ID WHAT VALUE"', nargs="+", action="extend", default=[],
                        help='what a meter showed, and what it means: "K3 h-g 18000"')
    parser.add_argument("--hunch", metavar="ID", nargs="+", action="extend", default=[], help="points that you suspect")
    parser.add_argument("--dead", metavar="IDS", nargs="+", action="extend", default=[], help="outlets found dead, nothing tripped")
    parser.add_argument("--live", metavar="IDS", nargs="+", action="extend", default=[], help="outlets found live")
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(call: argparse.Namespace) -> int:
    proof = Proof(Evidence(Tree(read_job(Path(call.job)))))
    print(_dead(proof, call) if call.dead or call.live else _behind(proof, call), end="")
    return 0


def _dead(proof: Proof, call: argparse.Namespace) -> str:
    tree = proof.tree
    dead, live = outlets_of(tree, call.dead, "--dead"), outlets_of(tree, call.live, "--live")
    if call.symptom not in (None, "part-dead") or call.read or call.hunch:
        raise CallError("--dead and --live go with `part-dead` alone: nothing tripped, and part stays dead. Leave the other "
                        "options out.")
    if not dead:
        raise CallError("--live alone tells nothing; write with --dead which outlets are dead.")
    if both := [id for id in dead if id in live]:
        raise CallError(f"{both[0]} stands under --dead and under --live. Look again, and write it under one.")
    if call.device:
        _in_zone(tree, device_of(tree, call.device), dead)
    found = broken(tree, dead, live, _aim(call))
    metered = [metered_of(tree.job, text) for text in call.reading]
    return _json(broken_json(tree, found, metered)) if call.json else _text(broken_sheet(proof, found, metered))


def _in_zone(tree: Tree, device: str, dead: tuple[str, ...]) -> None:
    """A device that is named says where the dead outlets are."""
    if other := [id for id in dead if id not in tree.goes_dead(device)]:
        raise CallError(f"{other[0]} is not behind {device} on this map. Leave the device out, or correct the map.")


def _behind(proof: Proof, call: argparse.Namespace) -> str:
    tree = proof.tree
    if not call.device:
        raise CallError("name the device or breaker that will not hold, or with --dead the outlets that are dead though nothing "
                        "tripped.")
    device = device_of(tree, call.device)
    symptom = SYMPTOMS[call.symptom or "trips"]
    if symptom.by != "plan" and (call.read or call.worst):
        raise CallError(f"--read and --worst go with a plan of openings; `{symptom.name}` has none.")
    if symptom.by == "feed" and device not in tree.job.breaker:
        raise CallError(f"`{symptom.name}` is asked of a whole circuit: name its breaker, {tree.breaker_of(device)}.")
    readings = [reading_of(tree.job, text) for text in call.read]
    hunches = ids_of(tree.job, call.hunch)
    found = isolate(proof, device, _aim(call), readings, hunches)
    metered = [metered_of(tree.job, text) for text in call.reading]
    if isinstance(found, Isolation):
        if other := [id for id in hunches if not any(id in points for points in found.zone.points.values())]:
            raise CallError(f"--hunch {other[0]} is not on the load side of {device}. Name points of its plan.")
        return _json(isolation_json(tree, found, symptom, metered)) if call.json else \
            _text(fault_sheet(proof, found, symptom, metered))
    raise CallError(_refused(device, found))


def _refused(device: str, why: Opposite | NoCable) -> str:
    if isinstance(why, Opposite):
        return (f"--read {why.bad} and {why.good} cannot both be right: they read the same cable and all that hangs on it between "
                "open boxes. Read both again.")
    if not why.cables:
        return f"--read {why.reading}: {why.reading.box} is no box on the load side of {device}. Name a box of its plan, or {device}."
    return f"--read {why.reading}: no cable from {why.reading.box} to {why.reading.toward} on this map. From {why.reading.box} " \
           f"cables go to {', '.join(why.cables)}. If the box shows another, stop and correct the map first."


def _aim(call: argparse.Namespace) -> str:
    return "worst" if call.worst else next(iter(AIMS))


def _text(sheet: FaultSheet) -> str:
    lines = [sheet.title]
    for part in sheet.parts:
        lines += ["", part.head.upper()]
        for line in part.lines:
            lines += [f"  {line.mark} {line.text}" if line.mark else f"  {line.text}", *(f"     {under}" for under in line.under)]
    return wrapped(lines)


def _json(told: object) -> str:
    return json.dumps(told, indent=1, ensure_ascii=False) + "\n"
