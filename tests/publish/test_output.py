"""What stands in output/ is what `bind` writes, on any day and from any folder."""

import io
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pypdf
from house import ROOT
from PIL import Image


def files(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def same(name: str, one: bytes, other: bytes) -> bool:
    """Texts byte by byte; pictures and PDF by what they show, since their packing hangs on the machine's libraries."""
    if name.endswith(".png"):
        a, b = Image.open(io.BytesIO(one)), Image.open(io.BytesIO(other))
        return a.size == b.size and a.info["dpi"] == b.info["dpi"] and a.tobytes() == b.tobytes()
    if name.endswith(".pdf"):
        return drawn(one) == drawn(other)
    return one == other


def drawn(pdf: bytes) -> list[object]:
    """Of each page its size, what is drawn on it, and the letters and frames that it uses."""
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return [(page.mediabox, page.get_contents().get_data(),
             {name: form.get_object().get_data() for name, form in page["/Resources"]["/XObject"].items()}) for page in pages]


def test_output_holds_the_rendered_example(bound):
    [folder] = [path for path in (ROOT / "output").iterdir() if (path / "binder.json").is_file()]
    kept, made = files(folder), files(bound)
    assert sorted(kept) == sorted(made)
    for name in made:
        assert same(name, kept[name], made[name]), f"{name} differs; run `sitegen bind example_job` and commit output/"


def test_names_hold_on_every_file_system(bound):
    """Microsoft, "Naming Files, Paths, and Namespaces" (from memory): no sign and no last letter that Windows refuses, nothing it keeps for
    devices, no two names that differ in capitals alone (macOS, too), and short enough for a folder of 110 letters below 260."""
    names = [path.relative_to(bound).as_posix() for path in bound.rglob("*")]
    assert len({name.casefold() for name in names}) == len(names) > 300
    for name in names:
        assert name.isascii() and len(name) < 150 and not re.search(r'[<>:"\\|?*\x00-\x1f]|[. ](/|$)', name), name
        assert not re.search(r"(^|/)(con|prn|aux|nul|(com|lpt)\d)(\.[^/]*)?(/|$)", name, re.I), name


def test_two_days_and_two_places_give_the_same_bytes(bound, example, tmp_path):
    """From another folder, by another name, in another zone, with another hash seed, on another day (the clock is
    turned by replacing time.time, date.today and datetime.now before anything is imported)."""
    shutil.copytree(example, tmp_path / "elsewhere")
    later = ("import time, datetime as d\n"
             "time.time = lambda: 2_000_000_000.0\n"
             "class Date(d.date):\n  today = classmethod(lambda c: c(2033, 5, 18))\n"
             "class Now(d.datetime):\n  now = classmethod(lambda c, tz=None: c(2033, 5, 18, 3, 33, 20, tzinfo=tz))\n"
             "d.date, d.datetime = Date, Now\n"
             "import sys; from sitegen.cli import main; sys.exit(main(sys.argv[1:]))")
    done = subprocess.run([sys.executable, "-c", later, "bind", "elsewhere", "--out", "out"], cwd=tmp_path,
                          env={"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "PYTHONPATH": str(ROOT)}, capture_output=True,
                          text=True)
    assert done.returncode == 0, done.stderr
    assert files(tmp_path / "out") == files(bound)
