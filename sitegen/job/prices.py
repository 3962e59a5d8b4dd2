"""`prices` and `wishes` of job.yaml in; what devices cost, and what it is worth to keep a wish, out. Dollars in, cents out."""

from __future__ import annotations

from .read.fields import Fields, Keys
from .records import Prices, Wishes

_DEAREST = 100_000  # dollars: more is a slip of the pen
_MOST = 1000        # outlets

# As job.yaml writes it -> the field.
_PRICES = {"gfci receptacle": "receptacle", "faceless": "faceless", "new box": "new_box", "breaker": "breaker", "line": "line"}
_PRICE_KEYS = Keys("`prices`", required=tuple(key for key in _PRICES if key != "line"), optional=("line",))
_WISH_KEYS = Keys("`wishes`", optional=("most", "over", "far", "dark"))


def read_prices(job: Fields) -> Prices | None:
    """None where they are not written, or at fault."""
    fields = job.fields("prices", _PRICE_KEYS)
    if fields is None:
        return None
    found = {name: _cents(fields, key) for key, name in _PRICES.items()}
    return Prices(**{name: cents or 0 for name, cents in found.items()})


def read_wishes(job: Fields) -> Wishes:
    fields = job.fields("wishes", _WISH_KEYS)
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
    return Wishes(None if most is None else int(most), *(_cents(fields, key) or 0 for key in ("over", "far", "dark")))


def _cents(fields: Fields, key: str) -> int | None:
    dollars = fields.number(key, "dollars", _DEAREST)
    return None if dollars is None else round(dollars * 100)
