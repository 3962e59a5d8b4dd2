"""Facts about the repository itself."""

import ast
import re
import subprocess
from pathlib import Path

import networkx
from house import ROOT

STAGES = ("errors", "job", "protection", "binder", "publish", "commands", "cli")


def modules():
    return sorted((ROOT / "sitegen").rglob("*.py"))


def imported(path: Path) -> set[tuple[str, ...]]:
    """The modules of sitegen that a module imports, as paths below sitegen: ("job", "records")."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.level:
            base = path.relative_to(ROOT / "sitegen").parts[:-1]
            full = (*base[:len(base) - node.level + 1], *(node.module.split(".") if node.module else ()))
            for alias in node.names:
                inner = (*full, alias.name)
                found.add(inner if (ROOT / "sitegen" / Path(*inner)).with_suffix(".py").exists() else full)
        elif isinstance(node, ast.ImportFrom | ast.Import):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else [alias.name for alias in node.names]
            assert not any(name.split(".")[0] == "sitegen" for name in names), f"{path} imports sitegen by its whole name"
    return found - {()}


def folders(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Where two modules part: the folder or module of each that stand side by side."""
    at = next((at for at, (a, b) in enumerate(zip(one, other)) if a != b), min(len(one), len(other)) - 1)
    return one[:at + 1], other[:at + 1]


def test_imports_run_one_way():
    """errors -> job -> protection -> binder -> publish -> commands -> cli; within each, neither modules nor folders in circles."""
    graph = networkx.DiGraph()
    for path in modules():
        own = path.relative_to(ROOT / "sitegen").with_suffix("").parts
        own = own[:-1] if own[-1] == "__init__" else own
        for other in imported(path):
            if own[:1] != other[:1] and own and own[0] in STAGES:
                assert STAGES.index(other[0]) < STAGES.index(own[0]), (path, other)
            if own[:len(other)] != other and other[:len(own)] != own:
                graph.add_edge(*folders(own, other))
    assert graph.number_of_edges() > 100
    circles = [sorted(part) for part in networkx.strongly_connected_components(graph) if len(part) > 1]
    assert circles == []


def test_reasoning_and_composing_touch_no_file_and_no_clock():
    for stage in ("protection", "binder"):
        for path in (ROOT / "sitegen" / stage).rglob("*.py"):
            text = path.read_text("utf-8")
            assert not re.search(r"\b(open\(|pathlib|import os|today\(\)|now\(\)|import random)", text), path.name


def test_modules_are_small_and_say_what_they_do():
    for path in modules():
        text = path.read_text("utf-8")
        tree = ast.parse(text)
        assert len(text.splitlines()) <= 300, path.name
        assert not text.strip() or ast.get_docstring(tree), path.name
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                assert node.end_lineno - node.lineno < 40, (path.name, node.name)


def test_modules_of_tests_are_small_too():
    for path in (ROOT / "tests").rglob("*.py"):
        assert len(path.read_text("utf-8").splitlines()) <= 300, path.name


def test_no_folder_is_a_heap():
    for folder in {path.parent for path in modules()}:
        assert len([path for path in folder.iterdir() if path.name not in ("__init__.py", "__pycache__")]) <= 16, folder.name


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


def test_every_place_that_the_developers_page_names_is_there():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    named = {name for name in re.findall(r"`((?:[\w.-]+/)+(?:[\w.-]+)?)`", text) if "<" not in name}
    assert len(named) > 60
    lost = [name for name in named if not any((place / name).exists() for place in (ROOT, ROOT / "sitegen"))]
    assert lost == []
