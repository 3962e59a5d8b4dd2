"""Coverage held against a graph library: the house as copper, with contacts that open."""

from dataclasses import replace
from random import Random

import networkx
from houses import live, random_house, wiring

from sitegen.protection.tree import Tree


def test_random_houses_agree_with_the_graph(houses):
    """What goes dark with each device, and who guards each point, is what reachability in the copper says."""
    for seed in range(houses):
        job = random_house(Random(seed))
        tree, graph = Tree(job), wiring(job)
        everything = {point.id for point in job.points}
        assert live(graph, set()) == everything
        for device in [*job.breakers, *(point for point in job.points if point.kind.opens)]:
            dark = everything - live(graph, {device.id})
            assert set(tree.goes_dead(device.id)) == dark, (seed, device.id)
            outlets = {id for id in dark if job.point[id].kind.is_outlet}
            assert set(tree.protects(device.id)) == (outlets if device.kind.stops_shock else set()), (seed, device.id)
        for point in job.points:
            way = networkx.shortest_path(graph, "street", (point.id, "use"))
            contacts = [graph.edges[edge]["contact"] for edge in zip(way, way[1:]) if graph.edges[edge].get("contact")]
            assert list(tree.reset_order(point.id)) == contacts, (seed, point.id)
            guards = [id for id in contacts if tree.kind(id).stops_shock]
            assert list(tree.protected_by(point.id)) == guards[::-1], (seed, point.id)


def test_feed_order_is_depth_first_and_stands_in_file_order(houses):
    """A point comes before what it feeds; siblings and circuits come as the file lists them, a subpanel's behind its
    feeder."""
    for seed in range(houses):
        job = random_house(Random(seed))
        tree = Tree(job)
        graph = networkx.DiGraph()
        for circuit in job.circuits:
            graph.add_edge(job.panel[circuit.panel].fed_from or "street", circuit.key)
            if any(panel.fed_from == circuit.breaker for panel in job.panels):
                graph.add_edge(circuit.key, circuit.breaker)
        for point in job.points:
            graph.add_edge(point.feed.source if point.feed.source in job.point else point.circuit, point.id)
        expected = networkx.dfs_preorder_nodes(graph, "street")
        assert list(tree.order) == [id for id in expected if id in job.point], seed


def test_order_of_lines_changes_no_coverage(houses):
    """The map may list points in any order."""
    for seed in range(houses):
        job = random_house(Random(seed))
        points = list(job.points)
        Random(seed + 1).shuffle(points)
        tree, other = Tree(job), Tree(replace(job, points=tuple(points)))
        for id in job.point:
            assert tree.protected_by(id) == other.protected_by(id)
            assert tree.reset_order(id) == other.reset_order(id)
