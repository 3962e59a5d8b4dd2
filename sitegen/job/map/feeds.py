"""`fed_from` of every point in, feeds out: a breaker or point of the same circuit, with a side where one is due."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from ...errors import Fault, Where
from ..read.ids import Named, Names
from ..read.limits import Limit, beyond
from ..read.nodes import Node
from ..records import Feed

SIDES = ("line", "load")
_TOLD = 8    # links of a loop that a fault names


@dataclass(slots=True)
class Branch:
    """One circuit while its feeds are read."""

    says: str                  # how a sentence names it: "circuit 5"
    breaker: str | None = None
    points: list[str] = field(default_factory=list)  # ids that its points could be read with

    @property
    def ids(self) -> list[str]:
        return ([self.breaker] if self.breaker else []) + self.points


def read_feed(node: Node, own: str | None, branch: Branch, names: Names, faults: list[Fault]) -> Feed | None:
    """The feed of one point (`own` is its id, if it has one alone); None and a fault where it cannot be used."""
    words = (node.text or "").split()
    if not words or len(words) > 2 or any("," in word for word in words):
        faults.append(_not_one_feed(node))
        return None
    if words[0].casefold() == "unknown":
        if len(words) == 1:
            return Feed("unknown")
        faults.append(Fault(node.where, f"`fed_from: {node.written}` says `unknown` and more", "`unknown` alone",
                            "write what it hangs on with its side, or `unknown` alone"))
        return None
    side = words[1].casefold() if len(words) == 2 else None
    if side and side not in SIDES:
        faults.append(_not_one_feed(node) if words[1].upper() in names.table else
                      Fault(node.where, f"`{words[1]}` behind `{words[0]}`", "`line` or `load`",
                            f"write `{words[0].upper()} line` or `{words[0].upper()} load`"))
        return None
    source = names.find(words[0], node.where, f"a point or the breaker of {branch.says}",
                        "correct the id, or add the point", faults, among=("breaker", "point"), first=branch.ids, own=own)
    if source is None:
        return None
    fault = _wrong_source(source, own, branch, node.where) or _wrong_side(source, side, node.where)
    if fault:
        faults.append(fault)
    # Without its side the feed still shows a loop; with a fault no record is made of it.
    return Feed(source.id, side) if source.id in branch.ids and source.id != own else None


def _not_one_feed(node: Node) -> Fault:
    return Fault(node.where, f"`fed_from: {node.written}` is not one feed",
                 "one breaker or point, with its side behind a device",
                 "write the one that power comes from; a receptacle fed by two circuits is two points")


def _wrong_source(source: Named, own: str | None, branch: Branch, where: Where) -> Fault | None:
    if source.id == own:
        return Fault(where, f"`{own}` is fed from itself", f"another point or the breaker of {branch.says}",
                     "write what stands before it")
    if source.id in branch.ids:
        return None
    if source.what == "panel":
        return Fault(where, f"`{source.id}` is a panel", f"a point or the breaker of {branch.says}",
                     f"write its breaker, `{branch.breaker}`" if branch.breaker else "write the breaker")
    if source.what == "breaker":
        return Fault(where, f"`{source.id}` is the breaker of {source.circuit}",
                     f"a point or the breaker of {branch.says}",
                     f"move this point to {source.circuit}, or write what feeds it on {branch.says}")
    return Fault(where, f"`{source.id}` is on {source.circuit}, this point on {branch.says}", "a feed on the same circuit",
                 f"move this point to {source.circuit}, or write what feeds it on {branch.says}")


def _wrong_side(source: Named, side: str | None, where: Where) -> Fault | None:
    if source.kind is None or source.kind.has_sides == bool(side):
        return None
    if side:
        return Fault(where, f"`{source.id} {side}`, but {source.id} is {source.words}, without line and load terminals",
                     f"`{source.id}` alone", f"write `fed_from: {source.id}`, or correct what {source.id} is")
    return Fault(where, f"`{source.id}` without a side, but {source.id} is {source.words}",
                 "the terminals that this point hangs on", f"write `{source.id} line` or `{source.id} load`")


def loops(sources: Mapping[str, str], where: Mapping[str, Where],
          expected: str = "a way back to the breaker from every point") -> Iterator[Fault]:
    """A fault for every loop; `sources` names for each point (or panel) the one that feeds it, in file order."""
    done: set[str] = set()
    order = {point: at for at, point in enumerate(sources)}
    for start in sources:
        path: list[str] = []
        here = start
        while here in sources and here not in done:
            done.add(here)
            path.append(here)
            here = sources[here]
        if here in path:
            loop = path[path.index(here):]
            first = min(loop, key=order.__getitem__)
            turn = loop.index(first)
            chain = [*loop[turn:], *loop[:turn], first]
            links = [f"{point} from {source}" for point, source in zip(chain, chain[1:])]
            told = ", ".join(links if len(links) <= _TOLD else [*links[:_TOLD], f"and {len(links) - _TOLD} more"])
            yield Fault(where[first], f"a loop: {told}", expected,
                        "correct the `fed_from` of one of them")


def too_many_in_series(sources: Mapping[str, str], counted: Collection[str], where: Mapping[str, Where], limit: Limit) -> Iterator[Fault]:
    """A fault at the first point that has too many of these before it; `sources` without loops."""
    before: dict[str, int] = {}     # of these on the way to a point, its own included
    for start in sources:
        path = [start]
        while path[-1] in sources and path[-1] not in before:
            path.append(sources[path[-1]])
        count = before.get(path[-1], 0)
        for id in reversed(path):
            count = before.setdefault(id, count + (id in counted))
            if count > limit.most:
                yield beyond(limit, where[id], count, "check `fed_from` of these, and whether each of them is a device")
                return
