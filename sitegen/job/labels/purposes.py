"""What labels are for, as `wanted` in job.yaml and the ledger name it, and what each may hold."""

from __future__ import annotations

from typing import NamedTuple


class Purpose(NamedTuple):
    """One sort of label."""

    title: str              # as an error names one
    strip: bool = False     # a strip of text without a code; else a label that may have one
    own_page: bool = True   # its code leads to the page of its own thing; else to the start page


PURPOSES = {
    "device": Purpose("label"),
    "outlet": Purpose("outlet label"),
    "plate": Purpose("plate strip", strip=True),
    "breaker": Purpose("breaker strip", strip=True),
    "door": Purpose("door label", own_page=False),
    "ground": Purpose("ground mark", strip=True),
}
