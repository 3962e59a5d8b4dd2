"""Job folders that a tradesperson could write, each with the whole sentences that reading it gives.

A case holds only the files it is about; the others come from the sound case.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from house import READING as CASES

from sitegen.errors import JobUnreadable
from sitegen.job import read_job

FAULTY = sorted(case.parent.name for case in CASES.glob("*/expected.txt"))


@pytest.mark.parametrize("case", FAULTY)
def test_a_faulty_folder_gives_every_fault_once_in_whole_sentences(case: str, tmp_path: Path) -> None:
    job = shutil.copytree(CASES / "sound", tmp_path / "job")
    shutil.copytree(CASES / case, job, dirs_exist_ok=True)
    with pytest.raises(JobUnreadable) as caught:
        read_job(Path(job))
    assert str(caught.value).splitlines() == (CASES / case / "expected.txt").read_text().splitlines()
    assert caught.value.exit_code == 2


def test_the_faults_of_three_files_come_at_once() -> None:
    """What the case states by its sentences, said here by their files."""
    sentences = (CASES / "three_files" / "expected.txt").read_text().splitlines()
    files = [sentence.split(":")[0] for sentence in sentences]
    assert [files.count(name) for name in ("job.yaml", "protection_map.yaml", "trip_tests.csv")] == [2, 3, 2]


def test_every_case_is_read_by_a_test() -> None:
    assert {case.name for case in CASES.iterdir()} - set(FAULTY) == {"sound", "design_sample", "old_house"}
