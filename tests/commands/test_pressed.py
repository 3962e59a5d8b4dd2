"""Labels on the walls that say what is no longer so: exactly those that would look different, by id and purpose."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random

import pytest
from house import edit, report_of
from houses import random_house, walk_through

from sitegen.binder.compose import compose
from sitegen.binder.labels.records import LabelSet, Strip
from sitegen.cli import main
from sitegen.commands.pressed import as_printed, each_label, label_findings, made_of, out_of_date, press_command
from sitegen.commands.unprintable import unprintable
from sitegen.errors import Where
from sitegen.job import read_job
from sitegen.job.labels.printed import latest
from sitegen.job.labels.purposes import PURPOSES
from sitegen.job.records import Feed, Job
from sitegen.job.records.visits import Done, Visit
from sitegen.protection.examine import examine
from sitegen.protection.tree import Tree
from sitegen.publish.labels.label import lay_out_label
from sitegen.publish.labels.png import draw
from sitegen.publish.labels.strip import lay_out_strip
from sitegen.publish.labels.words import words_on
from sitegen.publish.theme import open_theme

WORDS = open_theme().words("en")
WHEN = date(2026, 5, 20)


def labels_of(job: Job) -> LabelSet:
    return compose(examine(job), WORDS).labels


def pictures(labels: LabelSet) -> dict[tuple[str, str], bytes]:
    """Every label as it is inked on a sheet, dot by dot: what cannot be told apart by eye says the same."""
    return {(label.id, label.purpose, label.language): draw(lay_out_strip(label, 600) if isinstance(label, Strip) else lay_out_label(label, 600)).tobytes()
            for label in (*labels.devices, *labels.sheet, *labels.strips)}


def moved(rng: Random, job: Job) -> Job | None:
    """One point fed from elsewhere on its circuit, with the visit that says so, and the whole house tested again."""
    point = rng.choice(job.points)
    below = {point.id, *Tree(job).below(point.id)}
    sources = [job.breaker[job.circuit[point.circuit].breaker],
               *(other for other in job.points if other.circuit == point.circuit and other.id not in below)]
    source = rng.choice(sources)
    feed = Feed(source.id, rng.choice(["line", "load"]) if source.kind.has_sides else None)
    if feed == point.feed:
        return None
    after = walk_through(replace(job, points=tuple(replace(one, feed=feed) if one is point else one for one in job.points)))
    refed = Done("refed", point.id, point.feed, {}, None, Where("visits.yaml", 3))
    visit = Visit(WHEN, None, None, None, None, (refed,), (), None, None, (), (), (), Where("visits.yaml", 1))
    return replace(after, tests=tuple(replace(row, date=WHEN) for row in after.tests), visits=(visit,))


@pytest.mark.thorough
def test_after_a_re_feed_the_labels_to_print_are_those_that_look_different(houses):
    changed = 0
    for seed in range(max(10, houses // 5)):
        rng = Random(seed)
        job = random_house(rng)
        job = walk_through(replace(job, file=replace(job.file, labels=replace(job.file.labels, wanted=tuple(PURPOSES)))))
        after = moved(rng, job)
        if after is None or not examine(job).ready or not examine(after).ready:
            continue
        before = labels_of(job)
        after = replace(after, printed=tuple(as_printed(job, before, WHEN)))
        old, new = pictures(before), pictures(labels_of(after))
        differ = {key for key in new if key in old and old[key] != new[key]}
        found = out_of_date(after, labels_of(after))
        assert set(found) == differ, seed
        changed += bool(differ)
        if found:
            words = press_command(labels_of(after), found, "job").split("--only ")[1].split()
            named = {key for key in new for word in words if word in (key[0], ":".join(key[:2]))}
            assert named == differ, seed
    assert changed >= 2


@pytest.fixture
def pressed(job: Path, tmp_path: Path) -> Path:
    edit(job, "job.yaml", "contractor:", "labels: {wanted: [device, outlet, plate]}\ncontractor:")
    assert main(["press", str(job), "--date", "2026-05-20", "--out", str(tmp_path / "first")]) == 0
    return job


@pytest.fixture
def pressed_in_words(job: Path, tmp_path: Path) -> Path:
    edit(job, "job.yaml", "contractor:", "labels: {stock: letter 4 x 2 in, qr: text, wanted: [device, outlet, plate]}\ncontractor:")
    assert main(["press", str(job), "--date", "2026-05-20", "--out", str(tmp_path / "first")]) == 0
    return job


def said(capsys, *words: str) -> str:
    capsys.readouterr()
    main(list(words))
    return capsys.readouterr().out


def test_what_a_label_says_stands_in_the_ledger(pressed):
    says = {(label.id, label.purpose): label.says for label in read_job(pressed).printed}
    assert (says["K4", "outlet"].leads_to, says["K4", "outlet"].devices) == ("K3", ("K3", "K1", "B5"))
    assert says["K4", "plate"].words == "No power? RESET K3 in KITCHEN"
    assert says["K1", "device"].outlets == ("K1", "K2", "K3", "K4") and says["K1", "device"].phone == "203-555-0101"
    assert says["K4", "plate"].phone is None and says["K4", "outlet"].phone == "203-555-0101"


def test_the_finding_prints_the_wrong_labels_and_then_is_gone(pressed, tmp_path, capsys):
    edit(pressed, "protection_map.yaml", "at: by the stove", "at: behind the stove")
    edit(pressed, "protection_map.yaml", "id: K3,", "id: K3, was: K3,")
    edit(pressed, "protection_map.yaml", "right of the window", "left of the window")
    edit(pressed, "protection_map.yaml", "id: K2,", "id: K2, was: K2,")
    [line] = [line for line in said(capsys, "check", str(pressed)).splitlines() if "on the walls" in line]
    assert ('2 labels on the walls say what is no longer so. K1 (label of 20 May 2026): it says "outlet, right of the", ' in line)
    assert ('K4 (outlet label of 20 May 2026): it says "KITCHEN by the stove", today it would say "KITCHEN behind the stove". '
            "Print them again" in line)
    call = re.search("`(sitegen press .*?)`", line)[1]
    assert call.endswith("--only K1 K4:outlet")
    words = call.replace("YYYY-MM-DD", "2027-03-01").split()[1:]
    assert "Take the labels off that they replace, of K1 K4: " in said(capsys, *words, "--out", str(tmp_path / "again"))
    assert [(one.id, one.purpose, one.replaces) for one in read_job(pressed).printed if one.date == date(2027, 3, 1)] == [
        ("K1", "device", WHEN), ("K4", "outlet", WHEN)]
    assert "no longer so" not in said(capsys, "check", str(pressed))


def test_one_label_of_an_id_alone_is_named_with_its_purpose(pressed, tmp_path, capsys):
    edit(pressed, "job.yaml", "203-555-0101", "203-555-0102")
    edit(pressed, "job.yaml", "[device, outlet, plate]", "[device, outlet, plate, breaker]")
    out = said(capsys, "check", str(pressed))
    assert "--only B5:device K1 K3 F1 K2:outlet DW K4:outlet D1:outlet`" in out and "Never printed" not in out       # of breakers no label hangs there yet
    call = ["press", str(pressed), "--date", "2027-03-01", "--out", str(tmp_path / "again"), "--only", "b5:device", "K1"]
    assert main(call) == 0
    assert [(one.id, one.purpose) for one in read_job(pressed).printed if one.date.year == 2027] == [("B5", "device"), ("K1", "device")]
    assert main([*call, "K1:plat"]) == 2
    assert "K1:PLAT has no label in this job." in capsys.readouterr().err


def test_labels_made_of_the_same_are_set_in_the_words_of_the_ledger(example):
    """Where this fails, labels are set in another way: raise `SETTING` and print the example's labels again."""
    job = read_job(example)
    labels, last = each_label(labels_of(job)), latest(job)
    same = {key for key, label in labels.items() if last[key].made_of == made_of(job, label)}
    assert same == set(labels)
    assert [key for key in same if last[key].says.words != words_on(labels[key])] == []


