"""The rules, held against every feed that fits what was seen, and against current in copper with contacts that open."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import chain, combinations, product
from random import Random

import pytest
from houses import live, random_house, wiring

from sitegen.protection.elimination import Seen, deduce
from sitegen.protection.tree import Tree


def _subsets(contacts: tuple[str, ...]) -> Iterator[frozenset[str]]:
    return (frozenset(ids) for ids in chain.from_iterable(combinations(contacts, n) for n in range(len(contacts) + 1)))


def test_one_outlet_is_told_exactly_what_every_feed_that_fits_has_in_common():
    """Every set of contacts that may stand before it is tried: what all that fit share is told, and nothing else."""
    pairs = 0
    for seed in range(3000):
        rng = Random(seed)
        contacts = tuple(f"B{number}" for number in range(rng.randint(2, 5)))
        true = rng.choice(list(_subsets(contacts)))
        rounds = [frozenset(id for id in contacts if rng.random() < 0.5) for _ in range(rng.randint(1, 5))]
        seen = [Seen("K1", not opened.isdisjoint(true), opened, row) for row, opened in enumerate(rounds)]
        fitting = [feed for feed in _subsets(contacts) if all(opened.isdisjoint(feed) != s.dead for s in seen for opened in [s.opened])]
        told = deduce(seen, contacts, contacts)
        assert set(told.yes["K1"]) == frozenset.intersection(*fitting), seed
        assert set(told.no["K1"]) == set(contacts) - frozenset.union(*fitting), seed
        pairs += len(contacts)
    assert pairs > 10000


@cache
def _feeds(breakers: int, devices: int) -> list[list[frozenset[int]]]:
    """Every way that contacts can hang one behind another, no breaker behind a device: what stands before what hangs on each."""
    found = []
    for parents in product(range(-1, breakers + devices), repeat=breakers + devices):
        above = [_above(contact, parents) for contact in range(breakers + devices)]
        if all(above) and not any(other >= breakers for before in above[:breakers] for other in before or ()):
            found.append([before for before in above if before])
    return found


def _above(contact: int, parents: tuple[int, ...]) -> frozenset[int] | None:
    """The contact and all before it; None where they feed each other in a circle."""
    before: set[int] = set()
    while contact != -1:
        if contact in before:
            return None
        before.add(contact)
        contact = parents[contact]
    return frozenset(before)


@pytest.mark.thorough
def test_small_houses_are_told_nothing_that_some_feed_that_fits_denies():
    """Faces pass on what was seen at them: of every way to feed the whole house that fits, none says otherwise."""
    told_pairs = 0
    for seed in range(1200):
        rng = Random(seed)
        breakers, faces, faceless = rng.randint(1, 2), rng.randint(0, 2), rng.randint(0, 1)
        names = [*(f"B{n}" for n in range(breakers)), *(f"D{n}" for n in range(faces)), *(f"F{n}" for n in range(faceless))]
        feeds = _feeds(breakers, faces + faceless)
        above = rng.choice(feeds)
        outlets = names[breakers:breakers + faces] + ["O0", "O1"]
        true = above[breakers:breakers + faces] + [rng.choice([frozenset(), *above]) for _ in range(2)]
        seen, looks = [], {outlet: [] for outlet in outlets}
        for row in range(rng.randint(1, 5)):
            opened = frozenset(contact for contact in range(len(names)) if rng.random() < 0.45)
            for outlet, before in zip(outlets, true):
                if opened and rng.random() < 0.85:
                    seen.append(Seen(outlet, not opened.isdisjoint(before), frozenset(names[c] for c in opened), row))
                    looks[outlet].append((opened, seen[-1].dead))
        told = deduce(seen, names, names[:breakers])
        assert not told.at_odds
        for outlet, feed in _fitting(feeds, breakers, outlets, looks):
            stands = {names[contact] for contact in feed}
            assert stands.issuperset(told.yes.get(outlet, ())), (seed, outlet)
            assert stands.isdisjoint(told.no.get(outlet, ())), (seed, outlet)
        told_pairs += sum(len(facts) for table in (told.yes, told.no) for facts in table.values())
    assert told_pairs > 3000


def _fitting(feeds, breakers, outlets, looks) -> Iterator[tuple[str, frozenset[int]]]:
    """Outlet and what stands before it, in each way to feed the house under which every look is right."""
    def fits(outlet, before):
        return all(opened.isdisjoint(before) != dead for opened, dead in looks[outlet])

    faces = len(outlets) - 2
    for above in feeds:
        choices = [[above[breakers + n]] for n in range(faces)] + [[frozenset(), *above]] * 2
        left = [[before for before in choice if fits(outlet, before)] for outlet, choice in zip(outlets, choices)]
        if all(left):
            yield from ((outlet, before) for outlet, some in zip(outlets, left) for before in some)


def test_what_is_told_agrees_with_copper(houses):
    """Any contacts opened in any rounds: each pair told is so when that contact alone is cut in a graph of the wires (networkx)."""
    told_pairs = 0
    for seed in range(houses):
        rng = Random(seed)
        job = random_house(rng)
        tree, graph = Tree(job), wiring(job)
        contacts = (*tree.breakers, *(id for id in tree.devices if id in job.point))
        seen = []
        for row in range(rng.randint(1, 8)):
            opened = set(rng.sample(contacts, rng.randint(1, min(4, len(contacts)))))
            on = live(graph, opened)
            seen += [Seen(id, id not in on, frozenset(opened), row) for id in tree.outlets if rng.random() < 0.9]
        told = deduce(seen, contacts, tree.breakers)
        assert not told.at_odds, seed
        off = {id: set(tree.outlets) - live(graph, {id}) for id in contacts}
        for outlet in tree.outlets:
            for id in told.yes.get(outlet, ()):
                assert outlet in off[id], (seed, outlet, id)
            for id in told.no.get(outlet, ()):
                assert outlet not in off[id], (seed, outlet, id)
            told_pairs += len(told.yes.get(outlet, ())) + len(told.no.get(outlet, ()))
    assert told_pairs > 10 * houses


def _seen(*rows: tuple[str, str, str]) -> list[Seen]:
    """Rows as: what was open, what was dead, what was live."""
    return [Seen(id, ids is dead, frozenset(opened.split()), row)
            for row, (opened, dead, alive) in enumerate(rows) for ids in (dead, alive) for id in ids.split()]


def test_each_rule_alone():
    contacts = ("B1", "B2", "K1", "F1")
    told = deduce(_seen(("B1 K1", "K2", "K3")), contacts, ("B1", "B2"))
    assert told.no["K3"] == {"B1": 0, "K1": 0} and not told.yes["K2"], "live: nothing that was open; dead: one of two"
    told = deduce(_seen(("B1", "", "K2"), ("B1 K1", "K2", "")), contacts, ("B1", "B2"))
    assert told.yes["K2"] == {"K1": 1}, "all but one known not to: that one"
    told = deduce(_seen(("B1", "K1", "K2")), contacts, ("B1", "B2"))
    assert set(told.no["K2"]) == {"B1", "K1"}, "closed, and its own face dead: what was live is not behind it"
    told = deduce(_seen(("B1", "K1", ""), ("B1 B2", "", "K2")), contacts, ("B1", "B2"))
    assert told.no["K2"] == {"B1": 1, "B2": 1, "K1": 1}, "not behind what feeds it"
    told = deduce(_seen(("B1", "K5", "K4"), ("F1", "K5", "")), contacts, ("B1", "B2"))
    assert told.no["K4"] == {"B1": 0, "F1": 1}, "an outlet behind both: the breaker comes first"


def test_what_is_shown_is_dated_by_the_row_that_saw_it_dead():
    """K2 died in the first row, and the second says by what; once more in the third, by the same."""
    rows = ("K1 B1", "K2", ""), ("B1", "", "K2")
    told = deduce(_seen(*rows), ("B1", "K1"), ("B1",))
    assert told.shown("K2", "K1") == 0 and told.shown_not("K2", "B1") == 1
    assert deduce(_seen(*rows, ("K1 B1", "K2", "")), ("B1", "K1"), ("B1",)).shown("K2", "K1") == 2


def test_of_an_outlet_at_odds_nothing_is_claimed_or_passed_on():
    """K1's face was dead and live with B1 alone open: what it said of K2 is withheld."""
    rows = _seen(("B1", "K1", "K2"), ("B1", "", "K1"))
    told = deduce(rows, ("B1", "K1"), ("B1",))
    assert told.at_odds == {"K1"}
    assert told.shown("K1", "B1") is None and told.shown_not("K1", "B1") is None
    assert told.shown_not("K2", "K1") is None and told.shown_not("K2", "B1") == 0


def test_faces_that_are_withheld_pass_nothing_on():
    rows = _seen(("B1", "K1", "K2"))
    assert deduce(rows, ("B1", "K1"), ("B1",)).shown_not("K2", "K1") == 0
    assert deduce(rows, ("B1", "K1"), ("B1",), withheld=("K1",)).shown_not("K2", "K1") is None
