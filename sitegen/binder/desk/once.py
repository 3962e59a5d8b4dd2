"""Takes a function of a desk or of the claims, and of ids or records; gives the same one that works each answer out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

Answer = TypeVar("Answer")


def once(work: Callable[..., Answer]) -> Callable[..., Answer]:
    """Many pages ask for the same. What is kept, in `kept` of the desk or the claims, has to be frozen."""
    @wraps(work)
    def kept(holder: Any, *ids: Any) -> Answer:
        key = (work, *ids)
        if key not in holder.kept:
            holder.kept[key] = work(holder, *ids)
        answer: Answer = holder.kept[key]
        return answer
    return kept