@pytest.mark.parametrize("change", [
    ("job.yaml", "stock: letter 4 x 2 in", "stock: letter 2.625 x 1 in"), ("job.yaml", "stock: letter 4 x 2 in", "stock: a4 63.5 x 38.1 mm"),
    ("job.yaml", "203-555-0101", "203-555-0102"), ("job.yaml", "qr: text", "qr: none"), ("job.yaml", "qr: text", "qr: address"),
    ("protection_map.yaml", "at: by the stove", "at: behind the stove"), ("protection_map.yaml", "at: by the stove", "at: \u5eda\u623f"),
    ("protection_map.yaml", "at: by the stove", f"at: {'behind the stove, ' * 9}left")])
def test_what_labels_are_made_of_hides_nothing(pressed_in_words, change):
    """The same findings as by setting the type of every label, whatever was changed since."""
    edit(pressed_in_words, *change)
    job = read_job(pressed_in_words)
    labels, forgot = labels_of(job), replace(job, printed=tuple(replace(label, made_of=None) for label in job.printed))
    told = [list(unprintable(one, labels)) or list(label_findings(one, labels, "job")) for one in (job, forgot)]
    assert told[0] and told[0] == told[1]


def test_nothing_is_said_of_labels_whose_words_are_unknown(pressed, capsys):
    """A ledger from before words were kept: the seal of these lines was made without them."""
    from sitegen.job.labels.ledger import pressing_text
    old = [replace(label, says=None, replaces=None) for label in read_job(pressed).printed]
    (pressed / "printed_labels.yaml").write_text(pressing_text("", old, "small"))
    edit(pressed, "job.yaml", "203-555-0101", "203-555-0102")
    assert "no longer so" not in said(capsys, "check", str(pressed))


