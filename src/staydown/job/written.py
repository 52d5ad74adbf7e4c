"""What was typed: for each dotted key of a job its text, file and line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """The text of one value as it stands in the file, and its line."""

    text: str
    file: str
    line: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """The typed text of every key: `travel.cruise_speed`, `item.1.mount.2.pad` (counted from 1)."""

    keys: Mapping[str, Typed] = field(default_factory=dict)

    def of(self, place: str) -> Typed | None:
        """Return what was typed at a dotted key, or None where it was left out."""
        return self.keys.get(place)
