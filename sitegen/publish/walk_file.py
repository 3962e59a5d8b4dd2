"""Takes the walk-through sheet; writes it as a page to print, as rows to fill in, or as a page for the phone; never over what
someone has filled in."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from markupsafe import Markup

from ..binder.desk.words import Words
from ..binder.walk.sheet import WalkSheet, walk_csv
from ..errors import CallError
from .folder import replace_file
from .phone_file import phone_html
from .templates import templates
from .theme import POLICY, Theme, content_hash

_OURS = b"<!doctype html>\n<!-- walk-through sheet -->\n"
_PHONE = "walk page"
_SCRIPTS = ("walk/judge", "walk/entry", "walk/log", "walk/screens", "walk/test", "walk/looks", "walk/main")


def walk_html(sheet: WalkSheet, words: Words, theme: Theme) -> bytes:
    """The sheet as one self-contained page, for Letter and A4 on their long side."""
    style = theme.style("walk")
    html = templates(theme).get_template("walk.html.j2").render(
        data=sheet, words=words, w=words.rich, style=Markup(style), policy=POLICY.format(hash=content_hash(style)))
    lines = (line.strip() for line in html.removeprefix("<!doctype html>").splitlines())
    return _OURS + "\n".join(filter(None, lines)).encode() + b"\n"


def write_html(sheet: WalkSheet, words: Words, theme: Theme, out: Path) -> None:
    """Write the page. Raises CallError where `out` is anything but an earlier sheet."""
    content = walk_html(sheet, words, theme)
    _write(out, content, replace=lambda old: old.startswith(_OURS))


def write_csv(sheet: WalkSheet, out: Path) -> None:
    """Write the rows. Raises CallError where `out` exists: it may hold what was seen."""
    _write(out, walk_csv(sheet).encode(), replace=lambda old: False)


def walk_page(data: dict[str, Any], words: Words, theme: Theme) -> bytes:
    """The walk-through for a phone. What it keeps there is kept under what this very page asks."""
    page = hashlib.sha256(json.dumps([data["mark"], data["tests"]]).encode()).hexdigest()[:8]
    title = words.text("walk.page.name", title=data["title"])
    return phone_html(theme, words, title, {**data, "page": page}, _SCRIPTS, _PHONE)


def write_page(data: dict[str, Any], words: Words, theme: Theme, out: Path) -> None:
    """Write the page for the phone. Raises CallError where `out` is anything but an earlier one."""
    _write(out, walk_page(data, words, theme), replace=lambda old: old.startswith(f"<!doctype html>\n<!-- {_PHONE} -->\n".encode()))


def _write(out: Path, content: bytes, replace: Callable[[bytes], bool]) -> None:
    try:
        if out.exists() and not replace(out.read_bytes()):
            raise CallError(f"{out} is there already and was left alone; choose another name with --out.")
        replace_file(out, content)
    except OSError as error:
        raise CallError(f"the sheet cannot be written to {out}: {error.strerror or error}; "
                        f"choose another place with --out.") from None
