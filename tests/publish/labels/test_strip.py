"""Strips measured in the picture: whole texts, apart, eight points and more; what does not fit is told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PIL import Image
from publish.labels.inked import apart, dark

from sitegen.binder.desk.words import Piece, Rich
from sitegen.binder.labels.records import Strip
from sitegen.errors import LabelError
from sitegen.publish.labels.png import draw
from sitegen.publish.labels.strip import lay_out_strip


def line(*texts: str) -> Rich:
    """Every second text is an id."""
    return Rich(Piece(text, "tag" if number % 2 else "plain") for number, text in enumerate(texts))


PLATE = Strip("plate", "K2", "K2", "", ((line("No power? RESET ", "K1", " in PANTRY, right-hand wall, above the shelf"),),
                                        (line("No power? RESET ", "K1", " in PANTRY"),)), "", None, 66, 7)
TWO = replace(PLATE, offers=((line("No power? Breaker ", "13"), line("OFF, then ON, GARAGE panel")),))
BREAKER = Strip("breaker", "B5", "B5", "5", ((line("Pantry, counter left of the sink, window outlet in the dining corner"),),),
                "AFCI", None, 90, 9)
GROUND = Strip("ground", "K2", "K2", "", ((line("GFCI\u00a0Protected \u00b7 No\u00a0Equipment\u00a0Ground"),),), "", None, 66, 7)
ALL = {"plate": PLATE, "two": TWO, "breaker": BREAKER, "ground": GROUND}
ALL |= {f"{name} draft": replace(strip, draft="DRAFT") for name, strip in ALL.items()}
every_strip = pytest.mark.parametrize("strip", ALL.values(), ids=ALL.keys())


def draw_strip(strip: Strip, dpi: int) -> Image.Image:
    return draw(lay_out_strip(strip, dpi))


@every_strip
def test_size_is_the_strips_and_its_edge_is_white(strip: Strip) -> None:
    picture = draw_strip(strip, 600)
    for asked, side in zip((strip.width_mm, strip.height_mm), picture.size, strict=True):
        assert 0 <= asked / 25.4 * 600 - side < 1     # never larger than asked, by less than a dot smaller
    left, top, right, bottom = dark(picture)
    assert min(left, picture.width - right) >= round(1.2 / 25.4 * 600) and min(top, picture.height - bottom) >= 7


@every_strip
def test_texts_are_whole_apart_and_eight_points(strip: Strip) -> None:
    artwork = lay_out_strip(strip, 600)
    words = artwork.words().replace("\u00a0", " ").split()
    wanted = [[*strip.lead.split(), *(strip.draft or "").split(), *strip.mark.split(),
               *" ".join(one.plain for one in offer).replace("\u00a0", " ").split()] for offer in strip.offers]
    assert words in wanted
    assert min(line.size / 600 * 72 for line in apart(artwork)) >= 8


def test_draft_is_black_on_every_strip() -> None:
    for strip in (PLATE, BREAKER, GROUND):
        plain, draft = (draw_strip(one, 600).convert("L") for one in (strip, replace(strip, draft="DRAFT")))
        end = [image.crop((image.width - 200, 0, image.width, image.height)).histogram()[0] for image in (plain, draft)]
        assert end[1] > end[0] + 3000


def told(strip: Strip) -> str:
    with pytest.raises(LabelError) as caught:
        draw_strip(strip, 600)
    return str(caught.value)


def test_what_does_not_fit_is_told_by_how_much() -> None:
    """Taking off as many characters as it says helps."""
    text = "No power? RESET K1 in the LAUNDRY AND UTILITY ROOM behind the back stairs"
    says = told(replace(PLATE, offers=((line("No power? RESET ", "K1", text.partition("K1")[2]),),)))
    assert says.startswith(f"plate strip K2: the text `{text}` is about ")
    assert says.endswith(" characters too long for a strip of 66 x 7 mm at 8 points. Shorten it.")
    over = int(says.split("` is about ")[1].split()[0])
    def cut(count: int) -> Strip:
        return replace(PLATE, offers=((line("No power? RESET ", "K1", text.partition("K1")[2][:-count]),),))

    draw_strip(cut(over), 600)
    assert " is about 1 character too long " in told(cut(over - 1))


def test_a_missing_character_is_told() -> None:
    assert told(replace(GROUND, offers=((line("漢"),),))).startswith(
        "ground mark K2: the character U+6F22 CJK UNIFIED IDEOGRAPH-6F22 `漢` in `漢` is not in the typeface of the labels; ")
