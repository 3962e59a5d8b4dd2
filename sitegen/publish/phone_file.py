"""Takes what a page for the phone has to know, and its scripts; gives one offline file that works by taps and asks nobody."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from markupsafe import Markup

from ..binder.desk.words import Words
from .templates import templates
from .theme import Theme, content_hash

# Nothing may be fetched or sent; no text may become markup, even by a mistake of the script.
POLICY = ("default-src 'none'; style-src '{style}'; script-src '{script}'; img-src data:; base-uri 'none'; form-action 'none'; "
          "require-trusted-types-for 'script'; trusted-types 'none'")
PARTS = ("phone/dom", "phone/store", "phone/table", "phone/send")    # what every such page begins with


def phone_html(theme: Theme, words: Words, title: str, data: Mapping[str, Any], scripts: Sequence[str], sort: str) -> bytes:
    """The page. `data` is what its scripts find as DATA, with the words of "phone" among its own; `sort` marks our own files."""
    style = theme.style("phone")
    script = "\n".join(theme.script(name) for name in (*PARTS, *scripts))
    known = {**data, "words": {**data["words"], "phone": words.get("phone")}}
    html = templates(theme).get_template("phone.html.j2").render(
        title=title, words=words, w=words.rich, style=Markup(style), script=Markup(script), data=Markup(as_text_of_script(known)),
        policy=POLICY.format(style=content_hash(style), script=content_hash(script)), sort=sort)
    return html.encode() + b"\n"


def as_text_of_script(data: Mapping[str, Any]) -> str:
    """JSON that cannot end the element it stands in.

    >>> as_text_of_script({"at": "</script>"})
    '{"at":"\\\\u003c/script\\\\u003e"}'
    """
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text
