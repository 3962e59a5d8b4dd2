"""By hand: how often two decoders read the QR of a label after the damage of scan_damage.yaml, beside a plain code.

    python tests/bench_scan.py [--labels 200] [--width 25] [--dpi 300] [--codes chosen plain] [--rows ROW ...]

`--width` is the room for the code without its quiet zone, in mm; each code takes the largest module of whole printer dots
that fits into it. `chosen` is what sitegen chooses for the address in capitals, `plain` the smallest version of the
address in small letters at level M, and `3-H` version 3 at level H for the address in capitals. A read counts only
if the text is the one encoded. `gain` is the first code less the last, in points.
"""

from __future__ import annotations

import math
import sys
from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from pathlib import Path

import zxingcpp
from PIL import Image
from pyzbar import pyzbar

sys.path.insert(0, str(Path(__file__).resolve().parent))

from scan_damage import SETUP, Printed, photo, printed  # noqa: E402

from sitegen.publish.qr import SURE_MM, Code, code_at, make_code, smallest_version  # noqa: E402

BASE = "HTTPS://BHE.EXAMPLE/7"      # the host of the example house
IDS = [f"K{n}" for n in range(1, 100)] + [f"B{n}" for n in range(1, 43)] + [f"P{n}" for n in range(1, 100)]


def by_zxing(image: Image.Image) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)]


def by_pyzbar(image: Image.Image) -> list[str]:
    return [found.data.decode() for found in pyzbar.decode(image, symbols=[pyzbar.ZBarSymbol.QRCODE])]


DECODERS = {"zxing-cpp": by_zxing, "pyzbar": by_pyzbar}


def address(name: str, number: int) -> str:
    url = f"{BASE}/{IDS[number % len(IDS)]}/"
    return url.lower() if name == "plain" else url


@cache
def encoded(name: str, number: int, width: float, dpi: int) -> Printed:
    room = int(width / 25.4 * dpi / math.ceil(SURE_MM / 25.4 * dpi))
    return printed(_code(name, address(name, number), room), width, dpi)


def _code(name: str, text: str, room: int) -> Code:
    if name == "chosen":
        return make_code(text, room=room)
    if name == "plain":
        return code_at(text, smallest_version(text, "M") or 40, "M")
    version, _, level = name.partition("-")
    return code_at(text, int(version), level)


def reads(name: str, row: str, number: int, width: float, dpi: int) -> list[bool]:
    """For each decoder, whether it reads that label of that row."""
    image = photo(encoded(name, number, width, dpi), row, number)
    return [read(image) == [address(name, number)] for read in DECODERS.values()]


def part(number: int, given: Namespace) -> list[list[list[bool]]]:
    """One label: by code, by row, by decoder."""
    return [[reads(name, row, number, given.width, given.dpi) for row in given.rows] for name in given.codes]


def main(given: Namespace) -> None:
    with ProcessPoolExecutor() as pool:
        labels = list(pool.map(partial(part, given=given), range(given.labels), chunksize=5))
    print(f"{given.labels} labels a row, code at most {given.width:g} mm wide, printed at {given.dpi} dpi; read, in %")
    for name in given.codes:
        kinds = sorted({(label.code.version, label.code.level, label.module) for label in
                        (encoded(name, number, given.width, given.dpi) for number in range(given.labels))})
        print(f"  {name}: " + "; ".join(
            f"version {version}, level {level}, module {module:.2f} mm, code {module * (17 + 4 * version):.1f} mm"
            for version, level, module in kinds))
    heads = [f"{name:>8}" for name in given.codes] + ["    gain"]
    print("\n" + " " * 26 + "".join(f"{name:>{8 * len(heads)}}" for name in DECODERS))
    print(f"{'damage':26}" + "".join(heads) * len(DECODERS))
    for at, row in enumerate(given.rows):
        line = f"{row:26}"
        for decoder in range(len(DECODERS)):
            rates = [100 * sum(label[code][at][decoder] for label in labels) / given.labels
                     for code in range(len(given.codes))]
            line += "".join(f"{rate:8.1f}" for rate in rates) + f"{rates[0] - rates[-1]:+8.1f}"
        print(line)


if __name__ == "__main__":
    parser = ArgumentParser(description=__doc__, formatter_class=RawDescriptionHelpFormatter)
    parser.add_argument("--labels", type=int, default=200)
    parser.add_argument("--width", type=float, default=25.0)
    parser.add_argument("--dpi", type=int, default=300)
    parser.add_argument("--codes", nargs="+", default=["chosen", "plain"])
    parser.add_argument("--rows", nargs="+", default=list(SETUP["rows"]), choices=list(SETUP["rows"]), metavar="ROW")
    main(parser.parse_args())
