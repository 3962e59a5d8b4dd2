"""Takes a function of a desk or of the claims, and of ids or records; gives the same one that works each answer out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, ParamSpec, Protocol, TypeVar

Answer = TypeVar("Answer")
Asked = ParamSpec("Asked")


class Keeps(Protocol):
    """A desk, the claims."""

    @property
    def kept(self) -> dict[Any, Any]: ...


Holder = TypeVar("Holder", bound=Keeps)


def once(work: Callable[Concatenate[Holder, Asked], Answer]) -> Callable[Concatenate[Holder, Asked], Answer]:
    """Many pages ask for the same. What is kept, in `kept` of the desk or the claims, has to be frozen."""
    @wraps(work)
    def kept(holder: Holder, /, *ids: Asked.args, **named: Asked.kwargs) -> Answer:
        key = (work, *ids, *named.items())
        if key not in holder.kept:
            holder.kept[key] = work(holder, *ids, **named)
        answer: Answer = holder.kept[key]
        return answer
    return kept
