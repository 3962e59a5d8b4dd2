"""Takes a plan of openings; gives the object that `isolate --json` prints."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ...binder.site.fault.sheet import has_plan, in_order, why_left_out
from ...protection.isolate import Broken, Isolation, Lead, Step
from ...protection.isolate.meters import Metered
from ...protection.isolate.symptoms import Symptom
from ...protection.tree import Tree


def isolation_json(tree: Tree, found: Isolation, symptom: Symptom, metered: Iterable[Metered]) -> dict[str, Any]:
    plan, shown = found.plan, has_plan(tree, found, symptom)
    return {
        "job": tree.job.file.id, "device": found.device, "symptom": symptom.name, "aim": found.aim,
        "zone": {"boxes": [{"id": box.id, "points": list(found.zone.points[box.id]), "reach": box.reach, "suspect": box.suspect,
                            "cable": box.cable, "fed_from": box.fed_from or found.device} for box in found.side.boxes],
                 "here": list(found.zone.here),
                 "left_out": [{"id": id, "why": why_left_out(why)} for id, why in found.zone.left_out]},
        "disturbed": list(found.zone.disturbed), "unproved_order": [list(ids) for ids in found.same_place],
        "not_shown": list(found.not_shown), "contradicted": list(found.contradicted),
        "expected": {"reach": plan.expected.reach, "openings": plan.expected.openings} if shown else None,
        "worst": {"reach": plan.worst.reach, "openings": plan.worst.openings} if shown else None,
        "fewest_openings": found.fewest if shown else None, "best": found.best, "above": found.above,
        "read_bad": found.left.bad, "found": [list(cable) for cable in found.left.cables] if found.left.bad else [],
        "first": [{"from": source, "toward": toward, "step": step} for (source, toward), step
                  in zip(found.toward, plan.starts)] if shown else [],
        "steps": [_step(step) for step in plan.steps] if shown else [],
        "order": [box.id for box in in_order(found)] if symptom.by == "order" else [],
        "readings": [_metered(one) for one in metered],
    }


def broken_json(tree: Tree, found: Broken, metered: Iterable[Metered]) -> dict[str, Any]:
    return {
        "job": tree.job.file.id, "symptom": "part-dead",
        "runs": [{"boxes": list(run.boxes), "dead": list(run.dead), "look": list(run.look),
                  "steps": [_step(step) for step in run.plan.steps]} for run in found.runs],
        "own": list(found.own), "no_power": [{"before": top, "dead": list(dead)} for top, dead in found.no_power],
        "unknown": list(found.unknown), "readings": [_metered(one) for one in metered],
    }


def _step(step: Step) -> dict[str, Any]:
    return {"step": step.number, "open": step.open,
            "suspects": [one if isinstance(one, str) else list(one) for one in step.suspects],
            "leads": [_lead(lead) for lead in step.leads], "none": {"found": "box"}}


def _lead(lead: Lead) -> dict[str, Any]:
    return {"cable": list(lead.cable), "toward": lead.toward, "bad": {"step": lead.step} if lead.step else {"found": "cable"}}


def _metered(one: Metered) -> dict[str, Any]:
    return {"at": one.at, "what": one.what, "value": one.value, "says": one.meaning.says, "sure": one.meaning.sure,
            "bad": one.meaning.bad}
