"""`sitegen compare`: what differs between two job folders, or between two binders, for each who reads them."""

from __future__ import annotations

import argparse
import json
import shlex
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ...binder.compare import Differences, House, compare
from ...errors import CallError
from ...publish.folder import LIST
from .of_binder import house_of_binder
from .of_job import house_of_job

MOST_PAGES = 12     # that are told by name


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("old", metavar="OLD", help="a job folder, or a binder")
    parser.add_argument("new", metavar="NEW", help="the other one, of the same sort")
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(call: argparse.Namespace) -> int:
    binders = [(Path(folder) / LIST).is_file() for folder in (call.old, call.new)]
    if binders[0] != binders[1]:
        raise CallError(f"{call.old if binders[0] else call.new} is a binder and the other is a job folder; compare two of one sort.")
    read = house_of_binder if all(binders) else house_of_job
    old, new = read(Path(call.old)), read(Path(call.new))
    found = compare(old, new)
    if call.json:
        print(json.dumps(found.as_json(), indent=1, ensure_ascii=False))
    else:
        print("\n".join(_lines(found, old, new, "" if all(binders) else call.new)))
    return 1 if found else 0


def _lines(found: Differences, old: House, new: House, folder: str) -> Iterator[str]:
    """`folder`: of the new job; "" of a binder."""
    if not found:
        yield "No difference."
        return
    places = {**old.places, **new.places}
    if found.outlets:
        yield "For who lives there:"
        for one in found.outlets:
            yield from (f"  {_place(places, one.id)}: {says}" for says in _outlet(one.was, one.now))
    if found.feeds or found.devices:
        yield "For the technician:"
        for one in found.feeds:
            yield f"  {_place(places, one.id)}: {_was_now(one.was and f'fed from {one.was}', one.now and f'fed from {one.now}')}"
        for one in found.devices:
            yield f"  {_place(places, one.id)}: {_was_now(one.was, one.now)}"
    if found.labels:
        ids = " ".join(found.labels)
        yield f"Labels to print ({len(found.labels)}): " + (f"sitegen press {shlex.quote(folder)} --date YYYY-MM-DD --only {ids}"
                                                            if folder else ids)
    if found.pages:
        more = f" and {len(found.pages) - MOST_PAGES} more" if len(found.pages) > MOST_PAGES else ""
        yield f"Pages that differ ({len(found.pages)}): {', '.join(found.pages[:MOST_PAGES])}{more}"


def _place(places: dict[str, str], id: str) -> str:
    return f"{id} ({places[id]})" if id in places else id


def _outlet(was: Any, now: Any) -> Iterator[str]:
    """What changed for who stands at an outlet without power."""
    if was is None or now is None:
        yield "new" if was is None else "gone"
        return
    if was["goes_to"] != now["goes_to"]:
        yield f"without power one went to {was['goes_to']}, now to {now['goes_to']}"
    lost, won = ([id for id in one["protected_by"] if id not in other["protected_by"]] for one, other in ((was, now), (now, was)))
    if lost:
        yield f"protection by {' '.join(lost)} was shown, and is not shown now"
    if won:
        yield f"protection by {' '.join(won)} is shown now"
    if not lost and not won and was["protected_by"] != now["protected_by"]:
        yield f"protected by {' '.join(was['protected_by'])} in this order, now {' '.join(now['protected_by'])}"


def _was_now(was: str | None, now: str | None) -> str:
    if was and now:
        return f"{was}; now {now}"
    return f"new: {now}" if now else f"gone: {was}"
