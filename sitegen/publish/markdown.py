"""Takes the contractor's Markdown; gives HTML that is safe to set into a page: no raw HTML, no pictures, few links."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup, escape

SCHEMES = frozenset({"http", "https", "mailto", "tel"})


def note_html(text: str, title: str, level: int, spell_out: bool = False) -> Markup:
    """A note below a heading of `level` that already says its title.

    The note's own first heading is left out where it is that title; the others stand below `level`, so that a page keeps
    its one h1. Links lead to web, mail and telephone only; any other link stays as typed. With `spell_out` the target
    stands behind the link's words, for paper.

    >>> note_html("# Care\\nWipe <b>dry</b>.\\n## Glass\\n[x](javascript:1)", "Care", 1)
    Markup('<p>Wipe &lt;b&gt;dry&lt;/b&gt;.</p>\\n<h2>Glass</h2>\\n<p>[x](javascript:1)</p>\\n')
    """
    parser = _parser()
    tokens = parser.parse(text)
    if len(tokens) > 2 and tokens[0].type == "heading_open" and _plain(tokens[1]) == title.strip():
        tokens = tokens[3:]
    for token in tokens:
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{min(6, level + max(1, int(token.tag[1]) - 1))}"
        elif spell_out and token.children:
            token.children = _spelled_out(token.children)
    return Markup(parser.renderer.render(tokens, parser.options, {}))


def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    parser.validateLink = lambda url: url.partition(":")[0].lower() in SCHEMES  # type: ignore[method-assign]
    parser.add_render_rule("image", _picture)
    return parser


def _picture(renderer: Any, tokens: Sequence[Token], index: int, options: Any, env: Any) -> str:
    """A picture's words in its place: a page makes no request."""
    return str(escape(tokens[index].content))


def _plain(inline: Token) -> str:
    return "".join(child.content for child in inline.children or () if child.type in ("text", "code_inline")).strip()


def _digits(text: str) -> str:
    return re.sub(r"\D", "", text)


def _spelled_out(children: list[Token]) -> list[Token]:
    """The tokens of a line with the target of every link behind its words."""
    spelled: list[Token] = []
    target, words = "", ""
    for token in children:
        spelled.append(token)
        if token.type == "link_open":
            target, words = str(token.attrs["href"]), ""
        elif token.type == "link_close":
            scheme, _, rest = target.partition(":")
            shown = rest if scheme.lower() in ("mailto", "tel") else target
            if shown not in words and not (scheme.lower() == "tel" and _digits(rest).endswith(_digits(words) or " ")):
                spelled.append(Token("text", "", 0, content=f" ({shown})"))
        else:
            words += token.content
    return spelled
