"""Takes a label; gives its code: how many words of it fit, how large it is and where it stands, in dots."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from ...binder.labels.records import DeviceLabel, SheetLabel, Strip
from ...errors import LabelError
from ..qr import QUIET, Code, capacity, choose, make_code, too_many
from .fit import best_lines, characters, name_of
from .marks import Modules
from .plan import Plan, plan_of
from .texts import SORTS

PRINTED = (203, 300, 600)   # dots an inch of pictures and sheets: the words of a code are the same in all


@dataclass(frozen=True, slots=True)
class CodeFacts:
    """What is printed as the code of a label."""

    version: int
    level: str
    module_mm: float
    code_mm: float      # one side, without the quiet zone
    text: str
    holds: int | None   # letters that fit at this size of label; None of an address


@cache
def code_facts(label: SheetLabel | Strip, dpi: int) -> CodeFacts | None:
    """Version, level and sizes of the code in the layout; None for a label without a code."""
    if isinstance(label, Strip):
        return None
    place = place_code(label, dpi)
    if place is None:
        return None
    text, holds, mm = str(label.code), None, dpi / 25.4
    if label.shorter:
        text, holds = _words(label)[0], capacity(_versions(label)[-1])
    return CodeFacts(place.code.version, place.code.level, place.module / mm, place.size / mm, text, holds)


@cache
def place_code(label: SheetLabel, dpi: int) -> Modules | None:
    """As large as looks right, never under the three floors."""
    if not label.code:
        return None
    plan = plan_of(label, dpi)
    code = _words(label)[1] if label.shorter else make_code(label.code, room=plan.sure)
    least, room = plan.least(code.side), plan.space / (code.side + 2 * QUIET)
    if least > room:
        raise LabelError(_too_dense(label, code, plan))
    return plan.placed(code, int(max(least, min(plan.wanted / code.side, room)) / plan.unit) * plan.unit)


@cache
def _words(label: SheetLabel) -> tuple[str, Code]:
    """The most words that the code of the label holds while its printed words still fit, and the code of them."""
    texts = (str(label.code), *label.shorter)
    versions = _versions(label)
    if found := choose(texts, versions):
        return found
    place = (f"a label of {label.width_mm:g} x {label.height_mm:g} mm"
             + (f" with the mark `{label.draft}`" if label.draft else ""))
    do = f"Choose a larger label, or {SORTS[label.purpose].without}."
    if not versions:
        raise LabelError(f"{name_of(label)}: {place} has no room for a QR code beside its words. {do}")
    over = characters(too_many(texts[-1], versions[-1]))
    raise LabelError(f"{name_of(label)}: the QR code of `{texts[-1]}`, the fewest words, is {over} too long for {place}, "
                     f"which holds about {characters(capacity(versions[-1]))}. {do}")


@cache
def _versions(label: SheetLabel) -> tuple[int, ...]:
    """The versions of a code of words that fit at every resolution, its modules at their floor, beside the printed words."""
    plans = [plan_of(label, dpi) for dpi in PRINTED]
    fitting = [version for version in range(1, 41)
               if all(plan.least(17 + 4 * version) * (17 + 4 * version + 2 * QUIET) <= plan.space for plan in plans)]
    while fitting and not all(_leaves_room(label, fitting[-1], plan) for plan in plans):
        fitting.pop()
    return tuple(fitting)


def _leaves_room(label: SheetLabel, version: int, plan: Plan) -> bool:
    """Whether the printed words fit beside a code of this version at its smallest."""
    if isinstance(label, DeviceLabel) and label.serves:
        label = replace(label, serves=label.serves[-1:])    # the fewest: when these do not fit, none do
    side = 17 + 4 * version
    blank = Code(((False,) * side,) * side, version, "M")
    return best_lines(label, plan.text_box(plan.placed(blank, plan.least(side))), plan.dpi) is not None


def _too_dense(label: SheetLabel, code: Code, plan: Plan) -> str:
    least = plan.least(code.side) / plan.mm
    or_without = f", or {SORTS[label.purpose].without}" if label.purpose == "outlet" else ""
    return (
        f"{name_of(label)}: the QR code of `{label.code}` ({len(label.code or '')} characters, {code.side} modules "
        f"a side) needs {(code.side + 2 * QUIET) * least:.1f} mm with its white border at {least:.2f} mm a module; a label of "
        f"{label.width_mm:g} x {label.height_mm:g} mm leaves {max(0, plan.space) / plan.mm:.1f} mm. "
        f"Shorten `base_url`, or choose a larger label{or_without}."
    )
