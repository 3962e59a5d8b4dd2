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
    """A point comes before what it feeds; siblings and circuits come as the file lists them."""
    for seed in range(houses):
        job = random_house(Random(seed))
        tree = Tree(job)
        graph = networkx.DiGraph()
        graph.add_nodes_from(breaker.id for breaker in job.breakers)
        graph.add_edges_from((point.feed.source, point.id) for point in job.points)
        expected = [id for breaker in job.breakers for id in networkx.dfs_preorder_nodes(graph, breaker.id)]
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
