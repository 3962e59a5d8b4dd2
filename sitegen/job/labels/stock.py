"""Takes `labels` of job.yaml; gives the stock: size and places of the labels on a sheet, kinds wanted, drift of a printer.

A stock is known by its dimensions alone. Sums that do not come out on the sheet are faults.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from ..read.fields import Fields
from ..read.keys import Key, Keys
from ..read.values import listed, size_mm
from ..records import LabelStock
from .purposes import PURPOSES

LETTER = (215.9, 279.4)     # mm; 8.5 x 11 in (as reported)
A4 = (210.0, 297.0)         # mm; ISO 216 (as reported)
SHEETS = {"letter": LETTER, "a4": A4, "roll": None}
QR = ("address", "text", "none")

# Sizes, margins and gaps as reported; the last one from memory. What is left over at the right and at the foot equals
# left and top within 0.1 mm in all three.
STOCKS = {
    "letter 4 x 2 in": LabelStock(101.6, 50.8, LETTER, 2, 5, 4.318, 12.7, (4.064, 0.0)),
    "a4 63.5 x 38.1 mm": LabelStock(63.5, 38.1, A4, 3, 7, 7.2, 15.15, (2.5, 0.0)),
    "letter 2.625 x 1 in": LabelStock(66.675, 25.4, LETTER, 3, 10, 4.7625, 12.7, (3.175, 0.0)),
}
DEFAULT = STOCKS["letter 4 x 2 in"]

LEAST, MOST = (30.0, 20.0), (215.0, 279.0)  # mm, of one label: a Letter sheet holds it
EDGE = 6.0          # mm; most printers leave less than this unprinted (common practice, no source)
EVEN = 2.0          # mm; margins of a sheet differ by no more than this (common practice, no source)
DRIFT = 10.0        # mm; more is a sheet fed wrongly
STRETCH = (95.0, 105.0)  # %

_PLACES = ("columns", "rows", "left", "top")
_SHEET = ("size", "sheet", *_PLACES, "gap", "uneven")
LABELS = Keys("`labels`", None, *map(Key, ("stock", *_SHEET, "start", "frame", "adjust", "dpi", "wanted", "qr", "outlet_qr",
                                           "languages", "also_in")))
_ADJUST = Keys("`adjust`", None, Key("right"), Key("down"), Key("scale"))
_SIZE_DO = "write it as `63.5 x 38.1 mm` or `2.5 x 1.5 in`"


def read_stock(labels: Fields | None) -> LabelStock:
    """The stock; the default one where nothing is written. Whole only where no fault was found."""
    if labels is None:
        return DEFAULT
    stock = _named(labels) if labels.node("stock") else _written(labels)
    return _adjusted(labels, replace(stock, **_use(labels, stock)))


def _named(labels: Fields) -> LabelStock:
    """A stock by its name in the table."""
    for key in _SHEET:
        if labels.node(key):
            labels.fault(labels.values[key], f"`{key}` stands beside `stock`", "one of the two: `stock` says it all",
                         f"remove `{key}`, or describe the sheet without `stock`")
    return labels.word("stock", STOCKS) or DEFAULT


def _written(labels: Fields) -> LabelStock:
    """A stock by its measures."""
    text = labels.text("size")
    if text is None:
        for key in (key for key in _SHEET if labels.node(key)):
            labels.fault(labels.values[key], f"`{key}` without `size` in `labels`", "the size of one label",
                         "add `size`, such as `size: 4 x 2 in`, or name a `stock`")
        return DEFAULT
    size = size_mm(text)
    if size is None or not all(low <= side <= high for low, side, high in zip(LEAST, size, MOST)):
        labels.fault(labels.values["size"], f"`size: {text}` is no label that can be printed",
                     "width x height with its unit, from 30 x 20 mm to 215 x 279 mm", _SIZE_DO)
        return DEFAULT
    sheet = _sheet(labels)
    written = [key for key in (*_PLACES, "gap") if labels.node(key)]
    if sheet is None:
        for key in written:
            labels.fault(labels.values[key], f"`{key}` of a roll", "a sheet: a roll is one label after the other",
                         f"remove `{key}`")
        return LabelStock(*size, None, 1, 1, 0.0, 0.0)
    if not written:
        return _filled(labels, size, sheet)
    if missing := [key for key in _PLACES if not labels.node(key)]:
        labels.fault(labels, f"`labels` has {listed(written)}, but no {listed(missing, 'or')}",
                     f"{listed(_PLACES)} together", "measure the sheet and write all four")
        return LabelStock(*size, sheet)
    return _checked(labels, _placed(labels, size, sheet))


def _sheet(labels: Fields) -> tuple[float, float] | None:
    text = labels.text("sheet") or "letter"
    if text.casefold() in SHEETS:
        return SHEETS[text.casefold()]
    size = size_mm(text)
    if size is None or not all(50 <= side <= 500 for side in size):
        labels.fault(labels.values["sheet"], f"`sheet: {text}` is no sheet that can be printed",
                     f"{listed(SHEETS)}, or width x height with its unit, 50 to 500 mm a side",
                     "write it as `letter` or `8.5 x 11 in`")
        return LETTER
    return size


def _filled(labels: Fields, size: tuple[float, float], sheet: tuple[float, float]) -> LabelStock:
    """As many as fit on a plain sheet, side by side in its middle; they are cut apart, so each has its frame."""
    columns, rows = (int((page - 2 * EDGE) // side) for page, side in zip(sheet, size))
    if not (columns and rows):      # almost as large as the sheet: its label alone, as far from the edges as it can
        columns = rows = 1
    left, top = ((page - count * side) / 2 for page, count, side in zip(sheet, (columns, rows), size))
    stock = LabelStock(*size, sheet, columns, rows, round(left, 3), round(top, 3), frame=True)
    return _checked(labels, stock) if labels.node("sheet") else stock


def _placed(labels: Fields, size: tuple[float, float], sheet: tuple[float, float]) -> LabelStock:
    columns, rows = (_count(labels, key, 50) or 1 for key in ("columns", "rows"))
    left, top = (_length(labels, key, 0, max(sheet)) or 0.0 for key in ("left", "top"))
    gap: tuple[float, float] = (0.0, 0.0)
    if text := labels.text("gap"):
        found = size_mm(text)
        if found is None:
            labels.fault(labels.values["gap"], f"`gap: {text}` is no gap between labels",
                         "across x down with its unit", "write it as `2.5 x 0 mm`")
        gap = found or gap
    return LabelStock(*size, sheet, columns, rows, left, top, gap)


def _checked(labels: Fields, stock: LabelStock) -> LabelStock:
    """Held against the sheet: inside it, and in its middle unless `uneven` says that it is so."""
    uneven = labels.flag("uneven")
    width, height = stock.page_mm
    for of, first, count, side, gap, page, ends in (
            ("columns", stock.left_mm, stock.columns, stock.width_mm, stock.gap_mm[0], width, ("left", "right")),
            ("rows", stock.top_mm, stock.rows, stock.height_mm, stock.gap_mm[1], height, ("top", "foot"))):
        last = page - first - count * side - (count - 1) * gap
        at = labels.values.get(of) or labels.values["size"]
        if last < -0.05 or first < 0:
            labels.fault(at, f"{count} {of} of {side:g} mm, {count - 1} gaps of {gap:g} mm and {first:g} mm at the "
                             f"{ends[0]} are {page - last:.1f} mm", f"{page:g} mm at most, the sheet",
                         "measure label, gap and margin again")
        elif abs(last - first) > EVEN and not uneven:
            labels.fault(at, f"the {of} leave {first:.1f} mm at the {ends[0]} and {last:.1f} mm at the {ends[1]} of the "
                             "sheet", f"equal margins within {EVEN:g} mm",
                         "measure again (a gap forgotten?), or add `uneven: yes` where the sheet is so")
    return stock


def _use(labels: Fields, stock: LabelStock) -> dict[str, Any]:
    """What is written of using the stock: where to begin, the frame, dots, kinds."""
    use: dict[str, Any] = {}
    places = stock.columns * stock.rows
    if (start := _count(labels, "start", places)) is not None:
        use["start"] = start
    if (frame := labels.flag("frame")) is not None:
        use["frame"] = frame
    if (dpi := labels.word("dpi", {"203": 203, "300": 300, "600": 600})) is not None:
        use["dpi"] = dpi
    expected = f"some of {listed(PURPOSES)}"
    wanted = set()
    for node in labels.items("wanted", "kinds of label", expected, "write it as `[device, outlet]`"):
        kind = (node.text or "").strip().casefold()
        if kind not in PURPOSES:
            labels.fault(node, f"unknown kind of label `{kind}`", expected, "write one of these, or remove it")
        wanted.add(kind)
    if wanted:
        use["wanted"] = tuple(kind for kind in PURPOSES if kind in wanted)
    use |= _said(labels)
    if use.get("outlet_qr") and "outlet" not in (wanted or DEFAULT.wanted):
        labels.fault(labels.values["outlet_qr"], "`outlet_qr: yes` stands beside a `wanted` without `outlet`",
                     "codes on labels that are wanted", "add `outlet` to `wanted`, or remove `outlet_qr`")
    return use


def _said(labels: Fields) -> dict[str, object]:
    """What is written of the codes and of the languages."""
    use: dict[str, object] = {}
    if (qr := labels.word("qr", {word: word for word in QR})) is not None:
        use["qr"] = qr
    if (outlet_qr := labels.flag("outlet_qr")) is not None:
        use["outlet_qr"] = outlet_qr
        if outlet_qr and qr == "none":
            labels.fault(labels.values["outlet_qr"], "`outlet_qr: yes` stands beside `qr: none`",
                         "codes on outlet labels only where labels have codes", "remove one of the two")
    if languages := _languages(labels):
        use["languages"] = languages
    if also := _also_in(labels):
        use["also_in"] = also
    return use


def _also_in(labels: Fields) -> tuple[str, ...]:
    """Languages in which the whole set is printed once more."""
    known = labels.languages
    items = labels.items("also_in", "languages", "further languages of the job", "write it as `[es]`")
    codes = tuple((item.text or "").strip().casefold() for item in items)
    if known and (strange := [code for code in codes if code not in known[1:]]):
        labels.fault(labels.values["also_in"], f"labels cannot be printed again in `{strange[0]}`",
                     f"a language of the job after its first one ({listed(known[1:]) if known[1:] else 'it has none'})",
                     f"add `{strange[0]}` to `languages` of the job, or remove it" if strange[0] != known[0] else "remove it")
        return ()
    return tuple(dict.fromkeys(codes)) if known else ()


def _languages(labels: Fields) -> tuple[str, ...]:
    """The two languages of every label; () for the first one alone."""
    known = labels.languages
    example = ", ".join(known[:2])
    items = labels.items("languages", "languages", "one or two languages of the job, its first one first",
                         f"write it as `[{example}]`")
    codes = tuple((item.text or "").strip().casefold() for item in items)
    if not codes or not known:      # `languages` of the job is at fault already
        return ()
    strange = [code for code in codes if code not in known]
    if strange or codes[0] != known[0] or len(codes) > 2 or len(set(codes)) < len(codes):
        do = f"add `{strange[0]}` to `languages` of the job" if strange else f"write it as `[{example}]`"
        labels.fault(labels.values["languages"], f"a label cannot be in `{', '.join(codes)}`",
                     f"one or two of the languages of the job (`{', '.join(known)}`), its first one first", do)
        return ()
    return codes if len(codes) == 2 else ()


def _adjusted(labels: Fields, stock: LabelStock) -> LabelStock:
    adjust = labels.fields("adjust", _ADJUST)
    if adjust is None:
        return stock
    right, down = (_length(adjust, key, -DRIFT, DRIFT) or 0.0 for key in ("right", "down"))
    scale = 100.0
    if text := adjust.text("scale"):
        found = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?)\s*%", text)
        if found is None or not STRETCH[0] <= float(found[1]) <= STRETCH[1]:
            adjust.fault(adjust.values["scale"], f"`scale: {text}` is no adjustment of a printer",
                         "95 % to 105 %", "print calibration.pdf, measure its line, and write it as `100.4 %`")
        else:
            scale = float(found[1])
    return replace(stock, right_mm=right, down_mm=down, scale=scale / 100)


def _count(fields: Fields, key: str, most: int) -> int | None:
    text = fields.text(key)
    if text is None:
        return None
    if not re.fullmatch(r"[0-9]{1,3}", text, re.ASCII) or not 1 <= int(text) <= most:
        fields.fault(fields.values[key], f"`{key}: {text}` does not count labels of this sheet",
                     f"a whole number, 1 to {most}", "count them on the sheet, along the rows")
        return None
    return int(text)


def _length(fields: Fields, key: str, least: float, most: float) -> float | None:
    """Millimetres, written in mm or in inches; the unit must stand."""
    text = fields.text(key)
    if text is None:
        return None
    found = re.fullmatch(r"([+-]?[0-9]+(?:\.[0-9]+)?)\s*(mm|in)", text, re.IGNORECASE | re.ASCII)
    length = float(found[1]) * (25.4 if found[2].casefold() == "in" else 1.0) if found else None
    if length is None or not least <= length <= most:
        fields.fault(fields.values[key], f"`{key}: {text}` is no length that can be used here",
                     f"a length with its unit, {least:g} to {most:g} mm", "write it as `7.2 mm` or `0.17 in`")
        return None
    return round(length, 4)
