"""Takes all labels of a house; gives the list for the person who sticks them, and what to know about each code."""

from __future__ import annotations

from sitegen.binder.pages import Binder
from sitegen.binder.records import Stick

from .label_picture import measure
from .qr import make_code
from .sheet import Place, place
from .sheet_page import strip_places


def where_text(binder: Binder) -> str:
    """Room by room as one walks: which label, on which sheet, for which spot, and where it is stuck."""
    words, stock = binder.words, binder.frame.job.labels
    strips = strip_places(binder.labels, stock)
    lines = [words.text("label.stick.title", title=binder.frame.job.title), words.text("label.stick.says")]
    if binder.frame.draft:
        lines.insert(0, words.text("draft"))
    for room, sticks in binder.labels.rooms:
        lines += ["", room]
        for stick in sticks:
            on = strips[stick.number] if stick.on_strips else place(stock, stick.number)
            lines += _stick(binder, stick, on)
    if not binder.labels.rooms:
        lines += ["", words.text("label.stick.none")]
    return "\n".join(lines) + "\n"


def _stick(binder: Binder, stick: Stick, on: Place) -> list[str]:
    words = binder.words
    name = "label.stick.strips" if stick.on_strips else "label.stick.sheet"
    where = words.text(name, page=on.sheet, row=on.row, column=on.column)
    return [words.text("label.stick.line", place=where, label=stick.name),
            f"      {words.text('label.stick.spot', at=stick.at)}",
            f"      {words.text('label.stick.stick', where=stick.where)}"]


def label_report(binder: Binder) -> list[str]:
    """One line a device label: version, level, millimetres, and from how far a phone reads it.

    A phone reads a code from about ten times its width (common practice, no source).
    """
    dpi, lines = binder.frame.job.labels.dpi, []
    for label in binder.labels.devices:
        facts = measure(label, dpi)
        if facts is None:
            lines.append(f"{label.id}: no code, since `base_url` is not written.")
            continue
        lines.append(f"{label.id}: version {facts.version}, level {facts.level}, module {facts.module_mm:.2f} mm, "
                     f"code {facts.code_mm:.1f} mm, reads from about {facts.code_mm:.0f} cm.")
    return lines + _denser(binder)


def _denser(binder: Binder) -> list[str]:
    """The hint that an address in capitals makes a code of fewer or surer modules: scheme and host are the same in any
    case (RFC 3986, 6.2.2.1), and capitals take fewer bits (ISO/IEC 18004, alphanumeric mode)."""
    base = binder.frame.job.base_url
    urls = [label.url for label in binder.labels.devices if label.url]
    if not (base and urls):
        return []
    scheme, _, rest = base.partition("://")
    host, slash, path = rest.partition("/")
    capitals = f"{scheme.upper()}://{host.upper()}{slash}{path}"
    longest = max(urls, key=len)
    now, then = make_code(longest), make_code(capitals + longest.removeprefix(base))
    if (then.version, "HQM".index(then.level)) >= (now.version, "HQM".index(now.level)):
        return []
    return [f"Written as {capitals}, `base_url` would give version {then.version}, level {then.level} in place of "
            f"version {now.version}, level {now.level}."]
