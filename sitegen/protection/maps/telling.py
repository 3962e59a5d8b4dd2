"""Takes maps that explain the tests equally; gives the one further test that would tell them apart, as a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from ...job.records import Job
from ..say import both, place
from .layouts import Layout


def telling(job: Job, layouts: Sequence[Layout]) -> str:
    """What to press and where to look: the test with the most different outcomes, with the fewest looks."""
    outlets = [point.id for point in job.points if point.kind.is_outlet]
    best: tuple[int, str, list[str]] | None = None
    for contact, bit in layouts[0].house.contact_bits.items():
        looks = [id for id in outlets if len({bool(layout.out[id] & bit) for layout in layouts}) > 1]
        outcomes = len({tuple(bool(layout.out[id] & bit) for id in looks) for layout in layouts})
        presses = job.breaker[contact].kind.opens if contact in job.breaker else True
        if outcomes > 1 and (best is None or (outcomes, presses) > (best[0], _has_test(job, best[1]))):
            best = outcomes, contact, looks
    if best is None:
        return "No further trip test can tell them apart: look into the boxes, or keep the first; it makes no difference to " \
               "what goes dead."
    outcomes, contact, looks = best
    press = f"press TEST on {place(job, contact)}" if _has_test(job, contact) else f"switch {place(job, contact)} off"
    some = "" if outcomes == len(layouts) else " some of"
    return f"To tell{some} them apart, {press} and look at {both(place(job, id) for id in _fewest(layouts, contact, looks))}."


def _has_test(job: Job, contact: str) -> bool:
    return contact in job.point or job.breaker[contact].kind.opens


def _fewest(layouts: Sequence[Layout], contact: str, looks: list[str]) -> list[str]:
    """The looks that are needed to see the same number of outcomes, the later ones left out first."""
    bit = layouts[0].house.bit[contact]

    def outcomes(ids: list[str]) -> int:
        return len({tuple(bool(layout.out[id] & bit) for id in ids) for layout in layouts})

    kept = list(looks)
    for id in reversed(looks):
        fewer = [other for other in kept if other != id]
        if outcomes(fewer) == outcomes(looks):
            kept = fewer
    return kept
