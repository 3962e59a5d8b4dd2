"""Whatever ends a call, the old state or the new one is whole; many more kills by hand: `tests/kills.py`."""

from __future__ import annotations

import random
import resource
import signal
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from house import small_job
from kills import MAKERS, Case, _bind, _call, after_a_kill

from sitegen.job import read_job

pytestmark = pytest.mark.thorough


@pytest.mark.parametrize("maker", MAKERS)
@pytest.mark.parametrize("signalled", [signal.SIGKILL, signal.SIGINT])
def test_a_call_that_is_ended_loses_nothing(maker: Callable[[Path], Case], signalled: int) -> None:
    assert after_a_kill(maker, random.Random(), signalled) == ""


@pytest.mark.parametrize("maker", MAKERS)
def test_a_full_disk_leaves_the_old_state(maker: Callable[[Path], Case], tmp_path: Path) -> None:
    """No file may grow beyond 600 bytes, as on a disk that is full."""
    case = maker(tmp_path)
    old = case.state()
    ran = subprocess.run(_call(case.words), capture_output=True, text=True,
                         preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (600, 600)))
    assert ran.returncode == 2 and "Traceback" not in ran.stderr and "File too large" in ran.stderr
    assert case.state() == old
    assert [path.name for path in tmp_path.rglob(".*") if path.suffix in (".new", ".old", ".lock")] == []


def test_where_nothing_can_be_written_it_is_said(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job")
    for words in (["bind", str(job), "--out", "/proc/binder"], ["walk", str(job), "--out", "/proc/walk.html"],
                  ["begin", "/proc/new"], ["press", str(job), "--date", "2026-05-12", "--out", "/proc/labels"]):
        ran = subprocess.run(_call(words), capture_output=True, text=True)
        assert ran.returncode == 2 and "/proc/" in ran.stderr and "Traceback" not in ran.stderr, words


def test_two_pressings_at_once_lose_no_label(tmp_path: Path) -> None:
    """Each adds its labels or says that the other is at work."""
    job = small_job(tmp_path / "job")
    calls = [subprocess.Popen(_call(["press", str(job), "--date", "2026-05-12", "--only", id, "--out", str(tmp_path / id)]),
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) for id in ("K1", "K3", "B5")]
    ends = {id: (*call.communicate(), call.returncode) for id, call in zip(("K1", "K3", "B5"), calls)}
    done = {id for id, (*_, code) in ends.items() if code == 0}
    assert done and {label.id for label in read_job(job).printed} == done
    assert all("another call is writing to" in said for id, (_, said, code) in ends.items() if id not in done)


def test_an_interrupt_ends_without_a_traceback(tmp_path: Path) -> None:
    case = _bind(tmp_path)
    running = subprocess.Popen(_call(case.words), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    time.sleep(0.6)
    running.send_signal(signal.SIGINT)
    _, said = running.communicate()
    assert running.returncode in (0, 130, -signal.SIGINT) and (running.returncode != 130 or "Stopped." in said)
