"""Takes what a binder is made from; tells whether the one in a folder was made from just that and nobody touched it since.

What was made is noted beside the folder: a stamp of all that went in, the sum of every file that came out, and what was
told. A note that is lost costs one more bind. It holds no path of this machine and no time.
"""

from __future__ import annotations

import hashlib
import json
import platform
from collections.abc import Iterable, Iterator
from contextlib import suppress
from importlib.metadata import version
from pathlib import Path

from .folder import beside, replace_file
from .theme import Theme

PACKAGES = ("jinja2", "markdown-it-py", "pillow", "pyyaml", "qrcode", "font-source-sans-pro")
_JOB = ("*.yaml", "*.csv", "notes/**/*", "photos/**/*")     # what a job folder is read from


def stamp(job: Path, theme: Theme, *asked: str) -> str:
    """One sum of the job's files, the theme's, our own, the versions of all that is used, and how the command was called.
    Empty where a file cannot be read: then nothing is known to be unchanged."""
    found = hashlib.sha256(json.dumps([platform.python_version(), *map(version, PACKAGES), *asked]).encode())
    ours = Path(__file__).resolve().parent.parent
    for folder, patterns in ((job, _JOB), (theme.folder, ("**/*",)), (ours, ("**/*.py",))):
        paths = {path for pattern in patterns for path in folder.glob(pattern) if path.is_file()}
        try:
            found.update(json.dumps([(path.relative_to(folder).as_posix(), _sum(path)) for path in sorted(paths)]).encode())
        except OSError:
            return ""
    return found.hexdigest()


def note(out: Path, stamped: str, told: Iterable[str]) -> None:
    """Remember what stands in `out`."""
    with suppress(OSError):
        made = {"stamp": stamped, "files": dict(_files(out)), "told": list(told)}
        replace_file(beside(out, "made"), json.dumps(made, indent=1, ensure_ascii=False).encode())


def told_of(out: Path, stamped: str) -> list[str] | None:
    """What was told of the binder in `out`, if it was made from this and stands as it was written; else None."""
    try:
        made = json.loads(beside(out, "made").read_text("utf-8"))
        same = stamped and made["stamp"] == stamped and made["files"] == dict(_files(out))
        return [str(line) for line in made["told"]] if same else None
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _files(out: Path) -> Iterator[tuple[str, str]]:
    for path in sorted(out.rglob("*")):
        if path.is_file():
            yield path.relative_to(out).as_posix(), _sum(path)


def _sum(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
