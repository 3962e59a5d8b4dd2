"""`prices` and `wishes` of job.yaml in; what devices cost, and what it is worth to keep a wish, out. Dollars in, cents out."""

from __future__ import annotations

from .read.fields import Fields
from .read.keys import Key, Keys
from .records import Prices, Wishes

_DEAREST = 100_000  # dollars: more is a slip of the pen
_MOST = 1000        # outlets


def read_prices(job: Fields, key: str) -> Prices | None:
    """None where they are not written, or at fault."""
    fields = job.fields(key, _PRICES)
    return Prices(**fields.record()) if fields else None


def read_wishes(job: Fields, key: str) -> Wishes:
    fields = job.fields(key, _WISHES)
    if fields is None:
        return Wishes()
    if job.node("prices") is None:
        job.fault(fields, "`wishes` without `prices`", "`prices` too, since wishes are weighed in dollars",
                  "add `prices`, or remove `wishes`")
    for key, other in (("most", "over"), ("over", "most")):
        if fields.node(key) and not fields.node(other):
            fields.fault(fields.values[key], f"`{key}` without `{other}` in `wishes`", "`most` and `over` together",
                         "write both: `{most: 6, over: 4}` is 4 dollars for each outlet above six that one device turns off")
    most = fields.number("most", "outlets", _MOST, above_zero=True)
    if most is not None and most != int(most):
        fields.fault(fields.values["most"], f"`most: {most:g}` is not a whole number", "a number of outlets", "write it whole")
    return Wishes(most=None if most is None else int(most), **fields.record())


def _cents(fields: Fields, key: str) -> int | None:
    dollars = fields.number(key, "dollars", _DEAREST)
    return None if dollars is None else round(dollars * 100)


_PRICES = Keys("`prices`", Prices, Key("gfci receptacle", _cents, must=True, into="receptacle"), Key("faceless", _cents, must=True),
               Key("new box", _cents, must=True, into="new_box"), Key("breaker", _cents, must=True), Key("line", _cents))
_WISHES = Keys("`wishes`", Wishes, Key("most"), Key("over", _cents), Key("far", _cents), Key("dark", _cents))
