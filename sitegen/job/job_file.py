"""job.yaml in; who, where, when, the host, labels and reminders out. It names no point and no circuit."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date, time
from types import MappingProxyType
from urllib.parse import urlsplit

from ..errors import Fault, Where, nearest
from .amendments import amendment_entries, amendments_text
from .labels.stock import LABELS, read_stock
from .month_day import DAY_RULES, ReminderRule
from .prices import read_prices, read_wishes
from .read.fields import Fields, shape_fault
from .read.ids import FILE_SYSTEM_NAMES
from .read.keys import Key, Keys, text
from .read.nodes import Node, read_yaml
from .read.values import LANGUAGE, clock, fold
from .records import Code, JobFile, LabelStock

FILE = "job.yaml"

DEFAULT_REMINDERS = ReminderRule(DAY_RULES["first saturday"], time(9, 0))

_CODE = Keys("`code`", Code, Key("book", text), Key("edition", text), Key("amendments", amendments_text))
_REMINDERS = Keys("`reminders`", ReminderRule, Key("day"), Key("at"))
_CONTRACTOR = Keys("`contractor`", None, *map(Key, ("firm", "name", "phone", "email", "web", "licence", "license", "permit",
                                                    "inspected", "warranty", "tester", "address")), free=True)
_HOME = Keys("`home`", None, Key("name"), Key("address"), Key("emergency"), free=True)
_PRIVATE = Keys("`private`", None, free=True)

_LATE_DAY = re.compile(r"day (29|30|31)")
_URL = re.compile(r"https?://[A-Za-z0-9._~:/%!$&'()*+,;=\[\]-]+", re.IGNORECASE)


def read_job_file(written: str, faults: list[Fault]) -> JobFile | None:
    """The job file; None where it is no map. Whole only where no fault was found: else its id, title and languages
    may be empty."""
    root = read_yaml(written, FILE, faults)
    if root is None:
        return None
    if root.pairs is None:
        faults.append(shape_fault(root, "the job file", "a map", "begin it with `id:` and `title:`"))
        return None
    fields = Fields(root, _ROOT, faults)
    fields.languages = _languages(fields)  # before any text that may be written once a language
    read = fields.record()
    home = read["home"]
    return JobFile(**read, languages=fields.languages, emergency=home.get("emergency"), where=root.where,
                   lines=_lines(root))


def _lines(root: Node) -> Mapping[str, Where]:
    """The line of every key, and of the keys in it."""
    pairs = [(pair.key, pair) for pair in root.pairs or ()]
    inner = [(f"{key}.{below.key}", below) for key, pair in pairs for below in pair.value.pairs or ()]
    return MappingProxyType({key: pair.where for key, pair in (*pairs, *inner)})


def _title(fields: Fields, key: str) -> str:
    return fields.text(key) or ""


def _job_id(fields: Fields, key: str) -> str:
    id = fields.text(key)
    if id is None:
        return ""
    # A folder is named after it, on any system: Windows keeps some names and drops a dot at the end.
    plain = re.fullmatch(r"[A-Za-z0-9-][A-Za-z0-9.-]{0,63}", id) and not id.endswith(".")
    if not plain or id.split(".")[0].upper() in FILE_SYSTEM_NAMES:
        fields.fault(fields.values[key], f"`id: {id}` cannot name a folder",
                     "at most 64 letters, digits, hyphens and dots, no dot first or last, no name such as CON",
                     "write a plain name, such as 2026-014-garcia")
        return ""
    return id


def _handover(fields: Fields, key: str) -> date | None:
    return fields.day(key, "write it with four, two and two digits, or leave it out until it is known")


def _base_url(fields: Fields, key: str) -> str | None:
    """The address without slashes at its end; it is printed on walls, so nothing doubtful passes."""
    node = fields.node(key)
    return _address(fields, node, fields.text(key), key) if node else None


def _forwarded(fields: Fields, key: str) -> tuple[str, ...]:
    """Addresses of before, from which the host leads on to `base_url`."""
    items = fields.items(key, "addresses", "an address as labels hold it", "write it as `https://old.example/7`")
    found = (_address(fields, item, fold(item.text or ""), key) for item in items)
    return tuple(address for address in found if address)


def _address(fields: Fields, node: Node, written: str | None, key: str) -> str | None:
    if written is None:
        return None
    try:
        parts = urlsplit(written)
        sound = _URL.fullmatch(written) and parts.hostname and parts.port != 0
    except ValueError:
        sound = False
    if not sound:
        fields.fault(node, f"`{key}: {written}` is no address that a site can stand at",
                     "https:// or http://, a host, and no user, blank, `?` or `#`",
                     "write it as https://host.example/folder, or leave it out while there is no host")
        return None
    return written.rstrip("/")


def _code(fields: Fields, key: str) -> Code:
    code = fields.fields(key, _CODE)
    return Code(**code.record(), changes=amendment_entries(code, "amendments")) if code else Code()


def _languages(fields: Fields) -> tuple[str, ...]:
    """The codes in small letters, the first one first; () where they are at fault."""
    node = fields.node("languages")
    if node is None:
        return ("en",)
    before = len(fields.faults)
    items = fields.items("languages", "languages", "codes such as `en` or `es`, the first one for the first page",
                         "write it as `[en, es]`")
    codes: list[str] = []
    for item in items:
        code = fold(item.text or "").casefold()
        if not LANGUAGE.fullmatch(code):
            fields.fault(item, f"`{item.written}` in `languages` is no language code", "a code such as `en` or `es`",
                         "write it as `[en, es]`")
        elif code in codes:
            fields.fault(item, f"`{code}` stands twice in `languages`", "each language once", "remove one of the two")
        codes.append(code)
    if not codes and len(fields.faults) == before:
        fields.fault(node, "`languages: []` is an empty list", "at least one language", "write it as `[en]`")
    return tuple(codes) if len(fields.faults) == before else ()


def _labels(fields: Fields, key: str) -> LabelStock:
    return read_stock(fields.fields(key, LABELS))


def _reminders(fields: Fields, key: str) -> ReminderRule:
    reminders = fields.fields(key, _REMINDERS)
    if reminders is None:
        return DEFAULT_REMINDERS
    written, at = reminders.text("day"), reminders.text("at")
    when = (written or "first saturday").casefold()
    if _LATE_DAY.fullmatch(when):
        reminders.fault(reminders.values["day"], f"`day: {when}` would be skipped in every month too short for it",
                        "a day that every month has", "write `last day`, or `day 1` to `day 28`")
    elif when not in DAY_RULES:
        reminders.fault(reminders.values["day"], f"`day: {when}` is no day of a month",
                        "a day such as `first saturday`, `last friday`, `day 12` or `last day`", "write one like these",
                        nearest(when, DAY_RULES, cutoff=0.85))
    found = clock(at) if at else DEFAULT_REMINDERS.at
    if found is None:
        reminders.fault(reminders.values["at"], f"`at: {at}` is no time of day", "a time on 24 hours, 0:00 to 23:59",
                        "write it as `9:00` or `18:30`")
    return ReminderRule(DAY_RULES.get(when, DEFAULT_REMINDERS.day), found or DEFAULT_REMINDERS.at)


def _contractor(fields: Fields, key: str) -> Mapping[str, str]:
    texts = dict(_free_texts(_CONTRACTOR)(fields, key))
    if "license" in texts and "licence" in texts:
        fields.fault(fields.values[key], "`licence` and `license` both stand in `contractor`",
                     "one of the two", "remove the other")
    return MappingProxyType({"licence" if name == "license" else name: said for name, said in texts.items()})


def _free_texts(keys: Keys) -> Callable[[Fields, str], Mapping[str, str]]:
    def read(fields: Fields, key: str) -> Mapping[str, str]:
        free = fields.fields(key, keys)
        return MappingProxyType(free.texts() if free else {})
    return read


def _punch_list(fields: Fields, key: str) -> tuple[str, ...]:
    node = fields.node(key)
    if node is None:
        return ()
    if node.items is None:
        fields.faults.append(shape_fault(node, "`punch_list`", "a list of texts", "begin each line of it with `- `"))
        return ()
    blank = [item for item in node.items if item.blank]
    for item in blank:
        fields.fault(item, "an entry of `punch_list` is blank", "a text", "write it, or remove the entry")
    texts = (fields.text_of(item, "an entry of `punch_list`") for item in node.items if item not in blank)
    return tuple(text for text in texts if text)


_ROOT = Keys(
    "the job file", JobFile, Key("id", _job_id, must=True), Key("title", _title, must=True), Key("handover", _handover),
    Key("base_url", _base_url), Key("forwarded", _forwarded), Key("code", _code), Key("languages"), Key("labels", _labels),
    Key("reminders", _reminders), Key("contractor", _contractor), Key("home", _free_texts(_HOME)),
    Key("private", _free_texts(_PRIVATE)), Key("punch_list", _punch_list), Key("prices", read_prices),
    Key("wishes", read_wishes))
