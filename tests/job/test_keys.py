"""The tables of keys against what people read of them: the README's list of keys and the starter that teaches the format."""

from __future__ import annotations

import importlib
import pkgutil
import re

import pytest
from house import ROOT

import sitegen.job
from sitegen.job.read.keys import Keys

STARTER = ROOT / "sitegen" / "commands" / "begin" / "starter"
README = (ROOT / "README.md").read_text("utf-8")


def tables() -> dict[str, Keys]:
    """Every table of the job room, found in its modules; the ledger's are left out, since nobody writes in it by hand."""
    found = {}
    for module in pkgutil.walk_packages(sitegen.job.__path__, "sitegen.job."):
        values = vars(importlib.import_module(module.name)).values()
        if module.name != "sitegen.job.labels.ledger":
            found |= {keys.of: keys for keys in values if isinstance(keys, Keys)}
    return found


TABLES = tables()


def row(keys: Keys) -> str:
    """A row of the README: what must stand in bold, a text that people read with a star."""
    cells = [f"**{key.name}**" if key.must else key.name for key in keys.rows]
    cells = [f"{cell}\\*" if key.name in keys.texts else cell for cell, key in zip(cells, keys.rows)]
    any_other = [r"any other\*"] if keys.free else []
    return f"| {keys.of.removeprefix('this ').replace('`', '')} | {', '.join([*cells, *any_other])} |"


def test_the_tables_are_found() -> None:
    assert len(TABLES) > 20 and {"this point", "the job file", "`labels`", "this visit", "a row of trip tests"} <= set(TABLES)


@pytest.mark.parametrize("of", TABLES)
def test_the_readme_has_every_key_of_every_table(of: str) -> None:
    assert row(TABLES[of]) in README.splitlines()


def test_the_readme_has_no_row_of_a_table_that_is_gone() -> None:
    listed = README.partition("| in | keys |\n|---|---|\n")[2].partition("\n\n")[0].splitlines()
    assert sorted(listed) == sorted(map(row, TABLES.values()))


@pytest.mark.parametrize("of", TABLES)
def test_the_starter_names_every_key_of_every_table(of: str) -> None:
    """As `key:`, or among the columns of the trip tests."""
    text = "\n".join(path.read_text("utf-8") for path in sorted(STARTER.iterdir()) if path.is_file())
    missing = [key.name for key in TABLES[of].rows if not re.search(rf"(?<![\w-]){key.name}(:|,|\n)", text)]
    assert missing == []
