"""Takes the proof; gives what should not stand on public pages: anything under `home` and `private`, in any text of the job.

What may reach the site is said by the marks on the records (job/texts.py), in every language. A value is found however it is
spelled: in any case, with any blanks and signs between its letters, number and street without the town.
"""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import unquote

from ...errors import Where
from ...job.records import Job, JobFile
from ...job.records.texts import PublicText, Text, public_texts
from ..finding import Finding
from ..proof import Proof
from ..say import both

# Letters and digits: of a value with a digit, of one without, of one that is sought inside of words too.
LEAST_CODE, LEAST_WORDS, LONG = 4, 6, 8

# How streets are named, long and short (USPS Publication 28, appendix C1, from memory).
_STREETS = ("avenue ave", "boulevard blvd", "circle cir", "court ct", "crescent cres", "drive dr", "highway hwy", "lane ln",
            "parkway pkwy", "place pl", "road rd", "square sq", "street st", "terrace ter", "trail trl", "way wy")
_SHORT = {long: both.replace(" ", "|") for both in _STREETS for long in both.split()}

# Stand beside a name and are none.
_BESIDE = frozenset("mr mrs ms miss dr sr sra the and of family familia household residence home house estate trust".split())
# Names of people that are words of a house or plain words too: alone they name nobody (common practice, no source).
_WORDS = frozenset(
    "april ash august banks barn bath bill bird blue booth branch brand bridge brook brooks brown bush carpenter church "
    "close coffey cook cooper corner court cross dale day dean field fields finch fisher ford forest foster fox frank frost "
    "gable garage gates glass good grace grant gray green ground grove hall hand heath hill holly hood hope house hunter iris "
    "ivy jack june key king kitchen lake lamp lane light long mark marsh mason may meadows miller mills moss nail neighbor "
    "neighbour office olive page park parks pat penny pipe plumb plumber pond poole pool porch post price reed rich ring rivers "
    "rob rock rod rose rowe sandy sharp short small smith snow spring stone street summers taylor temple waters wall walls "
    "ward way wells west white will winter winters wood woods yard young".split())


@dataclass(frozen=True, slots=True)
class _Secret:
    of: str                   # "home: address"
    pattern: re.Pattern[str]


def private_in_public(proof: Proof) -> Iterator[Finding]:
    """The street address, a private text, or the name of the people who live there, inside a text of the site. Those are for
    paper alone."""
    job = proof.tree.job
    rules = [(kind, secrets, met, mend) for kind, secrets, met, mend in (
        ("private-in-public", tuple(_private(job)), "holds {}", "Take it out there; on paper it is printed from `home` and "
         "`private`."),
        ("owner-named", tuple(_names(job)), "names the people of the house ({})", "Write `the owner` there; on paper their name "
         "is printed from `home`.")) if secrets]
    ids = {*job.panel, *job.breaker, *job.point}
    said: set[str] = set()
    for found in public_texts(job) if rules else ():
        if found.text in ids and found.text in said:
            continue                # an id is told where it is given, not again where it is named
        said.add(found.text)
        plain = _plain(found.text)
        for kind, secrets, met, mend in rules:
            of = dict.fromkeys(secret.of for secret in secrets if secret.pattern.search(plain))
            if of:
                yield Finding(kind, "stop", _line(job, found), (),
                              f"{_name(found)} {met.format(both(f'`{name}`' for name in of))}, and it stands on pages that "
                              f"anyone can read. {mend}")


def _line(job: Job, found: PublicText) -> Where:
    """Of job.yaml the line of the key; else the line of what has the text."""
    if isinstance(found.owner, JobFile):
        return job.file.line_of(found.field, *(key for key in job.file.lines if key.endswith(f".{found.field}")))
    return getattr(found.owner, "where", job.file.where)


def _name(found: PublicText) -> str:
    """`at` of K2 in language `es`."""
    known = {"number": "circuit ", "outlet": "the test at ", "id": ""}
    owner = next((f" of {says}{getattr(found.owner, key)}" for key, says in known.items() if hasattr(found.owner, key)), "")
    of = "" if found.field in known or isinstance(found.owner, JobFile) else owner
    return f"`{found.field}`{of}" + (f" in language `{found.language}`" if found.language else "")


