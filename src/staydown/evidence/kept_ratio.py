"""A ratio somebody measured: what is kept of a strength when hot, wet or aged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from staydown.foundation.exposure import Mode
from staydown.foundation.numbers import Given


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptRatio:
    """One typed ratio of one tape and mode: its condition, the temperature it was measured at, its number. [K, -]"""

    mode: Mode
    condition: Literal["hot", "wet", "aged"]
    temperature_K: float
    kept: Given