def test_an_added_outlet_asks_for_its_label_and_one_that_became_a_device_for_taking_off_the_old(pressed):
    edit(pressed, "protection_map.yaml", "{id: K2, is: receptacle,", "{id: K2, is: gfci receptacle,")
    edit(pressed, "protection_map.yaml", "fed_from: K2}", "fed_from: K2 line}")
    edit(pressed, "protection_map.yaml", "      - {id: D1,", "      - {id: D2, is: receptacle, room: Dining, at: by the hutch, fed_from: K1 line}\n      - {id: D1,")
    report = report_of(pressed)
    labels = compose(replace(report, findings=()), WORDS).labels
    found = [(one.kind, one.says) for one in label_findings(report.job, labels, "my job")]
    assert [one for one in found if one[0] != "label-outdated"] == [
        ("label-left-over", 'The outlet label of K2 of 20 May 2026 says "No power? RESET K1 in KITCHEN left of the sink Pops out twice? Wet, ...", '
                            "and K2 has no such label any more. Take it off."),
        ("label-left-over", 'The plate strip of K2 of 20 May 2026 says "No power? RESET K1 in KITCHEN", and K2 has no such label any more. '
                            "Take it off."),
        ("label-unprinted", "Never printed: K2 (label), D2 (outlet label), D2 (plate strip). Print with `sitegen press 'my job' --date "
                            "YYYY-MM-DD --only K2 D2`.")]


def test_a_second_set_is_remembered_and_held_against_its_own_words(job, tmp_path, capsys):
    """In the ledger each label has its language; one that says what is no longer so is told with it."""
    edit(job, "job.yaml", "contractor:", "languages: [en, es]\nlabels: {wanted: [device, outlet], also_in: [es]}\ncontractor:")
    assert main(["press", str(job), "--date", "2026-05-20", "--out", str(tmp_path / "first")]) == 0
    printed = [(one.id, one.purpose, one.language) for one in read_job(job).printed]
    assert {("K4", "outlet", ""), ("K4", "outlet", "es")} <= set(printed) and len(printed) == len(set(printed))
    assert len([one for one in printed if one[2]]) * 2 == len(printed)
    assert "no longer so" not in said(capsys, "check", str(job))
    ledger = (job / "printed_labels.yaml").read_text("utf-8")
    (job / "printed_labels.yaml").write_text(ledger.replace('language: "es"', "language: es", 1).replace("language: es", "language: en", 1), "utf-8")
    assert "does not fit its seal" in capsys.readouterr().out + said_err(capsys, "check", str(job))


def said_err(capsys, *words: str) -> str:
    main(list(words))
    return capsys.readouterr().err
