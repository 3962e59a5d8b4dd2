"""What the font file lacks against what FreeType draws of it (through Pillow)."""

from __future__ import annotations

import pytest

from sitegen.publish.type.font import WEIGHTS, is_missing
from sitegen.publish.type.widths import typeface

ABSENT = "\U0010fffd"   # a private code point that no typeface draws: shows the picture of "missing"


@pytest.mark.parametrize("weight", WEIGHTS)
def test_missing_characters_are_those_drawn_as_the_box_of_a_missing_one(weight: str) -> None:
    """Latin to Cyrillic, punctuation, arrows and some Han."""
    font = typeface(weight, 40)

    def picture(character: str) -> tuple[tuple[int, int], bytes]:
        mask = font.getmask(character)
        return mask.size, bytes(mask)

    points = [*range(0x20, 0x7F), *range(0xA0, 0x0530), *range(0x1E00, 0x2300), *range(0x6F00, 0x6F40)]
    missing, box = {chr(point) for point in points if is_missing(chr(point), weight)}, picture(ABSENT)
    assert missing == {chr(point) for point in points if picture(chr(point)) == box}
    assert len(missing) > 500 and not missing & set("éñü¼½″×–—→Ω€°")
