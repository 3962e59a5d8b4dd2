"""`labels` of job.yaml into the stock: sums against published sheets, and every slip told."""

from __future__ import annotations

import pytest
from hypothesis import given, strategies as st

from sitegen.errors import Fault
from sitegen.job.job_file import read_job_file
from sitegen.job.labels.stock import DEFAULT, STOCKS
from sitegen.job.records import LabelStock

# Published sheets, as reported (the last from memory): sheet, size, columns x rows, left, top, gap; mm.
INCH = 25.4
SHEETS = {
    "a4 63.5 x 38.1 mm": ((210, 297), (63.5, 38.1), (3, 7), 7.2, 15.15, (2.5, 0)),
    "letter 4 x 2 in": ((8.5 * INCH, 11 * INCH), (4 * INCH, 2 * INCH), (2, 5), 0.17 * INCH, 0.5 * INCH, (0.16 * INCH, 0)),
    "letter 2.625 x 1 in": ((8.5 * INCH, 11 * INCH), (2.625 * INCH, INCH), (3, 10), 0.1875 * INCH, 0.5 * INCH,
                            (0.125 * INCH, 0)),
}


def read(labels: str, more: str = "") -> tuple[LabelStock, list[str]]:
    faults: list[Fault] = []
    file = read_job_file(f"id: elm\ntitle: Kitchen\nlabels: {labels}\n{more}", faults)
    assert file
    return file.labels, [str(fault) for fault in faults]


def test_the_table_holds_the_published_sheets() -> None:
    assert set(STOCKS) == set(SHEETS)
    for name, (sheet, size, count, left, top, gap) in SHEETS.items():
        stock = STOCKS[name]
        assert stock.page_mm == pytest.approx(sheet) and (stock.width_mm, stock.height_mm) == pytest.approx(size)
        assert (stock.columns, stock.rows) == count
        assert (stock.left_mm, stock.top_mm) == pytest.approx((left, top)) and stock.gap_mm == pytest.approx(gap)


@pytest.mark.parametrize("name", SHEETS)
def test_left_and_right_top_and_foot_are_equal(name: str) -> None:
    """2 * 7.2 + 3 * 63.5 + 2 * 2.5 = 209.9 of 210 mm, and so on: a tenth of a millimetre at most."""
    (width, height), (wide, high), (columns, rows), left, top, gap = SHEETS[name]
    assert 2 * left + columns * wide + (columns - 1) * gap[0] == pytest.approx(width, abs=0.11)
    assert 2 * top + rows * high + (rows - 1) * gap[1] == pytest.approx(height, abs=0.11)


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_described_is_the_sheet_named(name: str) -> None:
    (width, height), (wide, high), (columns, rows), left, top, gap = SHEETS[name]
    said = (f"{{sheet: {width} x {height} mm, size: {wide} x {high} mm, columns: {columns}, rows: {rows}, "
            f"left: {left} mm, top: {top} mm, gap: {gap[0]:g} x {gap[1]} mm}}")
    named, described = read(f"{{stock: {name.upper()}}}"), read(said)
    assert named[1] == described[1] == []
    assert described[0].gap_mm == pytest.approx(named[0].gap_mm)
    for field in ("width_mm", "height_mm", "left_mm", "top_mm", "columns", "rows"):
        assert getattr(described[0], field) == pytest.approx(getattr(named[0], field), abs=0.001)


def test_nothing_written_is_letter_with_ten_labels() -> None:
    assert read("")[0] is DEFAULT is STOCKS["letter 4 x 2 in"]
    assert DEFAULT.wanted == ("device", "outlet", "ground") and DEFAULT.dpi == 300 and not DEFAULT.frame


def test_codes_and_languages_of_labels() -> None:
    stock, faults = read("{qr: TEXT, outlet_qr: yes, languages: [en, es]}", "languages: [en, es]\n")
    assert not faults and (stock.qr, stock.outlet_qr, stock.languages) == ("text", True, ("en", "es"))
    assert (DEFAULT.qr, DEFAULT.outlet_qr, DEFAULT.languages) == ("address", False, ())
    assert read("{languages: [en]}", "languages: [en, es]\n") == (DEFAULT, [])


