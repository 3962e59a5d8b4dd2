"""The frozen record of a feed, as `fed_from` of a point gives it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Feed:
    """What a point is fed from, as the map writes it."""

    source: str              # id of a breaker or of a point of the same circuit, or "unknown"
    side: str | None = None  # "line" or "load" behind a device with such terminals, else None

    @property
    def unknown(self) -> bool:
        """True on old wiring whose feed nobody found."""
        return self.source == "unknown"

    def __str__(self) -> str:
        return f"{self.source} {self.side}" if self.side else self.source
