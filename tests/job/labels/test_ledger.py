"""The ledger of printed labels: added to, read back whole, and never altered unseen."""

import hashlib
import json
import re
from datetime import date

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sitegen.errors import Where
from sitegen.job.labels.ledger import FILE, pressing_text, read_ledger
from sitegen.job.labels.purposes import PURPOSES
from sitegen.job.records import Printed, Says


def label(id="K1", kind="device", when=date(2026, 5, 12), place="Pantry, above the shelf", holds=None, says=None, replaces=None, made_of=None):
    return Printed(id, kind, when, place, holds, Where(FILE, 1), says, replaces, made_of=made_of)


def told(text):
    faults = []
    read_ledger(text, faults)
    return [str(fault) for fault in faults]


JOB = "26-041"


def ledger(*pressings):
    text = ""
    for labels in pressings:
        text += pressing_text(text, labels, JOB)
    return text


ONE = [label(holds="https://h.example/7/K1/"), label("P1", "door", place="Garage", holds="https://h.example/7/")]
TWO = [label("K4", when=date(2027, 1, 3), place="Cocina, detrás del fregadero, ½ pie", holds="K4: say \"RESET\"\n#1, {x}: [y]", made_of="0123456789abcdef")]


def values(found):
    return [(one.id, one.purpose, one.date, one.place, one.holds, one.says, one.replaces, one.made_of) for one in found]


def test_what_is_added_is_read_back_in_order_and_nothing_before_it_changes():
    first, both = ledger(ONE), ledger(ONE, TWO)
    assert both.startswith(first)
    faults = []
    found = read_ledger(both, faults).labels
    assert not faults and values(found) == values([*ONE, *TWO])
    assert [one.where.line for one in found] == [7, 8, 12]


# Control characters are refused where a job is read; no text that is printed has one.
WORDS = st.text(st.characters(max_codepoint=0x24F, exclude_categories=("Cc",)), max_size=30)


@given(st.lists(st.lists(st.tuples(st.sampled_from(list(PURPOSES)), WORDS, st.one_of(st.none(), WORDS)), min_size=1, max_size=4),
                min_size=1, max_size=3))
def test_any_texts_come_back_as_they_were_printed(pressings):
    """YAML written by hand-made lines is read by PyYAML's own composer."""
    made, number = [], 0
    for at, rows in enumerate(pressings):
        labels = []
        for kind, place, holds in rows:
            number += 1
            # Two ids never share an address, so each code is made its own; blanks at the ends of a place are dropped.
            holds = None if not holds or not holds.strip() else f"{holds} {number}"
            labels.append(label(f"K{number}", kind, date(2026, 5, 1 + at), " ".join(place.split()), holds))
        made.append(labels)
    faults = []
    found = read_ledger(ledger(*made), faults).labels
    assert not faults and values(found) == values([one for labels in made for one in labels])


@pytest.mark.parametrize("find, put", [
    ("K4", "K5"), ("https://h.example/7/K1/", "https://h.example/8/K1/"), ("is: device, at: \"Pantry", "is: outlet, at: \"Pantry"),
    ("above the shelf", "below the shelf"), ("date: 2027-01-03", "date: 2027-01-04"), ("date: 2026-05-12", "date: 2026-05-11"),
    ("job: 26-041", "job: 26-042"), ("0123456789abcdef", "0123456789abcdee"), (', made_of: "0123456789abcdef"', ""),
    ('      - {id: "P1", is: door, at: "Garage", holds: "https://h.example/7/"}\n', ""),
])
def test_a_line_changed_or_taken_out_by_hand_is_a_fault(find, put):
    text = ledger(ONE, TWO)
    assert find in text
    [fault] = told(text.replace(find, put))
    assert re.fullmatch(r"printed_labels\.yaml:\d+: the pressing of \d{4}-\d\d-\d\d does not fit its seal; expected every line as "
                        r"it was written\. Put the file back from a copy; only `sitegen press` writes in it\.", fault)


