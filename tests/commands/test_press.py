"""`press`: what it prints, what the ledger keeps, what an old address says."""

import json
import shutil
from datetime import date
from pathlib import Path

import html5lib
import pytest
import zxingcpp
from PIL import Image

from sitegen.cli import main
from sitegen.job import read_job
from sitegen.publish.theme import open_theme

pytestmark = pytest.mark.thorough

THEME = open_theme()
FIRST = date(2026, 5, 12)


def said(capsys):
    captured = capsys.readouterr()
    return captured.out + captured.err


def test_press_writes_the_sheets_and_remembers_every_label(job, tmp_path, capsys):
    assert main(["press", str(job), "--date", "2026-05-12", "--out", str(tmp_path / "out")]) == 0
    assert "printed_labels.yaml remembers 8 of them as printed on 2026-05-12." in said(capsys)
    printed = read_job(job).printed
    assert [(label.id, label.purpose, label.place, label.holds) for label in printed][:2] == [
        ("B5", "device", "Garage, by the side door, space 5", "https://small.example/B5/"),
        ("K1", "device", "Kitchen, left of the sink", "https://small.example/K1/")]
    made = {path.name for path in (tmp_path / "out").iterdir()}
    assert {"K1.png", "B5.png", "sheet.pdf", "where.txt", "calibration.pdf", "labels.json"} <= made


def test_the_same_day_remembers_a_label_once_and_a_day_before_is_refused(job, tmp_path, capsys):
    call = ["press", str(job), "--out", str(tmp_path / "out"), "--date"]
    assert main([*call, "2026-05-12"]) == 0
    before = (job / "printed_labels.yaml").read_bytes()
    assert main([*call, "2026-05-12"]) == 0 and (job / "printed_labels.yaml").read_bytes() == before
    assert main([*call, "2026-05-11"]) == 2
    assert "--date 2026-05-11 is before the last pressing in printed_labels.yaml, 2026-05-12" in said(capsys)
    assert main([*call, "2026-06-01", "--only", "k3", "DW"]) == 0
    after = (job / "printed_labels.yaml").read_bytes()
    assert after.startswith(before) and [label.id for label in read_job(job).printed[8:]] == ["K3", "DW"]
    assert not (tmp_path / "out" / "K1.png").exists() and (tmp_path / "out" / "K3.png").exists()


def test_one_label_alone_leaves_the_others_and_begins_where_it_is_told(job, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["press", str(job), "--date", "2026-05-12"]) == 0
    assert main(["press", str(job), "--date", "2026-05-12", "--only", "K3", "--start", "4"]) == 0
    assert "printed_labels.yaml had them all as printed on 2026-05-12." in said(capsys)
    assert (tmp_path / "output" / "small-labels" / "K1.png").is_file()
    assert "row 2, column 2" in (tmp_path / "output" / "small-labels-K3" / "where.txt").read_text()
    assert main(["press", str(job), "--date", "2026-05-12", "--start", "11"]) == 2
    assert "--start 11 is no place of a sheet with 10 labels" in said(capsys)


def test_bind_asks_for_press_until_every_code_is_in_the_ledger(job, tmp_path, capsys):
    assert main(["bind", str(job), "--out", str(tmp_path / "a")]) == 0
    assert f"4 labels with a code are not in printed_labels.yaml. Print with `sitegen press {job} --date" in said(capsys)
    bound_after_printing(job, tmp_path)
    assert "not in printed_labels.yaml" not in said(capsys)


@pytest.mark.thorough
def test_a_house_in_two_languages_stays_whole_after_printing(example, tmp_path):
    """The ledger speaks the first language; in the second one a place is not held against it."""
    job = shutil.copytree(example, tmp_path / "job")
    assert main(["press", str(job), "--date", "2027-06-01", "--out", str(tmp_path / "labels"), "--only", "K4"]) == 0
    assert main(["bind", str(job), "--out", str(tmp_path / "out")]) == 0
    draft = THEME.words("es").text("draft")
    assert not [path for path in (tmp_path / "out").rglob("*.html") if draft in path.read_text("utf-8")]


def test_trace_knows_an_old_id(job, capsys):
    for name in ("protection_map.yaml", "trip_tests.csv"):
        (job / name).write_text((job / name).read_text().replace("K3", "C3").replace("id: C3,", "id: C3, was: K3,"))
    assert main(["trace", str(job), "k3"]) == 0 and "Press RESET on C3" in said(capsys)
    (job / "protection_map.yaml").write_text((job / "protection_map.yaml").read_text() + "removed: [{id: K9}]\n")
    assert main(["trace", str(job), "K9"]) == 2 and "K9 was taken out of this house" in said(capsys)


def test_an_emptied_ledger_is_a_loss(job, capsys):
    (job / "printed_labels.yaml").write_text("")
    assert main(["check", str(job)]) == 2
    assert said(capsys).strip() == ("printed_labels.yaml:1: the ledger of printed labels is empty; expected every label that was ever "
                                    "printed. Put the file back from a copy; only `sitegen press` writes in it.")


@pytest.mark.parametrize("words, sentence", [
    (["--date", "12 May 2026"], "--date 12 May 2026 is not a date; write the day of printing as YYYY-MM-DD, such as 2026-05-12."),
    (["--date", "2026-05-12", "--only", "K33"], "K33 has no label in this job. Did you mean K3?")])
def test_a_wrong_call_writes_nothing(job, tmp_path, capsys, words, sentence):
    assert main(["press", str(job), "--out", str(tmp_path / "out"), *words]) == 2
    assert said(capsys).strip() == sentence
    assert not (job / "printed_labels.yaml").exists() and not (tmp_path / "out").exists()


