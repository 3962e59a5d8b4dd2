"""job.yaml in; who, where, when, the host, labels and reminders out. It names no point and no circuit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, time
from types import MappingProxyType
from urllib.parse import urlsplit

from ..errors import Fault
from .label_stock import LABELS, read_stock
from .prices import read_prices, read_wishes
from .read.fields import Fields, Keys, shape_fault
from .read.ids import FILE_SYSTEM_NAMES
from .read.nodes import Node, read_yaml
from .read.values import LANGUAGE, clock, day, fold, likely_day
from .records import Code, JobFile, LabelStock, ReminderRule

FILE = "job.yaml"

DEFAULT_REMINDERS = ReminderRule("first saturday", time(9, 0))

_ROOT = Keys("the job file", required=("id", "title"),
             optional=("handover", "base_url", "forwarded", "code", "languages", "labels", "reminders", "contractor", "home",
                       "private", "punch_list", "prices", "wishes"), texts=frozenset({"title"}))
_CODE = Keys("`code`", optional=("book", "edition", "amendments"), texts=frozenset({"book", "edition", "amendments"}))
_REMINDERS = Keys("`reminders`", optional=("day", "at"))
_CONTRACTOR = Keys("`contractor`", optional=("firm", "name", "phone", "email", "web", "licence", "license", "permit",
                                             "inspected", "tester", "address"), free=True)
_HOME = Keys("`home`", optional=("name", "address", "emergency"), free=True)
_PRIVATE = Keys("`private`", free=True)

_DAY = re.compile(r"(first|second|third|fourth|last) (mon|tues|wednes|thurs|fri|satur|sun)day|last day"
                  r"|day ([1-9]|1[0-9]|2[0-8])")
_LATE_DAY = re.compile(r"day (29|30|31)")
_URL = re.compile(r"https?://[A-Za-z0-9._~:/%!$&'()*+,;=\[\]-]+", re.IGNORECASE)


def read_job_file(text: str, faults: list[Fault]) -> JobFile | None:
    """The job file; None where it is no map. Whole only where no fault was found: else its id, title and languages
    may be empty."""
    root = read_yaml(text, FILE, faults)
    if root is None:
        return None
    if root.pairs is None:
        faults.append(shape_fault(root, "the job file", "a map", "begin it with `id:` and `title:`"))
        return None
    fields = Fields(root, _ROOT, faults)
    fields.languages = _languages(fields)  # before any text that may be written once a language
    return JobFile(
        id=_job_id(fields) or "",
        title=fields.text("title") or "",
        handover=_handover(fields),
        base_url=_base_url(fields),
        code=_code(fields),
        languages=fields.languages,
        labels=_labels(fields),
        reminders=_reminders(fields),
        contractor=_contractor(fields),
        home=_free_texts(fields, "home", _HOME),
        private=_free_texts(fields, "private", _PRIVATE),
        punch_list=_punch_list(fields),
        where=root.where,
        forwarded=_forwarded(fields),
        prices=read_prices(fields),
        wishes=read_wishes(fields),
    )


def _job_id(fields: Fields) -> str | None:
    id = fields.text("id")
    if id is None:
        return None
    # A folder is named after it, on any system: Windows keeps some names and drops a dot at the end.
    plain = re.fullmatch(r"[A-Za-z0-9-][A-Za-z0-9.-]{0,63}", id) and not id.endswith(".")
    if not plain or id.split(".")[0].upper() in FILE_SYSTEM_NAMES:
        fields.fault(fields.values["id"], f"`id: {id}` cannot name a folder",
                     "at most 64 letters, digits, hyphens and dots, no dot first or last, no name such as CON",
                     "write a plain name, such as 2026-014-garcia")
        return None
    return id


def _handover(fields: Fields) -> date | None:
    text = fields.text("handover")
    found = day(text) if text else None
    if text and found is None:
        fields.fault(fields.values["handover"], f"`handover: {text}` is not a date", "a real day, YYYY-MM-DD",
                     "write it with four, two and two digits, or leave it out until it is known", likely_day(text))
    return found


def _base_url(fields: Fields) -> str | None:
    """The address without slashes at its end; it is printed on walls, so nothing doubtful passes."""
    node = fields.node("base_url")
    return _address(fields, node, fields.text("base_url"), "base_url") if node else None


def _forwarded(fields: Fields) -> tuple[str, ...]:
    """Addresses of before, from which the host leads on to `base_url`."""
    items = fields.items("forwarded", "addresses", "an address as labels hold it", "write it as `https://old.example/7`")
    found = (_address(fields, item, fold(item.text or ""), "forwarded") for item in items)
    return tuple(address for address in found if address)


def _address(fields: Fields, node: Node, text: str | None, key: str) -> str | None:
    if text is None:
        return None
    try:
        parts = urlsplit(text)
        sound = _URL.fullmatch(text) and parts.hostname and parts.port != 0
    except ValueError:
        sound = False
    if not sound:
        fields.fault(node, f"`{key}: {text}` is no address that a site can stand at",
                     "https:// or http://, a host, and no user, blank, `?` or `#`",
                     "write it as https://host.example/folder, or leave it out while there is no host")
        return None
    return text.rstrip("/")


def _code(fields: Fields) -> Code:
    code = fields.fields("code", _CODE)
    return Code(code.text("book"), code.text("edition"), code.text("amendments")) if code else Code()


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


def _labels(fields: Fields) -> LabelStock:
    return read_stock(fields.fields("labels", LABELS))


def _reminders(fields: Fields) -> ReminderRule:
    reminders = fields.fields("reminders", _REMINDERS)
    if reminders is None:
        return DEFAULT_REMINDERS
    when, at = (reminders.text("day") or DEFAULT_REMINDERS.day).casefold(), reminders.text("at")
    if _LATE_DAY.fullmatch(when):
        reminders.fault(reminders.values["day"], f"`day: {when}` would be skipped in every month too short for it",
                        "a day that every month has", "write `last day`, or `day 1` to `day 28`")
    elif not _DAY.fullmatch(when):
        reminders.fault(reminders.values["day"], f"`day: {when}` is no day of a month",
                        "a day such as `first saturday`, `last friday`, `day 12` or `last day`", "write one like these")
    found = clock(at) if at else DEFAULT_REMINDERS.at
    if found is None:
        reminders.fault(reminders.values["at"], f"`at: {at}` is no time of day", "a time on 24 hours, 0:00 to 23:59",
                        "write it as `9:00` or `18:30`")
    return ReminderRule(when, found or DEFAULT_REMINDERS.at)


def _contractor(fields: Fields) -> Mapping[str, str]:
    texts = dict(_free_texts(fields, "contractor", _CONTRACTOR))
    if "license" in texts and "licence" in texts:
        fields.fault(fields.values["contractor"], "`licence` and `license` both stand in `contractor`",
                     "one of the two", "remove the other")
    return MappingProxyType({"licence" if key == "license" else key: text for key, text in texts.items()})


def _free_texts(fields: Fields, key: str, keys: Keys) -> Mapping[str, str]:
    free = fields.fields(key, keys)
    return MappingProxyType(free.texts() if free else {})


def _punch_list(fields: Fields) -> tuple[str, ...]:
    node = fields.node("punch_list")
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