def test_a_whole_pressing_taken_out_is_a_fault_of_the_next():
    text = ledger(ONE, TWO)
    cut = text[:text.index("  - date: 2026-05-12")] + text[text.index("  - date: 2027-01-03"):]
    [fault] = told(cut)
    assert "the pressing of 2027-01-03 does not fit its seal" in fault


def test_comments_and_line_ends_do_not_matter():
    assert told(ledger(ONE, TWO).replace("pressings:", "pressings:   # two so far\n").replace("\n", "\r\n")) == []


def test_one_address_for_two_ids_and_days_out_of_order_are_faults():
    [fault] = told(ledger([label("K1", holds="same words"), label("K2", holds="same words")]))
    assert fault.startswith("printed_labels.yaml:8: the code of K2 is that of K1 in line 7; expected a code that leads to one id.")
    [fault] = told(ledger([label("K4", holds="https://h.example/7/K5/")]))
    assert fault.startswith("printed_labels.yaml:7: the code of K4 leads to `https://h.example/7/K5/`; expected an address that ends in /K4/.")
    [fault] = told(ledger(TWO, ONE))
    assert "the pressing of 2026-05-12 stands behind that of 2027-01-03" in fault


def test_what_is_no_ledger_is_told_in_whole_sentences():
    assert told("pressings: []\n") == ["printed_labels.yaml:1: `pressings` is an empty list; expected at least one entry. Write "
                                       "one, with `date`, `labels` and `seal`."]
    assert told("- K1\n")[0].startswith("printed_labels.yaml:1: the ledger is a list; expected a map with `pressings:`.")


SAYS = [label("K4", "outlet", date(2027, 2, 1), "Cocina", says=Says("No power? RESET K1, \"pantry\" {x}: [y] #1", "K1", ("K1", "B5"), (), "555-0101"),
              replaces=date(2026, 5, 12)),
        label("NO", says=Says("NO Pantry RESETS all", None, ("NO", "1E5"), ("K4", "K5")), when=date(2027, 2, 1))]


def test_what_a_label_says_comes_back_with_the_day_of_the_one_that_it_replaces():
    faults = []
    found = read_ledger(ledger(ONE, SAYS), faults).labels
    assert not faults and values(found) == values([*ONE, *SAYS])


@pytest.mark.parametrize("find, put", [
    ("RESET K1,", "RESET A1,"), ('leads_to: "K1"', 'leads_to: "A1"'), ('["K1", "B5"]', '["A1", "B5"]'), ('outlets: ["K4", "K5"]', 'outlets: ["K4"]'),
    ("555-0101", "555-0102"), (", replaces: 2026-05-12", "")])
def test_what_a_label_says_is_sealed_too(find, put):
    text = ledger(ONE, SAYS)
    assert find in text
    [fault] = told(text.replace(find, put))
    assert "does not fit its seal" in fault


def test_a_ledger_without_words_is_read_as_it_is():
    """Written before words were kept; its seal was made of day, id, purpose, place and code alone."""
    text = """pressings:
  - date: 2026-05-12
    labels:
      - {id: "K1", is: device, at: "Pantry, above the shelf", holds: "https://h.example/7/K1/"}
      - {id: "P1", is: door, at: "Garage", holds: "https://h.example/7/"}
    seal: @
"""
    rows = [["2026-05-12", "K1", "device", "Pantry, above the shelf", "https://h.example/7/K1/"],
            ["2026-05-12", "P1", "door", "Garage", "https://h.example/7/"]]
    seal = hashlib.sha256("\n".join(["", *map(json.dumps, rows)]).encode()).hexdigest()[:16]
    faults = []
    found, job, _ = read_ledger(text.replace("@", seal), faults)
    assert not faults and job is None and values(found) == values(ONE) and all(one.says is None for one in found)
