"""Takes the theme's style and the binder on paper; gives the style of its pages: typeface as data, running heads, the rest."""

from __future__ import annotations

import base64
import re
from functools import cache
from pathlib import Path

from font_source_sans_pro import font_files_ttf

from ...binder.paper.records import InspectorSheet, PrintBinder, VisitSheet
from .sizes import Paper

FACES = {400: "SourceSansPro", 700: "SourceSansProBold"}


def paper_style(style: str, data: PrintBinder | VisitSheet | InspectorSheet, paper: Paper) -> str:
    """The whole style sheet of one print-out. Every word in it comes from the words file or the job."""
    frame, words = paper.frame, paper.words
    firm = " ".join(filter(None, (frame.firm, frame.phone)))
    texts = {"title": frame.job.title, "draft": words.text("draft_says") if frame.draft else "", "firm": firm,
             "made": words.text("frame.made_from", day=frame.made) if frame.made else "", "fold": words.text("fold.how")}
    root = ";".join(f"--{name}:{css_text(text)}" for name, text in texts.items())
    runs = "".join(f'[data-run="{name}"]{{page:run-{name}}}@page run-{name}{{@top-right{{content:{css_text(text)}}}}}'
                   for name, text in data.heads)
    return "".join((*map(_face, FACES), f":root{{{root}}}", style, runs))


def css_text(text: str) -> str:
    """A text as a CSS string; what could end the string, the style or the line is written as a code point.

    >>> css_text('a "b" </style>')
    '"a \\\\22 b\\\\22  \\\\3c /style\\\\3e "'
    """
    return '"' + re.sub(r'["\\<>\x00-\x1f\x7f&{};]', lambda found: f"\\{ord(found[0]):x} ", text) + '"'


@cache
def _face(weight: int) -> str:
    """One weight whole, in the file: paper looks the same from every machine."""
    data = base64.b64encode(Path(font_files_ttf[FACES[weight]]).read_bytes()).decode()
    return (f'@font-face{{font-family:"Source Sans Pro";font-weight:{weight};'
            f'src:url(data:font/ttf;base64,{data}) format("truetype")}}')
