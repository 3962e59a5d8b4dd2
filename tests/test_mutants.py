"""Hostile job folders through the commands; many more by hand: `tests/mutants.py`."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from mutants import attack, calls, known_keys

from sitegen.cli import COMMANDS

pytestmark = pytest.mark.thorough


@pytest.mark.parametrize("first", range(0, 300, 50))
def test_no_mutant_breaks_a_command(first: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Binders of many jobs in this process: that workers bind them is tested beside `bind`."""
    monkeypatch.setattr("sitegen.commands.bind.many.ProcessPoolExecutor", lambda workers, context: ThreadPoolExecutor(1))
    assert [said for seed in range(first, first + 50) for said in attack(seed, others=1)] == []


def test_every_command_is_called() -> None:
    assert {words[0] for words in calls(Path("place"), "text")} == set(COMMANDS)


def test_every_key_is_tried() -> None:
    assert {"fed_from", "amps", "went_dead", "readings"} <= set(known_keys())
