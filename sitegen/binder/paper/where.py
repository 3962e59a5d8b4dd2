"""Takes the desk; gives short texts that several sheets share: where a device is, an address as it is typed."""

from __future__ import annotations

import re

from ..answer.answer import Answer
from ..answer.places import Spot
from ..desk import Desk


def where(desk: Desk, spot: Spot) -> str:
    """Where a device is, in one value; of a breaker: its panel and its space."""
    breaker = desk.job.breaker.get(spot.id)
    if breaker:
        return desk.words.text("print.breaker_at", at=desk.panel_of(spot.id).at, space=breaker.space)
    return desk.words.parts((spot.room, spot.at))


def beside_headline(desk: Desk, answer: Answer) -> str:
    """The same beside a headline: without the breaker's space where the headline names it."""
    named = any(run.look == "tag" for run in answer.headline)
    if named and answer.spot.id in desk.job.breaker:
        return desk.panel_of(answer.spot.id).at
    return where(desk, answer.spot)


def only_panel(desk: Desk) -> str:
    """Where the breaker panel is; "" in a house with several."""
    panels = desk.job.panels
    return panels[0].at if len(panels) == 1 else ""


def bare(url: str | None) -> str:
    """An address as it is typed: without scheme and last slash, the host in small letters (RFC 3986, 6.2.2.1)."""
    host, slash, path = re.sub(r"(?i)^https?://|/$", "", url or "").partition("/")
    return host.lower() + slash + path
