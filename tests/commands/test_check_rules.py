"""`check --rules`: every rule for this job, where it stands, what it needed, what became of it."""

import json
from dataclasses import replace

import pytest
from house import BASE

from sitegen.cli import main
from sitegen.commands.check.rules import rules_json, rules_text
from sitegen.job import read_job
from sitegen.job.records import Amendment, Code
from sitegen.protection.examine import examine
from sitegen.protection.rules.code.table import RULES


def listed(job, *changes, edition="2020", book="NEC"):
    return {row["name"]: row for row in rules_json(examine(replace(job, file=replace(
        job.file, code=Code(book, edition, None, changes)))))["rules"]}


@pytest.fixture(scope="module")
def job(example):
    return read_job(example)


def test_every_rule_is_listed_with_its_source_its_needs_and_what_became_of_it(example, capsys):
    assert main(["check", str(example), "--rules"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Judged by the NEC of 2020, as job.yaml says.\n")
    assert "the authority having jurisdiction and a licensed electrician decide" in said
    for rule in RULES:
        assert f"{rule.number:>2}  {rule.name}   {rule.section(2020)}" in said and rule.says in said
    assert "on the map is L9 (beside the front door)" in said and "210.8(F) (from memory)" in said


def test_json_has_the_same(example, capsys, job):
    assert main(["check", str(example), "--rules", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["job"], found["edition"], len(found["rules"])) == (job.file.id, 2020, len(RULES))
    late = listed(job, edition="2023")["gfci-kitchen"]
    assert [(row["points"], row["level"], row["section"]) for row in late["against"]] == [(["R1"], "stop", "210.8(A)(6)")]
    assert late["state"] == ["STOP: no Class A GFCI stands before it, and a kitchen receptacle asks for one, at R1"]


def test_a_rule_that_is_not_in_the_edition_is_not_judged_and_says_so(job):
    assert listed(job, edition="2014")["torque"]["state"] == ["not in this edition"]
    assert listed(job, edition="2014")["gfci-outdoor-appliance"]["state"] == ["not in this edition"]


def test_an_amendment_stands_with_its_reason(job):
    def amendment(does, places=(), to=None):
        return Amendment(does, "afci", places, to, "Town 9-1", job.file.where)

    assert listed(job, amendment("drop"))["afci"]["state"] == ["dropped by amendment: Town 9-1"]
    assert listed(job, amendment("drop", ("hall",)))["afci"]["state"] == ["dropped for hall by amendment: Town 9-1", "judged: nothing against it"]
    assert listed(job, amendment("level", (), "know"))["afci"]["state"][0] == "told as KNOW by amendment: Town 9-1"


def test_without_a_book_only_what_holds_whatever_the_book_is_judged():
    said = rules_text(examine(read_job(BASE)))
    assert said.startswith("job.yaml names no book: only what holds whatever the book is judged.\n")
    states = {row["name"]: row["state"] for row in rules_json(examine(read_job(BASE)))["rules"]}
    assert {name for name, state in states.items() if state == ["not judged: no book"]} == {rule.name for rule in RULES if not rule.any_book}
