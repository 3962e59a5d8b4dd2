"""Takes all labels of a house; gives the list for the person who sticks them, and what to know about each code."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import groupby
from operator import attrgetter

from ...binder.labels.records import DeviceLabel, SheetLabel, Stick
from ...binder.site.records import Binder
from .code import CodeFacts, code_facts
from .fit import name_of
from .label import lay_out_label
from .places import Place, label_place
from .sheets import DPI, strip_places


def where_text(binder: Binder) -> str:
    """Room by room as one walks: which label, on which sheet, for which spot, and where it is stuck."""
    words, stock = binder.words, binder.frame.job.labels
    strips = strip_places(binder.labels, stock)
    lines = [words.text("label.stick.title", title=binder.frame.job.title)]
    lines += [words.text(f"label.stick.{name}") for name in ("says", "ids") if binder.labels.rooms]
    if binder.frame.draft:
        lines.insert(0, words.text("draft"))
    for room, sticks in binder.labels.rooms:
        lines += ["", room.upper()]
        for id, some in groupby(sticks, key=attrgetter("id")):
            of_one = list(some)
            lines.append(words.text("label.stick.thing", id=id, at=of_one[0].at))
            lines += [_stick(binder, one, strips[one.number] if one.on_strips else label_place(stock, one.number))
                      for one in of_one]
    if not binder.labels.rooms:
        lines += ["", words.text("label.stick.none")]
    return "\n".join(lines) + "\n"


def _stick(binder: Binder, stick: Stick, on: Place) -> str:
    name = "label.stick.strips" if stick.on_strips else "label.stick.sheet"
    return binder.words.text("label.stick.line", label=stick.name, where=stick.where,
                             place=binder.words.text(name, page=on.sheet, row=on.row, column=on.column))


def words_report(binder: Binder) -> list[str]:
    """One line a label whose code holds words: how many letters fit at its size, how many stand in it, what was left out."""
    labels, stock, lines = binder.labels, binder.frame.job.labels, []
    for label in dict.fromkeys((*labels.devices, *labels.sheet)):
        facts = code_facts(label, stock.dpi) if label.shorter else None
        if facts is None:
            continue
        left = [part for part in _sentences(str(label.code)) if part not in _sentences(facts.text)]
        ending = f" Left out: `{' '.join(left)}`" if left else ""
        lines.append(f"{name_of(label)}: about {facts.holds} characters fit, {len(facts.text)} stand in the code.{ending}")
    return lines


def _sentences(text: str) -> list[str]:
    return re.split(r"(?<=[.?])\s+", text)


def label_report(binder: Binder) -> list[str]:
    """One line a label that may have a code, each device first: version, level, millimetres, and from how far a phone reads it.

    A phone reads a code from about ten times its width (common practice, no source). That is said of codes of an
    address; one of many words has smaller modules, and is taken for one of 25 modules as small as they (reasoned).
    """
    dpi, lines = binder.frame.job.labels.dpi, []
    why = "`labels` says `qr: none`" if binder.frame.job.labels.qr == "none" else "`base_url` is not written"
    others = [label for label in binder.labels.sheet if label.code and label.purpose != "device"]
    for label in (*binder.labels.devices, *others):
        facts, name = code_facts(label, dpi), label.id if label.purpose == "device" else name_of(label)
        if facts is None:
            lines.append(f"{name}: no code, since {why}.")
            continue
        lines.append(f"{name}: version {facts.version}, level {facts.level}, module {facts.module_mm:.2f} mm, "
                     f"code {facts.code_mm:.1f} mm, reads from about {_reach(facts):.0f} cm.{_on_sheets(label, facts)}")
    return lines + words_report(binder) + _denser(binder) + _less(binder)


def _reach(facts: CodeFacts) -> float:
    """In cm; ten times the width in mm is as many mm."""
    return facts.code_mm if facts.holds is None else min(facts.code_mm, 25 * facts.module_mm)


def _less(binder: Binder) -> list[str]:
    """The labels without room for what to press now and when to stop: only the monthly test stands on them."""
    dpi = binder.frame.job.labels.dpi
    less = [label.id for label in binder.labels.devices if (label.act or label.two_languages) and not _says(label, label.now, dpi)]
    calm = [label.id for label in binder.labels.devices if label.id not in less and label.stop and not _says(label, label.stop, dpi)]
    return [f"No room on {', '.join(ids)} for {what}. A larger label has it{', or one in one language' if ids is less else ''}."
            for ids, what in ((less, "what to press at once"), (calm, "when to stop and whom to call")) if ids]


def _says(label: DeviceLabel, text: str, dpi: int) -> bool:
    return bool(text) and " ".join(text.split()) in " ".join(lay_out_label(label, dpi).words().split())


def _on_sheets(label: SheetLabel, facts: CodeFacts) -> str:
    """Sheets have 600 dots an inch: their code has another size than a picture's where whole dots do not come out even."""
    sheet = code_facts(label, DPI)
    return f" On the sheets: code {sheet.code_mm:.1f} mm." if sheet and abs(sheet.code_mm - facts.code_mm) >= 0.05 else ""


def _denser(binder: Binder) -> list[str]:
    """The hint that an address in capitals makes a code of fewer modules or more repair: scheme and host are the same in
    any case (RFC 3986, 6.2.2.1), and capitals take fewer bits (ISO/IEC 18004, alphanumeric mode)."""
    base, dpi = binder.frame.job.base_url, binder.frame.job.labels.dpi
    labels = [label for label in binder.labels.devices if label.code and not label.shorter]
    if not (base and labels):
        return []
    scheme, _, rest = base.partition("://")
    host, slash, path = rest.partition("/")
    capitals = f"{scheme.upper()}://{host.upper()}{slash}{path}"
    longest = max(labels, key=lambda label: len(str(label.code)))
    now = code_facts(longest, dpi)
    then = code_facts(replace(longest, code=capitals + str(longest.code).removeprefix(base)), dpi)
    if not (now and then) or not _surer(then, now):
        return []
    return [f"Written as {capitals}, `base_url` would give version {then.version}, level {then.level} in place of "
            f"version {now.version}, level {now.level}. The line in job.yaml: `base_url: {capitals}`"]


def _surer(then: CodeFacts, now: CodeFacts) -> bool:
    """Whether a code repairs no less and is no denser than another, and is better in one of the two."""
    less_repair = "HQM".index(then.level) - "HQM".index(now.level)
    return max(less_repair, then.version - now.version) <= 0 > min(less_repair, then.version - now.version)
