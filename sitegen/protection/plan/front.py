"""Takes a run; gives what fewer outlets dark at once would cost, and what a device at each outlet that needs one would."""

from __future__ import annotations

from dataclasses import dataclass

from .least import Least, least, standing
from .run import Run


@dataclass(frozen=True, slots=True)
class Each:
    """A device of its own for each outlet that needs one."""

    devices: int
    cost: int                    # cents
    no_room: tuple[str, ...]     # outlets whose box can hold none


def front(run: Run) -> tuple[Least, ...]:
    """The cheapest plan first, then each that turns off fewer outlets at once and costs more; () where a need cannot be met."""
    found: list[Least] = []
    plan = least(run)
    there = max((run.count(device.zone) for device in standing(run)), default=0)
    while plan is not None:
        if found and found[-1].cost + found[-1].wishes == plan.cost + plan.wishes:
            found.pop()
        found.append(plan)
        plan = least(run, plan.most - 1) if plan.most > there else None
    return tuple(found)


def each(run: Run) -> Each:
    """Each fed from LINE, and what comes after it too. What is protected already is left as it is."""
    there = 0
    for device in standing(run):
        there |= device.zone
    needing = [box for i, box in enumerate(run.boxes) if box.needs and box.outlet and not there >> i & 1]
    room = [box for box in needing if box.holds != "none"]
    cost = sum(run.prices.receptacle if box.holds == "receptacle" else run.prices.faceless for box in room)
    cost += sum(len(run.feeds[run.index[box.id]]) for box in room) * run.prices.line
    return Each(len(room), cost, tuple(box.id for box in needing if box.holds == "none"))
