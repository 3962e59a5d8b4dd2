"""What the page says of a tap against `Evidence`, on rows of random houses: the same words in two languages; and errors planted in
the page's own code are noticed."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from random import Random
from typing import Any

import pytest
from houses import DAY, some_house

from sitegen.binder.desk import Desk
from sitegen.binder.walk.phone import map_data
from sitegen.errors import Where
from sitegen.job.records import Feed, Job, TripTest
from sitegen.protection.evidence import Evidence
from sitegen.protection.examine import examine
from sitegen.protection.tree import Tree
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.browser
# A whole `clashes` of every row of a house, as the page is asked.
ASK = """({map, outlets, rows}) => rows.map(row => clashes(map, row, id => outlets.includes(id)).map(one => one.join(" ")).sort())"""


def a_row(rng: Random, tree: Tree) -> TripTest:
    """A press that can be written down: mostly what the map foretells, some looks wrong, some missing."""
    job, openers = tree.job, [thing.id for thing in (*tree.job.breakers, *tree.job.points) if thing.kind.opens or thing.kind.is_breaker]
    pressed = rng.choice(["tester", "tester", "device", "breaker", "round", "none"])
    plugs = [id for id in tree.outlets if tree.kind(id).plugs] or list(tree.outlets)
    outlet = rng.choice({"tester": plugs, "none": plugs, "device": openers, "round": openers}.get(pressed, [b.id for b in job.breakers]))
    together = tuple(rng.sample(openers, rng.randint(2, 4))) if pressed == "round" and len(openers) > 3 else ()
    pressed = "none" if pressed == "round" and not together else pressed
    guards = tree.protected_by(outlet) if outlet in job.point and tree.is_outlet(outlet) else ()
    likely = {"tester": guards[:1], "device": (outlet,), "round": together[::2]}.get(pressed, ())
    tripped = () if pressed == "none" or rng.random() < 0.2 else likely if rng.random() < 0.7 else tuple(rng.sample(openers, rng.randint(0, min(3, len(openers)))))
    if likely and pressed == "tester" and (mates := Evidence(tree).partners(outlet)) and rng.random() < 0.7:
        tripped = (likely[0], rng.choice(mates))   # through the shared neutral
    open_now = {*together, *tripped, *([outlet] if pressed == "breaker" else [])}
    seen = {id: bool(open_now & set(tree.reset_order(id))) != (rng.random() < 0.1) for id in tree.outlets if rng.random() < 0.7}
    left = rng.choice([None, None, 0.0, 5.0, 5.1, 120.0]) if not together else None
    return TripTest(0, DAY, " ".join(sorted(together)) or outlet, pressed, None, rng.choice([None, "correct", "open ground", "reversed"]), tripped,
                    tuple(id for id, dead in seen.items() if dead), tuple(id for id, dead in seen.items() if not dead), None, left, True, None, None,
                    Where("trip_tests.csv", 2), together=together)


def a_house(seed: int) -> Job:
    """With outlets without a ground, feeds that nobody knows, and a neutral that two circuits share."""
    rng, job = Random(seed), some_house(seed)
    points = tuple(replace(p, grounded=False) if rng.random() < 0.3 else
                   replace(p, feed=Feed("unknown")) if rng.random() < 0.06 else p
                   for p in job.points)
    circuits = list(job.circuits)
    if len(circuits) > 1 and rng.random() < 0.5:
        one, other = rng.sample(range(len(circuits)), 2)
        circuits[one] = replace(circuits[one], shares_neutral_with=(circuits[other].key,))
        circuits[other] = replace(circuits[other], shares_neutral_with=(circuits[one].key,))
    return replace(job, points=points, circuits=tuple(circuits))


def asked(seeds: range) -> Iterator[tuple[dict[str, Any], list[list[str]]]]:
    """What the page is asked, and what `Evidence` says."""
    words = open_theme().words("en")
    for seed in seeds:
        rng, job = Random(seed), a_house(seed)
        tree = Tree(job)
        rows = [a_row(rng, tree) for _ in range(16)]
        says = [sorted(f"{clash.outlet} {clash.because}" for clash in Evidence(Tree(replace(job, tests=(row,)))).clashes) for row in rows]
        yield {"map": map_data(Desk(examine(job), words)), "outlets": tree.outlets, "rows": [
            {"outlet": row.outlet, "pressed": row.pressed, "together": row.together or None, "wiring": row.wiring or "", "tripped": row.tripped,
             "dead": row.went_dead, "live": row.stayed_live, "left": row.volts_after} for row in rows]}, says


def differences(page, script: str, cases) -> int:
    page.evaluate(f"() => {{ (0, eval)({json.dumps(script)}) }}")
    return sum(one != other for question, says in cases for one, other in zip(page.evaluate(ASK, question), says, strict=True))


# Each of them one slip of a hand in the page's code.
ERRORS = [
    ("agrees = dead && has(map.unknown, id) ? open.length > 0 : dead === cut(map, id, open)", "agrees = dead === cut(map, id, open)"),
    ("row.left <= map.dead_volts ? dead : live).push", "row.left < map.dead_volts ? dead : live).push"),
    ("!has(map.bare, row.outlet) && row.wiring", "row.wiring"),
    ('if (!has(dead, id)) { seen[id] = "live"; }', 'seen[id] = "live";'),
    ("partners = own ? map.partners[row.outlet] : []", "partners = []"),
    ('row.pressed === "breaker" && !has(row.tripped, row.outlet) ? [row.outlet] : []', "[]"),
    ("if (row.together) {", "if (false) {"),
]


def test_the_page_says_what_evidence_says(houses, chromium):
    script, page = open_theme().script("walk/judge"), chromium.new_page()
    cases = list(asked(range(max(10, houses // 4) if houses <= 100 else houses)))
    assert differences(page, script, cases) == 0
    told = [says for _, house in cases for says in house]
    assert all(any(because in one for says in told for one in says) for because in (" dead", " live", " tester opened", " no trip"))
    for right, wrong in ERRORS:
        assert right in script, right
        assert differences(page, script.replace(right, wrong), cases) > 0, wrong
    page.close()
