"""What a contractor wrote under `wiring` in, the tester's words out: one table of the trade's shorthand.

The shorthand is common practice, no source.
"""

from __future__ import annotations

import re

from .read.values import fold

_MEANT = {
    "correct": ("ok", "okay", "good", "correct wiring", "wiring ok", "wiring correct"),
    "open ground": ("og", "o g", "no ground", "open gnd", "open grd"),
    "open neutral": ("on", "o n", "no neutral"),
    "open hot": ("oh", "o h", "no hot"),
    "hot/neutral reversed": ("hot neutral reversed", "hot neutral reverse", "hot neutral rev", "h n reversed",
                             "h n reverse", "h n rev", "reversed polarity", "reverse polarity", "rev polarity"),
    "hot/ground reversed": ("hot ground reversed", "hot ground reverse", "hot ground rev", "h g reversed",
                            "h g reverse", "h g rev"),
    # With what it is reversed was not written, and is not guessed.
    "reversed": ("reverse", "rev"),
}
_TESTERS_WORDS = {short: words for words, shorts in _MEANT.items() for short in shorts}


def testers_words(written: str) -> str:
    """The words of the tester in small letters; those that are not known stay as they are written.

    >>> testers_words("H/N rev."), testers_words("Hot and neutral reversed"), testers_words("rev"), testers_words("Odd")
    ('hot/neutral reversed', 'hot/neutral reversed', 'reversed', 'odd')
    """
    text = fold(written).casefold()
    plain = fold(re.sub(r"[/.\-\u2013&]|\band\b", " ", text))
    return _TESTERS_WORDS.get(plain, text)
