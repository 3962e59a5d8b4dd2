"""Takes the words of the call; gives ids of the job and readings, or says what cannot be used and what to write."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from ...errors import CallError, nearest
from ...job.labels.printed import now_called
from ...job.records import Job
from ...protection.isolate import Reading
from ...protection.isolate.meters import PAIRS, Meaning, Metered, leakage, meaning, trip_time
from ...protection.tree import Tree

_TIMES = {"": 1.0, "k": 1e3, "m": 1e6}


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
    """ID PAIR OHMS: K3 h-g 18000, 18k, 0.5M, or OL where the meter is over range; K1 leak 2.5 mA; K1 trip 6 mA 24 ms."""
    words = re.fullmatch(r"\s*(\S+)\s+(\S+)\s+(.+?)\s*", text)
    kind = words[2].casefold() if words else ""
    for known, shape, read in ((PAIRS, _OHMS, _ohms), (("leak",), _LEAK, _leak), (("trip",), _TRIP, _trip)):
        parts = re.fullmatch(shape, words[3], re.IGNORECASE) if words and kind in known else None
        if words and parts:
            return Metered(id_of(job, words[1]), *read(kind, parts))
    raise CallError(f"--reading `{text}` is not a reading with a meter; write the point, {', '.join(PAIRS)}, leak or trip, and the "
                    'value, as "K3 h-g 18000" (ohms), "K3 n-g 0.5M", OL where the meter is over range, "K1 leak 2.5 mA", '
                    '"K1 trip 6 mA 24 ms".')


_OHMS = r"(?:(ol)|(\d+(?:\.\d+)?)\s*([km]?))\s*(?:ohms?)?"
_LEAK = r"(\d+(?:\.\d+)?)\s*(?:ma)?"
_TRIP = r"(\d+(?:\.\d+)?)\s*ma\s+(\d+(?:\.\d+)?)\s*(m?)s"


def _ohms(pair: str, parts: re.Match[str]) -> tuple[str, str, Meaning]:
    ohms = math.inf if parts[1] else float(parts[2]) * _TIMES[parts[3].casefold()]
    return PAIRS[pair], "over range" if parts[1] else f"{ohms:.10g} ohm", meaning(pair, ohms)


def _leak(_: str, parts: re.Match[str]) -> tuple[str, str, Meaning]:
    return "leakage", f"{float(parts[1]):g} mA", leakage(float(parts[1]) / 1000)


def _trip(_: str, parts: re.Match[str]) -> tuple[str, str, Meaning]:
    seconds = float(parts[2]) / (1000 if parts[3] else 1)
    return "trip", f"{float(parts[1]):g} mA in {seconds:g} s", trip_time(float(parts[1]) / 1000, seconds)