def test_how_the_stock_is_used() -> None:
    stock, faults = read("{stock: letter 4 x 2 in, start: 4, frame: yes, dpi: 203, wanted: [plate, device], "
                         "adjust: {right: 0.5 mm, down: -0.01 in, scale: 100.4 %}}")
    assert not faults
    assert (stock.start, stock.frame, stock.dpi, stock.wanted) == (4, True, 203, ("device", "plate"))
    assert (stock.right_mm, stock.down_mm, stock.scale) == pytest.approx((0.5, -0.254, 1.004))


@pytest.mark.parametrize(("size", "mm"), [("63.5 x 38.1 mm", (63.5, 38.1)), ("2.5 x 1.5 in", (63.5, 38.1)),
                                          ("30x20mm", (30, 20)), ("215 \u00d7 279 MM", (215, 279))])
def test_a_size_alone_is_set_in_the_middle_of_letter_paper(size: str, mm: tuple[float, float]) -> None:
    """An inch is 25.4 mm exactly (the international inch of 1959; from memory). Paper is cut: so it has frames."""
    stock, faults = read(f"{{size: {size}}}")
    assert not faults and stock.frame and (stock.width_mm, stock.height_mm) == mm
    over = 215.9 - stock.columns * mm[0], 279.4 - stock.rows * mm[1]
    assert (2 * stock.left_mm, 2 * stock.top_mm) == pytest.approx(over, abs=0.002) and min(over) >= 0


@given(st.floats(30, 215), st.floats(20, 279))
def test_any_size_alone_fits_its_sheet(wide: float, high: float) -> None:
    stock, faults = read(f"{{size: {wide:.1f} x {high:.1f} mm}}")
    assert not faults
    assert 0 <= stock.left_mm and stock.left_mm + stock.columns * stock.width_mm <= 215.91
    assert 0 <= stock.top_mm and stock.top_mm + stock.rows * stock.height_mm <= 279.41


def test_a_roll_is_one_label_after_the_other() -> None:
    stock, faults = read("{sheet: roll, size: 4 x 2 in}")
    assert not faults and stock.sheet_mm is None and stock.page_mm == (101.6, 50.8)
    assert (stock.columns, stock.rows, stock.left_mm, stock.top_mm) == (1, 1, 0, 0)


