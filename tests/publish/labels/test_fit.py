"""Characters: printed as they are, or refused by name. Texts that do not fit: told by how many characters, and that many help."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings, strategies as st
from PIL import ImageChops
from publish.labels.inked import apart, draw_label

from sitegen.binder.desk.words import Piece, Rich
from sitegen.binder.labels.records import DeviceLabel, DoorLabel, OutletLabel, Strip
from sitegen.errors import LabelError
from sitegen.publish.labels.label import lay_out_label
from sitegen.publish.labels.strip import lay_out_strip

DEVICE = DeviceLabel("K1", "Kitchen", "RESETS", ("Kitchen: kettle",), "Press TEST every month, then RESET.",
                     "https://small.example/K1/", None, 101.6, 50.8)
OUTLET = OutletLabel("K2", "No power?", "RESET K1", "OFF, then ON", "in PANTRY", "above the shelf", "Not proved.", "outlet K2",
                     None, 101.6, 50.8)
DOOR = DoorLabel("P1", "No power? Scan this.", ("Fire: get out.",), ("Open this door only.",), "Call Firm: 555-0100",
                 "https://small.example/", None, 101.6, 50.8)
STRIP = Strip("breaker", "B5", "B5", "5", ((Rich((Piece("Kitchen "), Piece("K1", "tag"))),),), "AFCI", None, 90, 9)

# Names of the Unicode Character Database 15; a control character has none there.
REFUSED = {
    "\x07": "U+0007 CONTROL CHARACTER", "\x7f": "U+007F CONTROL CHARACTER", "\u00ad": "U+00AD SOFT HYPHEN",
    "\u200b": "U+200B ZERO WIDTH SPACE", "\u200d": "U+200D ZERO WIDTH JOINER", "\u200e": "U+200E LEFT-TO-RIGHT MARK",
    "\u200f": "U+200F RIGHT-TO-LEFT MARK", "\u202e": "U+202E RIGHT-TO-LEFT OVERRIDE", "\u2028": "U+2028 LINE SEPARATOR",
    "\ufeff": "U+FEFF ZERO WIDTH NO-BREAK SPACE", "\ufe0f": "U+FE0F VARIATION SELECTOR-16", "\ue000": "U+E000 WITHOUT A NAME",
    "\u0378": "U+0378 WITHOUT A NAME", "\u0338": "U+0338 COMBINING LONG SOLIDUS OVERLAY",
    "\u6f22": "U+6F22 CJK UNIFIED IDEOGRAPH-6F22 `\u6f22`", "\u0627": "U+0627 ARABIC LETTER ALEF `\u0627`",
    "\u05d0": "U+05D0 HEBREW LETTER ALEF `\u05d0`", "\U0001f50c": "U+1F50C ELECTRIC PLUG `\U0001f50c`",
}


def told(thing: DeviceLabel | OutletLabel | DoorLabel | Strip) -> str:
    with pytest.raises(LabelError) as caught:
        (lay_out_strip if isinstance(thing, Strip) else lay_out_label)(thing, 300)
    return str(caught.value)


@pytest.mark.parametrize("character", REFUSED, ids=lambda character: f"U+{ord(character):04X}")
def test_what_cannot_be_printed_is_refused_by_name(character: str) -> None:
    """The label, the text and where in it; what has no mark of its own is shown by its number."""
    says, name = told(replace(DEVICE, room=f"Left{character}hand wall")), REFUSED[character]
    visible = name.endswith("`")
    shown = character if visible else f"<U+{ord(character):04X}>"
    assert says.startswith(f"label K1: the character {name} in `Left{shown}hand wall` "
                           f"{'is not in the typeface of the labels' if visible else 'cannot be printed'}; expected ")
    assert visible or character not in says


def bad(text: str) -> str:
    return f"{text}\u200b"


@pytest.mark.parametrize("thing", [
    replace(DEVICE, act=bad("RESETS")), replace(DEVICE, serves=("Kitchen", bad("4 outlets"))), replace(DEVICE, rule=bad("Press.")),
    replace(DEVICE, id=bad("K1")), replace(DEVICE, draft=bad("DRAFT")),
    replace(OUTLET, ask=bad("No power?")), replace(OUTLET, act=bad("RESET K1")), replace(OUTLET, how=bad("OFF")),
    replace(OUTLET, where=bad("in PANTRY")), replace(OUTLET, at=bad("left")), replace(OUTLET, doubt=bad("No.")),
    replace(OUTLET, own=bad("outlet K2")),
    replace(DOOR, head=bad("No power?")), replace(DOOR, danger=(bad("Fire."),)), replace(DOOR, rules=("Door.", bad("Cover."))),
    replace(DOOR, call=bad("Call.")),
    replace(STRIP, lead=bad("5")), replace(STRIP, mark=bad("AFCI")), replace(STRIP, draft=bad("DRAFT")),
    replace(STRIP, offers=((Rich((Piece("Kitchen "), Piece(bad("K1"), "tag"))),),)),
], ids=str)
def test_every_text_of_every_label_is_looked_at(thing: DeviceLabel | OutletLabel | DoorLabel | Strip) -> None:
    assert "the character U+200B ZERO WIDTH SPACE in `" in told(thing)


@pytest.mark.parametrize("pair", ["e\u00e9", "n\u00f1", "u\u00fc", "AÁ", "1\u00bc", "1\u00bd", "|\u2033", "x\u00d7", "-\u2013", "-\u2192",
                                  "O\u03a9", "o\u00b0"])
def test_letters_with_accents_fractions_and_signs_are_not_their_plain_kin(pair: str) -> None:
    """Each is printed, and other than the character it might be mistaken for."""
    plain, other = (draw_label(replace(DEVICE, room=f"Ba{character}o")) for character in pair)
    assert ImageChops.logical_xor(plain, other).getbbox()


@pytest.mark.parametrize("label", [replace(DEVICE, room="Baño — ½ × 3″ → 20 Ω, 40 °C"), OUTLET, DOOR,
                                   replace(DEVICE, id="KITCHEN8", room="Downstairs laundry and utility room behind the back stairs")],
                         ids=["signs", "outlet", "door", "long names"])
def test_every_line_is_inked_whole(label: DeviceLabel | OutletLabel | DoorLabel) -> None:
    """Each line alone, 2 mm off the edge (common practice, no source), and in no line's way."""
    assert len(apart(lay_out_label(label, 300), 23)) >= 4


