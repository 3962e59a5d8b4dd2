"""Takes the proof; gives the smallest corrections of the map that explain the tests, in the words of the map file.

Nothing here changes the map: wiring may be what is wrong. What no map can explain (impossible.py) is left out of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile

from ...job import records
from ...job.records import Job
from ..changes import Change, Exchange, Refeed, apply
from ..evidence import Evidence
from ..finding import Finding
from ..proof import Proof
from ..say import both, place, things
from ..tree import Tree
from .exchanged import exchange_says
from .impossible import Aside, set_aside
from .layouts import Layout, house_of, written
from .search import Answer, Feed, after, search
from .telling import telling

LISTED = 3


@dataclass(frozen=True, slots=True)
class Proposal:
    changes: tuple[Change, ...]
    layout: Layout              # the map after them


@dataclass(frozen=True, slots=True)
class Corrections:
    """The best proposals, best first."""

    proposals: tuple[Proposal, ...]
    count: int                  # of all that explain the tests with as few changes
    whole: bool                 # False: the search was cut off, so there may be more
    clashing: tuple[str, ...]   # outlets whose tests the map as written does not explain
    aside: Aside


def correct(evidence: Evidence, most: int = LISTED) -> Corrections:
    """Search, rank and word the changes; `most` proposals are worked out."""
    if not evidence.clashes:
        return Corrections((), 0, True, (), Aside())
    aside = set_aside(evidence)
    start = written(house_of(evidence, aside))
    clashing = tuple(start.disagreeing())
    if not clashing:
        return Corrections((), 0, True, (), aside)
    found = search(start)
    answers = sorted(found.answers, key=lambda answer: _rank(start, answer))
    proposals = tuple(Proposal(_changes(start, answer), answer.layout) for answer in answers[:most])
    return Corrections(proposals, len(answers), found.whole, clashing, aside)


def map_correction(proof: Proof) -> Iterator[Finding]:
    """Each smallest change of the map under which every test agrees, best first; three at most, or that there is none."""
    job = proof.tree.job
    found = correct(proof.evidence)
    if all(map(proof.is_asked, found.clashing)):
        return
    first = _look_again(proof.evidence, found)
    for number, proposal in enumerate(found.proposals):
        ids = tuple(dict.fromkeys(id for change in proposal.changes for id in _speaks_of(change)))
        says = _says(proof.evidence, found, proposal, first=number == 0)
        says = first + says[0].lower() + says[1:] if first else says
        yield Finding("map-correction", "fix", things(job, ids[0]).where, ids, says, proposal.changes)
    if found.clashing and not found.proposals:
        tried = "no two changes together" if found.whole else "none of the pairs of changes that were tried (not all were)"
        yield Finding("no-correction", "know", things(job, found.clashing[0]).where, found.clashing,
                      f"No single change of the map and {tried} would explain what was seen at {_some(found.clashing)}. Test "
                      f"again there, look at the wiring, or let `sitegen recover` draw the map from the tests alone.")


def _look_again(evidence: Evidence, found: Corrections) -> str:
    """A wrong look in a round is likelier than a wrong map: it is settled before the map is changed."""
    ids = list(dict.fromkeys(clash.outlet for clash in evidence.clashes if clash.row.together and clash.outlet in found.clashing))
    return f"Look again first, as said at {_some(ids)}. Only if it is still so: " if ids else ""


def _speaks_of(change: Change) -> tuple[str, ...]:
    return (change.point,) if isinstance(change, Refeed) else (change.one, change.other)


def _rank(start: Layout, answer: Answer) -> tuple[int, ...]:
    """Own circuit first, then re-feeds before exchanges, the other side of the same device first, and what moves least."""
    job = start.house.job
    away = swaps = other_side = 0
    layout = start
    for step in answer.steps:
        if isinstance(step, Feed):
            away += step.place in layout.loose or not _near(layout, step.point, step.place)
            source, through = layout.hangs[step.point]
            same = step.place == source if not through else layout.place[source] == step.place
            other_side += not same
        else:
            swaps += 1
            away += {step.one, step.other} <= set(job.point) and \
                job.point[step.one].circuit != job.point[step.other].circuit
        layout = after(layout, step)
    moved = sum(start.out[point.id] != answer.layout.out[point.id] for point in job.points)
    return away, swaps, other_side, moved


def _near(layout: Layout, point: str, place: str) -> bool:
    """True when a place is on the breaker that the map gives the point's circuit."""
    breaker = layout.house.job.circuit[layout.house.job.point[point].circuit].breaker
    return bool(layout.path[place] & layout.house.bit[breaker])


def _changes(start: Layout, answer: Answer) -> tuple[Change, ...]:
    """The steps in the words of the map."""
    job, layout = start.house.job, start
    changes: list[Change] = []
    for number, step in enumerate(answer.steps):
        made = final = after(layout, step)
        if isinstance(step, Feed):
            for later in takewhile(lambda later: isinstance(later, Feed), answer.steps[number + 1:]):
                final = after(final, later)
            refeed = _refeed(job, made, final, step)
            changes.append(refeed)
            layout = layout.fed(step.point, refeed.after.source, refeed.after.side != "line")
        else:
            changes.append(Exchange(step.one, step.other))
            layout = made
        job = apply(job, (changes[-1],))
    return tuple(changes)


