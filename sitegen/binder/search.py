"""Takes the words a person types; gives the outlets meant. What people call things stands in the words of the language."""

from __future__ import annotations

import re
import unicodedata

from .answer.places import place
from .desk import Desk
from .desk.once import once
from .desk.words import Words


def folded(text: str) -> list[str]:
    """
    >>> folded("Lámpara, Baño!")
    ['lampara', 'bano']
    """
    plain = "".join(letter for letter in unicodedata.normalize("NFD", text.casefold()) if not unicodedata.combining(letter))
    return re.findall(r"[^\W_]+", plain)


@once
def _groups(desk: Desk) -> tuple[frozenset[str], ...]:
    return tuple(frozenset(word for name in group for word in folded(name)) for group in desk.words.get("search.same"))


@once
def known_as(desk: Desk, id: str) -> tuple[str, ...]:
    """Every word by which an outlet can be found: its place, use and id, and what means the same."""
    lamp = desk.words.get("search.lamp") if desk.point(id).kind.by_name else ""
    have = dict.fromkeys(folded(f"{place(desk, id)} {lamp} {id}"))
    for group in _groups(desk):
        if group & set(have):
            have |= dict.fromkeys(sorted(group))
    return tuple(have)


def skipped(words: Words) -> tuple[str, ...]:
    """Words that say nothing about which outlet is meant."""
    return tuple(word for name in words.get("search.skip") for word in folded(name))


def matches(desk: Desk, asked: str) -> tuple[str, ...]:
    """Every outlet that is known by the beginning of each word asked for."""
    skip = skipped(desk.words)
    wanted = [word for word in folded(asked) if word not in skip]
    if not wanted:
        return ()
    known = {id: known_as(desk, id) for id in desk.tree.outlets}
    fits = {word: {id for id in known if any(have.startswith(word) for have in known[id])} for word in wanted}
    met = [ids for ids in fits.values() if ids]  # a word that nothing is known by is passed over: "christmas lights"
    return tuple(id for id in known if met and all(id in ids for ids in met))
