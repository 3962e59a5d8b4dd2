"""Takes two houses as readers meet them; gives what differs between them, for each reader."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class House:
    """What is compared of a job or of a binder."""

    job: str                                # its id
    outlets: Mapping[str, Mapping[str, Any]]  # id -> where to go when it is dead, what was shown to protect it
    devices: Mapping[str, str]              # device or breaker -> what it is
    feeds: Mapping[str, str]                # point or panel -> what feeds it
    labels: Mapping[str, object]            # id -> all that its labels say
    pages: Mapping[str, object]             # path -> all that stands on it
    places: Mapping[str, str]               # point -> where it is, for people


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that was otherwise; None: it was not there, or is gone."""

    id: str
    was: Any
    now: Any

    def as_json(self) -> dict[str, Any]:
        return {"id": self.id, "was": self.was, "now": self.now}


@dataclass(frozen=True, slots=True)
class Differences:
    outlets: tuple[Difference, ...]
    devices: tuple[Difference, ...]
    feeds: tuple[Difference, ...]
    labels: tuple[str, ...]                 # ids whose labels are to be printed
    pages: tuple[str, ...]                  # paths that differ

    def __bool__(self) -> bool:
        return any((self.outlets, self.devices, self.feeds, self.labels, self.pages))

    def as_json(self) -> dict[str, Any]:
        return {name: [one.as_json() for one in getattr(self, name)] for name in ("outlets", "devices", "feeds")} | {
            "labels": list(self.labels), "pages": list(self.pages)}


def compare(old: House, new: House) -> Differences:
    """In the order of the new house, what is gone behind it. A label of what is gone is not to be printed."""
    return Differences(_differ(old.outlets, new.outlets), _differ(old.devices, new.devices), _differ(old.feeds, new.feeds),
                       tuple(id for id, says in new.labels.items() if old.labels.get(id) != says),
                       tuple(sorted(one.id for one in _differ(old.pages, new.pages))))


def _differ(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[Difference, ...]:
    return tuple(Difference(id, old.get(id), new.get(id)) for id in dict.fromkeys((*new, *old)) if old.get(id) != new.get(id))
