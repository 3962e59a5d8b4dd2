"""Takes words for a QR code, from the most to the fewest; gives the first that one of the allowed versions holds."""

from __future__ import annotations

from collections.abc import Sequence

import qrcode
from qrcode import util

from .qr import FLOOR, LEVELS, Code

BYTES = util.MODE_8BIT_BYTE
# What stands before letters beyond ASCII: mode indicator and number of UTF-8 (ISO/IEC 18004 and AIM ECI, as reported).
# Unmarked, each reader guesses: one took `ba\u00f1o` for Chinese.
ECI, UTF_8 = 0b0111, 26
ECI_BITS = 4 + 8


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
    maker.make(fit=False)
    return Code(tuple(tuple(map(bool, row)) for row in maker.modules), version, level)


def _bits(version: int, level: str) -> int:
    return 8 * sum(block.data_count for block in qrcode.base.rs_blocks(version, LEVELS[level]))


def _room(version: int, level: str, marked: bool) -> int:
    before = ECI_BITS * marked + 4 + util.length_in_bits(BYTES, version)
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
    return util.create_bytes(stream, qrcode.base.rs_blocks(version, LEVELS[level]))
