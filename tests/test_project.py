"""Facts about the repository itself."""

import ast
import re
import subprocess
from pathlib import Path

from house import ROOT

STAGES = ("errors", "job", "protection", "binder", "publish", "commands", "cli")


def modules():
    return sorted((ROOT / "sitegen").rglob("*.py"))


def imported(path: Path) -> set[str]:
    """The stages of sitegen that a module imports."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom):
            base = path.parent.relative_to(ROOT).parts
            parts = base[:len(base) - node.level + 1] if node.level else ()
            full = (*parts, *(node.module.split(".") if node.module else ()))
            names = [full] if node.module else [(*full, alias.name) for alias in node.names]
            found |= {name[1] for name in names if len(name) > 1 and name[0] == "sitegen"}
        elif isinstance(node, ast.Import):
            found |= {alias.name.split(".")[1] for alias in node.names if alias.name.startswith("sitegen.")}
    return found


def test_imports_run_one_way():
    """errors -> job -> protection -> binder -> publish -> commands -> cli."""
    checked = 0
    for path in modules():
        stage = path.relative_to(ROOT / "sitegen").parts[0].removesuffix(".py")
        if stage in STAGES:
            later = set(STAGES[STAGES.index(stage) + 1:])
            assert not imported(path) & later, path.name
            checked += bool(imported(path))
    assert checked > 10


def test_reasoning_and_composing_touch_no_file_and_no_clock():
    for stage in ("protection", "binder"):
        for path in (ROOT / "sitegen" / stage).rglob("*.py"):
            text = path.read_text("utf-8")
            assert not re.search(r"\b(open\(|pathlib|import os|today\(\)|now\(\)|import random)", text), path.name


def test_modules_are_small_and_say_what_they_do():
    for path in modules():
        text = path.read_text("utf-8")
        assert len(text.splitlines()) <= 400, path.name
        assert not text.strip() or ast.get_docstring(ast.parse(text)), path.name


def test_no_kind_is_asked_for_by_name_outside_the_table():
    """Reasoning and pages ask what a kind has, never what it is called."""
    for path in modules():
        if path.name != "kinds.py":
            assert not re.search(r"""kind(\.name)?\s*(==|in)\s*[("']""", path.read_text("utf-8")), path.name


def test_the_top_level_holds_what_it_should():
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\n")
    top = {name.split("/")[0] for name in listed if name}
    assert top <= {"README.md", "DEVELOPERS.md", "pyproject.toml", "sitegen", "themes", "tests", "example_job", "output",
                   ".ci", ".gitignore"}


def test_no_machine_path_and_no_real_address_is_kept():
    """Nothing written names a folder of a machine; hosts are .example, telephone numbers 555-01xx."""
    places = [ROOT / name for name in ("README.md", "DEVELOPERS.md", "pyproject.toml", "themes", "example_job", "output", "sitegen")]
    for place in places:
        for path in [place] if place.is_file() else place.rglob("*"):
            if not path.is_file() or path.suffix not in {".md", ".toml", ".py", ".yaml", ".csv", ".html", ".ics", ".json", ".j2", ".css"}:
                continue
            text = path.read_text("utf-8").replace("\n ", "")  # calendar lines are folded
            assert not re.search(r"/(home|root|work|Users)/", text), path
            for host in re.findall(r"https?://([\w.-]+)", text):
                assert host.endswith(".example") or host in {"www.w3.org"}, (path, host)
            for number in re.findall(r"\b\d{3}-\d{4}\b", text):
                assert re.fullmatch(r"555-01\d\d", number), (path, number)
