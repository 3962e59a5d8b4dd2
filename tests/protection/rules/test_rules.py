"""Each case file changes a small sound job (after labels were printed and visits made, where it says so) and lists every finding that comes with it, word for word."""

import shutil
from datetime import date
from pathlib import Path

import pytest
import yaml
from house import FINDINGS as FOLDER

from sitegen.errors import Where
from sitegen.job import read_job
from sitegen.job.labels.ledger import FILE, pressing_text
from sitegen.job.records import Printed, Says
from sitegen.protection.examine import examine
from sitegen.protection.rules import FINDINGS
from sitegen.protection.rules.code.table import BY_NAME

CASES = sorted(FOLDER.glob("*.yaml"))


def case(path: Path) -> dict:
    return yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)


def told(folder: Path):
    report = examine(read_job(folder))
    return report, [{"kind": f.kind, "level": f.level, "where": str(f.where), "points": " ".join(f.points), "says": f.says}
                    for f in report.findings]


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_case(path, tmp_path):
    folder = tmp_path / "job"
    shutil.copytree(FOLDER / "base", folder)
    for label in case(path).get("printed", ()):
        ledger = folder / FILE
        before = ledger.read_text("utf-8") if ledger.exists() else ""
        label = Printed(label["id"], label["is"], date(2026, 5, 12), label["at"], label.get("holds"), Where(FILE, 1),
                        Says("RESET", devices=tuple(label["devices"].split())) if "devices" in label else None)
        ledger.write_text(before + pressing_text(before, [label]), "utf-8")
    if "visits" in case(path):
        (folder / "visits.yaml").write_text(case(path)["visits"], "utf-8")
    for change in case(path).get("change", ()):
        file = folder / change["file"]
        assert file.read_text("utf-8").count(change["find"]) == 1
        file.write_text(file.read_text("utf-8").replace(change["find"], change["put"]), "utf-8")
    _, before = told(FOLDER / "base")
    report, after = told(folder)
    expected = case(path)["findings"]
    named = {finding["kind"] for finding in expected}   # advice is compared in the cases that are about it
    assert [finding for finding in after if finding not in before
            and (finding["kind"] in named or not finding["kind"].startswith("advice-"))] == expected
    assert report.ready == (case(path)["ready"] == "true")
    for rule, kinds in FINDINGS.items():
        assert {finding.kind for finding in rule(report.proof)} <= set(kinds.split())


def test_the_base_is_ready_and_only_tells_of_its_line_side_outlet_of_its_series_and_that_it_names_no_book():
    report, findings = told(FOLDER / "base")
    assert report.ready and [finding["kind"] for finding in findings] == ["unprotected", "no-book", "advice-twice"]


def test_every_finding_has_a_case_that_fires():
    """The base fires `unprotected`, `advice-twice` and `no-book`; each file above fires at least one; a rule of the book has its own (test_table.py)."""
    declared = {kind for kinds in FINDINGS.values() for kind in kinds.split()}
    assert declared == {finding["kind"] for path in CASES for finding in case(path)["findings"]} | {"unprotected", "no-book", "advice-twice"} | set(BY_NAME)
