"""The name of a house and the theme in, the rough-in page out: a first map by taps, saved as the spreadsheet that `--from` reads."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ...errors import CallError
from ...job.kinds import BREAKERS, POINTS
from ...job.read.ids import FILE_SYSTEM_NAMES, FORMAT_WORDS
from ...job.read.rows import DITTO
from ...publish.folder import replace_file
from ...publish.phone_file import phone_html
from ...publish.theme import Theme
from .spreadsheet import PAGE_COLUMNS

SORT = "rough-in page"
# Words that the reader of a spreadsheet takes for something else where they stand under fed_from.
TAKEN = ("PANEL", "BREAKER", "HOMERUN")


def page_data(name: str, theme: Theme) -> dict[str, Any]:
    """What the page has to know: kinds with what they have, and ids that cannot be."""
    return {
        "job": name, "columns": PAGE_COLUMNS, "words": theme.words("en").get("rough.page"),
        "kinds": [{"name": kind.name, "sides": kind.has_sides, "opens": kind.opens, "outlet": kind.is_outlet, "face": kind.has_face,
                   "light": kind.by_name, "switch": kind.switches} for kind in POINTS.values()],
        "types": [{"name": kind.name, "opens": kind.opens, "guards": kind.stops_shock} for kind in BREAKERS.values()],
        "refused": sorted((*FILE_SYSTEM_NAMES, *FORMAT_WORDS, *TAKEN)), "dittos": sorted(DITTO)}


def write_page(name: str, theme: Theme, out: Path) -> None:
    """Raises CallError where `out` is anything but an earlier page of this sort."""
    data = page_data(name, theme)
    content = phone_html(theme, theme.words("en"), data["words"]["title"], data, ("rough/map", "rough/ask", "rough/screens"), SORT)
    try:
        if out.exists() and f"<!-- {SORT} -->".encode() not in out.read_bytes()[:200]:
            raise CallError(f"{out} is there already and was left alone; choose another name with --page.")
        replace_file(out, content)
    except OSError as error:
        raise CallError(f"the page cannot be written to {out}: {error.strerror or error}; choose another place with --page.") from None