SLIPS = {
    "{size: 63.5 x 38.1}":
        "`size: 63.5 x 38.1` is no label that can be printed; expected width x height with its unit, from 30 x 20 mm to "
        "215 x 279 mm. Write it as `63.5 x 38.1 mm` or `2.5 x 1.5 in`.",
    "{size: 29.9 x 20 mm}":
        "`size: 29.9 x 20 mm` is no label that can be printed; expected width x height with its unit, from 30 x 20 mm to "
        "215 x 279 mm. Write it as `63.5 x 38.1 mm` or `2.5 x 1.5 in`.",
    "{size: 4 x 2 in, columns: 2, rows: 5, left: 0.17 in, top: 0.5 in}":
        "the columns leave 4.3 mm at the left and 8.4 mm at the right of the sheet; expected equal margins within 2 mm. "
        "Measure again (a gap forgotten?), or add `uneven: yes` where the sheet is so.",
    "{size: 4 x 2 in, columns: 3, rows: 5, left: 0.17 in, top: 0.5 in}":
        "3 columns of 101.6 mm, 2 gaps of 0 mm and 4.318 mm at the left are 309.1 mm; expected 215.9 mm at most, the "
        "sheet. Measure label, gap and margin again.",
    "{size: 4 x 2 in, columns: 2, gap: 4 x 0 mm}":
        "`labels` has `columns` and `gap`, but no `rows`, `left` or `top`; expected `columns`, `rows`, `left` and `top` "
        "together. Measure the sheet and write all four.",
    "{columns: 2}":
        "`columns` without `size` in `labels`; expected the size of one label. Add `size`, such as `size: 4 x 2 in`, or "
        "name a `stock`.",
    "{sheet: roll, size: 4 x 2 in, rows: 5}":
        "`rows` of a roll; expected a sheet: a roll is one label after the other. Remove `rows`.",
    "{stock: letter 4 x 2 in, rows: 5}":
        "`rows` stands beside `stock`; expected one of the two: `stock` says it all. Remove `rows`, or describe the sheet "
        "without `stock`.",
    "{stock: leter 4 x 2 in}":
        "`stock: leter 4 x 2 in` is not known; expected `letter 4 x 2 in`, `a4 63.5 x 38.1 mm` or `letter 2.625 x 1 in`. "
        "Did you mean `letter 4 x 2 in`? Write one of these words.",
    "{start: 11}":
        "`start: 11` does not count labels of this sheet; expected a whole number, 1 to 10. Count them on the sheet, along "
        "the rows.",
    "{wanted: [devise]}":
        "unknown kind of label `devise`; expected some of `device`, `outlet`, `plate`, `breaker`, `door` and `ground`. "
        "Write one of these, or remove it.",
    "{qr: txt}":
        "`qr: txt` is not known; expected `address`, `text` or `none`. Did you mean `text`? Write one of these words.",
    "{outlet_qr: maybe}":
        "`outlet_qr: maybe` is not known; expected `true`, `yes`, `false` or `no`. Write one of these words.",
    "{qr: none, outlet_qr: yes}":
        "`outlet_qr: yes` stands beside `qr: none`; expected codes on outlet labels only where labels have codes. Remove "
        "one of the two.",
    "{wanted: [device], outlet_qr: yes}":
        "`outlet_qr: yes` stands beside a `wanted` without `outlet`; expected codes on labels that are wanted. Add `outlet` "
        "to `wanted`, or remove `outlet_qr`.",
    "{languages: [en, es]}":
        "a label cannot be in `en, es`; expected one or two of the languages of the job (`en`), its first one first. Add "
        "`es` to `languages` of the job.",
    "{languages: [en, en]}":
        "a label cannot be in `en, en`; expected one or two of the languages of the job (`en`), its first one first. Write "
        "it as `[en]`.",
    "{languages: {en: es}}":
        "`languages: {en: es}` is not a list of languages; expected one or two languages of the job, its first one first. "
        "Write it as `[en]`.",
    "{dpi: 72}":
        "`dpi: 72` is not known; expected `203`, `300` or `600`. Write one of these words.",
    "{adjust: {right: 0.5}}":
        "`right: 0.5` is no length that can be used here; expected a length with its unit, -10 to 10 mm. Write it as "
        "`7.2 mm` or `0.17 in`.",
    "{adjust: {scale: 90 %}}":
        "`scale: 90 %` is no adjustment of a printer; expected 95 % to 105 %. Print calibration.pdf, measure its line, and "
        "write it as `100.4 %`.",
    "{sheet: a5, size: 4 x 2 in}":
        "`sheet: a5` is no sheet that can be printed; expected `letter`, `a4` and `roll`, or width x height with its unit, "
        "50 to 500 mm a side. Write it as `letter` or `8.5 x 11 in`.",
}


@pytest.mark.parametrize("labels", SLIPS)
def test_each_slip_is_told_in_a_whole_sentence(labels: str) -> None:
    assert read(labels)[1] == [f"job.yaml:3: {SLIPS[labels]}"]


def test_the_first_language_of_the_job_stands_first_on_a_label() -> None:
    assert read("{languages: [es, en]}", "languages: [en, es]\n")[1] == [
        "job.yaml:3: a label cannot be in `es, en`; expected one or two of the languages of the job (`en, es`), its first "
        "one first. Write it as `[en, es]`."]


def test_a_sheet_that_is_uneven_may_say_so() -> None:
    assert read("{size: 4 x 2 in, columns: 2, rows: 5, left: 0.17 in, top: 0.5 in, uneven: yes}")[1] == []
