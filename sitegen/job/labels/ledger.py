"""printed_labels.yaml in, the labels that were printed out; and the text that one more pressing adds to it.

The file is only ever added to. Each pressing ends with a seal over its lines and the seal before it, so that a line
taken out or changed by hand is a fault and not a loss. No file at all means that nothing was printed yet.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import NamedTuple

from ...errors import Fault, Where
from ..read.fields import Fields, shape_fault
from ..read.ids import read_id
from ..read.keys import Key, Keys
from ..read.nodes import read_yaml
from ..read.values import day, quoted
from ..records import Printed, Says
from .purposes import PURPOSES

FILE = "printed_labels.yaml"

HEAD = """# Labels that were printed, and what their codes hold. `sitegen press` adds to this file. Nobody else writes in it and
# nothing is ever taken out: a label on a wall cannot be changed. Keep it with the job, and in every copy of it.
"""

_ROOT = Keys("the ledger", None, Key("pressings", must=True), Key("job"))
_PRESSING = Keys("this pressing", None, Key("date", must=True), Key("labels", must=True), Key("seal", must=True))
_LABEL = Keys("this label", Printed, Key("id", must=True), Key("is", must=True), Key("at", into="place"), Key("holds"),
              Key("replaces"), Key("language"), Key("made_of"), *(Key(name, into="says") for name in ("leads_to", "devices", "outlets", "phone", "words")))
MEND = "put the file back from a copy; only `sitegen press` writes in it"


class Ledger(NamedTuple):
    """What the file holds."""

    labels: tuple[Printed, ...] = ()    # in the order of printing
    job: str | None = None              # id of the job that they were printed for; None: it does not say
    where: Where = Where(FILE, 1)


def read_ledger(text: str, faults: list[Fault]) -> Ledger:
    """Whole only where no fault was found."""
    root = read_yaml(text, FILE, faults)
    if root is None:
        return Ledger()
    if root.pairs is None:
        faults.append(shape_fault(root, "the ledger", "a map with `pressings:`", MEND))
        return Ledger()
    fields = Fields(root, _ROOT, faults)
    pressings, _ = fields.entries("pressings", _PRESSING, least=1)
    found: list[Printed] = []
    job = fields.text("job")
    before, last = job or "", date.min
    for pressing in pressings:
        when = _day(pressing, last)
        labels, whole = pressing.entries("labels", _LABEL, least=1)
        read = [label for fields in labels if (label := _label(fields, when or last))]
        seal = pressing.text("seal")
        if seal and when and whole and len(read) == len(labels) and seal != make_seal(before, read):
            pressing.fault(pressing, f"the pressing of {when} does not fit its seal", "every line as it was written", MEND)
        before, last = seal or "", when or last
        found += read
    _one_address_one_id(found, faults)
    return Ledger(tuple(found), job, fields.values["job"].where if job else Ledger().where)


def _day(pressing: Fields, last: date) -> date | None:
    text = pressing.text("date")
    when = day(text) if text else None
    if text and when is None:
        pressing.fault(pressing.values["date"], f"`date: {text}` is not a date", "a real day, YYYY-MM-DD", MEND)
    elif when and when < last:
        pressing.fault(pressing.values["date"], f"the pressing of {when} stands behind that of {last}",
                       "pressings in the order of their days", MEND)
    return when


def _label(fields: Fields, when: date) -> Printed | None:
    written, purpose = fields.text("id"), fields.word("is", {word: word for word in PURPOSES})
    id = read_id(written, fields.values["id"].where, fields.faults) if written else None
    if id is None or purpose is None:
        return None
    node = fields.node("holds")
    text = node.text if node else None
    if text and PURPOSES[purpose].own_page and re.match(r"https?://\S+$", text, re.IGNORECASE) and not text.endswith(f"/{id}/"):
        fields.fault(node or fields, f"the code of {id} leads to `{text}`", f"an address that ends in /{id}/", MEND)
    return Printed(id, purpose, when, fields.text("at") or "", text, fields.where, _says(fields),
                   day(fields.text("replaces") or ""), (fields.text("language") or "").casefold(), fields.text("made_of"))


def _says(fields: Fields) -> Says | None:
    """None of a label that was printed before its words were kept."""
    node = fields.node("words")
    if node is None:
        return None
    devices, outlets = (tuple(item.text or "" for item in fields.items(key, "ids", "ids such as K1", MEND))
                        for key in ("devices", "outlets"))
    return Says(node.text or "", fields.text("leads_to"), devices, outlets, fields.text("phone"))


def _one_address_one_id(found: Iterable[Printed], faults: list[Fault]) -> None:
    owner: dict[str, Printed] = {}
    for label in found:
        if label.holds and PURPOSES[label.purpose].own_page:
            first = owner.setdefault(label.holds, label)
            if first.id != label.id:
                faults.append(Fault(label.where, f"the code of {label.id} is that of {first.id} in line {first.where.line}",
                                    "a code that leads to one id", MEND))


def make_seal(before: str, labels: Iterable[Printed]) -> str:
    """Sixteen hexadecimal digits over the seal before and every value of this pressing."""
    lines = [before, *(json.dumps([label.date.isoformat(), label.id, label.purpose, label.place, label.holds, *_more(label)])
                       for label in labels)]
    import hashlib  # only where there is a ledger: it takes a while to import

    return hashlib.sha256("\n".join(lines).encode()).hexdigest()[:16]


def _more(label: Printed) -> list[object]:
    """What a seal covers beside the address; nothing of a label whose words were not kept."""
    says = label.says
    replaces: list[object] = [str(label.replaces)] if label.replaces else []
    language = [f"in {label.language}"] if label.language else []
    made_of = [f"made of {label.made_of}"] if label.made_of else []
    said = [says.words, says.leads_to, says.devices, says.outlets, says.phone] if says else []
    return [*said, *replaces, *language, *made_of]


def pressing_text(before: str, labels: Iterable[Printed], job: str | None = None) -> str:
    """The lines of one pressing of this job, all of one day, to be added behind the ledger as it stands (`before`, "" for
    none)."""
    labels = tuple(labels)
    seals = [line.split("seal:")[1].strip() for line in before.splitlines() if line.startswith("    seal:")]
    lines = [f"  - date: {labels[0].date}", "    labels:"]
    lines += [line for label in labels for line in _entry(label)]
    lines.append(f"    seal: {make_seal(seals[-1] if seals else job or '', labels)}")
    named = f"job: {job}\n" if job else ""
    head = f"{HEAD}{named}pressings:\n" if not before else "" if before.endswith("\n") else "\n"
    return head + "\n".join(lines) + "\n"


def _entry(label: Printed) -> Iterator[str]:
    """One label: its address on the first line, what it says on two more."""
    says, lead = label.says, "      - {"
    facts: dict[str, str | None] = {
        "id": quoted(label.id), "is": label.purpose, "at": quoted(label.place), "holds": label.holds and quoted(label.holds),
        "replaces": str(label.replaces) if label.replaces else None, "language": label.language,
        "made_of": label.made_of and quoted(label.made_of)}
    if says:
        yield f"{lead}{_pairs(facts)},"
        lead = " " * len(lead)
        facts = {"leads_to": says.leads_to and quoted(says.leads_to), "devices": _ids(says.devices), "outlets": _ids(says.outlets),
                 "phone": says.phone and quoted(says.phone)}
        if written := _pairs(facts):
            yield f"{lead}{written},"
        facts = {"words": quoted(says.words)}
    yield f"{lead}{_pairs(facts)}}}"


def _pairs(facts: Mapping[str, str | None]) -> str:
    return ", ".join(f"{key}: {text}" for key, text in facts.items() if text)


def _ids(ids: Iterable[str]) -> str | None:
    written = ", ".join(map(quoted, ids))
    return f"[{written}]" if written else None
