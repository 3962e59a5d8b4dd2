"""Hostile job folders through the commands; many more, and all commands, by hand: `tests/mutants.py`."""

from __future__ import annotations

import pytest
from mutants import attack, known_keys

pytestmark = pytest.mark.thorough


@pytest.mark.parametrize("first", range(0, 300, 50))
def test_no_mutant_breaks_a_command(first: int) -> None:
    assert [said for seed in range(first, first + 50) for said in attack(seed, few=1)] == []


def test_every_key_is_tried() -> None:
    assert {"fed_from", "amps", "went_dead", "readings"} <= set(known_keys())
