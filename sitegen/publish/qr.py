"""Takes a text; gives the modules of its QR code (ISO/IEC 18004): version and level chosen, no picture yet."""

from __future__ import annotations

from dataclasses import dataclass

import qrcode
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_L, ERROR_CORRECT_M, ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError

from sitegen.job.faults import SitegenError

# Recovers about 7, 15, 25 and 30 % of the code; ISO/IEC 18004, as reported.
LEVELS = {"L": ERROR_CORRECT_L, "M": ERROR_CORRECT_M, "Q": ERROR_CORRECT_Q, "H": ERROR_CORRECT_H}
FLOOR = "M"     # a label in a house is scratched and splashed: never less than this
QUIET = 4       # modules of white on every side; ISO/IEC 18004, as reported


class CodeTooLong(SitegenError):
    """A text that no QR code holds at level M."""


@dataclass(frozen=True, slots=True)
class Code:
    """A QR code without its quiet zone; True is dark."""

    rows: tuple[tuple[bool, ...], ...]
    version: int    # 1 to 40
    level: str      # "L", "M", "Q" or "H"

    @property
    def side(self) -> int:
        """Modules along one side: 17 + 4 times the version."""
        return len(self.rows)


def make_code(text: str, mask_pattern: int | None = None) -> Code:
    """The smallest code of level M that holds the text, raised to the highest level it has room for.

    `mask_pattern` (0 to 7) forces the mask; None lets the library score all eight.

    >>> code = make_code("HELLO WORLD")
    >>> code.version, code.level, code.side
    (1, 'Q', 21)
    """
    version = smallest_version(text, FLOOR)
    if version is None:
        raise CodeTooLong(
            f"`{text[:40]}...` has {len(text)} characters; expected a text that fits a QR code "
            "(about 2300 characters at most). Shorten `base_url`."
        )
    level = next(level for level in ("H", "Q", FLOOR) if smallest_version(text, level) == version)
    return code_at(text, version, level, mask_pattern)


def smallest_version(text: str, level: str) -> int | None:
    """The smallest version (1 to 40) that holds the text at this level; None if none does."""
    maker = qrcode.QRCode(error_correction=LEVELS[level])
    maker.add_data(text)
    try:
        return maker.best_fit()
    except (DataOverflowError, ValueError):     # the library refuses version 41 by either
        return None


def code_at(text: str, version: int, level: str, mask_pattern: int | None = None) -> Code:
    """The text at exactly this version and level; it must fit (see `smallest_version`)."""
    maker = qrcode.QRCode(
        version=version, error_correction=LEVELS[level], border=0, mask_pattern=mask_pattern
    )
    maker.add_data(text)
    maker.make(fit=False)
    return Code(tuple(tuple(map(bool, row)) for row in maker.modules), version, level)
