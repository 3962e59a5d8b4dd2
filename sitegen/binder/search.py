"""Takes the words a person types; gives the outlets meant. What people call things stands in the words of the language."""

from __future__ import annotations

import re
import unicodedata

from .answer.places import at_of, place
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


def _with_same(desk: Desk, text: str) -> tuple[str, ...]:
    """The words of a text, and what means the same."""
    have = dict.fromkeys(folded(text))
    for group in _groups(desk):
        if group & set(have):
            have |= dict.fromkeys(sorted(group))
    return tuple(have)


@once
def called(desk: Desk, id: str) -> tuple[str, ...]:
    """Every word for what an outlet is: its use, without the name of its room, and its id."""
    point = desk.point(id)
    lamp = desk.words.get("search.lamp") if point.kind.by_name else ""
    return _with_same(desk, " ".join(word for word in folded(f"{point.use or ''} {lamp} {id}") if word not in folded(point.room)))


@once
def stands(desk: Desk, id: str) -> tuple[str, ...]:
    """Every word for where an outlet is."""
    return _with_same(desk, f"{desk.point(id).room} {at_of(desk, id)}")


@once
def _known_as(desk: Desk, id: str) -> tuple[str, ...]:
    return _with_same(desk, " ".join((place(desk, id), *called(desk, id))))


def listed(words: Words, name: str) -> str:
    """A list of the search's words, as the script compares them."""
    return " ".join(dict.fromkeys(word for item in words.get(f"search.{name}") for word in folded(item)))


def matches(desk: Desk, asked: str) -> tuple[str, ...]:
    """Every outlet that is known by the beginning of each word asked for."""
    skip = listed(desk.words, "skip").split()
    wanted = [word for word in folded(asked) if word not in skip]
    if not wanted:
        return ()
    known = {id: _known_as(desk, id) for id in desk.tree.outlets}
    fits = {word: {id for id in known if any(have.startswith(word) for have in known[id])} for word in wanted}
    met = [ids for ids in fits.values() if ids]  # a word that nothing is known by is passed over: "christmas lights"
    return tuple(id for id in known if met and all(id in ids for ids in met))
