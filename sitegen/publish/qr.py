"""Takes a text; gives the modules of its QR code (ISO/IEC 18004): version and level chosen, no picture yet."""

from __future__ import annotations

from dataclasses import dataclass

import qrcode
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_L, ERROR_CORRECT_M, ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError

from ..errors import CodeTooLong

# Recovers about 7, 15, 25 and 30 % of the code; ISO/IEC 18004, as reported.
LEVELS = {"L": ERROR_CORRECT_L, "M": ERROR_CORRECT_M, "Q": ERROR_CORRECT_Q, "H": ERROR_CORRECT_H}
FLOOR = "M"     # a label in a house is scratched and splashed: never less than this
QUIET = 4       # modules of white on every side; ISO/IEC 18004, as reported

# A module of this size is sure to be seen, so the rest of the width goes into repair. Measured by tests/bench_scan.py with
# zxing-cpp and `HTTPS://BHE.EXAMPLE/7/K1/`, for which level H needs version 3 and level Q version 2. In 25 mm at 300 dpi:
# with 15 % of the data covered H reads 99 %, Q 80 %, the plain code of level M 20 %; but of photos askew, blurred, noisy
# and in shadow H (module 0.85 mm) reads 78 %, Q (0.93 mm) 84 %, the plain code 86 %: finders of small modules are lost there,
# and no level repairs a finder. In 32 mm H (1.10 mm) reads 95 % of those photos, 3 points below the plain code.
# What H still loses there: a tip of 12 % torn off a finder is more modules of it, read by zxing-cpp in 21 % against 78 %.
SURE_MM = 1.1


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


def make_code(text: str, mask_pattern: int | None = None, room: int = 0) -> Code:
    """The code that is best to read: of level H, else Q, if its side is within `room`, the most modules a side that keep
    each module at `SURE_MM`; else the smallest of level M, raised to the highest level it has room for.

    `mask_pattern` (0 to 7) forces the mask; None lets the library score all eight.

    >>> code = make_code("HELLO WORLD")
    >>> code.version, code.level, code.side
    (1, 'Q', 21)
    >>> code = make_code("HELLO WORLD", room=25)
    >>> code.version, code.level, code.side
    (2, 'H', 25)
    """
    versions = {level: smallest_version(text, level) for level in ("H", "Q", FLOOR)}
    smallest = versions[FLOOR]
    if smallest is None:
        raise CodeTooLong(
            f"`{text[:40]}...` has {len(text)} characters; expected a text that fits a QR code "
            "(about 2300 characters at most). Shorten `base_url`."
        )
    most = max(smallest, (room - 17) // 4)      # the side is 17 + 4 times the version
    level, version = next((level, version) for level, version in versions.items() if version and version <= most)
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
