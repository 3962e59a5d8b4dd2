"""Takes the words of the call; gives ids of the job and readings, or says what cannot be used and what to write."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from ...errors import CallError, nearest
from ...job.labels.printed import now_called
from ...job.records import Job
from ...protection.isolate import Reading
from ...protection.isolate.meters import PAIRS, Meaning, meaning
from ...protection.tree import Tree

_TIMES = {"": 1.0, "k": 1e3, "m": 1e6}


@dataclass(frozen=True, slots=True)
class Metered:
    """One value of an ohm meter."""

    at: str
    pair: str
    ohms: float      # infinite: over range

    @property
    def meaning(self) -> Meaning:
        return meaning(self.pair, self.ohms)


def id_of(job: Job, word: str, kind: str = "point or breaker") -> str:
    """Of a point or breaker, in any case, by its id today or one that it had."""
    id = word.strip().upper()
    found = now_called(job, id)
    if found:
        return found
    near = nearest(id, [*job.point, *job.breaker])
    raise CallError(f"no {kind} `{word}` in job `{job.file.id}`." + (f" Did you mean `{near}`?" if near else "")
                    + " Ask by an id of the map.")


def device_of(tree: Tree, word: str) -> str:
    """A protective device or any breaker: what LOAD hangs on."""
    id = id_of(tree.job, word, "device or breaker")
    if id in tree.job.point and not tree.kind(id).has_sides:
        raise CallError(f"{id} is a {tree.kind(id).name}, and nothing hangs on load terminals of it. Name a protective device or a "
                        f"breaker; for an outlet that is dead write `--dead {id}`.")
    return id


def ids_of(job: Job, words: Iterable[str]) -> tuple[str, ...]:
    """Ids parted by blanks or commas, each once."""
    return tuple(dict.fromkeys(id_of(job, id, "outlet") for word in words for id in re.split(r"[\s,]+", word) if id))


def outlets_of(tree: Tree, words: Iterable[str], option: str) -> tuple[str, ...]:
    ids = ids_of(tree.job, words)
    wrong = next((id for id in ids if id in tree.job.breaker or not tree.is_outlet(id)), None)
    if wrong:
        raise CallError(f"{option} names {wrong}, a {tree.kind(wrong).name}"
                        + (" breaker" if wrong in tree.job.breaker else "") + ". Name outlets: what was found dead or live there.")
    return ids


def reading_of(job: Job, text: str) -> Reading:
    """BOX:TOWARD=bad, or good."""
    parts = re.fullmatch(r"\s*([^:=\s]+)\s*:\s*([^:=\s]+)\s*=\s*(bad|good)\s*", text, re.IGNORECASE)
    if not parts:
        raise CallError(f"--read `{text}` is not a reading; write the open box, the box that the cable goes to, and what was read, "
                        "as K3:K2=bad or K3:K4=good.")
    return Reading(id_of(job, parts[1], "box"), id_of(job, parts[2], "box"), parts[3].casefold() == "bad")


def metered_of(job: Job, text: str) -> Metered:
    """ID PAIR OHMS: K3 h-g 18000, 18k, 0.5M, or OL where the meter is over range."""
    parts = re.fullmatch(r"\s*(\S+)\s+(\S+)\s+(?:(ol)|(\d+(?:\.\d+)?)\s*([km]?))\s*(?:ohms?)?\s*", text, re.IGNORECASE)
    if not parts or parts[2].casefold() not in PAIRS:
        raise CallError(f"--reading `{text}` is not a reading with a meter; write the point, {', '.join(PAIRS)}, and the ohms, "
                        'as "K3 h-g 18000", "K3 n-g 0.5M", or OL where the meter is over range.')
    ohms = math.inf if parts[3] else float(parts[4]) * _TIMES[parts[5].casefold()]
    return Metered(id_of(job, parts[1]), parts[2].casefold(), ohms)