def _refeed(job: Job, layout: Layout, final: Layout, step: Feed) -> Refeed:
    """One feed of the place, and the others that would do as well.

    `job` is the map this step is made on, `layout` the map after it, `final` the map after all steps.
    """
    point, below = job.point[step.point], final.house.bit[step.point]
    own_breaker = job.circuit[point.circuit].breaker
    feeds = [records.Feed(step.place, "load" if step.place in job.point else None)]
    for other in Tree(job).order:
        if final.place[other] == step.place and not (final.path[other] | layout.path[other]) & below:
            feeds.append(records.Feed(other, "line" if job.point[other].kind.has_sides else None))

    def rank(feed: records.Feed) -> tuple[bool, bool, bool]:
        own = feed.source == own_breaker or feed.source in job.point and job.point[feed.source].circuit == point.circuit
        return not own, feed.source != point.feed.source, feed.source != step.place

    best = min(feeds, key=rank)
    return Refeed(point.id, point.feed, best, tuple(feed for feed in feeds if feed != best))


def _says(evidence: Evidence, found: Corrections, proposal: Proposal, first: bool) -> str:
    job, told = evidence.tree.job, []
    for change in proposal.changes:  # each on the map that the one before it left: an exchange moves ids to other lines
        told.append(_change_says(job, change))
        job = apply(job, (change,))
    left_out = sorted(found.aside.outlets)
    but = f" (but for what was seen at {_some(left_out)}, which no map can explain)" if left_out else ""
    which = "these two changes" if len(told) > 1 else "this change"
    return (f"{'In' if first else 'Or, in'} the map, {'; and '.join(told)}. With {which} the map explains every test{but}."
            f"{_rest_rows(evidence, found, proposal)}{_cost(evidence, proposal)}{_others(evidence.tree.job, found) if first else ''}")


def _cost(evidence: Evidence, proposal: Proposal) -> str:
    """What the change says of the house: a map must not be bent to a wire on the wrong terminals."""
    tree, after_it = evidence.tree, Tree(apply(evidence.tree.job, proposal.changes))
    lost = [id for id in tree.outlets if tree.protected_by(id) and not after_it.protected_by(id)]
    if not lost:
        return ""
    guards = "is" if len(lost) == 1 else "are"
    return (f" Write it only if it is really wired so: then {_some(lost)} {guards} not protected against shock. If it should "
            f"be, leave the map, move the wire to the load terminals, and test again.")


def _change_says(job: Job, change: Change) -> str:
    if isinstance(change, Exchange):
        return exchange_says(job, change)
    point, source = job.point[change.point], change.after.source
    circuit = job.circuit[job.point[source].circuit if source in job.point else _circuit_on(job, point.circuit, source)]
    line = f"line {point.where.line}"
    if circuit.key != point.circuit:
        below = Tree(job).below(point.id)
        line = f"move {line} to circuit {circuit.number}" + (f" with what hangs on it ({_some(below)})" if below else "")
    same = f"; fed from {_some([str(feed) for feed in change.same_effect], 'or')} it would be the same" \
        if change.same_effect else ""
    return f"{line}: `fed_from: {change.before}` -> `fed_from: {change.after}`, for {place(job, point.id)}{same}"


def _circuit_on(job: Job, own: str, breaker: str) -> str:
    return own if job.circuit[own].breaker == breaker else next(c.key for c in job.circuits if c.breaker == breaker)


def _rest_rows(evidence: Evidence, found: Corrections, proposal: Proposal) -> str:
    """A word where `rest of ...` would take in other outlets on the corrected map than on this one."""
    after_it = Evidence(Tree(apply(evidence.tree.job, proposal.changes)))
    rows = {clash.row.where: None for clash in after_it.clashes
            if clash.row.rest_live and (clash.outlet, clash.row.row) not in found.aside.sightings}
    if not rows:
        return ""
    return (f" `rest of ...` at {_some([str(where) for where in rows])} would then take in other outlets: write there the "
            f"names of those that were seen live.")


def _others(job: Job, found: Corrections) -> str:
    if found.count == 1:
        return "" if found.whole else " There may be others: the search was cut off."
    least = "" if found.whole else "at least "
    listed = f"; the best {len(found.proposals)} are listed" if found.count > len(found.proposals) else ""
    layouts = [proposal.layout for proposal in found.proposals]
    return f" {least.capitalize()}{found.count} such changes explain the tests equally{listed}. {telling(job, layouts)}"


def _some(ids: tuple[str, ...] | list[str], last: str = "and") -> str:
    """A list for a sentence: four at most, then how many more."""
    ids = list(ids)
    if len(ids) > 4:
        ids = [*ids[:3], f"{len(ids) - 3} more"]
    return both(ids) if last == "and" else both(ids).replace(" and ", " or ")
