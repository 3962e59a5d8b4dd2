"""What another feed saves, against every plan of the run as it would be wired then."""

from dataclasses import replace
from random import Random

from protection.plan.brute import every_plan, random_run

from sitegen.job.records import Prices, Wishes
from sitegen.protection.plan.feeds import other_feeds
from sitegen.protection.plan.run import Box, Run


def cheapest(run: Run) -> int | None:
    return min((plan[0] for plan in every_plan(run)), default=None)


def savings(run: Run) -> dict[str, list[int]]:
    """For each outlet what each other feed saves, the nearest first; written a second time."""
    boxes, now, found = {box.id: box for box in run.boxes}, cheapest(run), {}
    for box in run.boxes if now is not None else ():
        source, behind = box.fed_from, [other for other in run.boxes if other.fed_from == box.id]
        while box.outlet and not box.stands:
            if source != box.fed_from or behind:
                moved = {**boxes, **{o.id: replace(o, fed_from=box.fed_from, on_load=box.on_load) for o in behind}}
                moved[box.id] = replace(box, fed_from=source, on_load=box.on_load and source == box.fed_from)
                then = cheapest(run.with_boxes(moved.values()))
                found.setdefault(box.id, []).append(0 if then is None else now - then)
            if source not in boxes:
                break
            source = boxes[source].fed_from
    return found


def random_chain(rng: Random) -> Run:
    """Up to five receptacles, most of them one behind the other, some of which must be alone."""
    boxes = [Box(f"K{n}", f"K{n - rng.choice([1, min(n, 2)])}" if n else "B1", needs=rng.random() < 0.8, holds="receptacle",
                 share=rng.choice(["alone", None, None])) for n in range(rng.randint(2, 5))]
    return Run.of(boxes, prices=Prices(18, 24, 60, 55, 2))


def test_savings_are_those_of_every_plan_of_the_other_wiring(houses):
    told = 0
    for seed in range(houses):
        run = random_chain(Random(seed)) if seed % 3 else random_run(Random(seed), 5)
        unit, expected = max(run.prices.receptacle, 1), {}
        for id, saves in savings(run).items():
            most = max(cents // unit for cents in saves)
            if most > 0:
                expected[id] = next(cents for cents in saves if cents // unit == most)
        found = {feed.id: feed.saves for feed in other_feeds(run)}
        assert found == expected, seed
        told += len(found)
    assert told > houses / 10


def test_an_outlet_that_must_be_alone_is_dear_in_mid_run():
    run = Run.of([Box("K1", "B1", needs=True, holds="receptacle"),
                  Box("R1", "K1", needs=True, holds="receptacle", share="alone"),
                  Box("K2", "R1", needs=True, holds="receptacle")], prices=Prices(18, 24, 60, 55, 2))
    assert [(feed.id, feed.source, feed.saves) for feed in other_feeds(run)] == [
        ("R1", "K1", 20), ("K2", "K1", 20)]


def test_a_light_is_not_passed_over_though_its_room_would_be_dark_without_it():
    run = Run.of([Box("K1", "B1", needs=True, holds="receptacle"), Box("L1", "K1", needs=True, light=True),
                  Box("L2", "K1", needs=True, light=True, holds="faceless", share="alone"),
                  Box("K2", "L2", needs=True, holds="receptacle")], prices=Prices(18, 24, 60, 55, 2), wishes=Wishes(dark=1000))
    assert "L2" in {feed.id for feed in other_feeds(run)}
