"""Takes pages of artwork; gives one PDF of outlines (ISO 32000-1): sharp at any resolution, no typeface, no clock.

A page is as large as its sheet. Within it one unit is one dot of the artwork, counted down from its upper left corner.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping, Sequence

from ..type.font import UNITS
from ..type.outlines import pdf_outline
from .marks import Artwork, Bar, Dotted, Group, Line, Mark, Modules, flat, pens

ROUND = 0.5523      # of the radius: how far the control points of a quarter of a circle stand from its ends

Key = tuple[str, str] | Dotted      # a letter and its weight, or a frame as it stands at 0, 0


def pdf(pages: Sequence[Artwork]) -> bytes:
    """Letters, and frames of one size, stand in the file once. Viewers are asked not to scale the print."""
    forms = _forms(pages)
    names = {key: f"F{number}" for number, key in enumerate(forms)}
    named = " ".join(f"/{name} {3 + 2 * len(pages) + number} 0 R" for number, name in enumerate(names.values()))
    bodies = [b"<</Type/Catalog/Pages 2 0 R/ViewerPreferences<</PrintScaling/None>>>>",
              f"<</Type/Pages/Count {len(pages)}/Kids[{' '.join(f'{3 + 2 * n} 0 R' for n in range(len(pages)))}]"
              f"/Resources<</XObject<<{named}>>>>>>".encode()]
    for number, page in enumerate(pages):
        width, height = (side / 25.4 * 72 for side in page.size_mm)
        unit = f"{72 / page.dpi:g} 0 0 {-72 / page.dpi:g} 0 {height:.7g} cm"
        inked = [ink for mark in page.marks for ink in _ink(mark, names)]
        bodies += [f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 {width:.7g} {height:.7g}]/Contents {4 + 2 * number} 0 R>>".encode(),
                   _stream("", [unit, *inked])]
    return _file([*bodies, *forms.values()])


def _forms(pages: Sequence[Artwork]) -> dict[Key, bytes]:
    """What is drawn once and shown in many places."""
    marks = [mark for page in pages for mark in flat(page.marks)]
    letters = sorted({(letter, mark.weight) for mark in marks if isinstance(mark, Line) for letter in mark.text})
    frames = {mark._replace(left=0, top=0) for mark in marks if isinstance(mark, Dotted)}
    em = f"{-UNITS} {-2 * UNITS} {2 * UNITS} {UNITS}"
    return ({letter: _form(em, [path, "f"]) for letter in letters if (path := pdf_outline(*letter))}
            | {frame: _form(f"0 0 {frame.width} {frame.height}", _dots(frame)) for frame in sorted(frames)})


def _form(box: str, lines: Sequence[str]) -> bytes:
    return _stream(f"/Type/XObject/Subtype/Form/BBox[{box}]", lines)


def _stream(entries: str, lines: Sequence[str]) -> bytes:
    data = zlib.compress("\n".join(lines).encode())
    return f"<<{entries}/Length {len(data)}/Filter/FlateDecode>>stream\n".encode() + data + b"\nendstream"


def _file(bodies: Sequence[bytes]) -> bytes:
    """The objects numbered from 1, and the table of where each begins (ISO 32000-1, 7.5)."""
    file, starts = b"%PDF-1.6\n%\xe2\xe3\xcf\xd3\n", []
    for number, body in enumerate(bodies, 1):
        starts.append(len(file))
        file += b"%d 0 obj\n%b\nendobj\n" % (number, body)
    table = "".join(f"{start:010} 00000 n \n" for start in starts)
    count = len(bodies) + 1
    return file + (f"xref\n0 {count}\n0000000000 65535 f \n{table}trailer\n<</Size {count}/Root 1 0 R>>\n"
                   f"startxref\n{len(file)}\n%%EOF\n").encode()


def _ink(mark: Mark, names: Mapping[Key, str]) -> Iterator[str]:
    yield "q"
    match mark:
        case Group():
            yield f"1 0 0 1 {mark.left} {mark.top} cm"
            for part in mark.marks:
                yield from _ink(part, names)
        case Line():
            yield from _line(mark, names)
        case Modules():
            yield f"{mark.module} 0 0 {mark.module} {mark.left} {mark.top} cm"
            yield from (f"{x} {y} {wide} 1 re" for x, y, wide in mark.code.runs())
            yield "f"
        case Bar():
            yield _colour(mark.black)
            inset = mark.pen / 2
            yield _box(mark.left + inset, mark.top + inset, mark.width - mark.pen, mark.height - mark.pen,
                       max(0, mark.radius - inset))
            yield f"{mark.pen} w S" if mark.pen else "f"
        case Dotted():
            yield f"{_colour(True)} 1 0 0 1 {mark.left} {mark.top} cm/{names[mark._replace(left=0, top=0)]} Do"
    yield "Q"


def _colour(black: bool) -> str:
    return "0 g 0 G" if black else "1 g 1 G"


def _line(line: Line, names: Mapping[Key, str]) -> Iterator[str]:
    scale = line.size / UNITS
    yield f"{_colour(line.black)} {scale:g} 0 0 {scale:g} {line.left} {line.baseline} cm"
    pen = 0.0
    for letter, at in pens(line):
        if name := names.get((letter, line.weight)):
            yield f"1 0 0 1 {at - pen:g} 0 cm/{name} Do"
            pen = at


def _box(left: float, top: float, width: float, height: float, radius: float) -> str:
    """A rectangle as a path, its corners quarters of circles."""
    if not radius:
        return f"{left:g} {top:g} {width:g} {height:g} re"
    right, foot, bend = left + width, top + height, radius * (1 - ROUND)
    corners = ((left, top, 1, 1), (right, top, -1, 1), (right, foot, -1, -1), (left, foot, 1, -1))
    path: list[str] = []
    for number, (x, y, across, down) in enumerate(corners):
        steps = [(x, y + down * radius), (x, y + down * bend), (x + across * bend, y), (x + across * radius, y)]
        start, *curve = steps if number % 2 == 0 else steps[::-1]
        path.append(f"{start[0]:g} {start[1]:g} {'l' if path else 'm'} {' '.join(f'{a:g} {b:g}' for a, b in curve)} c")
    return " ".join((*path, "h"))


def _dots(frame: Dotted) -> list[str]:
    """Boxes of one dot: a dashed stroke comes out solid where a viewer widens thin lines."""
    right, foot = frame.width - 1, frame.height - 1
    return [*(f"{x} {y} 1 1 re" for y in (0, foot) for x in range(0, frame.width, frame.dash)),
            *(f"{x} {y} 1 1 re" for x in (0, right) for y in range(0, frame.height, frame.dash)), "f"]
