"""Takes all files of a binder, or of printed labels; puts them in place at once, so that the old or the new is whole.

The new one is written beside the old one, then the two change names. A swap that was cut off is finished by the next
call. Each has a list of its own files in it; a folder that holds anything else is refused.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TextIO

from ..errors import CallError

LIST = "binder.json"


def beside(path: Path, ending: str) -> Path:
    """A hidden name next to it."""
    return path.with_name(f".{path.name}.{ending}")


def replace_file(path: Path, content: bytes) -> None:
    """One file: written beside it first, so that at any moment the old or the new one is whole."""
    new = beside(path, "new")
    try:
        with new.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(new, path)
    except BaseException:
        with suppress(OSError):
            new.unlink(missing_ok=True)
        raise


@contextmanager
def alone(path: Path) -> Iterator[None]:
    """Meanwhile no other call of this tool that asks for it writes to `path`. The lock goes with the process, however it ends.

    CallError where another one is writing, or nothing can be written there.
    """
    lock, file = beside(path, "lock"), None
    while path.parent.is_dir() and (file is None or not _is_still(lock, file)):     # the one before took its file away as it ended
        if file:
            file.close()
        file = _locked(lock, path)
    try:
        yield
    finally:
        if file:
            with suppress(OSError):     # where an open file cannot be taken away it stays, and hinders nobody
                lock.unlink()
            file.close()


def _locked(lock: Path, path: Path) -> TextIO:
    """The open file, ours alone. Windows locks bytes, the others whole files."""
    try:
        file = lock.open("a")
    except OSError as error:
        raise CallError(f"nothing can be written beside {path}: {error.strerror or error}; see who may write there.") from None
    try:
        if os.name == "nt":
            import msvcrt
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)   # type: ignore[attr-defined]
        else:
            import fcntl
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        file.close()
        raise CallError(f"another call is writing to {path}; nothing was written. Call again when it has ended.") from None
    return file


def _is_still(lock: Path, file: TextIO) -> bool:
    try:
        return os.path.samestat(lock.stat(), os.fstat(file.fileno()))
    except FileNotFoundError:
        return False


def put_in_place(out: Path, files: Iterable[tuple[str, bytes]], list_name: str = LIST) -> None:
    """Write each file (path below `out`, bytes) as it is made, the list last. Raises CallError where `out` is not ours to
    replace."""
    with _told(out):
        out.parent.mkdir(parents=True, exist_ok=True)
    with alone(out):
        _put_in_place(out, files, list_name)


def _put_in_place(out: Path, files: Iterable[tuple[str, bytes]], list_name: str) -> None:
    new, old = beside(out, "new"), beside(out, "old")
    with _told(out):
        finish_swap(out, list_name)
        refuse_strangers(out, list_name)
        shutil.rmtree(new, ignore_errors=True)
    try:
        for name, content in files:
            with _told(out):
                (new / name).parent.mkdir(parents=True, exist_ok=True)
                (new / name).write_bytes(content)
    except (Exception, KeyboardInterrupt):
        shutil.rmtree(new, ignore_errors=True)
        raise
    with _told(out):
        _flush(new)
        if out.exists():
            os.rename(out, old)
        os.rename(new, out)
        shutil.rmtree(old, ignore_errors=True)


@contextmanager
def _told(out: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise CallError(f"nothing can be written to {out}: {error.strerror or error}; "
                        f"choose another folder with --out.") from None


def _flush(folder: Path) -> None:
    for path in folder.rglob("*"):
        if path.is_file():
            with path.open("rb") as file:
                os.fsync(file.fileno())


def finish_swap(out: Path, list_name: str = LIST) -> None:
    """Where a swap was cut off between its two renames, put the whole binder back under its name."""
    new, old = beside(out, "new"), beside(out, "old")
    if not out.exists() and old.exists():
        os.rename(new if (new / list_name).is_file() else old, out)
    shutil.rmtree(old, ignore_errors=True)


def refuse_strangers(out: Path, list_name: str = LIST) -> None:
    """Raise CallError unless `out` is absent, empty, or holds what this list names and nothing else."""
    if not out.exists():
        return
    if not out.is_dir():
        raise CallError(f"{out} is a file; --out wants a folder.")
    there = {path.relative_to(out).as_posix() for path in out.rglob("*") if not path.is_dir()}
    if not there:
        return
    try:
        ours = {*json.loads((out / list_name).read_text("utf-8"))["files"], list_name}
    except (OSError, ValueError, KeyError, TypeError):
        raise CallError(f"{out} holds something that this tool did not write; it was left alone. "
                        f"Choose an empty folder with --out.") from None
    strange = sorted(there - ours)
    if strange:
        raise CallError(f"{out} holds {strange[0]}, which this tool did not write; it was left alone. "
                        f"Move it away, or choose another folder with --out.")