def test_a_job_that_is_not_ready_is_not_printed(job, tmp_path, capsys):
    rows = (job / "trip_tests.csv").read_text().splitlines()
    (job / "trip_tests.csv").write_text("\n".join(row for row in rows if not row.startswith(",K3,device")) + "\n")
    assert main(["press", str(job), "--date", "2026-05-12", "--out", str(tmp_path / "out")]) == 1
    assert "Nothing was printed and nothing was written" in said(capsys)
    assert not (job / "printed_labels.yaml").exists() and not (tmp_path / "out").exists()


def test_a_folder_of_something_else_is_refused_before_the_ledger_is_touched(job, tmp_path, capsys):
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "photo.jpg").write_text("x")
    assert main(["press", str(job), "--date", "2026-05-12", "--out", str(tmp_path / "out")]) == 2
    assert "it was left alone" in said(capsys) and not (job / "printed_labels.yaml").exists()


def bound_after_printing(job, tmp_path) -> Path:
    assert main(["press", str(job), "--date", "2026-05-12", "--out", str(tmp_path / "labels")]) == 0
    out = tmp_path / "binder"
    assert main(["bind", str(job), "--out", str(out)]) == 0
    return out


def test_binder_json_lists_what_must_stay_reachable(job, tmp_path):
    out = bound_after_printing(job, tmp_path)
    kept = json.loads((out / "binder.json").read_text())["addresses"]
    assert {row["id"]: (row["url"], row["page"], row["printed"]) for row in kept}["K3"] == (
        "https://small.example/K3/", "site/K3/index.html", "2026-05-12")
    assert all((out / row["page"]).is_file() for row in kept) and {row["id"] for row in kept} == {"B5", "K1", "K3", "F1"}


def test_a_lost_ledger_does_not_replace_a_binder_that_keeps_addresses(job, tmp_path, capsys):
    out = bound_after_printing(job, tmp_path)
    (job / "printed_labels.yaml").unlink()
    assert main(["bind", str(job), "--out", str(out)]) == 2
    assert "keeps the printed address of B5 and others, and this job knows nothing of it. Put printed_labels.yaml back" in said(capsys)
    assert json.loads((out / "binder.json").read_text())["addresses"]


def test_an_old_address_says_what_became_of_it_and_leads_on(job, tmp_path):
    bound_after_printing(job, tmp_path)
    for name in ("protection_map.yaml", "trip_tests.csv"):
        (job / name).write_text((job / name).read_text().replace("K3", "C3").replace("id: C3,", "id: C3, was: K3,"))
    out = tmp_path / "binder"
    assert main(["bind", str(job), "--out", str(out)]) == 0
    old = html5lib.parse((out / "site" / "K3" / "index.html").read_bytes(), namespaceHTMLElements=False)
    text = " ".join("".join(old.itertext()).split())
    assert "The label says K3. It is called C3 now." in text and "Press RESET on C3" in text


def test_a_site_is_walked_for_every_printed_address(job, tmp_path, capsys):
    """Whole, without a page, with the page of another, of another job, and in small letters as some hosts store it."""
    out = bound_after_printing(job, tmp_path)
    said(capsys)

    def missing() -> list[str]:
        code = main(["check", str(job), "--site", str(out / "site"), "--json"])
        told = json.loads(capsys.readouterr().out)["findings"]
        found = [finding["says"] for finding in told if finding["kind"] == "not-served"]
        assert code == (1 if found else 0)
        return [says[says.index("/,") + 3:says.index(". Upload")] for says in found]

    site = out / "site"
    assert missing() == []
    assert main(["check", str(job), "--site", str(out)]) == 0
    assert "This copy of the site serves 4 of 4 printed addresses." in said(capsys)
    (site / "K1").rename(site / "k1")
    shutil.copy(site / "K3" / "index.html", site / "F1" / "index.html")
    (site / "B5" / "index.html").write_text("<title>Not found</title>")
    (site / "K3" / "index.html").write_text((site / "K3" / "index.html").read_text().replace('name="page" content="', 'name="page" content="0'))
    assert missing() == ["leads to a page that is not ours", "is not in this copy of the site", "leads to a page of another job",
                         "leads to the page of K3"]
    assert main(["check", str(job), "--site", str(tmp_path / "nowhere")]) == 2
    assert "has no index.html; --site wants the folder that the site stands in." in said(capsys)


def test_words_in_a_code_are_remembered_as_printed_and_told_when_they_are_out_of_date(job, tmp_path, capsys):
    (job / "job.yaml").write_text((job / "job.yaml").read_text() + "labels: {qr: text}\n")
    assert main(["press", str(job), "--date", "2026-05-12", "--out", str(tmp_path / "labels")]) == 0
    [holds] = [label.holds for label in read_job(job).printed if label.id == "K3" and label.purpose == "device"]
    [found] = zxingcpp.read_barcodes(Image.open(tmp_path / "labels" / "K3.png"), formats=zxingcpp.BarcodeFormat.QRCode)
    assert found.text == holds and "RESET" in holds
    said(capsys)
    (job / "job.yaml").write_text((job / "job.yaml").read_text().replace("203-555-0101", "203-555-0199"))
    assert main(["bind", str(job), "--out", str(tmp_path / "binder")]) == 0
    assert "labels on the walls say what is no longer so. B5 (label of 12 May 2026): it says" in said(capsys)
    assert json.loads((tmp_path / "binder" / "binder.json").read_text())["addresses"] == []
