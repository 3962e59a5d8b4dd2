"""Takes a part; gives the fewest openings that find the fault wherever it is, every box being as easy as the next.

The vertex ranking of a tree: each box gets a number so that between two alike stands a higher one; the highest is the answer.
From the leaves up every box takes the lowest number that is free (Schaeffer 1989, Optimal node ranking of trees in linear time;
from memory).
"""

from __future__ import annotations

from .side import Side, bits


def rank(side: Side, part: int) -> int:
    """
    >>> from .side import Box
    >>> rank(Side((Box("K1", None), Box("K2", "K1"), Box("K3", "K2"))), 0b111)
    2
    """
    seen: dict[int, int] = {}    # box -> the numbers that are seen from above it, one bit a number
    highest = 0
    for i in sorted(bits(part), reverse=True):      # a box stands before what it feeds
        once = twice = 0
        for child in bits(side.near[i] & part):
            if side.up[child] == i:
                twice |= once & seen[child]
                once |= seen[child]
        number = twice.bit_length()                  # above every number that two branches show
        while once >> number & 1:
            number += 1
        seen[i] = once >> number << number | 1 << number
        highest = max(highest, number + 1)
    return highest
