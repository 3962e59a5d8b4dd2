"""Takes the name of a theme; gives its words, styles and scripts. Its templates: templates.py."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from ..binder.desk.words import Words
from ..errors import CallError, ThemeError, nearest

DEFAULT = "lamplight"

POLICY = ("default-src 'none'; img-src 'self' data:; style-src '{hash}'; connect-src 'self'; base-uri 'none'; "
          "form-action 'none'")


@dataclass(frozen=True)
class Theme:
    folder: Path

    def words(self, language: str) -> Words:
        """The words of one language, a file a surface. Every scalar stays text."""
        table: dict[str, Any] = {}
        for path in sorted((self.folder / "words" / language).glob("*.yaml")):
            try:
                more = yaml.load(path.read_text("utf-8"), Loader=yaml.CBaseLoader)
            except (yaml.YAMLError, UnicodeDecodeError) as error:
                raise ThemeError(f"words/{language}/{path.name} of theme `{self.folder.name}` cannot be read: {error}.") from None
            if not isinstance(more, dict):
                raise ThemeError(f"words/{language}/{path.name} of theme `{self.folder.name}` holds no words with names.")
            if twice := table.keys() & more.keys():
                raise ThemeError(f"words/{language}/{path.name} of theme `{self.folder.name}` has `{min(twice)}`, which another "
                                 f"file there has as well; keep it in one.")
            table |= more
        if not table:
            raise ThemeError(f"theme `{self.folder.name}` has no words/{language}/; add it, with the files of words/en/.")
        return Words(language, table)

    def style(self, name: str) -> str:
        """A style sheet without its comments and line breaks."""
        text = re.sub(r"/\*.*?\*/", "", (self.folder / "style" / f"{name}.css").read_text("utf-8"), flags=re.S)
        return re.sub(r"\s*([{};,>])\s*", r"\1", re.sub(r"\s+", " ", text)).strip()

    def script(self, name: str) -> str:
        """A script without its comments and indentation."""
        text = re.sub(r"/\*.*?\*/", "", (self.folder / "script" / f"{name}.js").read_text("utf-8"), flags=re.S)
        return " ".join(line.strip() for line in text.splitlines() if line.strip())


def themes_folder() -> Path:
    """Where the themes lie: inside the installed package, else beside it in the checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "_data" / "themes"
    return inside if inside.is_dir() else package.parent / "themes"


def open_theme(name: str = DEFAULT) -> Theme:
    """The theme of this name. Raises CallError when there is none."""
    known = sorted(path.name for path in themes_folder().iterdir() if (path / "words").is_dir())
    if name not in known:
        near = nearest(name, known)
        raise CallError(f"no theme `{name}`; there is {', '.join(known)}." + (f" Did you mean `{near}`?" if near else ""))
    return Theme(themes_folder() / name)


def content_hash(text: str) -> str:
    """What a Content-Security-Policy allows this very style or script by."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
