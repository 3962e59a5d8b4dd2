"""Many jobs in one call: each by itself, none stopped by another, a list beside them, the exit code of the worst."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import html5lib
import pytest
from house import edit, small_job

from sitegen.cli import main

pytestmark = pytest.mark.thorough


@pytest.fixture
def jobs(tmp_path: Path) -> list[str]:
    folders = [small_job(tmp_path / name, ("job.yaml", "id: small", f"id: {id}"))
               for name, id in (("a", "elm-1"), ("b", "elm-2"), ("c", "elm-3"), ("d", "ELM-1"))]
    edit(folders[0], "job.yaml", "title: A small kitchen", "title: {en: A small kitchen, es: Una cocina}")
    edit(folders[0], "job.yaml", "id: elm-1", "id: elm-1\nlanguages: [en, es]")
    edit(folders[1], "trip_tests.csv", ",K3,device,,,K3,K3 K4,rest of house L1,,yes,,\n", "")
    (folders[2] / "job.yaml").write_text("id: [\n")
    return [str(folder) for folder in folders]


def test_each_job_ends_by_itself(jobs: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    assert main(["bind", *jobs, "--out", str(out)]) == 2
    said = capsys.readouterr().out.splitlines()
    assert said[0] == f"READY {jobs[0]}: {out / 'elm-1'}"
    assert said[1] == f"NOT READY {jobs[1]}: 1 thing to put right; `sitegen check {jobs[1]}`"
    assert said[2] == f"CANNOT BE BOUND {jobs[2]}:" and said[3].startswith("  job.yaml:1: ")
    assert said[4] == f"CANNOT BE BOUND {jobs[3]}:" and "the id `ELM-1` is that of" in said[5]
    assert said[6] == f"4 jobs: 1 ready, 1 not ready, 2 cannot be bound. The list is {out / 'jobs.html'}."
    assert sorted(path.name for path in out.iterdir() if not path.name.startswith(".")) == ["elm-1", "jobs.html"]
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse((out / "jobs.html").read_text("utf-8"))
    links = {link.get("href") for link in page.iter("a")}
    assert links == {"elm-1/site/index.html"} and (out / links.pop()).is_file()
    assert "K3" in "".join(page.itertext())


def test_the_binders_are_those_of_one_job_alone(jobs: list[str], tmp_path: Path) -> None:
    main(["bind", *jobs[:2], "--out", str(tmp_path / "many"), "--draft"])
    main(["bind", jobs[0], "--out", str(tmp_path / "one"), "--draft"])
    alone = {path.relative_to(tmp_path / "one"): path.read_bytes() for path in (tmp_path / "one").rglob("*") if path.is_file()}
    assert {path: (tmp_path / "many" / "elm-1" / path).read_bytes() for path in alone} == alone and len(alone) > 20


def test_more_jobs_than_one_share_of_the_workers_come_to_an_end(tmp_path: Path) -> None:
    """Seen with 500 houses: workers that renewed themselves were never replaced, and the call stood still."""
    folders = [tmp_path / f"job{number}" for number in range(9)]
    for folder in folders:
        folder.mkdir()
        (folder / "job.yaml").write_text("id: [\n")
    call = "import sys; from sitegen.cli import main; from sitegen.commands.bind import many; many._TASKS = 2; many._cores = lambda: 2; sys.exit(main(sys.argv[1:]))"
    ran = subprocess.run([sys.executable, "-c", call, "bind", *map(str, folders), "--out", str(tmp_path / "out")],
                         capture_output=True, text=True, timeout=120)
    assert ran.returncode == 2 and "9 jobs: 0 ready, 0 not ready, 9 cannot be bound." in ran.stdout, ran.stderr
