"""Two houses held against each other, as jobs and as binders: with themselves nothing, with planted changes each and no other."""

from __future__ import annotations

import json
from dataclasses import replace
from random import Random

import networkx
import pytest
from house import edit, small_job
from houses import random_house, walk_through, wiring

from sitegen.binder.compare import Differences, compare
from sitegen.binder.compose import compose
from sitegen.binder.labels.records import Strip
from sitegen.cli import main
from sitegen.commands.compare.of_binder import house_of_binder
from sitegen.commands.compare.of_job import house_of_report
from sitegen.job.records import Feed, Job
from sitegen.protection.examine import examine
from sitegen.protection.tree import Tree
from sitegen.publish.labels.label import lay_out_label
from sitegen.publish.labels.png import draw
from sitegen.publish.labels.strip import lay_out_strip
from sitegen.publish.theme import open_theme
from sitegen.publish.write import write_binder

THEME = open_theme()
WANTED = ("device", "outlet")


def planted(rng: Random, job: Job) -> tuple[Job, set[str], set[str]]:
    """The job with up to three changes and tested again; the points fed from elsewhere, the devices that are others."""
    feeds, devices = set[str](), set[str]()
    for change in rng.sample(["feed", "device", "breaker"], rng.randint(0, 3)):
        if change == "feed":
            point = rng.choice(job.points)
            below = {point.id, *Tree(job).below(point.id)}
            sources = [job.breaker[job.circuit[point.circuit].breaker],
                       *(other for other in job.points if other.circuit == point.circuit and other.id not in below)]
            source = rng.choice(sources)
            feed = Feed(source.id, rng.choice(["line", "load"]) if source.kind.has_sides else None)
            if feed != point.feed:
                feeds.add(point.id)
                job = replace(job, points=tuple(replace(one, feed=feed) if one.id == point.id else one for one in job.points))
        elif change == "device" and (buttons := [point for point in job.points if point.kind.opens]):
            id = rng.choice(buttons).id
            devices.add(id)
            job = replace(job, points=tuple(replace(one, device={"date code": "27W01"}) if one.id == id else one for one in job.points))
        elif change == "breaker":
            id = rng.choice(job.breakers).id
            devices.add(id)
            job = replace(job, breakers=tuple(replace(one, amps=15.0) if one.id == id else one for one in job.breakers))
    return walk_through(job), feeds, devices


def by_copper(job: Job) -> dict[str, tuple[str, list[str]]]:
    """Outlet -> where to go and what guards it, from the contacts on the one way from the street to it."""
    graph, things = wiring(job), {one.id: one for one in (*job.breakers, *job.points)}
    found = {}
    for point in job.points:
        if point.kind.is_outlet:
            way = networkx.shortest_path(graph, "street", (point.id, "use"))
            contacts = [contact for a, b in zip(way, way[1:]) if (contact := graph.edges[a, b].get("contact"))][::-1]
            opens = [id for id in contacts if things[id].kind.opens]
            goes_to = opens[0] if opens else next(id for id in contacts if id in job.breaker)
            found[point.id] = goes_to, [id for id in contacts if things[id].kind.stops_shock]
    return found


def pictures(job: Job) -> dict[str, list[bytes]]:
    """Id -> its labels, dot by dot."""
    labels, found = compose(examine(job), THEME.words("en")).labels, dict[str, list[bytes]]()
    for label in dict.fromkeys((*labels.devices, *labels.sheet, *labels.strips)):
        inked = draw(lay_out_strip(label, 600) if isinstance(label, Strip) else lay_out_label(label, 600))
        found.setdefault(label.id, []).append(inked.tobytes())
    return found


def pairs(houses: int):
    """Ready houses with the same house changed, which is ready too."""
    found = 0
    for seed in range(1000):
        rng = Random(seed)
        job = random_house(rng)
        job = walk_through(replace(job, file=replace(job.file, labels=replace(job.file.labels, wanted=WANTED))))
        after, feeds, devices = planted(rng, job)
        if examine(job).ready and examine(after).ready:
            found += 1
            yield seed, job, after, feeds, devices
        if found == houses:
            return


def said(found: Differences, what: str) -> set[str]:
    return {one.id for one in getattr(found, what)}


