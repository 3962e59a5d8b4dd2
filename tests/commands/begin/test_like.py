"""A job begun like another has its map and nothing that was shown there."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from house import READING, edit

from sitegen.cli import main
from sitegen.errors import Where
from sitegen.job import read_job

NOWHERE = Where("", 1)


def plain(job):
    """The points without their lines and without what is true of that house alone."""
    def device(point):
        return {key: text for key, text in point.device.items() if key not in ("installed", "date code")}
    return [replace(point, where=NOWHERE, device=device(point), was=(), photo=None, not_proved=None) for point in job.points]


@pytest.fixture
def old(job: Path) -> Path:
    """A small job with everything that another house must not have."""
    edit(job, "protection_map.yaml", "id: K1,", "id: K1, was: K7, device: {make: Tarnwick, installed: 2026-04-28, date code: 26W07},")
    edit(job, "protection_map.yaml", "fed_from: K1 line}", "fed_from: K1 line, not_proved: behind the hutch, nailed shut}")
    edit(job, "protection_map.yaml", "circuits:\n", "removed:\n  - {id: K9, note: Taken out.}\ncircuits:\n")
    edit(job, "job.yaml", "phone: 203-555-0101}", "phone: 203-555-0101, permit: 26-1}\nhome: {name: R. Alder}\nprivate: {gate: 4711}\n"
                          "languages: [en, es]   # both\nlabels: {stock: a4 63.5 x 38.1 mm}\n")
    return job


def test_map_firm_languages_and_stock_come_along_and_nothing_else(old, tmp_path, capsys):
    assert main(["begin", str(tmp_path / "new"), "--like", str(old)]) == 0
    assert "Taken from " in capsys.readouterr().out
    before, after = read_job(old), read_job(tmp_path / "new")
    assert plain(after) == plain(before) and after.circuits and not after.removed and not after.tests and not after.printed
    assert all(not point.was and not point.not_proved and "installed" not in point.device for point in after.points)
    assert after.point["K1"].device == {"make": "Tarnwick"}
    assert after.file.languages == ("en", "es") and after.file.labels == before.file.labels
    assert dict(after.file.contractor) == {"firm": "Fern Electric", "phone": "203-555-0101"}
    assert not after.file.home and not after.file.private and not after.file.base_url and after.file.id == "new"
    text = "".join(path.read_text() for path in (tmp_path / "new").iterdir())
    assert not [word for word in ("Alder", "4711", "26-1", "hutch", "nailed", "2026-04", "K9") if word in text]


def test_the_map_in_block_style_comes_along_too(tmp_path):
    """One key a line, the keys to leave out first, last and alone."""
    old = Path(shutil.copytree(READING / "old_house", tmp_path / "old"))
    text = (old / "protection_map.yaml").read_text()
    assert "- id:" in text or "- {id:" in text
    edit_first = text.replace("\ncircuits:", "\nremoved:\n  - id: K99\n    note: Gone.\n\ncircuits:", 1)
    (old / "protection_map.yaml").write_text(edit_first)
    assert main(["begin", str(tmp_path / "new"), "--like", str(old)]) == 0
    assert plain(read_job(tmp_path / "new")) == plain(read_job(old))


def test_every_place_of_a_key_in_block_style(tmp_path, job):
    edit(job, "protection_map.yaml", "      - {id: K2, is: receptacle, room: Kitchen, at: right of the window, fed_from: K1 load}\n",
         "      - was: K8\n        id: K2\n        is: receptacle\n        not_proved: >\n          a long\n          reason\n        room: Kitchen\n"
         "        at: right of the window\n        device:\n          installed: 2026-04-28   # spring\n        fed_from: K1 load\n"
         "        photo: k1.jpg\n\n      # the next one\n")
    (job / "photos").mkdir()
    (job / "photos" / "k1.jpg").write_bytes(b"x")
    assert main(["begin", str(tmp_path / "new"), "--like", str(job)]) == 0
    assert plain(read_job(tmp_path / "new")) == plain(read_job(job))
    assert "# the next one" in (tmp_path / "new" / "protection_map.yaml").read_text()


def test_it_is_ready_after_its_own_tests_and_a_copied_folder_is_not(job, tmp_path, capsys):
    assert main(["press", str(job), "--date", "2026-05-20", "--out", str(tmp_path / "labels")]) == 0
    rows = (job / "trip_tests.csv").read_text()
    (job / "trip_tests.csv").write_text(f"# small\n{rows}")
    assert main(["check", str(job)]) == 0
    copied = Path(shutil.copytree(job, tmp_path / "copied"))
    edit(copied, "job.yaml", "id: small", "id: other")
    edit(copied, "job.yaml", "https://small.example", "https://other.example")
    capsys.readouterr()
    assert main(["check", str(copied)]) == 1
    said = capsys.readouterr().out
    assert "trip_tests.csv says that it belongs to the job small, and this is other." in said
    assert "printed_labels.yaml says that it belongs to the job small, and this is other." in said
    assert "`sitegen begin DIR --like JOB`" in said and "forwarded" not in said
    assert main(["begin", str(tmp_path / "new"), "--like", str(job)]) == 0
    assert main(["check", str(tmp_path / "new")]) == 1
    header = (tmp_path / "new" / "trip_tests.csv").read_text()
    (tmp_path / "new" / "trip_tests.csv").write_text(header + rows.split("\n", 1)[1])
    assert main(["check", str(tmp_path / "new")]) == 0


def test_a_wrong_call_writes_nothing(job, tmp_path, capsys):
    assert main(["begin", str(tmp_path / "new"), "--like", str(job), "--from", "points.csv"]) == 2
    assert main(["begin", str(tmp_path / "new"), "--like", str(tmp_path / "nowhere")]) == 2
    assert "there is no job folder `nowhere`" in capsys.readouterr().err and not (tmp_path / "new").exists()
