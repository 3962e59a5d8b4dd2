"""What the commands cost, as ratios of processor time: each against a floor of the same libraries doing only what cannot
be avoided. By hand: `.venv/bin/python tests/bench_bind.py [--runs 3] [--tree FOLDER] [--no-table]`.

The floor of a command is an interpreter that imports the modules which the command had imported when it ended, and
parses the same YAML once in C. That of `bind` also renders each page once from one compiled template, makes one QR and
one picture a label, and writes the same bytes. Only the best of the runs counts; the machine should be idle.
"""

from __future__ import annotations

import argparse
import compileall
import html
import json
import os
import pickle
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LANGUAGES = ("en", "es", "fr")      # the words of the third are a copy of the first
HEAVY = ("PIL", "qrcode", "jinja2", "markdown_it")
BOXES = 19 / 6                      # plain receptacles a device: 60 devices have 250 outlets
TABLE = (1, 10, 60, 150, 300)       # devices

JOB = """id: large
title: A large house
handover: 2026-05-13
base_url: HTTPS://HOUSE.EXAMPLE/7
labels: {{wanted: [device, outlet]}}
languages: [{languages}]
contractor: {{firm: Fern Electric, phone: 207-555-0101}}
"""

# Runs a command and writes down what it had imported when it ended.
SPY = """import json, sys
from sitegen.cli import main
try: main(sys.argv[2:])
except SystemExit: pass
open(sys.argv[1], "w").write(json.dumps([name for name in sys.modules if not name.startswith("__")]))"""

FLOOR = """import importlib, json, pickle, sys
with open(sys.argv[1], "rb") as file: work = pickle.load(file)
for name in work["modules"]:
    try: importlib.import_module(name)
    except ImportError: pass
if work["yaml"]:
    import yaml
    for path in work["yaml"]: yaml.load(open(path, "rb"), Loader=yaml.CSafeLoader)
if work["pages"]: bench_bind.everything(work)"""


@dataclass(frozen=True)
class Cost:
    """The best of some runs."""

    seconds: float      # of processor time
    wall: float         # of the clock on the wall, as a check that nothing else ran
    megabytes: float    # at its highest


