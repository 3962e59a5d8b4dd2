"""The folder as a whole: what is missing, what is left alone, and that nothing but a Job or its faults comes out."""

from __future__ import annotations

import random
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from house import READING
from hypothesis import given, settings, strategies as st

from sitegen.errors import JobUnreadable
from sitegen.job import read_job
from sitegen.job.records import Job

SOUND = READING / "sound"
FILES = {path.name: path.read_bytes() for path in SOUND.iterdir() if path.is_file()}


def sentences(folder: Path) -> list[str]:
    with pytest.raises(JobUnreadable) as caught:
        read_job(folder)
    return [str(fault) for fault in caught.value.faults]


def test_a_folder_that_is_not_there_is_one_fault(tmp_path: Path) -> None:
    assert sentences(tmp_path / "elm") == [
        "job.yaml:1: there is no job folder `elm`; expected a folder with job.yaml, protection_map.yaml and "
        "trip_tests.csv. Check the name, or make one with `sitegen begin`."]


def test_a_file_that_is_not_there_is_one_fault_each(folder: Path) -> None:
    for name in FILES:
        (folder / name).unlink()
    (folder / "trip_tests.csv").mkdir()
    do = "expected this file in every job folder. Write it; `sitegen begin` makes one to start from."
    assert sentences(folder) == [
        f"job.yaml:1: the job folder has no job.yaml; {do}",
        f"protection_map.yaml:1: the job folder has no protection_map.yaml; {do}",
        "trip_tests.csv:1: trip_tests.csv cannot be opened (Is a directory); expected a file that can be read. Check "
        "what it is and who may read it."]


def test_the_rest_of_the_folder_is_left_alone(folder: Path) -> None:
    before = read_job(folder)
    (folder / "sketch").mkdir()
    (folder / "sketch" / "care.md").write_bytes(b"\xff\0")
    (folder / "photos" / "of the old panel.heic").write_bytes(b"\xff\0")
    (folder / "map.yaml").write_text("{")
    assert read_job(folder) == before


@pytest.mark.parametrize("name", ["job.yaml", "protection_map.yaml"])
@pytest.mark.parametrize("text", ["- a\n", "just words\n", "[]\n"])
def test_a_file_that_is_no_map_is_one_fault(folder: Path, name: str, text: str) -> None:
    (folder / name).write_text(text)
    [sentence] = sentences(folder)
    assert sentence.startswith(f"{name}:1: the ") and "; expected a map." in sentence


def check_outcome(files: dict[str, bytes]) -> None:
    """A Job whose every id exists, or faults that each stand on a line of a file and name no path."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        shutil.copytree(SOUND / "photos", folder / "photos")
        for name, data in files.items():
            (folder / name).write_bytes(data)
        try:
            job = read_job(folder)
        except JobUnreadable as unreadable:
            assert unreadable.faults
            for fault in unreadable.faults:
                lines = files[fault.where.file].replace(b"\r\n", b"\n").replace(b"\r", b"\n").count(b"\n") + 1
                assert 1 <= fault.where.line <= lines and made not in str(fault)
            return
    assert all(circuit.panel in job.panel and circuit.breaker in job.breaker for circuit in job.circuits)
    assert all(set(circuit.shares_neutral_with) < set(job.circuit) for circuit in job.circuits)
    assert all(panel.fed_from in {None, *job.breaker} for panel in job.panels)
    for point in job.points:
        assert point.circuit in job.circuit
        assert (point.feed.unknown or point.feed.source in job.point
                or point.feed.source == job.circuit[point.circuit].breaker)
        assert set(point.switched_by) <= set(job.point)
    for test in job.tests:
        assert {test.outlet, *test.tripped} <= {*job.point, *job.breaker}
        assert {*test.went_dead, *test.stayed_live} <= set(job.point)


@pytest.mark.thorough
@given(st.sampled_from(sorted(FILES)), st.binary(max_size=60))
@settings(max_examples=150, deadline=None)
def test_random_bytes_give_a_job_or_its_faults(name: str, data: bytes) -> None:
    check_outcome(FILES | {name: data})


PIECES = [b"{", b"}", b"[", b"]", b":", b": ", b",", b"- ", b"\n", b"\n  ", b"\t", b"'", b'"', b"&a ", b"*a", b"!b ",
          b"#2", b"---\n", b"|\n", b"? ", b"<<: ", b"\xff", b"\0", b"\r", b";", b"K1", b"B5", b" load", b"unknown",
          b"none", b"id", b"fed_from", b"points", b"rest of ", b"\xe2\x80\xa8", b"[]",
          b"fed_from: unknown", b"yoke: K1", b"half: upper", b"shares_neutral_with: 7", b"breaker: B7", b"points: []",
          b"{en: a, es: b}", b"voltage: 240", b"ditto", b'\n",', b"and", b"-"]


@pytest.mark.thorough
@given(st.sampled_from(sorted(FILES)), st.integers(0, 2**32))
@settings(max_examples=400, deadline=None)
def test_a_damaged_file_gives_a_job_or_its_faults(name: str, seed: int) -> None:
    """Pieces put in, cut out, doubled and moved; the seed makes each damage repeatable."""
    chance = random.Random(seed)
    data = FILES[name]
    for _ in range(chance.randint(1, 4)):
        at, to = sorted(chance.randrange(len(data) + 1) for _ in range(2))
        to = min(to, at + chance.choice([0, 1, 8, 80]))
        data = data[:at] + chance.choice([b"", data[at:to] * 2, chance.choice(PIECES)]) + data[to:]
    check_outcome(FILES | {name: data})


def test_reading_twice_gives_the_same(folder: Path, read: Callable[..., Job]) -> None:
    assert read_job(folder) == read()
