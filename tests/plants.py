"""Faults planted in the map of a house whose tests stay those of the copper: takes a job and a random generator; gives the job."""

from __future__ import annotations

from dataclasses import replace

from sitegen.job.records import Feed
from sitegen.protection.changes import Exchange, Refeed, apply
from sitegen.protection.tree import Tree


def wrong_feed(job, rng, own=True):
    """The map with one point hung elsewhere on its circuit, or moved to another."""
    tree = Tree(job)
    point = rng.choice(job.points)
    below = {*tree.below(point.id), point.id}
    circuits = [c for c in job.circuits if (c.key == point.circuit) == own]
    sources = [p for p in job.points if p.circuit in {c.key for c in circuits} and p.id not in below]
    sources += [job.breaker[c.breaker] for c in circuits]
    if not sources:
        return job
    source = rng.choice(sources)
    feed = Feed(source.id, rng.choice(["line", "load"]) if source.kind.has_sides else None)
    return apply(job, (Refeed(point.id, point.feed, feed),))


def wrong_side(job, rng):
    """The map with `line` written for `load`, or the other way."""
    sided = [p for p in job.points if p.feed.side]
    if not sided:
        return job
    point = rng.choice(sided)
    feed = replace(point.feed, side="line" if point.feed.side == "load" else "load")
    return apply(job, (Refeed(point.id, point.feed, feed),))


def exchanged(job, rng):
    """The map with two names of one kind exchanged."""
    pairs = [(a.id, b.id) for a in job.points for b in job.points if a.id < b.id and a.kind == b.kind]
    pairs += [(a.id, b.id) for a in job.breakers for b in job.breakers if a.id < b.id and "B9" not in (a.id, b.id)]
    return apply(job, (Exchange(*rng.choice(pairs)),)) if pairs else job


def moved(job, rng):
    return wrong_feed(job, rng, own=False)


def cut_by(job):
    """Outlet -> all that cuts it."""
    tree = Tree(job)
    return {id: set(tree.reset_order(id)) for id in tree.outlets}


PLANTS = {"feed": wrong_feed, "side": wrong_side, "exchange": exchanged, "circuit": moved}