def cut(text: str, over: int) -> str:
    return text[:len(text) - over]


WORDS = st.lists(st.text("abcdefghijklmnopqrstuvwxyzABCDEF", min_size=1, max_size=12), min_size=6, max_size=30).map(" ".join)


@settings(max_examples=settings.default.max_examples // 4)
@given(WORDS, st.sampled_from([(63.5, 38.1), (101.6, 50.8)]))
def test_the_number_of_characters_told_is_the_number_that_helps(serves: str, size: tuple[float, float]) -> None:
    label = replace(DEVICE, serves=(serves,), width_mm=size[0], height_mm=size[1])
    try:
        lay_out_label(label, 300)
    except LabelError as error:
        assert f"the text `RESETS {serves}` is about " in str(error)
        over = int(str(error).split("` is about ")[1].split()[0])
        assert lay_out_label(replace(label, serves=(cut(serves, over),)), 300)
        assert cut(serves, over - 1).endswith(" ") or " 1 character too long " in told(
            replace(label, serves=(cut(serves, over - 1),)))


@pytest.mark.parametrize("word", ["Hauswirtschaftsraumwaschküche", "W" * 30, "i" * 80])
def test_a_word_too_wide_fits_without_as_many_letters_as_told(word: str) -> None:
    label = replace(DEVICE, room=word, width_mm=63.5, height_mm=38.1)
    over = int(told(label).split("` is about ")[1].split()[0])
    assert f"the word `{word}` is about {over} character" in told(label)
    assert lay_out_label(replace(label, room=cut(word, over)), 300)
    assert told(replace(label, room=cut(word, over - 1)))


def test_own_id_too_long_is_told_by_how_much() -> None:
    own = "outlet in the downstairs laundry and utility room, K2"
    over = int(told(replace(OUTLET, own=own, width_mm=40)).split("` is about ")[1].split()[0])
    assert lay_out_label(replace(OUTLET, own=cut(own, over), width_mm=40, doubt=""), 300)
    assert told(replace(OUTLET, own=cut(own, over - 1), width_mm=40, doubt=""))


def test_strip_with_no_room_at_all_says_so() -> None:
    says = told(replace(STRIP, mark="EQUIPMENT PROTECTION AND MUCH MORE THAN THAT, ALL IN A FRAME"))
    assert says == "breaker strip B5: the text `Kitchen K1` does not fit on a strip of 90 x 9 mm at 8 points, not even cut short."
