"""What the QR code of a label says where there is no page to open, and labels in two languages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from house import BASE
from houses import holed_house

from sitegen.binder.desk import Desk
from sitegen.binder.desk.claims import Claims
from sitegen.binder.labels.compose import compose_labels
from sitegen.binder.labels.records import DeviceLabel, DoorLabel, LabelSet, OutletLabel, SheetLabel
from sitegen.job import read_job
from sitegen.job.language import in_language
from sitegen.job.records import Job
from sitegen.protection.examine import examine
from sitegen.publish.theme import open_theme

CALL = "Fern Electric, (203) 555-0147"
STOP = " ".join(open_theme().words("en").text(f"stop_line.{part}", number="911") for part in ("ask", "do"))


def labels_of(job: Job, language: str = "en", further: str | None = None, draft: bool = False, **stock: object) -> LabelSet:
    stock = {"qr": "text", "outlet_qr": True, "wanted": ("device", "outlet", "door")} | stock
    job = replace(job, file=replace(job.file, labels=replace(job.file.labels, **stock),
                                    contractor={"firm": "Fern Electric", "phone": "(203) 555-0147"}))
    report = examine(in_language(job, language))
    second = [Desk(report, open_theme().words(further), further)] if further else []
    return compose_labels(Desk(report, open_theme().words(language), as_draft=draft), second)


def by_id(labels: LabelSet) -> dict[str, SheetLabel]:
    return {label.id: label for label in (*labels.sheet, *labels.devices)}


def offers(label: SheetLabel) -> tuple[str, ...]:
    return str(label.code), *label.shorter


def without(job: Job, outlet: str, pressed: str) -> Job:
    """The job with the rows of one press left out."""
    return replace(job, tests=tuple(row for row in job.tests if (row.outlet, row.pressed) != (outlet, pressed)))


@pytest.fixture(scope="module")
def small() -> Job:
    return read_job(BASE)


def test_a_device_says_where_what_to_press_when_to_stop_what_goes_off_and_whom_to_call(small):
    assert by_id(labels_of(small))["K1"].code == (
        f"K1: Kitchen, left of the sink. {STOP} No power? Dry hands. Press RESET hard until it clicks. Pops out again? "
        "Unplug everything on K1. Leave off what has no plug. Press RESET once more. Stays in? Plug in only what you need. "
        f"Pops out? Stop. Leave it out. Either way call {CALL}. Will not click? Breaker 5 in the panel (Garage, by the side door): "
        "OFF, then ON, once. Then here once more. Fire, smoke, shock: 911. K1 turns off: Kitchen: this outlet, right of the "
        "window, by the stove; Dining: by the door.")


def test_the_fewest_words_still_say_what_to_press_when_to_stop_and_whom_to_call(small):
    found = by_id(labels_of(small))
    assert offers(found["K1"])[-1] == (
        "K1. No power? Press RESET hard until it clicks. Pops out again? Stop. Call (203) 555-0147.")
    assert offers(found["B5"])[-1] == (
        "B5. No power? Panel door only. Breaker 5: fully OFF, then ON. Off again? Push it to OFF. Call (203) 555-0147.")
    assert offers(found["K4"])[-1] == (
        "K4. No power? RESET K3: Kitchen. Press hard until it clicks. Pops out again? Stop. Call (203) 555-0147.")
    assert offers(found["P1"])[-1] == (
        "Someone being shocked? Do not touch. Turn off the main switch. Call 911. Electrician: (203) 555-0147.")


def test_the_device_before_it_is_where_to_go_when_reset_will_not_click(small):
    assert "Will not click? First press RESET on K1: Kitchen, left of the sink." in by_id(labels_of(small))["K3"].code


def test_a_breaker_is_pushed_off_then_on_and_an_arc_fault_breaker_once(small):
    code = by_id(labels_of(small))["B5"].code
    assert "Push breaker 5 fully OFF, then ON, even if it looks on." in code
    assert f"Off again? Push it to OFF. Leave it there. Do not try again. Call {CALL}." in code
    assert "once more" not in code and "RESET" not in code


def test_an_outlet_says_the_answer_of_its_page(small):
    found = by_id(labels_of(small))
    assert found["K4"].code.startswith(f"K4: Dining, by the door. {STOP} No power? RESET K3: Kitchen, by the stove. Dry hands. "
                                       "Press hard until it clicks.")
    assert "Wall switch" not in found["K4"].code
    assert found["D1"].code.startswith(f"D1: Dining, below the window. {STOP} No power? Breaker 5: Garage, by the side door. "
                                       "Dry hands. Open the panel door only. Push it fully OFF, then ON, once.")


def test_of_an_outlet_that_nobody_saw_go_off_every_offer_says_so(small):
    job = without(small, "K4", "tester")
    job = replace(job, tests=tuple(
        replace(row, went_dead=tuple(id for id in row.went_dead if id != "K4"), stayed_live=(), rest_live=None)
        if row.outlet in ("K3", "K1") else row for row in job.tests))
    label = by_id(labels_of(job))["K4"]
    assert label.ask == "No power? Try RESET on" and "Nobody saw this one go off with K3." in label.code
    for offer in offers(label):
        assert "Try RESET on K3" in offer and re.search(r"Nobody saw|Not proved", offer), offer


def test_a_device_of_which_nothing_was_shown_names_nothing(small):
    label = by_id(labels_of(without(small, "F1", "device")))["F1"]
    assert "Not yet seen what it turns off." in label.code
    assert not any("turns off:" in offer for offer in offers(label))


def test_in_any_house_a_code_names_only_what_was_seen(houses):
    """With rows of a truthful walk-through left out at random: firm words only of a pair that was seen."""
    firm = doubtful = 0
    for seed in range(houses // 4):
        report = holed_house(seed)
        claims = Claims(report)
        for label in labels_of(report.job).sheet:
            if isinstance(label, DeviceLabel) and not claims.turns_off(label.id):
                assert not any("turns off:" in offer for offer in offers(label))
            if not isinstance(label, OutletLabel) or not claims.cuts(label.id):
                continue
            for offer in offers(label):
                if re.search(r"\? (RESET|Breaker) ", offer):
                    firm += 1
                    assert claims.cuts(label.id)[0].shown, offer
                else:
                    doubtful += 1
                    assert re.search(r"Nobody saw|Not proved|stayed on", offer), offer
    assert min(firm, doubtful) > houses / 10


def every_offer(job: Job, language: str) -> Iterator[str]:
    for label in by_id(labels_of(job, language)).values():
        yield from offers(label)


def test_no_code_promises_protection(example):
    """The words that no page of a homeowner may hold (page design), and none of a trade."""
    found = list(every_offer(read_job(example), "en"))
    assert len(found) > 400
    for offer in found:
        assert not re.search(r"protect|guard|safe\b|receptacle|downstream|upstream|\bline\b|\bload\b", offer, re.I), offer


@pytest.mark.parametrize("language", ["en", "es"])
def test_offers_grow_shorter_and_stand_alone(example, language):
    """Each has fewer letters than the one before, begins and ends like a sentence, and keeps whom to call."""
    for label in by_id(labels_of(read_job(example), language)).values():
        assert [len(one) for one in offers(label)] == sorted({len(one) for one in offers(label)}, reverse=True)
        for offer in offers(label):
            assert offer.endswith(".") and "  " not in offer and ".." not in offer and "{" not in offer
            assert "(203) 555-0147" in offer
            assert "\u00b7" not in offer


def test_english_words_of_ours_are_ascii(small):
    """One byte a letter; the texts of the small job are ASCII too."""
    assert all(offer.isascii() for offer in every_offer(small, "en"))


def test_a_draft_says_so_first(small):
    for label in by_id(labels_of(small, draft=True)).values():
        assert all(offer.startswith("DRAFT. ") for offer in offers(label))


def test_the_door_holds_the_emergency_words_and_where_the_buttons_are(small):
    label = by_id(labels_of(small))["P1"]
    assert isinstance(label, DoorLabel) and label.head == "No power? Scan this."
    assert label.code == (
        "Someone is being shocked? Do not touch them. Turn off the main switch. Call 911. "
        "Fire, smoke: get out. Call 911. Open this "
        "door only. Never the cover with screws. A tag or lock on a breaker? Leave it. A breaker is off? Push it fully OFF, then ON, once. Off again? Push it to OFF. "
        "Call. Call Fern Electric: (203) 555-0147. RESET buttons: K3 Kitchen, by the stove; K1 Kitchen, left of the sink; "
        "F1 Kitchen, above the counter.")


def test_words_need_no_host_and_addresses_do(small):
    homeless = replace(small, file=replace(small.file, base_url=None))
    assert by_id(labels_of(homeless)) == by_id(labels_of(small))
    assert {label.code for label in labels_of(homeless, qr="address").sheet} == {None}


def test_codes_by_what_is_asked_for(small):
    address = by_id(labels_of(small, qr="address"))
    assert {id: address[id].code for id in ("K1", "K4", "P1")} == {
        "K1": "https://small.example/K1/", "K4": "https://small.example/K4/", "P1": "https://small.example/"}
    assert not any(label.shorter for label in address.values())
    assert by_id(labels_of(small, qr="address", outlet_qr=False))["K4"].code is None
    assert by_id(labels_of(small, outlet_qr=False))["K4"].code is None
    assert {label.code for label in by_id(labels_of(small, qr="none", outlet_qr=False)).values()} == {None}


def test_beside_a_code_the_destination_alone_is_big(small):
    found = by_id(labels_of(small, qr="address"))
    assert (found["K4"].ask, found["K4"].act) == ("No power? RESET", "K3")
    assert (found["D1"].ask, found["D1"].act) == ("No power? Breaker", "5")


# --- two languages

@pytest.fixture(scope="module")
def both(example) -> dict[str, SheetLabel]:
    return by_id(labels_of(read_job(example), further="es", qr="address", outlet_qr=False, languages=("en", "es"), also_in=()))


def said(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_a_device_label_in_two_languages(both):
    label = both["K1"]
    assert (label.id, said(label.room), label.act) == ("K1", "Pantry / Despensa", "")
    assert said(label.rule) == "Each month: TEST turns it off, RESET on. If not, call. / Cada mes: TEST lo apaga, RESET lo enciende. Si no, llame."
    assert said(label.serves[-2]) == "RESETS 6 outlets / Con RESET vuelve: 6 tomacorrientes"
    assert said(label.serves[-1]) == "RESETS 6 outlets / 6 tomacorrientes"


def test_an_outlet_label_in_two_languages(both):
    label = both["K2"]
    assert said(label.ask) == "No power? RESET / \u00bfNo hay corriente? Presione RESET en" and label.act == "K1"
    assert said(label.where) == "in PANTRY / Est\u00e1 en: DESPENSA"
    assert said(label.at).startswith("right-hand wall, above the shelf / pared derecha, ")


def test_each_language_says_on_a_double_label_what_it_says_alone(example, both):
    for language in ("en", "es"):
        alone = by_id(labels_of(read_job(example), language, qr="address", outlet_qr=False))
        for id, label in alone.items():
            if isinstance(label, DeviceLabel):
                assert label.rule in said(both[id].rule) and label.room in said(both[id].room)
                if not label.order:     # alone it has a line of its own for what stands behind another button
                    assert f"{label.act} {label.serves[-1]}".strip() in said(both[id].serves[-2])
            elif isinstance(label, OutletLabel):
                for part in ("how", "where", "at", "doubt", "ask"):
                    assert getattr(label, part) in said(getattr(both[id], part))
                assert both[id].act in label.act
