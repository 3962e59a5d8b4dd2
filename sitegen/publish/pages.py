"""Takes the composed binder and a theme; gives every page as self-contained HTML."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from ..binder.pages import Binder, circuit_path
from .qr import make_code
from .theme import Theme, style_hash

POLICY = ("default-src 'none'; img-src 'self' data:; style-src '{hash}'; connect-src 'self'; base-uri 'none'; "
          "form-action 'none'")


def render_pages(binder: Binder, theme: Theme) -> Iterator[tuple[str, bytes]]:
    """(path below the output folder, bytes) of every page."""
    environment = theme.environment()
    environment.globals.update(frame=binder.frame, w=binder.words.rich, words=binder.words, circuit_path=circuit_path,
                               qr_svg=qr_svg)
    styles = {"site": theme.style("site"), "print": theme.style("print")}
    for page in binder.pages:
        style = styles[page.path.partition("/")[0]]
        html = environment.get_template(page.template).render(
            page=page, data=page.data, up=page.up, style=Markup(style), policy=POLICY.format(hash=style_hash(style)))
        yield page.path, _tidy(html).encode()


def _tidy(html: str) -> str:
    return "\n".join(line for line in (line.strip() for line in html.splitlines()) if line) + "\n"


def qr_svg(text: str) -> Markup:
    """A QR as a drawing, with its quiet zone of four modules (ISO/IEC 18004); runs of dark modules are one stroke."""
    rows = make_code(text).rows
    side = len(rows) + 8
    strokes = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:
                strokes.append(f"M{x + 4} {y + 4}h{end - x}v1h-{end - x}z")
            x = end + 1
    return Markup('<svg class="qr" viewBox="0 0 {0} {0}" role="img" aria-label="QR"><path fill="#fff" d="M0 0h{0}v{0}H0z"/>'
                  '<path fill="#000" d="{1}"/></svg>').format(side, "".join(strokes))