def run(words: list[str], tree: Path, runs: int = 1) -> Cost:
    """A command of Python with the tree's code. Raises where it fails."""
    found = []
    environment = {**os.environ, "PYTHONPATH": f"{tree}{os.pathsep}{ROOT / 'tests'}", "PYTHONHASHSEED": "0"}
    for _ in range(runs):
        start = time.perf_counter()
        child = subprocess.Popen([sys.executable, *words], cwd=tree, env=environment, stdout=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        if status:
            raise SystemExit(f"`{' '.join(words)[:200]}` ended with {os.waitstatus_to_exitcode(status)}")
        found.append(Cost(used.ru_utime + used.ru_stime, time.perf_counter() - start, used.ru_maxrss / 1024))
    return min(found, key=lambda cost: cost.seconds)


def make_job(folder: Path, devices: int, languages: tuple[str, ...]) -> Path:
    """A house of so many GFCI receptacles, three a circuit, each with a room, a counter and what it protects; all tested."""
    def text(said: str) -> str:
        return "{" + ", ".join(f'{code}: "{said}"' for code in languages) + "}"

    rooms, circuits = ["rooms:"], ["circuits:"]
    tests = ["date,outlet,pressed,volts,wiring,tripped,went_dead,stayed_live,volts_after,reset,by,note"]
    for device in range(1, devices + 1):
        rooms.append(_room(text, device))
        number = (device - 1) // 3 + 1
        if device % 3 == 1:
            circuits.append(f"  - {{number: {number}, panel: P1, serves: {text(f'Counters {number}')},\n"
                            f"     breaker: {{id: B{number}, space: {number}, amps: 20, type: standard}}, points: [")
        before = f"B{number}" if device % 3 == 1 else f"K{device - 1} line"
        behind = [f"R{device}X{n}" for n in range(1, round(device * BOXES) - round((device - 1) * BOXES) + 1)]
        points = [(f"K{device}", "gfci receptacle", before), *((id, "receptacle", f"K{device} load") for id in behind)]
        circuits += [f"       {{id: {id}, is: {kind}, room: {text(f'Room {device}')}, at: {text(f'place {n} of the counter')}, "
                     f"use: {text(f'lamp {n}')}, fed_from: {feed}, position: {{wall: north, at: {1 + 3 * n}, height: 3.5}}}},"
                     for n, (id, kind, feed) in enumerate(points)]
        circuits += ["     ]}"] if device % 3 == 0 or device == devices else []
        tests.append(f"2026-05-12,K{device},device,,,K{device},{' '.join(id for id, *_ in points)},rest of house,,yes,A. Walker,")
        tests += [f"2026-05-12,{id},tester,120,correct,K{device},{id},,0,yes,A. Walker," for id, *_ in points]
    folder.mkdir()
    (folder / "job.yaml").write_text(JOB.format(languages=", ".join(languages)))
    panel = f"panels:\n  - {{id: P1, at: {text('Cellar, by the stairs')}}}"
    (folder / "protection_map.yaml").write_text("\n".join([panel, *rooms, *circuits]) + "\n")
    (folder / "trip_tests.csv").write_text("\n".join(tests) + "\n")
    return folder


def _room(text: Callable[[str], str], number: int) -> str:
    return f"""  - room: {text(f'Room {number}')}
    outline: 14 x 12
    doors: [{{wall: south, from: 10, to: 13, leads_to: {text('Hall')}, way_in: yes}}]
    things:
      - {{name: {text('cupboard')}, wall: east, from: 4, to: 8}}
      - {{name: {text('bench')}, x: 4, y: 5, wide: 3, deep: 2}}
    runs: [{{name: {text('long counter')}, wall: north, from: 0, to: 14}}]"""


def everything(work: dict) -> None:
    """The floor of `bind`: each page rendered once, one QR and one picture a label, the same bytes written."""
    import jinja2
    import qrcode
    from PIL import Image, ImageDraw

    environment = jinja2.Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True)
    environment.filters["rich"] = str
    for text in work["templates"]:
        environment.compile(text)
    page = environment.from_string("{% for part, text in parts %}{{ part }}{{ text }}\n{% endfor %}")
    for parts in work["pages"]:
        page.render(parts=[(jinja2.utils.markupsafe.Markup(part), text) for part, text in parts]).encode()
    for text in work["labels"]:
        code = qrcode.QRCode(border=0)
        code.add_data(text)
        rows = code.get_matrix()
        label = Image.new("L", work["size"], 255)
        dots = Image.new("L", (len(rows), len(rows)), 255)
        dots.putdata([0 if dark else 255 for row in rows for dark in row])
        label.paste(dots.resize((8 * len(rows), 8 * len(rows)), Image.Resampling.NEAREST))
        draw = ImageDraw.Draw(label)
        for line in range(6):
            draw.text((300, 20 + 40 * line), f"{text} line {line}", fill=0)
        label.save(os.devnull, "PNG")
    for source in work["files"]:
        target = Path(work["out"]) / os.path.relpath(source, work["from"])
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(Path(source).read_bytes())


def floor(folder: Path, tree: Path, command: list[str], job: Path | None, bound: Path | None,
          runs: int) -> tuple[Cost, list[str]]:
    """The floor of a command, and which of the heavy libraries it imports."""
    spied, work = folder / "modules.json", folder / "work.pickle"
    run(["-c", SPY, str(spied), *command], tree)
    # In a process of its own: the memory of a child counts from that of its parent on.
    run(["-c", "import bench_bind, sys; bench_bind.write_work(*sys.argv[1:])", str(spied), str(work), str(job or ""), str(bound or ""),
         str(tree)], tree)
    return (run(["-c", FLOOR if bound is None else f"import bench_bind\n{FLOOR}", str(work)], tree, runs),
            [name for name in HEAVY if name in json.loads(spied.read_text())])


