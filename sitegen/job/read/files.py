"""A file's place in the job folder in, its text out: nothing outside the folder is read, nothing too large, nothing but text."""

from __future__ import annotations

import re
from pathlib import Path

from ...errors import Fault, Where
from .limits import FILE, beyond

# What YAML and people's editors both show as text. U+0085, U+2028 and U+2029 are refused because YAML counts them as
# line ends and an editor does not: the line of a fault would be wrong. U+202A to U+202E and U+2066 to U+2069 turn the order
# of what stands around them (Unicode TR 36, from memory).
_UNFIT = re.compile("[^\t\n\r\x20-\x7e\xa0-\u2027\u202f-\u2065\u206a-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_EMPTY = ("what this file is for", "write the file; `sitegen begin` makes one to start from")


def is_inside(folder: Path, path: Path) -> bool:
    """Whether the file lies in the job folder once every link is followed; the folder itself may be a link."""
    return path.resolve().is_relative_to(folder.resolve())


def text_of(folder: Path, name: str, faults: list[Fault], empty: tuple[str, str] = _EMPTY) -> str | None:
    """The text of a file of the job folder, `name` as its faults name it; None and faults where there is none to be had.

    `empty`: what is expected of a file with nothing in it, and what to do.
    """
    path, where = folder / name, Where(name, 1)
    try:
        if not is_inside(folder, path):
            faults.append(Fault(where, f"`{name}` is a link that leads out of the job folder", "files that lie in the folder",
                                "put a copy of the file in its place"))
            return None
        with path.open("rb") as file:
            data = file.read(FILE.most + 1)
    except FileNotFoundError:
        faults.append(Fault(where, f"the job folder has no {name}", "this file in every job folder",
                            "write it; `sitegen begin` makes one to start from"))
        return None
    except (OSError, RuntimeError) as error:    # RuntimeError: links in a circle, before Python 3.13
        faults.append(Fault(where, f"{name} cannot be opened ({getattr(error, 'strerror', None) or error})",
                            "a file that can be read", "check what it is and who may read it"))
        return None
    return decode(data, name, faults, empty)


def decode(data: bytes, file: str, faults: list[Fault], empty: tuple[str, str] = _EMPTY) -> str | None:
    """The text of a file, without a byte order mark and with plain line ends; None and faults if it is not text.

    UTF-8, or UTF-16 by its byte order mark: a spreadsheet's "Unicode text".
    """
    if len(data) > FILE.most:
        faults.append(beyond(FILE, Where(file, 1), len(data), "check what this file is, and part it or shorten it"))
        return None
    wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    try:
        text = data.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError as error:
        where = Where(file, error.object[:error.start].decode(error.encoding, "ignore").count("\n") + 1)
        faults.append(Fault(where, f"this is not {'UTF-16' if wide else 'UTF-8'}", "a text file in UTF-8",
                            "save the file again with the encoding UTF-8 (a spreadsheet calls it CSV UTF-8)"))
        return None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    unfit = unfit_fault(text, file)
    if unfit:
        faults.append(unfit)
        return None
    if not text.strip():
        faults.append(Fault(Where(file, 1), "the file is empty", *empty))
        return None
    return text


def unfit_fault(text: str, file: str, line: int = 1) -> Fault | None:
    """The first sign in a text that cannot be read and printed; the text begins in `line`."""
    found = _UNFIT.search(text)
    return Fault(Where(file, line + text.count("\n", 0, found.start())), f"a control character (U+{ord(found[0]):04X})",
                 "text that can be read and printed", "remove it") if found else None
