"""Takes a theme; gives its page templates, each compiled once, and sentences as HTML."""

from __future__ import annotations

import re
from types import CodeType

import jinja2
from jinja2.bccache import Bucket
from markupsafe import Markup, escape

from ..binder.desk.words import Piece, Rich
from .theme import Theme

_LOOKS = {"strong": ("<strong>", "</strong>"), "tag": ('<span class="tag">', "</span>"),
          "name": ('<span class="tag name">', "</span>"), "phone": ('<span class="unbroken">', "</span>")}


class _Compiled(jinja2.BytecodeCache):
    """What was compiled in this run: each language has an environment of its own, and all of them the same templates."""

    def __init__(self) -> None:
        self.known: dict[tuple[str, str], CodeType | None] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self.known.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.known[bucket.key, bucket.checksum] = bucket.code


_COMPILED = _Compiled()


def templates(theme: Theme) -> jinja2.Environment:
    """Templates that escape everything and refuse an unknown name."""
    loader = jinja2.FileSystemLoader([theme.folder / "pages", theme.folder / "parts"])
    environment = jinja2.Environment(loader=loader, autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True,
                                     lstrip_blocks=True, auto_reload=False, bytecode_cache=_COMPILED)
    environment.filters.update(rich=rich, dial=dial)
    return environment


def rich(pieces: Rich) -> Markup:
    """Runs as HTML."""
    return Markup("".join(map(_run, pieces)))


def dial(number: str) -> str:
    """Digits for a tel: link (RFC 3966)."""
    return re.sub(r"[^\d+]", "", number)


def _run(run: Piece) -> str:
    before, after = _LOOKS.get(run.look, ("", ""))
    return f"{before}{escape(run.text)}{after}"