@lru_cache(maxsize=4096)
def _plain(text: str) -> str:
    """The letters as they are compared, whatever marks stand on them; an address of the web with its blanks."""
    if "%" in text:
        text = f"{text} {unquote(text)}"
    if "&" in text:
        text = html.unescape(text)
    if not text.isascii():
        text = "".join(sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))
    return text.casefold()


def _pattern(words: str) -> re.Pattern[str]:
    """Finds the letters and digits of some words, whatever stands between them; short ones only where they stand alone."""
    apart = r"[\W_]*"
    pieces = [f"(?:{_SHORT[word]})" if word in _SHORT else apart.join(word) for word in re.findall(r"[^\W_]+", _plain(words))]
    letters = re.sub(r"[\W_]", "", _plain(words))
    alone = "" if len(letters) >= LONG else r"[^\W\d_]"
    before, after = (r"\d" if letters[at].isdigit() else alone for at in (0, -1))
    return re.compile((f"(?<!{before})" if before else "") + apart.join(pieces) + (f"(?!{after})" if after else ""))


def _private(job: Job) -> Iterator[_Secret]:
    """Every value under `home` and `private`, and the parts of them that say it all."""
    home = [(f"home: {key}", value) for key, value in job.file.home.items() if key not in ("name", "emergency")]
    for of, value in (*home, *((f"private: {key}", value) for key, value in job.file.private.items())):
        for text in value.by_language.values() if isinstance(value, Text) and value.by_language else (value,):
            parts = _streets(text) if of == "home: address" else _codes(text)
            yield from (_Secret(of, _pattern(part)) for part in dict.fromkeys((text, *parts)) if _can_be_sought(part))


def _can_be_sought(text: str) -> bool:
    size = len(re.sub(r"[\W_]", "", text))
    if any(sign.isdigit() for sign in text):
        return size >= LEAST_CODE
    return size >= LEAST_WORDS and _plain(text).strip() not in _WORDS


def _streets(address: str) -> Iterator[str]:
    """Number and street, as they stand before the town."""
    for piece in re.split(r"[,;\n]", address):
        words = re.findall(r"[^\W_]+", _plain(piece))
        number = next((at for at, word in enumerate(words) if word[0].isdigit()), None)
        if number is None:
            continue
        ends = [at for at, word in enumerate(words) if word in _SHORT and at > number + 1]
        yield " ".join(words[number:ends[0] + 1]) if ends else piece
        name = words[number + 1:number + 2]
        if name and len(name[0]) > LEAST_CODE and name[0] not in _WORDS and name[0] not in _SHORT:
            yield " ".join(words[number:number + 2])        # 19 Alder, without what kind of street it is
        return


def _codes(text: str) -> Iterator[str]:
    """The codes in a longer text, and its longer parts with a digit: `4471` of `4471, then the gate`. A year alone is none."""
    yield from (piece for piece in re.split(r"[,;\n]", text) if len(piece) > LONG and any(sign.isdigit() for sign in piece))
    for word in re.findall(r"[^\W_]+", text):
        if sum(sign.isdigit() for sign in word) >= LEAST_CODE - 1 and not re.fullmatch(r"(19|20)\d\d", word):
            yield word


def _names(job: Job) -> Iterator[_Secret]:
    """Of `home: name` all of it, and each word that names people: the ones with a capital, where any has one."""
    written = job.file.home.get("name", "")
    values = written.by_language.values() if isinstance(written, Text) and written.by_language else (written,)
    for value in filter(None, values):
        words = re.findall(r"[^\W\d_][\w'\u2019]*", value)
        own = [word for word in words if _plain(word) not in _BESIDE and (word[0].isupper() or value.islower())]
        if len(own) > 1 or len(words) > len(own):
            yield _Secret("home: name", _pattern(value))
        for word in own:
            name = r"[\W_]*".join(re.findall(r"[^\W_]", _plain(word)))
            if _plain(word) in _WORDS or len(word) < LEAST_CODE:
                name = (rf"(?:\b(?:mr|mrs|ms|miss|dr|sr|sra|familia)\b[\W_]*{name}(?:e?s)?"
                        rf"|{name}(?:e?s)?[\W_]*(?:family|household|residence)\b)")
            yield _Secret("home: name", re.compile(rf"(?<![^\W\d_]){name}(?:e?s)?(?![^\W\d_])"))