def expected_outlets(job: Job, after: Job) -> set[str]:
    before, now = by_copper(job), by_copper(after)
    return {id for id in now if before[id] != now[id]}


@pytest.mark.thorough
def test_jobs_name_every_planted_change_and_no_other(houses):
    for seed, job, after, feeds, devices in pairs(max(6, houses // 10)):
        old, new = house_of_report(examine(job)), house_of_report(examine(after))
        assert not compare(old, house_of_report(examine(job)))
        found, same, now = compare(old, new), pictures(job), pictures(after)
        assert said(found, "outlets") == expected_outlets(job, after), seed
        assert said(found, "feeds") == feeds and said(found, "devices") == devices, seed
        assert set(found.labels) == {id for id in now if same[id] != now[id]}, seed
        for one in found.outlets:
            assert (one.now["goes_to"], one.now["protected_by"]) == by_copper(after)[one.id], seed
            assert f"site/{one.id}/index.html" in found.pages
        assert bool(found) == bool(feeds or devices), seed


@pytest.mark.thorough
def test_binders_name_the_same(houses, tmp_path):
    for seed, job, after, feeds, devices in pairs(max(3, houses // 20)):
        folders = []
        for name, one in (("old", job), ("new", after)):
            folders.append(tmp_path / f"{seed}-{name}")
            write_binder(compose(examine(one), THEME.words("en")), THEME, folders[-1])
        old, new = map(house_of_binder, folders)
        assert not compare(old, house_of_binder(folders[0]))
        found = compare(old, new)
        assert said(found, "outlets") == expected_outlets(job, after), seed
        assert said(found, "feeds") == feeds and said(found, "devices") == devices, seed
        same, now = pictures(job), pictures(after)
        assert set(found.labels) == {id for id in now if same[id] != now[id]}, seed
        pages = json.loads((folders[1] / "binder.json").read_text())["pages"]
        assert set(found.pages) == {path for path in pages if (folders[0] / path).read_bytes() != (folders[1] / path).read_bytes()}


def test_what_is_said_to_whom(job, tmp_path, capsys):
    new = small_job(tmp_path / "new")
    edit(new, "protection_map.yaml", "at: by the door, fed_from: K3 load", "at: by the door, fed_from: K3 line")
    edit(new, "protection_map.yaml", "space: 7, amps: 20", "space: 7, amps: 15")
    assert main(["compare", str(job), str(job)]) == 0 and capsys.readouterr().out == "No difference.\n"
    assert main(["compare", str(job), str(new)]) == 1
    said = capsys.readouterr().out.splitlines()
    assert said[:7] == [
        "For who lives there:",
        "  K4 (Dining, by the door): without power one went to K3, now to K1",
        "  K4 (Dining, by the door): protection by K3 K1 was shown, and is not shown now",
        "For the technician:",
        "  K4 (Dining, by the door): fed from K3 load; now fed from K3 line",
        "  B7: standard breaker, space 7, 20 A; now standard breaker, space 7, 15 A",
        f"Labels to print (4): sitegen press {new} --date YYYY-MM-DD --only B5 K1 K3 K4"]
    assert main(["compare", str(job), str(new), "--json"]) == 1
    made = json.loads(capsys.readouterr().out)
    assert list(made) == ["outlets", "devices", "feeds", "labels", "pages"]
    assert made["feeds"] == [{"id": "K4", "was": "K3 load", "now": "K3 line"}]
    assert made["outlets"] == [{"id": "K4", "was": {"goes_to": "K3", "protected_by": ["K3", "K1"]},
                                "now": {"goes_to": "K1", "protected_by": []}}]


def test_a_job_and_a_binder_are_not_held_against_each_other(job, tmp_path, capsys):
    assert main(["bind", str(job), "--out", str(tmp_path / "binder")]) == 0
    capsys.readouterr()
    assert main(["compare", str(job), str(tmp_path / "binder")]) == 2
    assert capsys.readouterr().err.strip() == f"{tmp_path / 'binder'} is a binder and the other is a job folder; compare two of one sort."
    (tmp_path / "binder" / "site" / "K1" / "index.html").unlink()
    assert main(["compare", str(tmp_path / "binder"), str(tmp_path / "binder")]) == 2
    assert "is no whole binder: index.html is missing or cannot be read." in capsys.readouterr().err
