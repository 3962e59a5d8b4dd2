"""Takes the composed binder and a theme; gives every page as self-contained HTML."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from itertools import islice
from types import MappingProxyType
from typing import Any

import jinja2
from markupsafe import Markup, escape

from ..binder.desk.address import job_mark
from ..binder.paper.records import InspectorSheet, PrintBinder, VisitSheet
from ..binder.site.records import Binder, Edition, Page, ServiceIndex, StartPage, circuit_path, isolate_path, site_path, trade_path
from .drawing.one_line_svg import one_line_svg
from .drawing.svg import draw
from .markdown import note_html
from .paper.house import lay_out
from .paper.sizes import Paper, print_style
from .paper.style import paper_style
from .photos import Photo
from .qr import QUIET, make_code, modules_path
from .templates import templates
from .theme import POLICY, Theme, content_hash

_AT_A_TIME = 200
PAPER_POLICY = POLICY + "; font-src data:"     # the typeface stands in the file


def render_pages(binder: Binder, theme: Theme, photos: Mapping[str, Photo] = MappingProxyType({})) -> Iterator[tuple[str, bytes]]:
    """(path below the output folder, bytes) of every page."""
    site_style, scripts = theme.style("site"), {StartPage: theme.script("search"), ServiceIndex: theme.script("record")}
    site = {"style": Markup(site_style), "policy": POLICY.format(hash=content_hash(site_style))}
    for edition in binder.editions:
        environment = _environment(edition, theme, photos)
        paper: dict[str, Any] = {}      # laid out once for both its pages
        for page in edition.pages:
            more: dict[str, Any] = site | _links(page, edition, binder)
            if isinstance(page.data, PrintBinder):
                paper = more = paper or _on_paper(page.data, edition, theme)
            elif isinstance(page.data, VisitSheet | InspectorSheet):
                more = _paper(page.data, edition, theme)[1]
            elif script := scripts.get(type(page.data)):
                more |= {"script": Markup(script), "policy": f"{site['policy']}; script-src '{content_hash(script)}'"}
            parts = environment.get_template(page.template).generate(page=page, data=page.data, **more)
            yield page.path, b"".join(_tidied(parts))


def _environment(edition: Edition, theme: Theme, photos: Mapping[str, Photo]) -> jinja2.Environment:
    """The templates, with what every page of one language needs."""
    environment, words = templates(theme), edition.words
    environment.globals.update(frame=edition.frame, mark=job_mark(edition.frame.job.id), w=words.rich, words=words,
                               circuit_path=circuit_path, isolate_path=isolate_path, trade_path=trade_path, qr_svg=qr_svg, note_html=note_html, draw=draw, one_line=one_line_svg, photos=photos)
    return environment


def _on_paper(data: PrintBinder, edition: Edition, theme: Theme) -> dict[str, Any]:
    """What the pages of one print-out share."""
    paper, style = _paper(data, edition, theme)
    return {**style, "layout": lay_out(data, paper)}


def _paper(data: PrintBinder | VisitSheet | InspectorSheet, edition: Edition, theme: Theme) -> tuple[Paper, dict[str, Any]]:
    """What it is set with, and its style."""
    sizes, print_css = print_style(theme)
    paper = Paper(edition.frame, edition.words, sizes)
    style = paper_style(print_css, data, paper)
    return paper, {"style": Markup(style), "policy": PAPER_POLICY.format(hash=content_hash(style))}


def _links(page: Page, edition: Edition, binder: Binder) -> dict[str, Any]:
    """How a page of the site leads on: `to` a folder in the same language, to a calendar, to the same page in others."""
    below = f"{edition.further}/" if edition.further else ""
    others = [(other.words.language, other.words.get("language.name"), page.up + site_path(page.folder, other.further))
              for other in binder.editions if other is not edition and not page.alone]

    def to(folder: str) -> str:
        return page.up + site_path(folder, edition.further)

    return {"to": to, "first": lambda folder: page.up + site_path(folder), "ids": lambda text: _with_links(text, edition.rows, page, to),
            "ics": lambda name: f"{page.up}reminders/{below}{name}.ics", "others": others, "up": page.up}


_WORD = re.compile(r"[\w-]+")


def _with_links(text: str, rows: Mapping[str, str], page: Page, to: Callable[[str], str]) -> Markup:
    """A text of the service record: every id in it leads to its row, or to its page."""
    def linked(found: re.Match[str]) -> str:
        if found[0] not in rows:
            return found[0]
        folder, _, anchor = rows[found[0]].partition("#")
        if folder == page.folder and not anchor:
            return found[0]
        return f'<a href="{"" if folder == page.folder else to(folder)}{f"#{anchor}" if anchor else ""}">{found[0]}</a>'

    return Markup(_WORD.sub(linked, str(escape(text))))


def _tidied(parts: Iterator[str]) -> Iterator[bytes]:
    """Without blanks around lines and without empty ones; some parts at a time, since a house on paper is a page of many MB."""
    line = ""       # not at its end yet
    while some := tuple(islice(parts, _AT_A_TIME)):
        whole, _, line = "".join((line, *some)).rpartition("\n")
        yield _stripped(whole)
    yield _stripped(line)


def _stripped(text: str) -> bytes:
    return "".join(f"{line}\n" for line in map(str.strip, text.splitlines()) if line).encode()


@cache
def qr_svg(text: str) -> Markup:
    """A QR as a drawing, with its quiet zone (ISO/IEC 18004)."""
    code = make_code(text)
    return Markup('<svg class="qr" viewBox="0 0 {0} {0}" role="img" aria-label="QR"><path fill="#fff" d="M0 0h{0}v{0}H0z"/>'
                  '<path fill="#000" d="{1}"/></svg>').format(code.side + 2 * QUIET, modules_path(code, QUIET))
