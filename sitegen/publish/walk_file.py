"""Takes the walk-through sheet; writes it as a page to print, or its rows to fill in; never over what someone has filled in."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from markupsafe import Markup

from ..binder.desk.words import Words
from ..binder.walk.sheet import WalkSheet, walk_csv
from ..errors import CallError
from .folder import replace_file
from .templates import templates
from .theme import POLICY, Theme, content_hash

_OURS = b"<!doctype html>\n<!-- walk-through sheet -->\n"


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


def _write(out: Path, content: bytes, replace: Callable[[bytes], bool]) -> None:
    try:
        if out.exists() and not replace(out.read_bytes()):
            raise CallError(f"{out} is there already and was left alone; choose another name with --out.")
        replace_file(out, content)
    except OSError as error:
        raise CallError(f"the sheet cannot be written to {out}: {error.strerror or error}; "
                        f"choose another place with --out.") from None