def write_work(spied: str, work: str, job: str, bound: str, tree: str) -> None:
    """What cannot be avoided: imports, YAML, and of a binder that was written the parts of its pages and its codes."""
    found: dict = {"modules": [*json.loads(Path(spied).read_text()), "bench_bind"], "pages": (),
                   "yaml": [str(path) for path in Path(job).glob("*.yaml")] if job else []}
    if bound:
        files = [path for path in sorted(Path(bound).rglob("*")) if path.is_file()]
        made = json.loads((Path(bound) / "binder.json").read_text("utf-8"))
        pages = []
        for path in files:
            if path.suffix == ".html":
                parts = re.findall(r"((?:<style.*?</style>|<svg.*?</svg>|<[^>]*>)+)([^<]*)", path.read_text("utf-8"), re.S)
                pages.append([(part, html.unescape(text).strip()) for part, text in parts])
        found |= {"pages": pages, "labels": [row["url"] or row["id"] for row in (*made["devices"], *made["outlets"])],
                  "templates": [path.read_text("utf-8") for path in (Path(tree) / "themes" / "lamplight").rglob("*.j2")],
                  "size": (750, 450), "files": [str(path) for path in files], "from": bound,
                  "out": str(Path(work).with_name("copied"))}
    Path(work).write_bytes(pickle.dumps(found))


def make_tree(source: Path, folder: Path) -> Path:
    """The code and its themes with words for a third language, compiled."""
    for name in ("sitegen", "themes"):
        shutil.copytree(source / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    words = folder / "themes" / "lamplight" / "words"
    shutil.copytree(words / "en", words / LANGUAGES[2])
    compileall.compile_dir(folder, quiet=1)
    return folder


def row(name: str, cost: Cost, least: Cost, heavy: list[str]) -> None:
    print(f"{name:<22}{cost.seconds:>8.2f} s{least.seconds:>8.2f} s{cost.seconds / least.seconds:>7.1f}x{cost.megabytes:>7.0f} MB"
          f"{cost.wall:>8.2f} s  {', '.join(heavy) or '-'}", flush=True)


def ratios(folder: Path, tree: Path, runs: int) -> None:
    """The commands on the example and on the large house."""
    print(f"{'command':<22}{'processor':>10}{'floor':>10}{'ratio':>8}{'memory':>10}{'wall':>10}  heavy imports")
    least, heavy = floor(folder, tree, ["--help"], None, None, runs)
    row("--help", run(["-m", "sitegen", "--help"], tree, runs), least, heavy)
    large = make_job(folder / "large", 60, LANGUAGES)
    for name, job, asked in (("example", ROOT / "example_job", "K5"), ("large", large, "R9X2")):
        for command in (["check", str(job)], ["trace", str(job), asked]):
            least, heavy = floor(folder, tree, command, job, None, runs)
            row(f"{command[0]} {name}", run(["-m", "sitegen", *command], tree, runs), least, heavy)
        out = folder / f"out-{name}"
        command = ["bind", str(job), "--out", str(out)]
        shutil.rmtree(out, ignore_errors=True)
        run(["-m", "sitegen", *command], tree)
        least, heavy = floor(folder, tree, command, job, out, runs)
        found = []
        for _ in range(runs):
            shutil.rmtree(out)
            found.append(run(["-m", "sitegen", *command], tree))
        row(f"bind {name}", min(found, key=lambda cost: cost.seconds), least, heavy)
        again = run(["-m", "sitegen", *command], tree, runs)
        row(f"bind {name}, again", again, least, heavy)


def table(folder: Path, tree: Path) -> None:
    """From one device to three hundred, in one language."""
    print(f"\n{'devices':>8}{'outlets':>9}{'check':>10}{'bind':>10}{'memory':>10}{'files':>8}")
    for devices in TABLE:
        job, out = make_job(folder / f"house-{devices}", devices, LANGUAGES[:1]), folder / f"out-{devices}"
        check = run(["-m", "sitegen", "check", str(job)], tree)
        bind = run(["-m", "sitegen", "bind", str(job), "--out", str(out)], tree)
        files = sum(path.is_file() for path in out.rglob("*"))
        print(f"{devices:>8}{devices + round(devices * BOXES):>9}{check.seconds:>8.2f} s{bind.seconds:>8.2f} s{bind.megabytes:>7.0f} MB"
              f"{files:>8}", flush=True)
        shutil.rmtree(out)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=3, help="the best of so many")
    parser.add_argument("--tree", type=Path, default=ROOT, help="the checkout to measure; default this one")
    parser.add_argument("--no-table", action="store_true", help="without the houses of 1 to 300 devices")
    call = parser.parse_args()
    with tempfile.TemporaryDirectory() as kept:
        folder = Path(kept)
        tree = make_tree(call.tree, folder / "tree")
        ratios(folder, tree, call.runs)
        if not call.no_table:
            table(folder, tree)


if __name__ == "__main__":
    main()
