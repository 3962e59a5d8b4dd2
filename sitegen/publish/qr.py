"""Takes a text, or words from the most to the fewest; gives the modules of a QR code (ISO/IEC 18004): version and level
chosen, no picture yet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby

import qrcode
from qrcode import util
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


BYTES = util.MODE_8BIT_BYTE
# What stands before letters beyond ASCII: mode indicator and number of UTF-8 (ISO/IEC 18004 and AIM ECI, as reported).
# Unmarked, each reader guesses: one took `ba\u00f1o` for Chinese.
ECI, UTF_8 = 0b0111, 26
ECI_BITS = 4 + 8


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

    def runs(self) -> Iterator[tuple[int, int, int]]:
        """Column, row and length of each run of dark modules."""
        for y, row in enumerate(self.rows):
            x = 0
            for dark, run in groupby(row):
                wide = len(list(run))
                if dark:
                    yield x, y, wide
                x += wide


def modules_path(code: Code, white: int = 0) -> str:
    """The dark modules as a path of SVG, one unit each; a run of them in a row is one rectangle.

    >>> modules_path(Code(((True, True, False), (False, False, True)), 1, "L"))
    'M0 0h2v1h-2zM2 1h1v1h-1z'
    """
    return "".join(f"M{x + white} {y + white}h{wide}v1h-{wide}z" for x, y, wide in code.runs())


# --- the text of an address

@cache
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
        version: int = maker.best_fit()
        return version
    except (DataOverflowError, ValueError):     # the library refuses version 41 by either
        return None


def code_at(text: str, version: int, level: str, mask_pattern: int | None = None) -> Code:
    """The text at exactly this version and level; it must fit (see `smallest_version`)."""
    maker = qrcode.QRCode(
        version=version, error_correction=LEVELS[level], border=0, mask_pattern=mask_pattern
    )
    maker.add_data(text)
    return _made(maker, level)


def _made(maker: qrcode.QRCode, level: str) -> Code:
    maker.make(fit=False)
    return Code(tuple(tuple(map(bool, row)) for row in maker.modules), maker.version, level)


# --- words

def choose(texts: Sequence[str], versions: Sequence[int]) -> tuple[str, Code] | None:
    """The first text that fits, and its code at the smallest of `versions` (rising) that holds it; None if none fits."""
    for text in texts:
        if version := next((one for one in versions if fits(text, one)), None):
            level = next(level for level in ("H", "Q", FLOOR) if fits(text, version, level))
            return text, words_code(text, version, level)
    return None


def fits(text: str, version: int, level: str = FLOOR) -> bool:
    """Whether a version (1 to 40) holds the words at this level, byte by byte."""
    return len(text.encode()) <= _room(version, level, not text.isascii())


def capacity(version: int) -> int:
    """How many letters of ASCII a version holds at level M.

    >>> capacity(1), capacity(10), capacity(40)     # ISO/IEC 18004, table 7, as reported
    (14, 213, 2331)
    """
    return _room(version, FLOOR, False)


def too_many(text: str, version: int) -> int:
    """How many characters at its end the words must lose for this version to hold them; 0 where it does."""
    return next(over for over in range(len(text) + 1) if fits(text[:len(text) - over], version))


def words_code(text: str, version: int, level: str) -> Code:
    """The words at exactly this version and level; they must fit."""
    maker = qrcode.QRCode(version=version, error_correction=LEVELS[level], border=0)
    maker.data_cache = _codewords(text, version, level)
    return _made(maker, level)


def _bits(version: int, level: str) -> int:
    return 8 * sum(int(block.data_count) for block in qrcode.base.rs_blocks(version, LEVELS[level]))


def _room(version: int, level: str, marked: bool) -> int:
    before: int = ECI_BITS * marked + 4 + util.length_in_bits(BYTES, version)
    return (_bits(version, level) - before) // 8


def _codewords(text: str, version: int, level: str) -> list[int]:
    """The mark of UTF-8 where it is needed, the bytes, and what fills the rest (ISO/IEC 18004, 7.4)."""
    stream, limit, data = util.BitBuffer(), _bits(version, level), text.encode()
    if not text.isascii():
        stream.put(ECI, 4)
        stream.put(UTF_8, 8)
    stream.put(BYTES, 4)
    stream.put(len(data), util.length_in_bits(BYTES, version))
    for byte in data:
        stream.put(byte, 8)
    stream.put(0, min(4, limit - len(stream)))
    stream.put(0, -len(stream) % 8)
    for number in range((limit - len(stream)) // 8):
        stream.put(util.PAD1 if number % 2 else util.PAD0, 8)
    made: list[int] = util.create_bytes(stream, qrcode.base.rs_blocks(version, LEVELS[level]))
    return made
