"""Labels whose code holds words, as they are printed: read back by other readers, at every stock and resolution."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import zxingcpp
from publish.labels.inked import draw_label, thorough
from pyzbar import pyzbar

from sitegen.binder.compose import compose
from sitegen.binder.desk import Desk
from sitegen.binder.labels.compose import compose_labels
from sitegen.binder.labels.records import OutletLabel, SheetLabel
from sitegen.binder.site.records import Binder
from sitegen.errors import LabelError
from sitegen.job import read_job
from sitegen.job.labels.stock import STOCKS
from sitegen.job.language import in_language
from sitegen.job.records import Job
from sitegen.protection.examine import examine
from sitegen.publish.labels.code import code_facts
from sitegen.publish.labels.label import lay_out_label
from sitegen.publish.labels.marks import Line
from sitegen.publish.labels.where import label_report, where_text
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.thorough

LARGE, SMALL, SMALLEST = "letter 4 x 2 in", "a4 63.5 x 38.1 mm", "letter 2.625 x 1 in"
DPIS = (203, 300, 600)


def with_labels(job: Job, stock: str, **use: object) -> Job:
    use = {"qr": "text", "outlet_qr": True, "wanted": ("device", "outlet", "door")} | use
    return replace(job, file=replace(job.file, labels=replace(STOCKS[stock], **use)))


@cache
def labels_of(path: Path, stock: str, language: str = "en", draft: bool = False, **use: object) -> dict[str, SheetLabel]:
    job = with_labels(in_language(read_job(path), language), stock, **use)
    labels = compose_labels(Desk(examine(job), open_theme().words(language), as_draft=draft))
    return {label.id: label for label in (*labels.devices, *labels.sheet)}


def one_of_each(labels: dict[str, SheetLabel]) -> list[SheetLabel]:
    """A button, two kinds of breaker, outlets behind either, the door."""
    return [labels[id] for id in ("K1", "B5", "B13", "K2", "H1", "P1")]


@pytest.mark.thorough
@pytest.mark.parametrize(("stock", "language", "draft"), [
    (LARGE, "es", False), *(pytest.param(*case, marks=thorough) for case in (
        (LARGE, "en", False), (LARGE, "en", True), (SMALL, "en", False), (SMALL, "en", True)))])
def test_two_readers_read_from_the_label_the_words_that_are_said_to_stand_there(example, stock, language, draft):
    labels = one_of_each(labels_of(example, stock, language, draft))
    for label in labels[:-1] if (stock, draft) == (SMALL, True) else labels:    # no room for a door's words there
        facts = code_facts(label, 300)
        assert facts and facts.text in (label.code, *label.shorter)
        picture = draw_label(label, 300).convert("L")
        assert [found.text for found in zxingcpp.read_barcodes(picture)] == [facts.text]
        zbar = pyzbar.decode(picture, symbols=[pyzbar.ZBarSymbol.QRCODE])
        assert [found.data.decode("utf-8") for found in zbar] == [facts.text]


@pytest.mark.thorough
def test_the_words_are_the_same_at_every_resolution_and_modules_keep_their_floor(example):
    """0.5 mm and 4 dots (as reported); level M or more."""
    for stock in (LARGE, SMALL):
        for label in one_of_each(labels_of(example, stock)):
            found = [code_facts(label, dpi) for dpi in DPIS]
            assert len({facts.text for facts in found}) == 1
            for dpi, facts in zip(DPIS, found):
                assert facts.module_mm >= 0.5 and facts.module_mm * dpi / 25.4 >= 3.999 and facts.level in "MQH"
                draw_label(label, dpi)


def test_the_longest_offer_that_fits_is_the_one_that_is_printed(example):
    """The next longer one, offered alone, is refused."""
    labels = labels_of(example, SMALL)
    for label in (labels["K1"], labels["B13"], labels["H1"]):
        offers = (label.code, *label.shorter)
        taken = offers.index(code_facts(label, 300).text)
        assert taken
        with pytest.raises(LabelError, match="characters? too long"):
            code_facts(replace(label, code=offers[taken - 1], shorter=(offers[taken - 1],)), 300)


def test_a_larger_label_says_more(example):
    large, small = labels_of(example, LARGE), labels_of(example, SMALL)
    for id in ("K1", "B13", "K2"):
        assert len(code_facts(large[id], 300).text) > len(code_facts(small[id], 300).text)
        assert code_facts(large[id], 300).holds > code_facts(small[id], 300).holds


def test_what_does_not_fit_is_told_with_its_characters(example):
    label = labels_of(example, SMALL)["K1"]
    label = replace(label, code="A" * 900, shorter=("A" * 300,))
    with pytest.raises(LabelError) as told:
        draw_label(label, 300)
    found = re.fullmatch(r"label K1: the QR code of `(A+)`, the fewest words, is (\d+) characters too long for a label of "
                         r"63.5 x 38.1 mm, which holds about (\d+) characters. Choose a larger label, or write `qr: none` "
                         r"under `labels`\.", str(told.value))
    assert found and len(found[1]) == 300 == int(found[2]) + int(found[3])


def test_the_smallest_stock_has_no_room_for_words(example):
    labels = labels_of(example, SMALLEST)
    for id, kind, do in (("K1", "label", "write `qr: none` under `labels`"),
                         ("K2", "outlet label", "remove `outlet_qr` from `labels`"),
                         ("P1", "door label", "leave `door` out of `wanted`")):
        with pytest.raises(LabelError) as told:
            draw_label(labels[id], 300)
        assert str(told.value) == (f"{kind} {id}: a label of 66.675 x 25.4 mm has no room for a QR code beside its words. "
                                   f"Choose a larger label, or {do}.")


def test_an_address_on_an_outlet_label_that_is_too_small_says_what_to_do(example):
    label = labels_of(example, SMALLEST, qr="address")["K2"]
    with pytest.raises(LabelError, match=r"^outlet label K2: the QR code of `HTTPS://.*`outlet_qr` from `labels`\.$"):
        draw_label(label, 300)


@pytest.mark.parametrize(("stock", "qr"), [(SMALL, "address"), *(pytest.param(*case, marks=thorough) for case in (
    (LARGE, "address"), (SMALL, "text"), (LARGE, "text")))])
def test_beside_a_code_the_destination_is_the_biggest(example, stock, qr):
    """Of every outlet label: no other line is set as large as the id to go to."""
    found = [label for label in labels_of(example, stock, qr=qr).values() if isinstance(label, OutletLabel)]
    assert len(found) > 25
    for label in found:
        lines = [mark for mark in lay_out_label(label, 300).marks if isinstance(mark, Line)]
        [big] = [line for line in lines if line.text == label.act]
        assert all(line.size < big.size for line in lines if line is not big)


def test_a_label_in_two_languages_that_is_too_small_says_what_to_do(example):
    job = with_labels(read_job(example), SMALL, qr="address", outlet_qr=False, languages=("en", "es"))
    report = examine(job)
    labels = compose_labels(Desk(report, open_theme().words("en")), [Desk(report, open_theme().words("es"), "es")])
    breaker = next(label for label in labels.devices if label.id == "B5")
    with pytest.raises(LabelError, match=r"Or print it in one language: remove `languages` from `labels`\.$"):
        draw_label(breaker, 300)
    draw_label(replace(breaker, width_mm=101.6, height_mm=50.8), 300)


# --- what is told to the contractor

@cache
def binder_of(path: Path, stock: str, **use: object) -> Binder:
    return compose(examine(with_labels(read_job(path), stock, **use)), open_theme().words("en"))


def test_bind_tells_for_each_label_what_fits_and_what_was_left_out(example):
    binder = binder_of(example, SMALL)
    lines = [line for line in label_report(binder) if "stand in the code" in line]
    assert len(lines) == len({label.id for label in (*binder.labels.devices, *binder.labels.sheet)})
    [line] = [line for line in lines if line.startswith("label K1: ")]
    found = re.fullmatch(r"label K1: about (\d+) characters fit, (\d+) stand in the code\. Left out: `(.*)`", line)
    [label] = [label for label in binder.labels.devices if label.id == "K1"]
    text = code_facts(label, 300).text
    assert found and int(found[2]) == len(text) <= int(found[1]) and "Will not click?" in found[3]
    assert "Wet, hot or burnt smell? Press nothing." in text and "Fire, smoke, shock: 911." in text
    for left in re.split(r"(?<=[.?])\s+", found[3]):
        assert left in label.code and left not in text


def test_nothing_is_told_of_words_where_codes_hold_addresses(example):
    told = "\n".join(label_report(binder_of(example, LARGE, qr="address")))
    assert "stand in the code" not in told and "no code" not in told
    assert label_report(binder_of(example, LARGE, qr="none", outlet_qr=False))[0].endswith(
        "no code, since `labels` says `qr: none`.")


def test_the_list_tells_place_and_spot_of_every_label(example):
    """Each label once, on its line: page, row, column, and where it is stuck, with `label_at` where it is written."""
    binder = binder_of(example, LARGE, qr="address", wanted=("device", "outlet", "plate", "door", "breaker"))
    text = where_text(binder)
    places = re.findall(r"\[ \] .* \((sheet|strips)\.pdf page (\d+), row (\d+), column (\d+)\): \S", text)
    assert len(places) == len(set(places)) == len(binder.labels.sheet) + len(binder.labels.strips)
    for point in read_job(example).points:
        if point.label_at and any(label.id == point.id for label in binder.labels.sheet):
            assert re.search(rf"^{point.id}: .*\n(  .*\n)*?  \[ \] .*: {re.escape(point.label_at)}$", text, re.M), point.id


def test_bind_says_which_labels_have_no_room_for_the_order_of_the_hour(example):
    """On the large stock every label has it; on the small one none, and each is named."""
    lines = label_report(binder_of(example, LARGE, qr="address"))
    assert not [line for line in lines if line.startswith("No room on")]
    binder = binder_of(example, SMALL, qr="address")
    [line] = [line for line in label_report(binder) if "what to press at once" in line]
    assert re.findall(r"[A-Z]+\d+", line) == [label.id for label in binder.labels.devices]
    assert not any("No power?" in " ".join(words_on(label)) for label in binder.labels.devices)


def words_on(label: SheetLabel) -> list[str]:
    return [mark.text for mark in lay_out_label(label, 300).marks if isinstance(mark, Line)]


def test_every_outlet_label_of_the_example_says_when_to_stop_and_whom_to_call(example):
    """Nobody stands before a label that sends to a button and says nothing of when to leave it."""
    desk = Desk(examine(read_job(example)), open_theme().words("en"))
    printed = {(label.id, label.language): " ".join(words_on(label)) for label in compose_labels(desk, [Desk(desk.report, open_theme().words("es"), "es")]).sheet
               if isinstance(label, OutletLabel)}
    assert len(printed) > 20
    for id, text in printed.items():
        assert re.search(r"(again|twice)\? (Leave it OFF\. )?(Wet, hot, b|Outdoor outlet wet\? B)urnt smell\? (Press|Touch) nothing\. Call \(203\) 555-0147|"
                         r"(vez|veces)\? (Déjelo en OFF\. )?¿Mojado(, caliente| el de afuera), olor a quemado\? No (presione|toque) nada\. Llame al \(203\) 555-0147", text), (id, text)
    assert "Outdoor outlet wet?" in printed["A2", ""] and "Outdoor" not in printed["K2", ""] and "Its switch OFF first." in printed["K9", ""]
