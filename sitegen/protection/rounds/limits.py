"""Takes a job's tree; gives what must not be switched off with others, or not twice running. Common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator

from ..tree import Tree
from .uses import ALARM, MEDICAL, used_as


def outlets_used_as(tree: Tree, words: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(id for id in tree.outlets if used_as(tree.job.point[id], words))


def alarms_of(tree: Tree) -> tuple[str, ...]:
    """Smoke alarms and the like that house power feeds."""
    return outlets_used_as(tree, ALARM)


def alone(tree: Tree) -> frozenset[str]:
    """What is opened by itself: what cuts medical equipment, what another source may feed, what shares a neutral, and a device
    of which nobody knows what feeds it."""
    return frozenset(_alone(tree))


def _alone(tree: Tree) -> Iterator[str]:
    for id in outlets_used_as(tree, MEDICAL):
        yield from tree.reset_order(id)
    shared = {circuit.key for circuit in tree.job.circuits if circuit.shares_neutral_with}
    for circuit in tree.circuits:
        if circuit.key in shared or tree.other_sources(circuit.breaker):
            yield circuit.breaker
    for id in tree.devices:
        if id in tree.job.point and (tree.job.point[id].circuit in shared or tree.other_sources(id) or id in tree.unknown):
            yield id


def lighting(tree: Tree) -> tuple[frozenset[str], ...]:
    """For each circuit with lights what may leave it dark."""
    found: dict[str, set[str]] = {}
    for id in tree.outlets:
        if tree.kind(id).by_name:
            found.setdefault(tree.job.point[id].circuit, set()).update(tree.reset_order(id))
    return tuple(frozenset(ids) for ids in found.values())
